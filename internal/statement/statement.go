package statement

import (
	"crossbin/internal/part"
	"crossbin/internal/vehicle"
)

// Kind is what a statement speaks of.
type Kind string

// The kinds of statements.
const (
	KindPart    Kind = "part"    // there is a part with this number, of this type
	KindFitment Kind = "fitment" // this part goes into these vehicles
	KindNone    Kind = "none"    // these vehicles have no such part at all
	KindLink    Kind = "link"    // what two part numbers have to do with one another
	KindValue   Kind = "value"   // an attribute of a part has this value
	KindEngine  Kind = "engine"  // this engine code belongs to this family
)

// Statement is one thing that somebody says. Which fields are set depends on
// Kind; ID and Place are always there.
type Statement struct {
	ID     string // content hash, see Identify
	Kind   Kind
	Source string // ID of the source, see Source
	Place  Place
	Type   string   // part type it speaks of; "" where the row does not say
	A      part.Ref // the part; for links the first number
	Part   PartName
	Scope  vehicle.Scope // fitment, none
	Link   Link
	Value  Value
	Engine Engine
	Note   string // remark in the row that belongs to this statement
}

// Place is where a statement stands: the row as it was read can be shown.
type Place struct {
	File  string
	Sheet string // "" for csv
	Row   int    // as it stands in the file, from 1
	Cell  string // "C6"
	Text  string // the row as it was read, cells joined with tabs
}

// Role says whose number a part number is.
type Role string

// Roles of a number.
const (
	VehicleMaker Role = "vehicle_maker"
	UnitMaker    Role = "unit_maker"
	Own          Role = "own"
	Other        Role = "other"
)

// PartName is what a part statement says beside the number.
type PartName struct {
	Printed string // the number as printed
	Maker   string // as printed
	Role    Role
	Name    string // description
}

// Engine says that an engine code belongs to a family, both as printed.
type Engine struct {
	Code   string
	Family string
}

// Value is a measured or listed value of an attribute.
type Value struct {
	Attribute string
	Value     part.Value
	By        string // who measured it; "" for a list
	How       string // calliper, tape, photo, label; "" for a list
}

// Relation is the kind of a link.
type Relation string

// The four relations between two part numbers.
const (
	Same       Relation = "same"
	ReplacedBy Relation = "replaced_by" // A is the old number, B the new one
	StandsIn   Relation = "stands_in"   // B goes where A goes, one way
	LookAlike  Relation = "look_alike"  // the two do not go for one another
)

// Link says what A and B have to do with one another.
type Link struct {
	Relation   Relation
	B          part.Ref
	PrintedA   string // numbers as printed, for display where no part statement names them
	PrintedB   string
	BothWays   vehicle.Tri // for replaced_by and stands_in; unknown is treated as no
	Conditions []string    // the link holds only under these
	Changes    []Change    // named tasks that make B go where A goes
	Kit        bool        // B is a kit that holds the part
	Set        []part.Ref  // B goes only together with these
	Reason     string      // what differs, for look-alikes
}

// Change is a named task with the minutes and the pieces that it needs.
type Change struct {
	Task    string
	Minutes int // our guess; 0 where nobody said
	Pieces  []string
}

// Word reports whether the link rests on somebody's word that B does the job,
// without a named change: the kind of link that never chains with its like.
func (l Link) Word() bool { return l.Relation == StandsIn && len(l.Changes) == 0 && len(l.Set) == 0 }
