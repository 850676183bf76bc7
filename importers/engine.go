package importers

import (
	"strings"

	"crossbin/internal/statement"
	"crossbin/internal/vehicle"
)

// engineRow reads a row of engine codes and their family.
func (r *rowReader) engineRow() {
	code, ok := r.first(EngineCode)
	family := r.text(EngineFamily)
	switch {
	case !ok && family == "":
		return
	case !ok || family == "":
		r.problem(-1, "half_engine", strings.TrimSpace(code.text+" "+family), "an engine code and the family that it belongs to; one of the two is missing")
		return
	}
	r.engines(code, family)
}

// engines says of each code that it belongs to the family; with several families
// it is not said which code belongs to which.
func (r *rowReader) engines(code value, family string) {
	if len(splitAlternatives(family)) > 1 {
		r.problem(code.col, "several_families", family, "one family a row; which code belongs to which of them is not said, so the row's families were left out")
		return
	}
	for _, c := range splitAlternatives(code.text) {
		if vehicle.FoldCode(c) == "" || strings.ContainsAny(c, "?*") {
			r.problem(code.col, "clause_unread", c, "an engine code; it was left out")
			continue
		}
		r.add(code.col, statement.Statement{Kind: statement.KindEngine, Type: "", Engine: statement.Engine{Code: c, Family: family}})
	}
}
