package main

import (
	"context"
	"errors"

	"crossbin/internal/api"
	"crossbin/internal/app"
	"crossbin/internal/fit"
)

type fitCommand struct {
	Frame        string   `help:"Frame number, KV31-0123456." placeholder:"NUMBER"`
	VIN          string   `help:"17-character VIN." name:"vin" placeholder:"VIN"`
	Maker        string   `help:"Vehicle maker."`
	Model        string   `help:"Model name."`
	ModelCode    string   `help:"Model code, with the emission prefix if known: GF-KV31." placeholder:"CODE"`
	Engine       string   `help:"Engine code stamped on the block, or the family." placeholder:"CODE"`
	EngineHow    string   `help:"How the engine is known: stamped, plate, paper, seen, told." default:"stamped" enum:"stamped,plate,paper,seen,told"`
	Built        string   `help:"Build date: 1997-05, 1997, H9.5." placeholder:"DATE"`
	BuiltHow     string   `help:"How the date is known: stamped, plate, paper (first registration), seen, told." default:"plate" enum:"stamped,plate,paper,seen,told"`
	Transmission string   `help:"Gearbox: AT, MT or CVT." placeholder:"AT|MT|CVT"`
	Drive        string   `help:"Driven wheels: 2WD or 4WD." placeholder:"2WD|4WD"`
	Side         string   `help:"Drive side: RHD or LHD." placeholder:"RHD|LHD"`
	Turbo        string   `help:"Turbo: yes or no." placeholder:"yes|no"`
	Market       string   `help:"Market that the vehicle was made for."`
	With         []string `help:"Options fitted: ac, cold." placeholder:"OPTION"`
	Without      []string `help:"Options known to be absent." placeholder:"OPTION"`
	Measure      []string `sep:"none" help:"Seen or measured on the vehicle: ribs=5, amps=75A; ribs=? where it cannot be seen." placeholder:"NAME=VALUE"`
	Type         string   `help:"Part type: alternator, radiator, starter, water pump ..."`
	Part         string   `help:"Ask about this one part." placeholder:"NUMBER"`
	PartMaker    string   `help:"Maker of --part, where several bear the number." placeholder:"MAKER"`
	Explain      bool     `help:"Add the arithmetic to the JSON, to be redone by hand."`
}

func (c *fitCommand) request() app.FitRequest {
	return app.FitRequest{Frame: c.Frame, VIN: c.VIN, Maker: c.Maker, Model: c.Model, ModelCode: c.ModelCode, Engine: c.Engine,
		EngineHow: c.EngineHow, Built: c.Built, BuiltHow: c.BuiltHow, Transmission: c.Transmission, Drive: c.Drive, Side: c.Side,
		Turbo: c.Turbo, Market: c.Market, With: c.With, Without: c.Without, Type: c.Type, Part: c.Part, PartMaker: c.PartMaker, Explain: c.Explain}
}

// Run answers which parts fit, or whether one part does: then "no" is exit
// code 1.
func (c *fitCommand) Run(ctx context.Context, p *program) (err error) {
	o, err := p.openBook(ctx, toRead)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, o.close()) }()
	return c.ask(ctx, p, o.Service)
}

func (c *fitCommand) ask(ctx context.Context, p *program, s *app.Service) error {
	req := c.request()
	for _, text := range c.Measure {
		o, err := app.ReadObserved(text)
		if err != nil {
			return err
		}
		req.Observed = append(req.Observed, o)
	}
	if req.Part != "" && !req.NamesVehicle() {
		return p.around(ctx, s, req)
	}
	result, err := s.Fit(ctx, req)
	if err != nil {
		return err
	}
	p.exit = exitOfFit(result)
	if p.flags.JSON {
		return p.printJSON(api.FitJSON(result))
	}
	p.printFit(result)
	return nil
}

// exitOfFit is 1 where nothing is known, and where a question about one part is
// answered no.
func exitOfFit(r app.FitResult) int {
	if len(r.Candidates) == 0 && r.None == nil && len(r.Notes) == 0 {
		return exitNothing
	}
	if r.Request.Part == "" {
		return exitAnswered
	}
	for _, c := range r.Candidates {
		if c.Verdict != fit.RuledOut && c.Verdict != fit.NotKnown {
			return exitAnswered
		}
	}
	return exitNothing
}
