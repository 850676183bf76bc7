package importers

import "slices"

// Field is what a column holds, whatever its heading is called.
type Field string

// The fields. Numbers first, then what links them, what they are, the vehicles
// that they go into, their values, the shelf, and what is only kept.
const (
	OwnNo        Field = "own_no"
	PartNo       Field = "part_no"
	MakerNo      Field = "maker_no" // the vehicle maker's (OE) number
	UnitNo       Field = "unit_no"  // the maker's of the unit
	SupersededBy Field = "superseded_by"
	Replaces     Field = "replaces"
	Cross        Field = "cross"
	Repl         Field = "repl" // replaces or replaced by: the heading does not say
	OtherNo      Field = "other_no"

	Relation    Field = "relation"
	BothWays    Field = "both_ways"
	ChangeTask  Field = "change"
	Minutes     Field = "minutes"
	Pieces      Field = "pieces"
	OnlyIf      Field = "only_if"
	WhereFrom   Field = "where_from"
	NumberMaker Field = "number_maker"
	OtherMaker  Field = "other_maker"

	TypeName  Field = "part_type"
	PartTitle Field = "part_name"
	UnitMaker Field = "unit_maker"
	Brand     Field = "brand"

	Make         Field = "make"
	Model        Field = "model"
	ModelCode    Field = "model_code"
	FrameNo      Field = "frame_no"
	SerialRange  Field = "serial_range"
	SerialFrom   Field = "serial_from"
	SerialTo     Field = "serial_to"
	EngineCode   Field = "engine_code"
	EngineFamily Field = "engine_family"
	YearRange    Field = "year_range"
	YearFrom     Field = "year_from"
	YearTo       Field = "year_to"
	Transmission Field = "transmission"
	Drive        Field = "drive"
	DriveSide    Field = "drive_side"
	PartSide     Field = "side"
	Position     Field = "position"
	Turbo        Field = "turbo"
	AirCon       Field = "ac"
	ColdRegion   Field = "cold"
	OptionWords  Field = "options"
	Market       Field = "market"
	PerVehicle   Field = "per_vehicle"

	Volts         Field = "volts"
	Amps          Field = "amps"
	IdleAmps      Field = "idle_amps"
	Power         Field = "power"
	Rating        Field = "rating" // volts and amps in one cell, as on a label
	Ribs          Field = "ribs"
	Plug          Field = "plug"
	Pins          Field = "pins"
	Rotation      Field = "rotation"
	CoreSize      Field = "core_size"
	CoreThickness Field = "core_thickness"
	Diameter      Field = "diameter"
	Teeth         Field = "teeth"
	ATCooler      Field = "at_cooler"
	CapPressure   Field = "cap_pressure"
	AttributeOf   Field = "attribute" // the heading is the attribute's own name

	Condition  Field = "condition"
	Qty        Field = "qty"
	CoreQty    Field = "core_qty"
	Reserved   Field = "reserved"
	Job        Field = "job"
	Bin        Field = "bin"
	DaySeen    Field = "date"
	MeasuredBy Field = "measured_by"
	HowTaken   Field = "how"
	Notes      Field = "notes"

	Supplier   Field = "supplier"
	MinMax     Field = "min_max"
	Price      Field = "price"
	CoreCharge Field = "core_charge"
	Warranty   Field = "warranty"
	Customer   Field = "customer"
	LineNo     Field = "line_no"
	NotOurs    Field = "not_ours" // a known word of no use here: invoice, phone
)

// firstNumbers are the fields whose numbers name the part of the row, in the
// order in which values, stock and fitments are hung on them.
var firstNumbers = []Field{MakerNo, UnitNo, PartNo, OwnNo}

// linkNumbers are the fields that hold other parts' numbers.
var linkNumbers = []Field{SupersededBy, Replaces, Cross, Repl, OtherNo}

// narrowing are the vehicle fields without which a fitment would speak of all
// that a maker ever built.
var narrowing = []Field{Model, ModelCode, FrameNo, EngineCode, EngineFamily}

// clauseFields are all the fields that say into which vehicles a part goes, in
// the order in which problems with them are told.
var clauseFields = []Field{Make, Model, ModelCode, FrameNo, SerialRange, SerialFrom, SerialTo, EngineCode, EngineFamily,
	YearRange, YearFrom, YearTo, Transmission, Drive, DriveSide, Turbo, AirCon, ColdRegion, OptionWords, Market}

// valueFields are the fields that hold a value of the part.
var valueFields = []Field{Volts, Amps, IdleAmps, Power, Rating, Ribs, Plug, Pins, Rotation, CoreSize, CoreThickness,
	Diameter, Teeth, ATCooler, CapPressure, AttributeOf}

var otherFields = []Field{Relation, BothWays, ChangeTask, Minutes, Pieces, OnlyIf, WhereFrom, NumberMaker, OtherMaker,
	TypeName, PartTitle, UnitMaker, Brand, PartSide, Position, PerVehicle, Condition, Qty, CoreQty, Reserved, Job, Bin,
	DaySeen, MeasuredBy, HowTaken, Notes, Supplier, MinMax, Price, CoreCharge, Warranty, Customer, LineNo, NotOurs}

// Fields lists every field, sorted.
func Fields() []Field {
	all := slices.Concat(firstNumbers, linkNumbers, clauseFields, valueFields, otherFields)
	slices.Sort(all)
	return all
}

func isField(f Field) bool { return slices.Contains(Fields(), f) }

// holdsNumber tells the fields in which a part number stands.
func holdsNumber(f Field) bool {
	return slices.Contains(firstNumbers, f) || slices.Contains(linkNumbers, f)
}
