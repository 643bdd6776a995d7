package checks_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/group"
	"rinsewright/model/network"
	"rinsewright/model/programme"
	"rinsewright/model/quantity"
	"rinsewright/model/sizing"
)

// sized makes a station from a proposal, joined to a vessel as the project has it, with
// the steps of a ready programme.
func sized(t *testing.T, o sizing.Object, tanks int) (*model.Circuit, *sizing.Sheet) {
	t.Helper()
	cat := catalogue.Builtin()
	p := sizing.NewProject()
	p.Objects, p.Tanks = []sizing.Object{o}, tanks
	sheet, err := sizing.Size(p, cat)
	if err != nil {
		t.Fatal(err)
	}
	station, err := sizing.Station(sheet.Proposal, cat)
	if err != nil {
		t.Fatal(err)
	}
	size := sheet.Proposal.Size
	r := model.Records{Header: &model.Header{Name: "sized", Profile: "food"}, Parts: slices.Clone(station.Circuit.Parts()), Runs: slices.Clone(station.Circuit.Runs())}
	// The ready vessel, of the same tube, with the vessel's own measures.
	whole := group.Named("spray-vessel")
	for _, part := range whole.Circuit.Parts() {
		next := model.Clone(part)
		next.Meta().ID = "v-" + next.Meta().ID
		switch part := next.(type) {
		case *model.Vessel:
			part.Size, part.InletSize = size, size
		case *model.Valve:
			part.Size = size
			if part.SecondSize.Known() {
				part.SecondSize = size
			}
		case *model.Fitting:
			if part.Size.Known() {
				part.Size = size
			}
		}
		switch part := next.(type) {
		case *model.Vessel:
			part.Diameter = o.Diameter
		case *model.Spray:
			part.RatedFlow, part.Size = sheet.Proposal.Flow, size
		}
		r.Parts = append(r.Parts, next)
	}
	for _, run := range whole.Circuit.Runs() {
		next := model.Clone(run)
		next.ID, next.From.Part, next.To.Part = "v-"+next.ID, "v-"+next.From.Part, "v-"+next.To.Part
		if next.Size.Or("") == "EN 10357-A DN50" {
			next.Size = size
		}
		r.Runs = append(r.Runs, next)
	}
	line := func(id model.ID, from, to model.End, stretches ...[2]float64) {
		run := &model.Run{ID: id, From: from, To: to, Size: size, Elbows: quantity.Some(4)}
		for _, s := range stretches {
			run.Stretches = append(run.Stretches, model.Stretch{Length: quantity.Some(quantity.Length(s[0])), Rise: quantity.Some(quantity.Length(s[1]))})
		}
		r.Runs = append(r.Runs, run)
	}
	supply, back := float64(o.Supply.Or(0)), float64(o.Return.Or(0))
	line("x-1", model.End{Part: "p-te-211", Port: "a"}, model.End{Part: "v-p-sb-201", Port: "a"}, [2]float64{supply - 0.02, -0.2}, [2]float64{0.015, -0.015})
	line("x-2", model.End{Part: "v-p-sb-221", Port: "b"}, model.End{Part: "p-te-201", Port: "b"}, [2]float64{0.6, -0.6}, [2]float64{back - 0.6, -0.2})
	c, err := r.Circuit()
	if err != nil {
		t.Fatal(err)
	}
	plan, err := programme.Make(network.Build(c, cat), programme.Named(p.Programme), programme.Options{Objects: []model.ID{"v-p-t-201"}})
	if err != nil {
		t.Fatal(err)
	}
	r.Steps = plan.Steps
	if c, err = r.Circuit(); err != nil {
		t.Fatal(err)
	}
	return c, sheet
}

// judgedSizes are the rules that judge what a sheet proposes.
var judgedSizes = []string{"undersized-branch", "pump-too-small", "heater-too-small", "tank-too-small", "return-falls-behind"}

