package app

import (
	"context"
	"fmt"
	"slices"

	"crossbin/internal/fit"
	"crossbin/internal/part"
	"crossbin/internal/shelf"
	"crossbin/internal/statement"
)

// Numbers finds keys from partly readable and misread numbers, over the keys of
// one revision of the book.
type Numbers interface {
	// Near gives the keys that explain a reading best and how many more do.
	Near(ctx context.Context, r part.Reading, limit int) (keys []string, rest int, err error)
}

// Bounds of one identification.
const (
	maxSuspects = 50
	maxLines    = 40 // of a label
)

// IdentifyRequest is a part in hand, as typed.
type IdentifyRequest struct {
	Number   string     `json:"number,omitempty"` // "?" one unreadable character, "*" any run
	Maker    string     `json:"maker,omitempty"`
	Type     string     `json:"type,omitempty"`
	Label    []string   `json:"label,omitempty"` // lines of the label, as they are
	Measured []Observed `json:"measured,omitempty"`
	Vehicle  FitRequest `json:"vehicle"` // that it came off, where known
}

// LabelLine is what a line of the label was taken for.
type LabelLine struct {
	Raw   string
	Kind  part.LineKind
	Text  string
	Doubt string
}

// IdentifyResult is what the part may be, best first.
type IdentifyResult struct {
	Revision    int64
	Type        part.Type
	Lines       []LabelLine
	Suspects    []fit.Suspect
	LeftOut     int
	Suggestions []string // numbers of the book that a lost zero or its padding would make
	Warnings    []string
	Stock       map[part.Ref][]shelf.Line
}

// Identify ranks the parts that a part in hand may be.
func (s *Service) Identify(ctx context.Context, req IdentifyRequest) (IdentifyResult, error) {
	var out IdentifyResult
	err := s.Book.Read(ctx, func(r Reader) error {
		out.Revision = r.Revision()
		id := identifying{service: s, reader: r, req: req, out: &out}
		return id.run(ctx)
	})
	return out, err
}

// identifying is one identification on its way.
type identifying struct {
	service  *Service
	reader   Reader
	req      IdentifyRequest
	out      *IdentifyResult
	specimen fit.Specimen
	keys     []string
}

func (id *identifying) run(ctx context.Context) error {
	steps := []func(context.Context) error{id.readings, id.near, id.settleType, id.measures, id.onVehicle, id.rank}
	for _, step := range steps {
		if err := step(ctx); err != nil {
			return err
		}
	}
	return nil
}

// readings takes the number and the lines of the label apart.
func (id *identifying) readings(context.Context) error {
	if len(id.req.Label) > maxLines {
		return &Error{Code: CodeInvalid, Message: fmt.Sprintf("a label of %d lines", len(id.req.Label)), Hint: fmt.Sprintf("give at most %d", maxLines)}
	}
	id.specimen = fit.Specimen{Confusions: id.service.Confusions, Maker: part.FoldMaker(id.req.Maker), Shop: id.service.Book.Shop(),
		Measured: map[string]fit.Observation{}}
	if id.req.Number != "" {
		r, err := part.ParseReading(id.req.Number)
		if err != nil {
			return &Error{Code: CodeInvalid, Message: err.Error(), Cause: err}
		}
		id.specimen.Readings = append(id.specimen.Readings, r)
	}
	for _, line := range id.req.Label {
		c := part.ClassifyLine(line)
		id.out.Lines = append(id.out.Lines, LabelLine{Raw: c.Raw, Kind: c.Kind, Text: c.Text, Doubt: c.Doubt})
		if c.Kind != part.LineNumber {
			continue
		}
		if r, err := part.ParseReading(c.Text); err == nil {
			id.specimen.Readings = append(id.specimen.Readings, r)
		}
	}
	return nil
}

// near finds the numbers of the book that explain what was read.
func (id *identifying) near(ctx context.Context) error {
	if len(id.specimen.Readings) == 0 {
		return nil
	}
	if id.service.NumbersOf == nil {
		return &Error{Code: CodeUnavailable, Message: "the numbers of the book are not open here"}
	}
	numbers, err := id.service.NumbersOf(ctx, id.reader)
	if err != nil {
		return err
	}
	for _, r := range id.specimen.Readings {
		keys, rest, err := numbers.Near(ctx, r, maxSuspects)
		if err != nil {
			return err
		}
		id.keys = append(id.keys, keys...)
		id.out.LeftOut += rest
		if !r.Pattern() {
			if err := id.suggest(ctx, r); err != nil {
				return err
			}
		}
	}
	slices.Sort(id.keys)
	id.keys = slices.Compact(id.keys)
	return nil
}

// suggest names numbers of the book that a zero lost in a spreadsheet, or the
// padding of a family, would make of the reading: suggestions only.
func (id *identifying) suggest(ctx context.Context, r part.Reading) error {
	key := r.String()
	twins := append(part.LostZeros(key), part.PaddingTwins(key)...)
	parts, err := id.reader.Parts(ctx, twins)
	if err != nil {
		return err
	}
	for _, st := range parts {
		id.out.Suggestions = addTo(id.out.Suggestions, st.Part.Printed)
	}
	return nil
}

