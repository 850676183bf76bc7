package fit

import (
	"fmt"
	"slices"

	"crossbin/internal/part"
)

// classes numbers the open candidates so that those which go for one another
// have the same number: numbers that counted same links join, and candidates of
// one verdict, under the same circumstances, with a link between them that holds
// whatever the vehicle. A look-alike keeps its two sides apart.
func (k *looker) classes() []int {
	class := indexes(len(k.open))
	at := map[part.Ref]int{} // number -> open candidate; roots of same links too
	for i, c := range k.open {
		for _, r := range k.cs[c].Refs {
			root := k.w.classes.find(r)
			if first, ok := at[root]; ok {
				k.join(class, first, i)
			} else {
				at[root] = i
			}
		}
	}
	for i, c := range k.open {
		for _, r := range k.cs[c].Refs {
			at[r] = i
		}
	}
	for i, c := range k.open {
		for _, r := range k.cs[c].Refs {
			for _, e := range k.w.edges[r] {
				if j, ok := at[e.to]; ok && e.certain() && k.alike(i, j) {
					k.join(class, i, j)
				}
			}
		}
	}
	return class
}

// certain reports whether a link holds as it stands.
func (e edge) certain() bool { return !e.ambiguous && !e.class.kit && len(e.open) == 0 }

// alike reports whether two candidates have one verdict under the same
// circumstances.
func (k *looker) alike(i, j int) bool {
	a, b := k.cs[k.open[i]], k.cs[k.open[j]]
	return a.Verdict == b.Verdict && fmt.Sprint(a.DependsOn, a.GoesInWhen) == fmt.Sprint(b.DependsOn, b.GoesInWhen)
}

// join gives the classes of two candidates one number, the smaller, unless a
// look-alike stands between any two of them.
func (k *looker) join(class []int, i, j int) {
	a, b := min(class[i], class[j]), max(class[i], class[j])
	if a == b {
		return
	}
	for _, p := range k.w.alike {
		x, y := k.classOf(class, p.a), k.classOf(class, p.b)
		if x == a && y == b || x == b && y == a {
			return
		}
	}
	for n := range class {
		if class[n] == b {
			class[n] = a
		}
	}
}

// classOf gives the class of the candidate that a number stands under, -1 for
// none.
func (k *looker) classOf(class []int, n part.Ref) int {
	i := slices.IndexFunc(k.open, func(c int) bool { return slices.Contains(k.cs[c].Refs, n) })
	if i < 0 {
		return -1
	}
	return class[i]
}

func indexes(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}