// sizeFindings gives what these rules find, and what they could not assess.
func sizeFindings(t *testing.T, c *model.Circuit) []string {
	t.Helper()
	res, err := checks.Run(context.Background(), c, catalogue.Builtin(), checks.Builtin("food"), checks.Rules())
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, f := range slices.Concat(res.Findings, res.NotAssessed) {
		if slices.Contains(judgedSizes, f.Rule) {
			out = append(out, f.Rule+": "+f.Message.In(quantity.Metric))
		}
	}
	return out
}

func washedVessel(diameter float64, device sizing.Device, supply, back float64) sizing.Object {
	return sizing.Object{Name: "T-201", Sort: sizing.VesselSort, Diameter: quantity.Some(quantity.Length(diameter)), Bottom: quantity.Some(model.DIN28011),
		Device: quantity.Some(device), Pressure: quantity.Some(quantity.Bar(1.8)), Supply: quantity.Some(quantity.Length(supply)), Return: quantity.Some(quantity.Length(back)), Rise: quantity.Some(quantity.Length(4.1))}
}

// A station that is placed as the sheet proposes it satisfies the rules that judge
// sizes: the sheet and the rules compute by different ways.
func TestSizedStationSatisfiesTheRules(t *testing.T) {
	for _, x := range []struct {
		diameter     float64
		device       sizing.Device
		supply, back float64
		tanks        int
	}{
		{2, sizing.Static, 20, 18, 3},
		{1.2, sizing.Static, 8, 8, 3},
		{2.4, sizing.Static, 45, 40, 3},
		{2.4, sizing.Rotary, 30, 30, 4},
		{1.6, sizing.Rotary, 60, 55, 3},
		{1.8, sizing.Static, 12, 12, 4},
	} {
		c, sheet := sized(t, washedVessel(x.diameter, x.device, x.supply, x.back), x.tanks)
		hot := 0
		for _, s := range c.Steps() {
			if to, ok := s.Temperature.Get(); ok && to > quantity.Celsius(50) && len(s.Positions) > 0 {
				hot++
			}
		}
		if hot != 2 {
			t.Errorf("Ø%v m, %d tanks: %d hot steps have a line-up, want 2: nothing would be judged", x.diameter, x.tanks, hot)
		}
		for _, f := range sizeFindings(t, c) {
			t.Errorf("Ø%v m, %s, %v m, %d tanks, %v: %s", x.diameter, x.device, x.supply, x.tanks, sheet.Proposal.Size.Or(""), f)
		}
	}
}

// The same station with one thing made too small is told: the silence above means
// something.
func TestSizedStationMadeTooSmallIsTold(t *testing.T) {
	c, sheet := sized(t, washedVessel(2, sizing.Static, 20, 18), 3)
	change := func(id model.ID, change func(model.Part)) *model.Circuit {
		next := model.Clone(c.Part(id))
		change(next)
		out, err := c.Apply(model.Edit{Changes: []model.Change{model.Replacing(c.Part(id), next)}})
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	weaker := func(p model.Part, share float64) {
		pump := p.(*model.Pump)
		pump.Curve = slices.Clone(pump.Curve)
		for i, at := range pump.Curve {
			pump.Curve[i].Head = quantity.Some(at.Head.Or(0) * quantity.Length(share))
		}
	}
	for rule, small := range map[string]*model.Circuit{
		"pump-too-small":      change("p-p-101", func(p model.Part) { weaker(p, 0.6) }),
		"return-falls-behind": change("p-p-201", func(p model.Part) { weaker(p, 0.5) }),
		"tank-too-small": change("p-t-102", func(p model.Part) {
			p.(*model.Vessel).Working = quantity.Some(sheet.Proposal.TankVolume.Or(0) / 3)
		}),
		"heater-too-small": change("p-e-101", func(p model.Part) { p.(*model.Exchanger).Duty = quantity.Some(sheet.Proposal.Heater.Or(0) / 12) }),
	} {
		found := sizeFindings(t, small)
		if !slices.ContainsFunc(found, func(f string) bool { return strings.HasPrefix(f, rule+":") }) {
			t.Errorf("%s is not told; found %v", rule, found)
		}
	}
}
