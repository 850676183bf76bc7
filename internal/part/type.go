package part

// RidesOn says what a part, or one attribute of it, belongs to on the vehicle;
// it decides which vehicle facts matter and what follows after a swap.
type RidesOn string

// The five things a part can ride on.
const (
	OnEngine  RidesOn = "engine"
	OnBody    RidesOn = "body"
	OnGearbox RidesOn = "gearbox"
	OnAxle    RidesOn = "axle"
	OnWiring  RidesOn = "wiring"
)

// Type is one part type (alternator, radiator, ...): what it rides on, which
// vehicle facts split it, its attributes and the cautions of the job.
type Type struct {
	Name       string            // stable word, e.g. "water pump"
	Words      []string          // what sheets and people call it, in any language
	RidesOn    RidesOn           // what the whole part rides on
	SplitBy    []string          // vehicle facts that tell its variants apart
	HighCare   bool              // brakes, steering, fuel, timing-driven pumps: the higher bar
	AnsweredBy map[string]string // vehicle fact -> attribute that settles it when compared
	GoesWith   []string          // what goes with the job: gasket, cap, belt
	Cautions   []Caution
	Attributes []Attribute
}

// Caution is one warning with the work, and where it comes from.
type Caution struct {
	Text   string
	Source string
}

// Kind says how values of an attribute are read and compared.
type Kind string

// Kinds of values.
const (
	KindNumber Kind = "number" // one decimal in the unit of the attribute
	KindWord   Kind = "word"   // one word of a small vocabulary
	KindSet    Kind = "set"    // words or functions, order without meaning
	KindBool   Kind = "bool"   // yes or no
	KindSize   Kind = "size"   // several decimals, e.g. height x width x depth
	KindRange  Kind = "range"  // one decimal, or the two ends of a range of adjustment
	KindThread Kind = "thread" // m10x1.25; a bare m10 leaves the pitch open
)

// Comparison is how a candidate's value is held against the wanted one.
type Comparison string

// The comparisons.
const (
	Equal    Comparison = "equal"
	Within   Comparison = "within"   // differs by no more than the tolerance
	AtLeast  Comparison = "at_least" // candidate >= wanted
	AtMost   Comparison = "at_most"  // candidate <= wanted
	InRange  Comparison = "in_range" // the one value lies inside the other side's range
	Includes Comparison = "includes" // candidate offers all that is wanted; extras stay unused
	Handed   Comparison = "handed"   // left and right never go for one another
	Any      Comparison = "any"      // information only
)

// Attribute is one property of a part type.
type Attribute struct {
	Name       string
	Title      string // for people
	Kind       Kind
	Unit       string // "" for words, sets and bools
	RidesOn    RidesOn
	Needed     bool // must be known on both sides before a measured comparison says anything
	OnVehicle  Sight
	OffVehicle Sight
	Compare    Comparison
	Tolerance  float64           // in Unit, for within, at_least and at_most
	Percent    float64           // tolerance in per cent of the wanted value, where Tolerance is 0
	Cases      []Case            // first match wins
	Words      []string          // the whole vocabulary of a word or set; empty leaves it open
	Synonyms   map[string]string // folded word of a sheet -> word of Words
	Typical    []float64         // lowest and highest usual value, for a plausibility check only
}

// Sight says how an attribute is seen and what the look costs: effort 1 (under
// a minute) to 5 (part out or a system opened), 0 where it cannot be had there.
type Sight struct {
	How    string
	Effort int
}

// When says in which way a candidate's value fails its comparison.
type When string

// The ways to fail.
const (
	More    When = "more"
	Less    When = "less"
	Differs When = "differs" // either way, or words that are not the same
	Missing When = "missing"
	Extra   When = "extra"
)

// Difference says what a failed comparison means.
type Difference string

// Differences; the first two are deciding.
const (
	WontMount  Difference = "wont_mount"  // what the hand would notice
	WorksWrong Difference = "works_wrong" // bolts on and is wrong; the effect is named
	Adaptable  Difference = "adaptable"   // goes with a named change
	Minor      Difference = "minor"       // a note
)

// Deciding reports whether a difference rules a candidate out.
func (d Difference) Deciding() bool { return d == WontMount || d == WorksWrong }

// Case is one reading of a failed comparison; cases of an attribute are tried
// in order and the first that matches wins.
type Case struct {
	When       When
	Wanted     string  // matches only where this word is wanted (for missing: is the one missing)
	Found      string  // matches only where this word is found (for extra: is the extra one)
	Dimension  int     // of a size: matches only this one, counted from 1; 0 matches any
	Over       float64 // matches only where the values differ by more than this, in the attribute's unit
	If         string  // condition that must hold, see Clause; "" always holds
	Difference Difference
	Effect     string // what goes wrong, for works_wrong and wont_mount
	Change     string // the task, for adaptable
	Minutes    int    // of the task, our guess
	Pieces     []string
	Note       string
}

// Attribute finds an attribute by name.
func (t Type) Attribute(name string) (Attribute, bool) {
	for _, a := range t.Attributes {
		if a.Name == name {
			return a, true
		}
	}
	return Attribute{}, false
}

// Splits reports whether a vehicle fact tells variants of this type apart.
func (t Type) Splits(fact string) bool {
	for _, f := range t.SplitBy {
		if f == fact {
			return true
		}
	}
	return false
}
