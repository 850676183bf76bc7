package fit

import (
	"cmp"
	"math"
	"slices"

	"crossbin/internal/part"
)

// Specimen is a part in hand: what could be read of its number, who made it and
// what was measured on it.
type Specimen struct {
	Readings   []part.Reading // one for each line that may be the number
	Confusions part.Confusions
	Maker      string // folded; "" where not known
	Type       part.Type
	Measured   map[string]Observation
	Shop       string
}

// Suspect is a part that the specimen may be.
type Suspect struct {
	Ref        part.Ref
	Numbers    []Number
	Name       string
	Exact      bool    // every character was read and agrees; a look-alike never is
	Reading    float64 // log-likelihood of the reading given the number; 0 without a number
	Measures   float64 // of the measurements against chance; unknown values say nothing
	Score      float64 // the sum, with what the maker says
	Share      float64 // of all suspects together, 0 to 1
	Marks      []part.Mark
	Agrees     []Compared
	Differs    []Compared
	Unknown    []string // attributes that were measured and are not known of the part
	ListedFor  bool     // goes into the vehicle that it came off
	Place      []Step   // where the number stands
	closestRun part.Reading
}

// Compared is one attribute held between specimen and suspect.
type Compared struct {
	Attribute string
	Measured  string
	Known     string
}

// Chances of the evidence beside the number (our guess).
const (
	wrongMaker  = 0.02 // the maker on the label is another one than the book's
	offVehicle  = 0.10 // a unit came off a vehicle for which the book does not list it
	wordRight   = 0.95 // a word that was seen is the word of the book
	tailChance  = 0.01 // a measurement lies outside its tolerance all the same
	wordsToPick = 4    // words that could have been seen where the vocabulary is open
)

// spread is the standard deviation of a measurement in the unit of the
// attribute, in tolerances, by how it was measured: a tolerance taken as two
// deviations for the calliper, half again for the tape, three times for a photo
// (our guess, from the weights of the three).
var spread = map[string]float64{"": 0.5, "calliper": 0.5, "tape": 0.75, "photo": 1.5}

// Identify ranks the parts that a specimen may be by the log-likelihood of what
// was read and measured. listed says which of them go into the vehicle that the
// specimen came off; nil where it is not known.
func Identify(s Specimen, k Knowledge, candidates []part.Ref, listed map[part.Ref]bool) []Suspect {
	w := newWorld(Question{Type: s.Type, Shop: s.Shop}, k)
	var out []Suspect
	for _, c := range candidates {
		for _, n := range w.nodes(c) {
			if w.foreign[n.Key] || slices.ContainsFunc(out, func(o Suspect) bool { return o.Ref == n }) {
				continue
			}
			out = append(out, w.suspect(n, s, listed))
		}
	}
	slices.SortFunc(out, func(a, b Suspect) int { return cmp.Or(cmp.Compare(b.Score, a.Score), a.Ref.Compare(b.Ref)) })
	shares(out)
	return out
}

func (w *world) suspect(n part.Ref, s Specimen, listed map[part.Ref]bool) Suspect {
	out := Suspect{Ref: n, ListedFor: listed[n]}
	out.Numbers, out.Name = w.numbersOf(n)
	for i, r := range s.Readings {
		ll := part.LogLikelihood(r, n.Key, s.Confusions)
		if i == 0 || ll > out.Reading {
			out.Reading, out.closestRun = ll, r
		}
	}
	if len(s.Readings) > 0 {
		out.Marks = part.Align(out.closestRun, n.Key, s.Confusions)
		out.Exact = part.Exact(out.closestRun, n.Key)
	}
	w.compareSpecimen(&out, s)
	out.Score = out.Reading + out.Measures + makerSays(s.Maker, n.Maker)
	if listed != nil && !out.ListedFor {
		out.Score += math.Log(offVehicle)
	}
	for _, st := range w.names[n] {
		out.Place = append(out.Place, w.step(st, Forward))
	}
	return out
}

// makerSays is the log of how well a maker agrees; one that is not known says
// nothing.
func makerSays(read, known string) float64 {
	if read == "" || known == "" || read == known {
		return 0
	}
	return math.Log(wrongMaker)
}

// compareSpecimen adds up what the measurements say of a suspect against what
// they would say of any part of the type.
func (w *world) compareSpecimen(out *Suspect, s Specimen) {
	for _, a := range s.Type.Attributes {
		o, measured := s.Measured[a.Name]
		if !measured {
			continue
		}
		v, known := w.clear(out.Ref, a.Name)
		if !known {
			out.Unknown = append(out.Unknown, a.Name)
			continue
		}
		ll, agrees := evidenceOf(a, o, v)
		out.Measures += ll
		c := Compared{a.Name, o.Value.String(), v.String()}
		if agrees {
			out.Agrees = append(out.Agrees, c)
		} else {
			out.Differs = append(out.Differs, c)
		}
	}
}

// evidenceOf is the log of how much better a part with the value explains what
// was measured than a part of the type of which nothing is known.
func evidenceOf(a part.Attribute, o Observation, v part.Value) (ll float64, agrees bool) {
	if len(o.Value.Numbers) > 0 && len(v.Numbers) > 0 {
		return numbersSay(a, o, v)
	}
	pick := float64(max(len(a.Words), wordsToPick))
	if a.Kind == part.KindBool {
		pick = 2
	}
	if o.Value.Same(v) {
		return math.Log(wordRight * pick), true
	}
	return math.Log((1 - wordRight) * pick / (pick - 1)), false
}

func numbersSay(a part.Attribute, o Observation, v part.Value) (ll float64, agrees bool) {
	if len(o.Value.Numbers) != len(v.Numbers) {
		return math.Log(tailChance), false
	}
	agrees = true
	for i, want := range v.Numbers {
		sigma := deviation(a, o.How, want)
		d := math.Abs(o.Value.Numbers[i]-want) / sigma
		width := math.Max(usualWidth(a, want), 4*sigma)
		density := (1-tailChance)*math.Exp(-d*d/2)/(sigma*math.Sqrt(2*math.Pi)) + tailChance/width
		ll += math.Log(density * width)
		agrees = agrees && d <= 2+1e-9
	}
	return ll, agrees
}

// deviation is the standard deviation of a measurement; a count without a
// tolerance is read right but for a slip.
func deviation(a part.Attribute, how string, want float64) float64 {
	tolerance := a.Tolerance
	if tolerance == 0 && a.Percent > 0 {
		tolerance = want * a.Percent / 100
	}
	if tolerance == 0 {
		tolerance = math.Max(0.02*math.Abs(want), 0.4)
	}
	f, ok := spread[how]
	if !ok {
		f = spread[""]
	}
	return tolerance * f
}

// usualWidth is the range over which values of the type lie.
func usualWidth(a part.Attribute, want float64) float64 {
	if len(a.Typical) == 2 && a.Typical[1] > a.Typical[0] {
		return a.Typical[1] - a.Typical[0]
	}
	return math.Max(math.Abs(want), 1)
}

// shares turns scores into shares of all suspects together.
func shares(out []Suspect) {
	if len(out) == 0 {
		return
	}
	sum := 0.0
	for _, s := range out {
		sum += math.Exp(s.Score - out[0].Score)
	}
	for i := range out {
		out[i].Share = math.Exp(out[i].Score-out[0].Score) / sum
	}
}
