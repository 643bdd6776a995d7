package scene_test

import (
	"testing"

	"rinsewright/assets"
	"rinsewright/canvas/draw"
	"rinsewright/canvas/scene"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/network"
)

func station(t *testing.T) *network.Plant {
	t.Helper()
	b, err := assets.Files.ReadFile("demo/oat-drink-station.circuit.json")
	if err != nil {
		t.Fatal(err)
	}
	c, err := circuitfile.Decode("demo", b)
	if err != nil {
		t.Fatal(err)
	}
	return network.Build(c, catalogue.Builtin())
}

func tagged(t *testing.T, p *network.Plant, tag string) model.ID {
	t.Helper()
	found := p.Circuit.Tagged(tag)
	if len(found) != 1 {
		t.Fatalf("%d things are called %s", len(found), tag)
	}
	return found[0].RecordID()
}

// between gives the run that joins two parts.
func between(t *testing.T, p *network.Plant, a, b string) *model.Run {
	t.Helper()
	for _, r := range p.Circuit.RunsAt(tagged(t, p, a)) {
		if other := tagged(t, p, b); r.From.Part == other || r.To.Part == other {
			return r
		}
	}
	t.Fatalf("no run joins %s and %s", a, b)
	return nil
}

// What the alkali wash of vessel T-201 does, read off the drawing by hand.
func TestOfAlkaliWash(t *testing.T) {
	p := station(t)
	var step *model.Step
	for _, s := range p.Circuit.Steps() {
		if s.Programme == "Vessel T-201" && s.Name == "Alkali wash" {
			step = s
		}
	}
	if step == nil {
		t.Fatal("the step is not there")
	}
	opt := scene.Of(p, step)

	flows := []struct {
		a, b string
		want draw.Flow
	}{
		{"T-102", "V-102", draw.Forward},    // drawn from the alkali tank
		{"P-101", "PT-101", draw.Forward},   // through the pump
		{"SD-201", "SB-201", draw.Backward}, // the run is told from the spray device up
		{"P-201", "TT-201", draw.Forward},   // and back by the return pump
		{"TE-101", "V-121", draw.Still},     // the shut drain stands full
		{"T-101", "V-101", draw.Dry},        // the water tank stays shut
		{"V-211", "V-212", draw.Dry},        // the way to T-202 is shut at the first divert valve
	}
	for _, f := range flows {
		if got := opt.Flow[between(t, p, f.a, f.b).ID]; got != f.want {
			t.Errorf("%s to %s: flow %v, want %v", f.a, f.b, got, f.want)
		}
	}
	if got := opt.Media[between(t, p, "P-101", "PT-101").ID]; got != model.Alkali {
		t.Errorf("the supply carries %q", got)
	}
	if got := opt.Media[tagged(t, p, "T-201")]; got != model.Alkali {
		t.Errorf("the washed vessel holds %q", got)
	}
	if got, ok := opt.Media[tagged(t, p, "T-101")]; ok {
		t.Errorf("the water tank holds %q", got)
	}
	if got := opt.Positions[tagged(t, p, "V-102")]; got != "open" {
		t.Errorf("V-102 is %q", got)
	}
	if got := opt.Positions[tagged(t, p, "V-101")]; got != "closed" {
		t.Errorf("V-101 is %q", got)
	}
}

func TestOfNoStep(t *testing.T) {
	opt := scene.Of(station(t), nil)
	if opt.Flow != nil || opt.Media != nil || len(opt.Positions) == 0 {
		t.Errorf("at rest: flow %v, media %v, %d positions", opt.Flow, opt.Media, len(opt.Positions))
	}
}
