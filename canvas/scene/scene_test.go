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
	"rinsewright/model/quantity"
)

func station(t testing.TB) *network.Plant {
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

func stepNamed(t *testing.T, p *network.Plant, programme, name string) *model.Step {
	t.Helper()
	for _, s := range p.Circuit.Steps() {
		if s.Programme == programme && s.Name == name {
			return s
		}
	}
	t.Fatalf("there is no step %s / %s", programme, name)
	return nil
}

type wanted struct {
	a, b   string
	flow   draw.Flow
	medium model.Medium
}

func checkFlows(t *testing.T, p *network.Plant, opt draw.Options, want []wanted) {
	t.Helper()
	for _, w := range want {
		r := between(t, p, w.a, w.b)
		flow := opt.Flow[r.ID]
		if r.From.Part != tagged(t, p, w.a) { // told from b to a in the file
			flow = map[draw.Flow]draw.Flow{draw.Forward: draw.Backward, draw.Backward: draw.Forward}[flow]
		}
		if w.flow <= draw.Still {
			flow = opt.Flow[r.ID]
		}
		if flow != w.flow || opt.Media[r.ID] != w.medium {
			t.Errorf("%s to %s: flow %v of %q, want %v of %q", w.a, w.b, flow, opt.Media[r.ID], w.flow, w.medium)
		}
	}
}

// What empties in the drain step of T-201 and where to, read off the drawing and
// the heights by hand: the supply falls to SW-101, the return to SW-102, and the
// tanks behind shut valves keep what they hold.
func TestOfDrain(t *testing.T) {
	p := station(t)
	opt := scene.Of(p, stepNamed(t, p, "Vessel T-201", "Drain"))
	checkFlows(t, p, opt, []wanted{
		{"T-201", "V-201", draw.Forward, model.Water},
		{"P-101", "TE-101", draw.Forward, model.Water}, // back through the standing pump
		{"TE-101", "V-121", draw.Forward, model.Water},
		{"V-121", "SW-101", draw.Forward, model.Water}, // dry before: the way on to the drain
		{"V-122", "SW-102", draw.Forward, model.Water},
		{"T-102", "V-102", draw.Still, model.Alkali}, // left by the alkali wash, behind the shut outlet
		{"T-103", "V-103", draw.Still, model.Acid},
		{"FL-301", "SB-321", draw.Dry, ""}, // never wetted by this programme
	})
	if level, ok := opt.Levels[tagged(t, p, "T-201")]; !ok || level <= 0 || level > 0.2 {
		t.Errorf("the vessel that drains is %v full", level)
	}
	if level, ok := opt.Levels[tagged(t, p, "T-202")]; ok {
		t.Errorf("the other vessel, of which nobody told the level, is %v full", level)
	}
}

// Steam is let in by TCV-101, which stands open in the alkali wash and shut in the
// final rinse; V-131 before it stands open always.
func TestOfSteam(t *testing.T) {
	p := station(t)
	checkFlows(t, p, scene.Of(p, stepNamed(t, p, "Vessel T-201", "Alkali wash")), []wanted{
		{"SS-101", "V-131", draw.Forward, model.Steam},
		{"TE-132", "E-101", draw.Forward, model.Steam},
		{"E-101", "TR-101", draw.Forward, model.Condensate},
		{"CV-101", "CR-101", draw.Forward, model.Condensate},
		{"TE-132", "VB-101", draw.Still, model.Steam}, // the vacuum breaker lets nothing out
		{"ST-101", "E-101", draw.Forward, model.Alkali},
	})
	checkFlows(t, p, scene.Of(p, stepNamed(t, p, "Vessel T-201", "Final rinse")), []wanted{
		{"SS-101", "V-131", draw.Still, model.Steam},
		{"ST-131", "TCV-101", draw.Still, model.Steam},
		{"TE-132", "E-101", draw.Dry, ""},
		{"E-101", "TR-101", draw.Dry, ""},
	})
}

// What vessels hold and how full they are.
func TestOfVessels(t *testing.T) {
	p := station(t)
	change := func(id model.ID, f func(v *model.Vessel)) {
		t.Helper()
		old := p.Circuit.Part(id).(*model.Vessel)
		v := model.Clone(old)
		f(v)
		next, err := p.Circuit.Apply(model.Edit{Changes: []model.Change{{Before: old, After: v}}})
		if err != nil {
			t.Fatal(err)
		}
		p = network.Build(next, catalogue.Builtin())
	}
	t102, t201 := tagged(t, p, "T-102"), tagged(t, p, "T-201")
	change(t102, func(v *model.Vessel) {
		v.Height, v.Level, v.Holds = quantity.Some(quantity.Length(2)), quantity.Some(quantity.Length(0.5)), quantity.Some(model.Water)
	})
	change(t201, func(v *model.Vessel) { v.Level = quantity.Some(quantity.Length(1.3)) }) // of 2.6 m

	rest := scene.Of(p, nil)
	if rest.Levels[t102] != 0.25 || rest.Levels[t201] != 0.5 {
		t.Errorf("at rest T-102 is %v full, want 0.25; T-201 %v, want 0.5", rest.Levels[t102], rest.Levels[t201])
	}
	step := stepNamed(t, p, "Vessel T-201", "Alkali wash")
	wash := scene.Of(p, step)
	if wash.Media[t102] != model.Alkali || wash.Levels[t102] != 0.25 {
		t.Errorf("the source holds %q, %v full; want alkali as drawn from it, 0.25", wash.Media[t102], wash.Levels[t102])
	}
	if wash.Media[t201] != model.Alkali || wash.Levels[t201] <= 0 || wash.Levels[t201] > 0.2 {
		t.Errorf("the washed vessel holds %q, %v full; want a puddle of alkali", wash.Media[t201], wash.Levels[t201])
	}
	if m, ok := wash.Media[tagged(t, p, "T-202")]; ok {
		t.Errorf("the vessel that the step leaves alone holds %q", m)
	}
	purpose := func(v model.Purpose) draw.Options {
		s := model.Clone(step)
		s.Purpose = quantity.Some(v)
		return scene.Of(p, s)
	}
	if got := purpose(model.Hold).Levels[t201]; got != 0.5 {
		t.Errorf("a soaked vessel is %v full, want as full as told", got)
	}
	if got := purpose(model.AirBlow).Levels[t201]; got != 0 {
		t.Errorf("a vessel blown out is %v full", got)
	}
}

// In production without a told route the product lines show what is open to the
// product supply.
func TestOfProduction(t *testing.T) {
	p := station(t)
	id := func(tag string) model.ID { return tagged(t, p, tag) }
	step := &model.Step{ID: "s-x", Name: "Fill T-201", Purpose: quantity.Some(model.Production),
		Positions: map[model.ID]string{id("SB-211"): "joined"}}
	checkFlows(t, p, scene.Of(p, step), []wanted{
		{"PS-201", "SB-211", draw.Still, model.Product},
		{"SB-211", "T-201", draw.Still, model.Product},
		{"SB-212", "T-202", draw.Dry, ""},
	})
	step.Positions = nil
	checkFlows(t, p, scene.Of(p, step), []wanted{{"SB-211", "T-201", draw.Dry, ""}})
}

// BenchmarkOfDrain is the dearest scene: it routes the steps before it too.
func BenchmarkOfDrain(b *testing.B) {
	raw, err := assets.Files.ReadFile("demo/oat-drink-station.circuit.json")
	if err != nil {
		b.Fatal(err)
	}
	c, err := circuitfile.Decode("demo", raw)
	if err != nil {
		b.Fatal(err)
	}
	p := network.Build(c, catalogue.Builtin())
	for _, step := range c.Steps() {
		if step.Purpose.Or("") == model.Drain {
			for b.Loop() {
				scene.Of(p, step)
			}
			return
		}
	}
	b.Fatal("no drain step")
}
