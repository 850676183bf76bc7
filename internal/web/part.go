package web

import (
	"net/http"
	"net/url"
	"strings"

	"crossbin/internal/app"
	"crossbin/internal/fit"
	"crossbin/internal/httpserver"
	"crossbin/internal/shelf"
	"crossbin/internal/vehicle"
)

// partPage is all about one part, without a vehicle: what can replace it, what
// it can replace, where it goes, and the question whether it goes into this one.
type partPage struct {
	Head    head
	Trouble *trouble
	About   *about
}

type about struct {
	Number, Maker, Type string // as they are asked for
	Name                string
	Others              []numberView
	Shelf               shelfView
	Against             []string
	ReplacedBy          []tag
	Replaces            []tag
	Places              []placeView
}

// placeView is one set of vehicles that the part goes into.
type placeView struct {
	Verdict, Scope, By string
	Why                why
}

// partAddress gives the address of the page about a part.
func partAddress(typ, number, maker string) string {
	values := url.Values{}
	for name, v := range map[string]string{"type": typ, "part": number, "part_maker": maker} {
		if v != "" {
			values.Set(name, v)
		}
	}
	return "/part?" + values.Encode()
}

func (w *Web) part(out http.ResponseWriter, r *http.Request) {
	page, status := partPage{Head: w.head("A part", "find")}, http.StatusOK
	q, err := readQuestion(r.URL.Query())
	if err == nil && q.Part == "" {
		err = &app.Error{Code: app.CodeInvalid, Message: "which part?", Hint: "find it by its number first"}
	}
	var result app.AroundResult
	if err == nil {
		result, err = w.ask.Around(r.Context(), app.FitRequest{Type: q.Type, Part: q.Part, PartMaker: q.PartMaker})
	}
	if err != nil {
		p := httpserver.Note(r, err)
		page.Trouble, status = troubleOf(p), p.Status
	} else {
		page.About = newAbout(result, q)
		page.Head.Title = page.About.Number
	}
	w.render(out, r, status, "part.html", page)
}

func newAbout(r app.AroundResult, q question) *about {
	a := &about{Number: q.Part, Maker: q.PartMaker, Type: r.Type.Name, Name: typeAndName(r.Type.Name, r.Part.Name),
		Shelf: newShelf(r.Stock[r.Part.Ref.Key]), Against: r.Against}
	for i, n := range r.Part.Numbers {
		if i == 0 {
			a.Number, a.Maker = n.Number, n.Maker
			continue
		}
		a.Others = append(a.Others, numberView{n.Number, n.Maker, roleWords[n.Role]})
	}
	place := 0
	tags := func(of []fit.Relative) (out []tag) {
		for _, o := range of {
			place++
			out = append(out, newRelative(place, o, r.Around, r.Stock[o.Ref.Key]))
		}
		return out
	}
	a.ReplacedBy, a.Replaces = tags(r.Forward), tags(r.Backward)
	for _, p := range r.Vehicles {
		a.Places = append(a.Places, newPlace(p, a.Number))
	}
	return a
}

// newRelative makes the tag of a part on the other end of some links.
func newRelative(place int, o fit.Relative, a fit.Around, stock []shelf.Line) tag {
	c := fit.Candidate{Numbers: o.Numbers, Name: o.Name, Verdict: o.Verdict, Reason: o.Reason, Confidence: o.Confidence, RuledOut: o.RuledOut,
		Changes: o.Changes, Trails: o.Trails, Quantity: 1}
	t := newTag(place, c, fit.Answer{Type: a.Type})
	t.Shelf = newShelf(stock)
	return t
}

func newPlace(p fit.Place, number string) placeView {
	v := placeView{Verdict: upperFirst(verdictWords[p.Verdict]), Scope: scopeWords(p.Scope), Why: newWhy(fit.Candidate{Trails: p.Trails, Confidence: p.Confidence})}
	if p.Number != number {
		v.By = p.Number
	}
	return v
}

// scopeWords says in one line which vehicles a scope speaks of, what names them
// first.
func scopeWords(s vehicle.Scope) string {
	first := []vehicle.Fact{vehicle.FactMaker, vehicle.FactModel, vehicle.FactPrefix, vehicle.FactModelCode}
	var out []string
	for _, f := range first {
		if v := s.Value(f); v != "" {
			out = append(out, v)
		}
	}
	name := strings.Join(out, " ")
	out = nil
	for _, f := range s.Facts() {
		switch v := s.Value(f); {
		case f == vehicle.FactMaker || f == vehicle.FactModel || f == vehicle.FactPrefix || f == vehicle.FactModelCode:
		case strings.EqualFold(v, "yes"):
			out = append(out, "with "+factTitle(f))
		case strings.EqualFold(v, "no"):
			out = append(out, "without "+factTitle(f))
		default:
			out = append(out, factTitle(f)+" "+valueTitle(v))
		}
	}
	if name == "" && len(out) == 0 {
		return "every vehicle"
	}
	return joinWords(", ", append([]string{name}, out...)...)
}
