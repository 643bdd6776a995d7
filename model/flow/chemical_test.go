package flow_test

import (
	"slices"
	"strings"
	"testing"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/flow"
	"rinsewright/model/fluid"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// A step that names its chemical is solved with that one, and assumes none.
func TestChemicalOfAStep(t *testing.T) {
	st := &model.Step{Medium: Some(model.Acid), Chemical: Some(model.PhosphoricAcid), Strength: Some(Strength(0.01)), Temperature: Some(Celsius(20))}
	l, missing, err := flow.LiquidOf(st)
	if err != nil || len(missing) > 0 || l.Medium != fluid.PhosphoricAcid {
		t.Fatalf("%v, missing %v, %v", l, missing, err)
	}
	st.Chemical = Opt[model.Chemical]{}
	if l, _, _ := flow.LiquidOf(st); l.Medium != fluid.NitricAcid {
		t.Errorf("an acid that is not named is %s", l.Medium)
	}
	st.Medium, st.Chemical = Some(model.Water), Some(model.NitricAcid)
	if l, _, _ := flow.LiquidOf(st); l.Medium != fluid.PureWater {
		t.Errorf("water is %s", l.Medium)
	}
}

// A speed that the step tells is that of the pump: by the affinity laws (textbook
// knowledge) half the speed gives half the flow of a loop whose loss goes with the
// square of it, and a flow asked for comes first.
func TestSpeedOfAStep(t *testing.T) {
	p := demo(t, "oat-drink-station")
	i := slices.IndexFunc(p.Circuit.Steps(), func(s *model.Step) bool { return s.ID == "s-14" })
	st := *p.Circuit.Steps()[i]
	st.Flow = Opt[Flow]{}
	solve := func(speed float64) *flow.Solution {
		st.PumpSpeed = Some(Strength(speed))
		sol, err := flow.Solve(p, p.Heights(), &st, flow.Options{})
		if err != nil || !sol.Solved() {
			t.Fatalf("%v %v", err, sol.Failures)
		}
		return sol
	}
	a, b := solve(0.8), solve(1)
	x, y := float64(a.Supply.Flow.Or(0)), float64(b.Supply.Flow.Or(0))
	if !(x > 0.5*y && x < 0.95*y) {
		t.Errorf("%.4g m³/h at 80 %% of the speed, %.4g at the whole", 3600*x, 3600*y)
	}
	for _, u := range a.Pumps {
		if u.Pump == "p-p-101" && u.Speed != Some(Ratio(0.8)) {
			t.Errorf("runs at %v", u.Speed)
		}
	}
	st.Flow = Some(CubicMetresPerHour(10))
	if got := solve(0.8).Supply.Flow.Or(0).CubicMetresPerHour(); got < 9.99 || got > 10.01 {
		t.Errorf("%v m³/h where 10 are asked for", got)
	}
}

// A chemical whose density and viscosity are not known here is not taken as another one,
// whatever the medium: neither named by the step nor by the tank that it draws from.
func TestChemicalWithoutData(t *testing.T) {
	for _, m := range []model.Medium{model.Alkali, model.Acid, model.Disinfect} {
		st := &model.Step{Medium: Some(m), Chemical: Some(model.SodiumHypochlorite), Strength: Some(Strength(0.001)), Temperature: Some(Celsius(20))}
		if l, _, err := flow.LiquidOf(st); err == nil || !strings.Contains(err.Error(), "sodium hypochlorite is not computed") || l.Medium == fluid.Caustic && m != model.Alkali {
			t.Errorf("%s: %v, %v", m, l, err)
		}
	}
	p := demo(t, "oat-drink-station")
	i := slices.IndexFunc(p.Circuit.Steps(), func(s *model.Step) bool { return s.Purpose == Some(model.AlkaliWash) })
	st := *p.Circuit.Steps()[i]
	st.Chemical = Opt[model.Chemical]{}
	tank := model.Clone(p.Circuit.Part(st.Source)).(*model.Vessel)
	tank.Chemical = Some(model.SodiumHypochlorite)
	c, err := p.Circuit.Apply(model.Edit{Changes: []model.Change{model.Replacing(p.Circuit.Part(st.Source), tank)}})
	if err != nil {
		t.Fatal(err)
	}
	p = network.Build(c, catalogue.Builtin())
	sol, err := flow.Solve(p, p.Heights(), &st, flow.Options{})
	if err != nil || sol.Solved() || len(sol.Failures) != 1 || !strings.Contains(sol.Failures[0].Text, "sodium hypochlorite is not computed") || sol.Properties.Known() {
		t.Errorf("%v, failures %v, properties %v", err, sol.Failures, sol.Properties)
	}
	st.Chemical = Some(model.SodiumHydroxide) // the step has the last word
	if sol, err := flow.Solve(p, p.Heights(), &st, flow.Options{}); err != nil || !sol.Solved() {
		t.Errorf("%v, %v", err, sol.Failures)
	}
}
