package app

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"crossbin/internal/vehicle"
)

// facts reads what was typed of a vehicle. What cannot be read is an error that
// names the field; what is odd is a warning.
func (req FitRequest) facts() (vehicle.Facts, []string, error) {
	f := vehicle.NewFacts()
	if err := req.bounded(); err != nil {
		return f, nil, err
	}
	r := factReader{facts: &f, req: req}
	steps := []func() error{r.frame, r.vin, r.modelCode, r.built, r.words}
	for _, step := range steps {
		if err := step(); err != nil {
			return f, nil, err
		}
	}
	if len(f.Text) == 0 && f.VIN != "" {
		return f, nil, &Error{Code: CodeInvalid, Message: "a VIN alone names no vehicle that the lists speak of",
			Hint: "add the model code from the plate, the engine from the block, or maker and model"}
	}
	if len(f.Text) == 0 && f.Serial == vehicle.NoSerial && req.Frame != "" {
		return f, nil, &Error{Code: CodeInvalid, Message: "the frame number names no model code that can be read: " + strings.Join(r.warnings, "; "),
			Hint: "write it as on the plate, KV31-0123456, or add the model code"}
	}
	if len(f.Text) == 0 && f.Serial == vehicle.NoSerial {
		return f, nil, &Error{Code: CodeInvalid, Message: "which vehicle?",
			Hint: "give --frame, --model-code, --engine or --maker with --model"}
	}
	return f, r.warnings, nil
}

// maxText bounds every text of a question, in bytes: the longest that means
// anything is a VIN with its dividers, or a maker's name.
const maxText = 200

func (req FitRequest) bounded() error {
	for name, text := range map[string]string{"frame number": req.Frame, "VIN": req.VIN, "maker": req.Maker, "model": req.Model,
		"model code": req.ModelCode, "engine": req.Engine, "build date": req.Built, "market": req.Market, "part number": req.Part, "part maker": req.PartMaker} {
		if len(text) > maxText {
			return &Error{Code: CodeInvalid, Message: fmt.Sprintf("the %s is longer than %d characters", name, maxText), Hint: "type it again as it stands there"}
		}
	}
	return nil
}

// factReader turns the fields of a request into facts.
type factReader struct {
	facts    *vehicle.Facts
	req      FitRequest
	warnings []string
}

func (r *factReader) warn(ws []vehicle.Warning) {
	for _, w := range ws {
		r.warnings = append(r.warnings, w.Message)
	}
}

func invalid(field, value string, err error) error {
	return &Error{Code: CodeInvalid, Message: fmt.Sprintf("%s %q cannot be read: %v", field, value, err), Cause: err}
}

func (r *factReader) frame() error {
	if r.req.Frame == "" {
		return nil
	}
	if !strings.Contains(r.req.Frame, "-") && len(strings.TrimSpace(r.req.Frame)) == 17 && r.req.VIN == "" {
		r.req.VIN = r.req.Frame
		return nil
	}
	frame, ws, err := vehicle.ParseFrame(r.req.Frame)
	if err != nil {
		return invalid("frame number", r.req.Frame, err)
	}
	r.warn(ws)
	r.facts.Frame = frame
	r.facts.Set(vehicle.FactModelCode, frame.ModelCode, vehicle.Stamped)
	if frame.Serial != "" {
		r.facts.Serial = frame.SerialNumber
	}
	return nil
}

func (r *factReader) vin() error {
	if r.req.VIN == "" {
		return nil
	}
	vin, ws, err := vehicle.ParseVIN(r.req.VIN)
	if err != nil {
		return invalid("VIN", r.req.VIN, err)
	}
	r.warn(ws)
	r.facts.VIN = vin.Raw
	return nil
}

func (r *factReader) modelCode() error {
	if r.req.ModelCode == "" {
		return nil
	}
	d, ws, err := vehicle.ParseDesignation(r.req.ModelCode)
	if err != nil {
		return invalid("model code", r.req.ModelCode, err)
	}
	r.warn(ws)
	if have, ok := r.facts.Get(vehicle.FactModelCode); ok && have != vehicle.FoldCode(d.Code) {
		r.warnings = append(r.warnings, fmt.Sprintf("the plate says %s, the frame number %s: the stamped frame number counts", d.Code, have))
	} else {
		r.facts.Set(vehicle.FactModelCode, d.Code, vehicle.Plate)
	}
	r.facts.Set(vehicle.FactPrefix, d.Prefix, vehicle.Plate)
	return nil
}

