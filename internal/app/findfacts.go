package app

import (
	"cmp"
	"context"
	"slices"

	"crossbin/internal/part"
	"crossbin/internal/shelf"
	"crossbin/internal/statement"
)

// describe puts what the book knows beside each hit. A key that the snapshot does
// not hold, because the index is newer, is left out.
func describe(ctx context.Context, r Reader, hits []Hit) ([]FindHit, error) {
	out := []FindHit{}
	if len(hits) == 0 {
		return out, nil
	}
	keys := make([]string, len(hits))
	for i, h := range hits {
		keys[i] = h.Key
	}
	docs, err := documents(ctx, r, keys)
	if err != nil {
		return nil, err
	}
	parts, err := r.Parts(ctx, keys)
	if err != nil {
		return nil, err
	}
	lines, err := r.Stock(ctx, keys)
	if err != nil {
		return nil, err
	}
	said, stock := byKey(parts, func(s statement.Statement) string { return s.A.Key }), byKey(lines, func(l shelf.Line) string { return l.Part.Key })
	for _, d := range docs {
		if len(d.Numbers) > 0 {
			out = append(out, FindHit{Key: d.Key, Type: usual(said[d.Key], typeSaid, d.Types), Name: usual(said[d.Key], nameSaid, d.Names),
				Engines: texts(d.Engines), ModelCodes: texts(d.ModelCodes), Numbers: numbersOf(d, said[d.Key]), Free: shelf.Free(stock[d.Key])})
		}
	}
	return out, nil
}

func byKey[T any](list []T, key func(T) string) map[string][]T {
	out := map[string][]T{}
	for _, x := range list {
		out[key(x)] = append(out[key(x)], x)
	}
	return out
}

func typeSaid(s statement.Statement) string { return s.Type }
func nameSaid(s statement.Statement) string { return s.Part.Name }

// usual gives the text that most part statements say, the first in order among
// equals; without any, the first of the others.
func usual(said []statement.Statement, text func(statement.Statement) string, others []string) string {
	times := map[string]int{}
	best := ""
	for _, s := range said {
		t := text(s)
		if t == "" {
			continue
		}
		times[t]++
		if best == "" || times[t] > times[best] || times[t] == times[best] && t < best {
			best = t
		}
	}
	if best == "" && len(others) > 0 {
		return others[0]
	}
	return best
}

// texts is never nil, so that it prints as [].
func texts(of []string) []string { return append([]string{}, of...) }

// roles is the order in which numbers are shown.
var roles = []statement.Role{statement.VehicleMaker, statement.UnitMaker, statement.Own, statement.Other}

// numbersOf lists a key's numbers with their makers, each spelling once: the
// vehicle maker's first, then the unit maker's, the shop's own, others. A number
// that no row describes comes as a link or the shelf has it.
func numbersOf(d Document, parts []statement.Statement) []FindNumber {
	out := []FindNumber{}
	for _, st := range parts {
		n := FindNumber{Maker: st.Part.Maker, Number: st.Part.Printed, Role: string(st.Part.Role)}
		if !slices.ContainsFunc(out, func(o FindNumber) bool { return sameNumber(o, n) }) {
			out = append(out, n)
		}
	}
	named := slices.ContainsFunc(out, func(n FindNumber) bool { return n.Maker != "" })
	if named { // the same number, once with its maker and once without
		out = slices.DeleteFunc(out, func(n FindNumber) bool { return n.Maker == "" })
	}
	if len(out) == 0 {
		for _, printed := range d.Numbers {
			out = append(out, FindNumber{Number: printed, Role: string(statement.Other)})
		}
	}
	slices.SortFunc(out, compareFound)
	return out
}

func sameNumber(a, b FindNumber) bool {
	return part.FoldMaker(a.Maker) == part.FoldMaker(b.Maker) && a.Number == b.Number
}

func compareFound(a, b FindNumber) int {
	place := func(n FindNumber) int { return slices.Index(roles, statement.Role(n.Role)) }
	return cmp.Or(cmp.Compare(place(a), place(b)), cmp.Compare(a.Maker, b.Maker), cmp.Compare(a.Number, b.Number))
}
