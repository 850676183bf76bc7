package statement

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
)

// idLength is how many hex digits of the hash a statement's id keeps: 128 bits,
// so that 10 million statements collide with a chance below 1e-24.
const idLength = 32

// Hash gives the content hash of some texts; no two different lists of texts
// are joined to the same bytes.
func Hash(texts ...string) string {
	h := sha256.New()
	for _, t := range texts {
		fmt.Fprintf(h, "%d:%s,", len(t), t)
	}
	return hex.EncodeToString(h.Sum(nil))[:idLength]
}

// SourceID gives the id of a source.
func SourceID(shop, list, name string) string { return Hash("source", shop, list, name) }

// Identify gives a statement's id: the hash of shop, list, source, kind,
// numbers, scope, value, and a running number among equals. Where it stands
// does not matter.
func Identify(shop, list string, s Statement, running int) string {
	return Hash(shop, list, Content(s), strconv.Itoa(running))
}

// Content gives all that a statement says, without its place, as one text; two
// statements with equal content are equals.
func Content(s Statement) string {
	texts := []string{s.Source, string(s.Kind), s.Type, s.A.Key, s.A.Maker, s.Note}
	switch s.Kind {
	case KindPart:
		texts = append(texts, s.Part.Printed, s.Part.Maker, string(s.Part.Role), s.Part.Name)
	case KindFitment, KindNone:
		texts = append(texts, scopeTexts(s)...)
	case KindLink:
		texts = append(texts, linkTexts(s.Link)...)
	case KindValue:
		v := s.Value
		texts = append(texts, v.Attribute, v.Value.Raw, v.Value.String(), v.By, v.How)
	case KindEngine:
		texts = append(texts, s.Engine.Code, s.Engine.Family)
	}
	return strings.Join(quoteAll(texts), " ")
}

func scopeTexts(s Statement) []string {
	sc := s.Scope
	texts := []string{strconv.FormatInt(sc.Serial.From, 10), strconv.FormatInt(sc.Serial.To, 10),
		strconv.Itoa(int(sc.Built.From)), strconv.Itoa(int(sc.Built.To)), sc.Position, strconv.Itoa(sc.Quantity)}
	for _, f := range slices.Sorted(maps.Keys(sc.Text)) {
		texts = append(texts, string(f), sc.Text[f])
	}
	return texts
}

func linkTexts(l Link) []string {
	texts := []string{string(l.Relation), l.B.Key, l.B.Maker, l.BothWays.String(), strconv.FormatBool(l.Kit), l.Reason,
		strconv.Itoa(len(l.Conditions))}
	texts = append(texts, l.Conditions...)
	for _, c := range l.Changes {
		texts = append(texts, c.Task, strconv.Itoa(c.Minutes), strconv.Itoa(len(c.Pieces)))
		texts = append(texts, c.Pieces...)
	}
	for _, m := range l.Set {
		texts = append(texts, m.Key, m.Maker)
	}
	return texts
}

func quoteAll(texts []string) []string {
	out := make([]string, len(texts))
	for i, t := range texts {
		out[i] = strconv.Quote(t)
	}
	return out
}

// Numberer gives running numbers to statements of equal content in the order in
// which they come; the set of ids of a list is then the same in any order of
// its rows.
type Numberer struct {
	shop, list string
	seen       map[string]int
}

// NewNumberer makes a numberer for one version of one list.
func NewNumberer(shop, list string) *Numberer {
	return &Numberer{shop: shop, list: list, seen: map[string]int{}}
}

// ID gives the next id for a statement.
func (n *Numberer) ID(s Statement) string {
	first := Identify(n.shop, n.list, s, 0)
	running := n.seen[first]
	n.seen[first]++
	if running == 0 {
		return first
	}
	return Identify(n.shop, n.list, s, running)
}
