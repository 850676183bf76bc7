package numbers

import (
	"context"
	"runtime"
	"slices"
	"sync"
	"testing"
)

// Made numbers are costly: each size is made once for all benchmarks.
var (
	bigKeys  = sync.OnceValue(func() []string { return newMaker(7).numbers(1_000_000) })
	bigIndex = sync.OnceValue(func() *Index { return prepared(bigKeys()) })
	midKeys  = sync.OnceValue(func() []string { return newMaker(8).numbers(100_000) })
	midIndex = sync.OnceValue(func() *Index { return prepared(midKeys()) })
)

func prepared(keys []string) *Index {
	x := Build(keys, 1)
	x.Prepare(model())
	return x
}

func BenchmarkBuild(b *testing.B) {
	keys := slices.Clone(bigKeys())
	for name, sorted := range map[string]bool{"made order": false, "sorted": true} {
		if sorted {
			keys = slices.Sorted(slices.Values(keys))
		}
		b.Run(name, func(b *testing.B) {
			var x *Index
			for b.Loop() {
				x = prepared(keys)
			}
			b.ReportMetric(float64(x.Bytes())/float64(x.Len()), "bytes/key")
			b.ReportMetric(float64(packedFloor(x))/float64(x.Len()), "floor-bytes/key")
		})
	}
}

// packedFloor is what the characters alone need.
func packedFloor(x *Index) (n int) {
	for _, s := range x.shelves {
		n += len(s.data)
	}
	return n
}

func BenchmarkPrepare(b *testing.B) {
	x, c := Build(bigKeys(), 1), model()
	for b.Loop() {
		x.views.Store(nil)
		x.Prepare(c)
	}
}

func BenchmarkPrefix(b *testing.B) {
	keys, x, m := bigKeys(), bigIndex(), newMaker(10)
	for b.Loop() {
		x.Prefix(keys[m.IntN(len(keys))][:5], 50)
	}
}

func BenchmarkExact(b *testing.B) {
	keys, x := bigKeys(), bigIndex()
	known := make(map[string]struct{}, len(keys))
	for _, k := range keys {
		known[k] = struct{}{}
	}
	asked := make([]string, 1<<16)
	m := newMaker(9)
	for i := range asked {
		asked[i] = keys[m.IntN(len(keys))]
	}
	floor := perCall(len(asked), func(i int) { _, sink = known[asked[i]] })
	i := 0
	for b.Loop() {
		sink = x.Exact(asked[i%len(asked)])
		i++
	}
	ours := perCall(len(asked), func(i int) { sink = x.Exact(asked[i]) })
	b.ReportMetric(floor, "map-ns")
	b.ReportMetric(ours, "exact-ns")
	b.ReportMetric(ours/floor, "x-map")
}

var sink bool

// perCall is the mean time of a call, in nanoseconds.
func perCall(n int, call func(i int)) float64 {
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	start := spent()
	for i := range n {
		call(i)
	}
	return float64(spent()-start) / float64(n)
}

// questions are what people ask with; each bench draws its own.
var questions = []struct {
	name string
	make func(m maker, key string) string
}{
	{"pattern/three known anywhere", func(m maker, key string) string { return m.keep(key, 3, '?') }},
	{"pattern/three known between runs", func(m maker, key string) string { return m.keep(key, 3, '*') }},
	{"pattern/five known anywhere", func(m maker, key string) string { return m.keep(key, 5, '?') }},
	{"pattern/five known between runs", func(m maker, key string) string { return m.keep(key, 5, '*') }},
	{"pattern/four together", func(m maker, key string) string { i := m.IntN(len(key) - 3); return "*" + key[i:i+4] + "*" }},
	{"misread/none", func(m maker, key string) string { return key }},
	{"misread/one error", func(m maker, key string) string { return m.misread(key, 1, alikeHere) }},
	{"misread/two errors", func(m maker, key string) string { return m.misread(key, 2, alikeHere) }},
	{"misread/three errors", func(m maker, key string) string { return m.misread(key, 3, alikeHere) }},
}

var alikeHere = lists[2].alike()

// keep leaves n characters of a key and puts a sign for each of the others; of
// runs, one for those that stand together.
func (m maker) keep(key string, n int, sign byte) string {
	kept := map[int]bool{}
	for len(kept) < min(n, len(key)) {
		kept[m.IntN(len(key))] = true
	}
	var out []byte
	for i := range len(key) {
		switch {
		case kept[i]:
			out = append(out, key[i])
		case sign == '?' || len(out) == 0 || out[len(out)-1] != sign:
			out = append(out, sign)
		}
	}
	return string(out)
}

// BenchmarkMatches reports the median and the 99th percentile of a question in
// processor time, and both as multiples of the floor: the mean of a plain scan of
// all packed keys, run between the questions so that both meet the same noise.
// It is a scan for the same pattern, and beside misreadings one for a pattern of
// three known characters.
func BenchmarkMatches(b *testing.B) {
	c := model()
	for _, size := range []struct {
		name  string
		keys  func() []string
		index func() *Index
	}{{"100000", midKeys, midIndex}, {"1000000", bigKeys, bigIndex}} {
		for _, q := range questions {
			b.Run(q.name+"/"+size.name, func(b *testing.B) {
				keys, x, m := size.keys(), size.index(), newMaker(11)
				var times, floors []float64
				for b.Loop() {
					key := keys[m.IntN(len(keys))]
					r := read(q.make(m, key))
					var best []Match
					var err error
					times = append(times, perCall(1, func(int) { best, _, err = x.Matches(context.Background(), r, c, 50) }))
					if err != nil || len(best) == 0 && r.Pattern() {
						b.Fatalf("%s: %d found, %v", r, len(best), err)
					}
					pattern := r.String()
					if !r.Pattern() {
						pattern = m.keep(key, 3, "?*"[len(floors)%2])
					}
					floors = append(floors, perCall(1, func(int) { sink = plainScan(x, pattern) > 0 }))
				}
				slices.Sort(times)
				p50, p99, floor := times[len(times)/2], times[len(times)*99/100], mean(floors)
				b.ReportMetric(p50/1e6, "p50-ms")
				b.ReportMetric(p99/1e6, "p99-ms")
				b.ReportMetric(p50/floor, "p50-x-scan")
				b.ReportMetric(p99/floor, "p99-x-scan")
				b.ReportMetric(floor/1e6, "scan-ms")
				b.ReportMetric(0, "ns/op") // the loop's own time says nothing
			})
		}
	}
}

func mean(times []float64) (sum float64) {
	for _, t := range times {
		sum += t / float64(len(times))
	}
	return sum
}

// plainScan counts the keys that agree with a pattern, as plainly as it goes:
// the usual matching with one place to come back to.
func plainScan(x *Index, pattern string) (n int) {
	for i := range x.shelves {
		s := &x.shelves[i]
		for at := range s.count {
			if agrees(pattern, s.row(at)) {
				n++
			}
		}
	}
	return n
}

func agrees(pattern, key string) bool {
	p, k, star, back := 0, 0, -1, 0
	for k < len(key) {
		switch {
		case p < len(pattern) && pattern[p] == '*':
			star, back = p, k
			p++
		case p < len(pattern) && (pattern[p] == '?' || pattern[p] == key[k]):
			p++
			k++
		case star >= 0:
			back++
			p, k = star+1, back
		default:
			return false
		}
	}
	for p < len(pattern) && pattern[p] == '*' {
		p++
	}
	return p == len(pattern)
}
