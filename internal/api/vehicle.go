package api

import (
	"strconv"
	"strings"

	"crossbin/internal/vehicle"
)

// Vehicle is what is known of the vehicle, as it was understood. What is not
// there is unknown, which never means "no".
type Vehicle struct {
	Frame        string          `json:"frame,omitempty"`
	VIN          string          `json:"vin,omitempty"`
	ModelCode    string          `json:"model_code,omitempty"`
	Prefix       string          `json:"emission_prefix,omitempty"`
	Serial       string          `json:"serial,omitempty"`
	Maker        *Fact           `json:"maker,omitempty"`
	Model        *Fact           `json:"model,omitempty"`
	Engine       *Fact           `json:"engine,omitempty"`
	Families     []string        `json:"engine_families,omitempty"`
	Built        *Fact           `json:"built,omitempty"` // "1997-05", or "1997-01…1997-12"
	Side         *Fact           `json:"side,omitempty"`
	Transmission *Fact           `json:"transmission,omitempty"`
	Drive        *Fact           `json:"drive,omitempty"`
	Turbo        *Fact           `json:"turbo,omitempty"`
	Market       *Fact           `json:"market,omitempty"`
	Options      map[string]Fact `json:"options,omitempty"` // "ac": yes or no
	Unknown      []string        `json:"unknown"`           // facts that split the part type and are not known
}

// Fact is one known fact and how it is known.
type Fact struct {
	Value string `json:"value"`
	How   string `json:"how"`
}

func vehicleJSON(f vehicle.Facts, unknown []vehicle.Fact) Vehicle {
	v := Vehicle{VIN: f.VIN, Serial: serial(f), Families: f.Families, Unknown: each(unknown, factName),
		Maker: fact(f, vehicle.FactMaker), Model: fact(f, vehicle.FactModel), Engine: fact(f, vehicle.FactEngine),
		Side: fact(f, vehicle.FactSide), Transmission: fact(f, vehicle.FactTransmission), Drive: fact(f, vehicle.FactDrive),
		Turbo: fact(f, vehicle.FactTurbo), Market: fact(f, vehicle.FactMarket)}
	v.ModelCode, _ = f.Get(vehicle.FactModelCode)
	v.Prefix, _ = f.Get(vehicle.FactPrefix)
	if f.Frame.Raw != "" {
		v.Frame = f.Frame.String()
	}
	if f.Built.Known() {
		v.Built = &Fact{Value: f.Built.String(), How: string(f.BuiltHow)}
	}
	for name, known := range f.Text {
		if o, ok := name.Option(); ok {
			if v.Options == nil {
				v.Options = map[string]Fact{}
			}
			v.Options[o] = Fact{Value: strings.ToLower(known.Value), How: string(known.How)} // yes or no, however it was folded
		}
	}
	return v
}

// serial gives the serial with the zeros that it was written with.
func serial(f vehicle.Facts) string {
	switch {
	case f.Frame.Serial != "":
		return f.Frame.Serial
	case f.Serial != vehicle.NoSerial:
		return strconv.FormatInt(f.Serial, 10)
	}
	return ""
}

func fact(f vehicle.Facts, name vehicle.Fact) *Fact {
	known, ok := f.Text[name]
	if !ok {
		return nil
	}
	return &Fact{Value: known.Value, How: string(known.How)}
}