func (r *factReader) built() error {
	if r.req.Built == "" {
		return nil
	}
	built, ws, err := vehicle.ParseDate(r.req.Built)
	if err != nil {
		return invalid("build date", r.req.Built, err)
	}
	r.warn(ws)
	how := vehicle.How(cmp.Or(r.req.BuiltHow, string(vehicle.Plate)))
	if how == vehicle.Paper { // a first registration only says: not later than
		built.From = vehicle.NoMonth
	}
	r.facts.Built, r.facts.BuiltHow = built, how
	return nil
}

// words sets the facts that have a small vocabulary.
func (r *factReader) words() error {
	engineHow := vehicle.How(cmp.Or(r.req.EngineHow, string(vehicle.Stamped)))
	r.facts.Set(vehicle.FactMaker, r.req.Maker, vehicle.Told)
	r.facts.Set(vehicle.FactModel, r.req.Model, vehicle.Told)
	r.facts.Set(vehicle.FactEngine, r.req.Engine, engineHow)
	r.facts.Set(vehicle.FactMarket, r.req.Market, vehicle.Told)
	for _, w := range wordFacts {
		text := w.field(r.req)
		if text == "" {
			continue
		}
		value, ok := w.values[vehicle.FoldCode(text)]
		if !ok {
			return &Error{Code: CodeInvalid, Message: fmt.Sprintf("%s %q is not known", w.name, text), Hint: "known are " + w.known()}
		}
		r.facts.Set(w.fact, value, vehicle.Seen)
	}
	if err := r.options(r.req.With, "yes"); err != nil {
		return err
	}
	return r.options(r.req.Without, "no")
}

// knownOptions are those that sheets and questions speak of.
var knownOptions = []string{"ac", "cold"}

// options sets what the vehicle has or lacks. A misspelt option would be lost
// without a word, and one both with and without makes no sense.
func (r *factReader) options(names []string, value string) error {
	for _, o := range names {
		name := optionName(o)
		if !slices.Contains(knownOptions, name) {
			return &Error{Code: CodeInvalid, Message: fmt.Sprintf("no option %q", o), Hint: "known are " + strings.Join(knownOptions, ", ")}
		}
		if have, ok := r.facts.Get(vehicle.OptionFact(name)); ok && have != vehicle.FoldValue(value) {
			return &Error{Code: CodeInvalid, Message: fmt.Sprintf("%s is said to be there and not there", name), Hint: "say one of the two"}
		}
		r.facts.Set(vehicle.OptionFact(name), value, vehicle.Seen)
	}
	return nil
}

func optionName(o string) string {
	return strings.ToLower(strings.NewReplacer("/", "", " ", "", "-", "").Replace(vehicle.Fold(o)))
}

// wordFact is a fact that is told in one of a few words.
type wordFact struct {
	name   string
	fact   vehicle.Fact
	field  func(FitRequest) string
	values map[string]string
}

func (w wordFact) known() string {
	var out []string
	for _, v := range w.values {
		out = append(out, v)
	}
	slices.Sort(out)
	return strings.Join(slices.Compact(out), ", ")
}

var wordFacts = []wordFact{
	{"gearbox", vehicle.FactTransmission, func(r FitRequest) string { return r.Transmission },
		map[string]string{"AT": "AT", "AUTO": "AT", "AUTOMATIC": "AT", "MT": "MT", "MANUAL": "MT", "CVT": "CVT"}},
	{"drive", vehicle.FactDrive, func(r FitRequest) string { return r.Drive },
		map[string]string{"2WD": "2WD", "4WD": "4WD", "AWD": "4WD", "4X4": "4WD", "4X2": "2WD"}},
	{"drive side", vehicle.FactSide, func(r FitRequest) string { return r.Side },
		map[string]string{"RHD": "RHD", "LHD": "LHD", "RIGHT": "RHD", "LEFT": "LHD"}},
	{"turbo", vehicle.FactTurbo, func(r FitRequest) string { return r.Turbo },
		map[string]string{"YES": "yes", "NO": "no", "TRUE": "yes", "FALSE": "no"}},
}
