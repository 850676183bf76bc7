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

// kin reports whether a row names the same engine in another vehicle, for a
// part that rides on the engine. A clause that says no about this vehicle
// itself (its gearbox, its options) makes no kin: such parts are compared
// attribute by attribute instead.
func (w *world) kin(r row) bool {
	if r.none || r.tri != vehicle.No || w.q.Type.RidesOn != part.OnEngine {
		return false
	}
	scope := r.step.Statement.Scope
	if scope.Clause(vehicle.FactEngine, w.q.Facts, w.k.Engines) != vehicle.Yes || scope.Text[vehicle.FactEngine] == "" {
		return false
	}
	other := slices.Contains(r.failing, vehicle.FactModelCode) || slices.Contains(r.failing, vehicle.FactModel) ||
		slices.Contains(r.failing, vehicle.FactMaker)
	return other && !slices.ContainsFunc(r.failing, func(f vehicle.Fact) bool { return !slices.Contains(otherVehicle, f) })
}
