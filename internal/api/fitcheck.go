package api

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"crossbin/internal/app"
	"crossbin/internal/vehicle"
)

// checkRequest bounds a question, wherever it came from, and refuses one that
// asks nothing.
func checkRequest(q *app.FitRequest) error {
	asked := false
	for _, f := range vehicleFields() {
		v := strings.TrimSpace(*f.at(q))
		if err := checkText(f.name, v); err != nil {
			return err
		}
		*f.at(q) = v
		asked = asked || v != ""
	}
	for _, f := range questionFields() {
		if err := checkText(f.name, *f.at(q)); err != nil {
			return err
		}
	}
	if err := cmp.Or(checkOptions("with", q.With), checkOptions("without", q.Without), checkObservations(q.Observed),
		checkHow("engine_how", q.EngineHow), checkHow("built_how", q.BuiltHow)); err != nil {
		return err
	}
	return checkAsked(q, asked)
}

func checkOptions(name string, options []string) error {
	if err := checkCount(name, len(options)); err != nil {
		return err
	}
	for _, v := range options {
		if err := checkText(name, v); err != nil {
			return err
		}
	}
	return nil
}

func checkHow(name, how string) error {
	ways := []string{string(vehicle.Stamped), string(vehicle.Plate), string(vehicle.Paper), string(vehicle.Seen), string(vehicle.Told)}
	if how == "" || slices.Contains(ways, how) {
		return nil
	}
	return &app.Error{Code: app.CodeInvalid, Message: fmt.Sprintf("%s is %q, which is no way of knowing", name, clip(how)),
		Hint: "known are " + strings.Join(ways, ", ")}
}

func checkAsked(q *app.FitRequest, asked bool) error {
	switch {
	case !asked:
		return &app.Error{Code: app.CodeInvalid, Message: "which vehicle?", Hint: "send frame, model_code, engine or model; without a vehicle ask /api/v1/parts"}
	case q.Type == "" && q.Part == "":
		return &app.Error{Code: app.CodeInvalid, Message: "which kind of part?", Hint: "send type, one of those under /api/v1/types, or part with a number"}
	}
	return nil
}