// settleType takes the type that was asked for, or the one under which the book
// knows most of the numbers.
func (id *identifying) settleType(ctx context.Context) error {
	t, err := id.service.typeFor(ctx, id.reader, FitRequest{Type: id.req.Type})
	if id.req.Type == "" {
		t, err = id.commonType(ctx)
	}
	id.out.Type, id.specimen.Type = t, t
	return err
}

func (id *identifying) commonType(ctx context.Context) (part.Type, error) {
	parts, err := id.reader.Parts(ctx, id.keys)
	if err != nil {
		return part.Type{}, err
	}
	votes := map[string]int{}
	for _, st := range parts {
		votes[st.Type]++
	}
	best := part.Type{}
	for _, t := range id.service.Types.All() {
		if votes[t.Name] > votes[best.Name] || best.Name == "" && votes[t.Name] > 0 {
			best = t
		}
	}
	if best.Name == "" && len(id.specimen.Readings) == 0 {
		return best, &Error{Code: CodeInvalid, Message: "nothing to tell the part by", Hint: "give a number, lines of the label, or the type with measurements"}
	}
	return best, nil
}

// measures reads what was measured, and the rating line of the label.
func (id *identifying) measures(context.Context) error {
	seen, _, err := observed(id.specimen.Type, append(id.fromLabel(), id.req.Measured...))
	if err != nil {
		return err
	}
	id.specimen.Measured = seen
	return nil
}

func (id *identifying) fromLabel() []Observed {
	var out []Observed
	add := func(attribute string, value float64) {
		if _, ok := id.specimen.Type.Attribute(attribute); ok && value > 0 {
			out = append(out, Observed{Attribute: attribute, Value: part.FormatNumber(value), How: "label"})
		}
	}
	for _, line := range id.req.Label {
		c := part.ClassifyLine(line)
		if c.Kind != part.LineRating {
			continue
		}
		add("volts", c.Rating.Volts)
		add("amps", c.Rating.Amps)
		add("idle_amps", c.Rating.IdleAmps)
		add("power", c.Rating.Kilowatts)
	}
	return out
}

// onVehicle adds the parts that are listed for the vehicle that the specimen
// came off, and those on the shelf where nothing else is known.
func (id *identifying) onVehicle(ctx context.Context) error {
	if len(id.specimen.Readings) > 0 {
		return nil
	}
	refs, err := id.service.onShelf(ctx, id.reader, id.specimen.Type.Name)
	if err != nil {
		return err
	}
	for _, r := range refs {
		id.keys = addTo(id.keys, r.Key)
	}
	return nil
}

// listed asks which parts go into the vehicle that the specimen came off.
func (id *identifying) listed(ctx context.Context) (map[part.Ref]bool, error) {
	if !id.req.Vehicle.NamesVehicle() || id.specimen.Type.Name == "" {
		return nil, nil
	}
	facts, warnings, err := id.req.Vehicle.facts()
	if err != nil {
		return nil, err
	}
	id.out.Warnings = warnings
	q := fit.Question{Facts: facts, Type: id.specimen.Type, Shop: id.service.Book.Shop()}
	g := gathering{service: id.service, reader: id.reader, question: &q}
	k, err := g.knowledge(ctx)
	if err != nil {
		return nil, err
	}
	out := map[part.Ref]bool{}
	for _, c := range fit.Ask(q, k).Candidates {
		for _, r := range c.Refs {
			out[r] = out[r] || c.Verdict != fit.RuledOut
		}
	}
	return out, nil
}

func (id *identifying) rank(ctx context.Context) error {
	listed, err := id.listed(ctx)
	if err != nil {
		return err
	}
	if len(id.specimen.Readings) == 0 {
		for r := range listed {
			id.keys = addTo(id.keys, r.Key)
		}
	}
	k, refs, err := id.knowledge(ctx)
	if err != nil {
		return err
	}
	all := fit.Identify(id.specimen, k, refs, listed)
	if n := len(all) - maxSuspects; n > 0 {
		all, id.out.LeftOut = all[:maxSuspects], id.out.LeftOut+n
	}
	id.out.Suspects = all
	return nil
}

// knowledge reads names, values, same links and stock of the keys.
func (id *identifying) knowledge(ctx context.Context) (k fit.Knowledge, refs []part.Ref, err error) {
	k.Standings = id.service.Standings
	if k.Sources, err = id.reader.Sources(ctx); err != nil {
		return k, nil, err
	}
	if k.Parts, err = id.reader.Parts(ctx, id.keys); err != nil {
		return k, nil, err
	}
	links, err := id.reader.Links(ctx, id.keys)
	if err != nil {
		return k, nil, err
	}
	all := slices.Clone(id.keys)
	for _, l := range links {
		k.Links = append(k.Links, l)
		if l.Link.Relation == statement.Same {
			all = addTo(addTo(all, l.A.Key), l.Link.B.Key)
		}
	}
	if k.Values, err = id.reader.Values(ctx, all); err != nil {
		return k, nil, err
	}
	lines, err := id.reader.Stock(ctx, id.keys)
	if err != nil {
		return k, nil, err
	}
	id.out.Stock = settleLines(lines, k)
	for _, key := range id.keys {
		refs = append(refs, part.Ref{Key: key})
	}
	return k, refs, nil
}
