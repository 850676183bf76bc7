package fit

import (
	"slices"

	"crossbin/internal/part"
	"crossbin/internal/vehicle"
)

// otherVehicle lists the facts that say which vehicle a row speaks of; a row
// that fails on these alone speaks of kin, another vehicle with the same engine.
// Serial and build date count in the run of the other vehicle.
var otherVehicle = []vehicle.Fact{vehicle.FactMaker, vehicle.FactModel, vehicle.FactModelCode, vehicle.FactMarket,
	vehicle.FactSerial, vehicle.FactBuilt, vehicle.FactPrefix, vehicle.FactSide}

// kin reports whether a row names the same engine in another vehicle, or, where
// nothing speaks of that engine, another one of its family, for a part that
// rides on the engine. A clause that says no about this vehicle
// itself (its gearbox, its options) makes no kin: such parts are compared
// attribute by attribute instead.
func (w *world) kin(r row) bool {
	if r.none || r.tri != vehicle.No || w.q.Type.RidesOn != part.OnEngine {
		return false
	}
	scope := r.step.Statement.Scope
	if scope.Text[vehicle.FactEngine] == "" {
		return false
	}
	if scope.Clause(vehicle.FactEngine, w.q.Facts, w.k.Engines) != vehicle.Yes {
		return w.familyServes() && w.sameFamily(scope.Text[vehicle.FactEngine]) && len(w.beyond(r, vehicle.FactEngine)) == 0
	}
	other := slices.Contains(r.failing, vehicle.FactModelCode) || slices.Contains(r.failing, vehicle.FactModel) ||
		slices.Contains(r.failing, vehicle.FactMaker)
	return other && len(w.beyond(r)) == 0
}

// beyond lists the clauses that say no about more than which vehicle it is.
func (w *world) beyond(r row, but ...vehicle.Fact) []vehicle.Fact {
	return slices.DeleteFunc(slices.Clone(r.failing), func(f vehicle.Fact) bool {
		return slices.Contains(otherVehicle, f) || slices.Contains(but, f)
	})
}

// sameFamily reports whether an engine code belongs to a family of the
// vehicle's engine.
func (w *world) sameFamily(code string) bool {
	return slices.ContainsFunc(w.k.Engines[code], func(f string) bool { return slices.Contains(w.q.Facts.Families, f) })
}

// familyServes reports whether no row speaks of this very engine: only then is
// another engine of the family worth a look.
func (w *world) familyServes() bool {
	return !slices.ContainsFunc(w.rows, func(r row) bool {
		s := r.step.Statement.Scope
		return !r.none && s.Clause(vehicle.FactEngine, w.q.Facts, w.k.Engines) != vehicle.No && len(w.beyond(r)) == 0
	})
}

// swapped warns where the engine is none that the book knows in this vehicle: a
// part that rides on the engine follows the block, and a row that names only the
// model code was written for another one.
func (w *world) swapped(trails []*trail) []string {
	code, known := w.q.Facts.Get(vehicle.FactModelCode)
	engine, known2 := w.q.Facts.Get(vehicle.FactEngine)
	if w.q.Type.RidesOn != part.OnEngine || !known || !known2 || !w.strange(code) {
		return nil
	}
	for _, t := range trails {
		s := w.rows[t.row].step.Statement.Scope
		if !t.kin && s.Text[vehicle.FactEngine] == "" && s.Text[vehicle.FactModelCode] == code {
			return []string{"the book knows no " + engine + " in a " + code + ": a swapped engine? this row names only the model code, and the part follows the block"}
		}
	}
	return nil
}

// strange reports whether rows name engines for a model code, and none of them
// is the vehicle's.
func (w *world) strange(code string) bool {
	named := false
	for _, r := range w.rows {
		s := r.step.Statement.Scope
		if s.Text[vehicle.FactModelCode] != code || s.Text[vehicle.FactEngine] == "" {
			continue
		}
		if s.Clause(vehicle.FactEngine, w.q.Facts, w.k.Engines) == vehicle.Yes {
			return false
		}
		named = true
	}
	return named
}
