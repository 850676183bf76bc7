package sqlite

import (
	"encoding/hex"
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// unended is the until of what nothing ends.
const unended = math.MaxInt64

// packID halves the space of an id: 32 lower-case hex digits become 16 bytes,
// any other text stays as it is.
func packID(id string) any {
	if id == "" {
		return nil
	}
	if len(id) == 32 && strings.ToLower(id) == id {
		if b, err := hex.DecodeString(id); err == nil {
			return b
		}
	}
	return id
}

func unpackID(v any) string {
	switch v := v.(type) {
	case []byte:
		return hex.EncodeToString(v)
	case string:
		return v
	}
	return ""
}

// jsonOrNull keeps a list or map as JSON, an empty one as NULL.
func jsonOrNull(n int, v any) any {
	if n == 0 {
		return nil
	}
	text, err := json.Marshal(v)
	if err != nil {
		panic(fmt.Sprintf("plain data that does not marshal: %v", err)) // strings and ints only
	}
	return string(text)
}

// numbersOrNull keeps decimals in the shortest form that reads back the same.
func numbersOrNull(ns []float64) any {
	if len(ns) == 0 {
		return nil
	}
	texts := make([]string, len(ns))
	for i, n := range ns {
		texts[i] = strconv.FormatFloat(n, 'g', -1, 64)
	}
	return strings.Join(texts, " ")
}

// record is one row of a result, column by column, as the driver gives it.
type record struct {
	cells []any
	into  []any
	err   error // the first cell that could not be read
}

func newRecord(columns int) *record {
	r := &record{cells: make([]any, columns), into: make([]any, columns)}
	for i := range r.cells {
		r.into[i] = &r.cells[i]
	}
	return r
}

func (r *record) text(i int) string {
	s, _ := r.cells[i].(string)
	return s
}

func (r *record) num(i int) int64 {
	n, _ := r.cells[i].(int64)
	return n
}

// numOr gives a number, or another one for NULL.
func (r *record) numOr(i int, null int64) int64 {
	if n, ok := r.cells[i].(int64); ok {
		return n
	}
	return null
}

func (r *record) id(i int) string { return unpackID(r.cells[i]) }

func (r *record) json(i int, into any) {
	if s := r.text(i); s != "" {
		r.note(json.Unmarshal([]byte(s), into))
	}
}

func (r *record) numbers(i int) []float64 {
	var out []float64
	for _, t := range strings.Fields(r.text(i)) {
		n, err := strconv.ParseFloat(t, 64)
		r.note(err)
		out = append(out, n)
	}
	return out
}

func (r *record) note(err error) {
	if r.err == nil {
		r.err = err
	}
}
