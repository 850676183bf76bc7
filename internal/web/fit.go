package web

import (
	"net/http"
	"slices"
	"strings"

	"crossbin/internal/app"
	"crossbin/internal/httpserver"
	"crossbin/internal/vehicle"
)

// fitPage is the page that asks what fits and shows the answer.
type fitPage struct {
	Head    head
	Trouble *trouble
	Ask     askForm
	Answer  *answer
}

// answer is the answer above the form.
type answer struct {
	Title    string // the part type
	For      string // the vehicle in a few words
	Known    []known
	Notes    []string // said before anything else
	Warnings []string // of reading the question
	None     *none
	Tags     []tag
	LeftOut  int
	Looks    []lookView
	Unknown  []unknown
	Cautions []string
	GoesWith []string
}

// known is one fact of the vehicle as it was understood.
type known struct{ Label, Value, How string }

// none says that the vehicle has no such part at all.
type none struct {
	Note   string
	Trails []trailView
}

func (w *Web) fit(out http.ResponseWriter, r *http.Request) {
	q, err := readQuestion(r.URL.Query())
	if err == nil && q.Part != "" && !q.namesVehicle() {
		http.Redirect(out, r, partAddress(q.Type, q.Part, q.PartMaker), http.StatusSeeOther)
		return
	}
	page := fitPage{Ask: w.askForm(q)}
	if err == nil {
		page.Ask.Prompt = missing(q)
	}
	if err == nil && page.Ask.Prompt == "" && !q.blank() {
		page.Answer, err = w.answer(r, q)
	}
	status := http.StatusOK
	if err != nil {
		p := httpserver.Note(r, err)
		page.Trouble, status = troubleOf(p), p.Status
	}
	page.Head = w.head(page.title(), "fit")
	w.render(out, r, status, "fit.html", page)
}

func (p fitPage) title() string {
	if p.Answer == nil {
		return "Which part goes in?"
	}
	return p.Answer.Title + " for " + p.Answer.For
}

// missing asks for what a question cannot do without.
func missing(q question) string {
	switch {
	case q.blank():
		return ""
	case !q.namesVehicle():
		return "Which vehicle? The frame number, or the engine, is enough to begin."
	case q.Type == "" && q.Part == "":
		return "Which part? Choose one below."
	}
	return ""
}

func (w *Web) answer(r *http.Request, q question) (*answer, error) {
	req := q.FitRequest
	req.Explain = true
	result, err := w.ask.Fit(r.Context(), req)
	if err != nil {
		return nil, err
	}
	return newAnswer(result, q), nil
}

func newAnswer(r app.FitResult, q question) *answer {
	r.Looks = open(r.Looks, q)
	a := &answer{Title: upperFirst(r.Type.Name), For: vehicleName(r.Facts), Known: append(knownFacts(r.Facts), knownMeasures(r)...), Notes: r.Notes,
		Warnings: r.Warnings, LeftOut: r.LeftOut, Looks: lookViews(r, q), Unknown: unknowns(r, q), GoesWith: r.Type.GoesWith}
	if r.None != nil {
		a.None = &none{Note: r.None.Note, Trails: trailViews(r.None.Trails)}
	}
	for i, c := range r.Candidates {
		t := newTag(i+1, c, r.Answer)
		if i < len(r.Stock) {
			t.Shelf = newShelf(r.Stock[i])
		}
		a.Tags = append(a.Tags, t)
	}
	for _, c := range r.Cautions {
		a.Cautions = append(a.Cautions, c.Text)
	}
	return a
}

// vehicleName names a vehicle by the best that is known of it.
func vehicleName(f vehicle.Facts) string {
	code, _ := f.Get(vehicle.FactModelCode)
	maker, _ := f.Get(vehicle.FactMaker)
	model, _ := f.Get(vehicle.FactModel)
	engine, _ := f.Get(vehicle.FactEngine)
	switch {
	case f.Frame.Raw != "":
		return f.Frame.String()
	case f.VIN != "":
		return f.VIN
	case code != "":
		return code
	case model != "" && maker != "":
		return maker + " " + model
	case engine != "":
		return "engine " + engine
	}
	return "this vehicle"
}

// knownFacts lists what is known beside the frame number, in a fixed order,
// options last.
func knownFacts(f vehicle.Facts) []known {
	var out []known
	add := func(label, value, how string) {
		if value != "" {
			out = append(out, known{label, value, how})
		}
	}
	add("VIN", f.VIN, "")
	for _, fact := range []vehicle.Fact{vehicle.FactMaker, vehicle.FactModel, vehicle.FactModelCode, vehicle.FactPrefix, vehicle.FactEngine} {
		add(factTitle(fact), f.Text[fact].Value, howWords[f.Text[fact].How])
	}
	if f.Built.Known() {
		add("built", f.Built.String(), howWords[f.BuiltHow])
	}
	for _, fact := range []vehicle.Fact{vehicle.FactTransmission, vehicle.FactDrive, vehicle.FactSide, vehicle.FactTurbo, vehicle.FactMarket} {
		add(factTitle(fact), valueTitle(f.Text[fact].Value), "")
	}
	return append(out, knownOptions(f)...)
}

func knownOptions(f vehicle.Facts) []known {
	var out []known
	for fact, k := range f.Text {
		if o, ok := fact.Option(); ok {
			out = append(out, known{optionTitle(o), strings.ToLower(k.Value), ""})
		}
	}
	slices.SortFunc(out, func(a, b known) int { return strings.Compare(a.Label, b.Label) })
	return out
}

// knownMeasures lists what was seen or measured on the vehicle.
func knownMeasures(r app.FitResult) []known {
	var out []known
	for _, o := range r.Request.Observed {
		if o.Value != cannotSee {
			out = append(out, known{attributeTitle(r.Type, o.Attribute), measureTitle(r.Type, o.Attribute, o.Value), "seen"})
		}
	}
	return out
}
