package statement

import (
	"slices"
	"strings"
)

// Standing says what kind of source somebody is.
type Standing string

// Standings, from a fitting of our own down to hearsay.
const (
	OwnFitting     Standing = "own fitting"
	OwnReading     Standing = "own reading"
	OwnMeasurement Standing = "own measurement"
	OwnList        Standing = "own list"
	MakersBook     Standing = "maker's book"
	UnitLabel      Standing = "unit label"
	RebuildersList Standing = "rebuilder's list"
	BoxLabel       Standing = "box label"
	OtherShop      Standing = "other shop"
	Hearsay        Standing = "hearsay"
)

// Own reports whether a standing speaks of the shop itself; for any other shop
// that asks it counts as OtherShop.
func (s Standing) Own() bool {
	return s == OwnFitting || s == OwnReading || s == OwnMeasurement || s == OwnList
}

// Manner is how a source came to say it: it tells weights of one standing
// apart.
type Manner string

// Manners.
const (
	AnyManner     Manner = ""
	Fitting       Manner = "fitment"
	Specification Manner = "specification"
	Calliper      Manner = "calliper"
	Tape          Manner = "tape"
	Photo         Manner = "photo"
)

// Source is who says it: a list of one shop, or the name in that list's "where
// from" column.
type Source struct {
	ID         string // content hash of shop, list and name
	Shop       string
	List       string
	Name       string // "" for the list itself
	Standing   Standing
	Manner     Manner
	CopiedFrom string // ID of the source that it copies; it then counts as that one
}

// Title names the source for people.
func (s Source) Title() string {
	if s.Name != "" {
		return s.Name
	}
	return s.List
}

// Weight is one start weight by standing and manner.
type Weight struct {
	Standing Standing
	Manner   Manner
	R        float64 // chance that a statement is right; at 0.5 or below it is a note
	Usual    string  // the usual way in which such a source is wrong
}

// Standings are the start weights that a shop may tune.
type Standings []Weight

// Start gives the start weight of a standing and manner; the row without a
// manner serves where the manner has none of its own. An unknown standing is
// hearsay without weight.
func (s Standings) Start(st Standing, m Manner) float64 {
	general := 0.5
	for _, w := range s {
		if w.Standing != st {
			continue
		}
		if w.Manner == m {
			return w.R
		}
		if w.Manner == AnyManner {
			general = w.R
		}
	}
	return general
}

// Reliability is what the source's word is worth to the shop that asks: an own
// standing of another shop is read as other shop.
func (s Standings) Reliability(src Source, asking string) float64 {
	st := src.Standing
	if st.Own() && src.Shop != asking {
		st = OtherShop
	}
	return s.Start(st, src.Manner)
}

// Root follows copied_from to the source that a source counts as. A ring of
// copies ends at the smallest ID in it, so that the order of asking does not
// matter.
func Root(id string, sources map[string]Source) string {
	seen, least := map[string]bool{}, id
	for {
		s, ok := sources[id]
		if !ok || s.CopiedFrom == "" {
			return id
		}
		if seen[id] {
			return least
		}
		seen[id] = true
		id = s.CopiedFrom
		if seen[id] {
			least = leastInRing(id, sources)
		}
	}
}

func leastInRing(start string, sources map[string]Source) string {
	least := start
	for id := sources[start].CopiedFrom; id != start; id = sources[id].CopiedFrom {
		least = min(least, id)
	}
	return least
}

// standings lists every standing, strongest first.
var standings = []Standing{OwnFitting, OwnReading, OwnMeasurement, OwnList, MakersBook, UnitLabel, RebuildersList, BoxLabel, OtherShop, Hearsay}

// Known reports whether the standing is one of ours.
func (s Standing) Known() bool { return slices.Contains(standings, s) }

// StandingNames lists the standings for a message.
func StandingNames() string {
	names := make([]string, len(standings))
	for i, s := range standings {
		names[i] = string(s)
	}
	return strings.Join(names, ", ")
}
