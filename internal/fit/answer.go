package fit

import (
	"crossbin/internal/part"
	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// Verdict says what to do with a candidate.
type Verdict string

// The five verdicts.
const (
	Fits           Verdict = "fits"
	FitsWithChange Verdict = "fits_with_change"
	CheckFirst     Verdict = "check_first"
	RuledOut       Verdict = "ruled_out"
	NotKnown       Verdict = "not_known"
)

// Basis says why, the strongest that holds.
type Basis string

// The bases, strongest first.
const (
	Proven   Basis = "proven"
	Stated   Basis = "stated"    // somebody says that it goes into this vehicle
	ByNumber Basis = "by_number" // by another number
	Measured Basis = "measured"
	ByKin    Basis = "by_kin" // same engine or body, another vehicle
)

// Question is what is asked: a vehicle, a part type, and for a question about
// one part its number.
type Question struct {
	Facts vehicle.Facts
	Type  part.Type
	Part  part.Ref // zero for "which parts"
	Shop  string   // the shop that asks
	// Observed is what was seen or measured on the vehicle, by attribute.
	Observed map[string]Observation
	// CannotSee names attributes that somebody looked for in vain: they are not
	// asked again.
	CannotSee map[string]bool
}

// Knowledge is all that the book holds around a question, read from one
// snapshot.
type Knowledge struct {
	Revision  int64
	Fitments  []statement.Statement // fitments and "none" statements of the type
	Links     []statement.Statement
	Parts     []statement.Statement
	Values    []statement.Statement
	Sources   map[string]statement.Source
	Standings statement.Standings
	Engines   vehicle.Engines
	Free      func(part.Ref) int // units that may be offered; nil counts as none
	Outcomes  []Outcome          // of parts of the type
	Tallies   statement.Tallies  // what outcomes taught of sources
	OnShelf   []part.Ref         // parts of the type of which units are here
	// Closed names statements that a person found not to hold when closing a
	// dispute, by id: they count for nothing.
	Closed map[string]bool
}

// Answer is the whole answer to a question.
type Answer struct {
	Revision   int64
	Facts      vehicle.Facts
	Type       part.Type
	Unknown    []vehicle.Fact // facts that split the type and are not known
	None       *None          // the vehicle has no such part at all
	Notes      []string       // said before anything else: breaks, doubts about the vehicle
	Candidates []Candidate
	LeftOut    int              // candidates beyond the limit
	Reference  []ReferenceValue // what measured candidates were compared with
	Looks      []Look
	Cautions   []part.Caution
}

// None says that the vehicle has no part of this type, and who says so.
type None struct {
	Note   string // in the list's words
	Trails []Trail
}

// Number is one number of a candidate, as printed. Under a heading of several
// numbers each keeps the basis and the confidence of its own trails.
type Number struct {
	Ref        part.Ref
	Maker      string
	Number     string
	Role       statement.Role
	Basis      Basis
	Confidence int // thousandths
}

// Candidate is one part that may go in, with everything that speaks for and
// against it.
type Candidate struct {
	Refs       []part.Ref // its own number first, then those under the same heading
	Numbers    []Number
	Name       string // description
	Verdict    Verdict
	Basis      Basis
	Reason     string // one line that goes behind the verdict
	Confidence int    // thousandths, rounded down
	RuledOut   *Ruling
	Changes    []statement.Change
	DependsOn  []vehicle.Fact
	GoesInWhen map[vehicle.Fact][]string // values of DependsOn under which it goes in
	Against    []string
	Notes      []string
	Quantity   int
	Position   string
	Trails     []Trail
	Free       int
}

// RulingKind says why a candidate is ruled out.
type RulingKind string

// Kinds of rulings: the two deciding differences, a look-alike, and a failed
// fitting.
const (
	WontMount   RulingKind = "wont_mount"
	WorksWrong  RulingKind = "works_wrong"
	BlockedLook RulingKind = "look_alike"
	DidNotGo    RulingKind = "did_not_go"
)

// Ruling is the reason of a ruled-out candidate.
type Ruling struct {
	Kind      RulingKind
	Attribute string
	Wanted    string
	Found     string
	Effect    string
	By        []Step // the statement that rules it out, where one does
}

// Direction says which way a statement was walked.
type Direction string

// Directions of a step.
const (
	Forward  Direction = "forward"
	Backward Direction = "backward"
)

// Step is one statement of a trail.
type Step struct {
	Statement   statement.Statement
	Source      statement.Source
	Direction   Direction
	Reliability float64
}

// Trail is a chain of statements that carries an answer.
type Trail struct {
	Steps       []Step
	Reliability float64 // 1/2 + 1/2 prod(2r-1) over its rows
	Starred     bool    // holds a link that only suggests
	Counted     bool    // in the independent set that the confidence adds up
	Changes     []statement.Change
	Conditions  []string
	Basis       Basis
}

// Look is one observation that would tell candidates apart.
type Look struct {
	Attribute  string // attribute or vehicle fact
	Where      string // how and where it is seen
	Effort     int    // 1 (under a minute) to 5 (part out)
	Minutes    int    // what the look alone takes, our guess from the effort
	Note       string // said where looking costs more than being wrong; "" elsewhere
	TellsApart []Result
}

// Result is one result of a look and the candidates (by position in the
// answer) that are left by it.
type Result struct {
	Value      string
	Candidates []int
}
