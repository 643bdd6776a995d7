package wash_test

import (
	"testing"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/network"
	"rinsewright/model/wash"
)

func demo(t testing.TB, name string) *network.Plant {
	t.Helper()
	c, err := circuitfile.ReadFile("../../assets/demo/" + name + ".circuit.json")
	if err != nil {
		t.Fatal(err)
	}
	return network.Build(c, catalogue.Builtin())
}

// programme gives the steps of a programme in order.
func programme(p *network.Plant, name string) []*model.Step {
	var out []*model.Step
	for _, s := range p.Circuit.Steps() {
		if s.Programme == name {
			out = append(out, s)
		}
	}
	return out
}

func TestLook(t *testing.T) {
	for _, x := range [][2]string{{"oat-drink-station", "Vessel T-201"}, {"oat-drink-station", "Filler line"}, {"pharma-loop", "Buffer vessel"}} {
		p := demo(t, x[0])
		r, err := wash.Run(p, p.Heights(), programme(p, x[1]), wash.Options{Hold: true})
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range r.Steps {
			t.Logf("%-14s t=%.1f min sim=%v why=%q miss=%v notes=%v", s.Step.Name, s.Time/60, s.Simulated, s.Why, s.Missing, s.Notes)
			u := s.Use
			h, _ := s.Hold.Get()
			rh, _ := s.ReachedHeat.Get()
			rs, ok := s.ReachedStrength.Get()
			rt, _ := s.ReturnTemperature.Get()
			rst, _ := s.ReturnStrength.Get()
			v, okv := s.Interface.Volume.Get()
			st, _ := u.Steam.Get()
			el, _ := u.Electricity.Get()
			t.Logf("   drawn %.0f fresh %.0f ret %.0f rec %.0f sew %.0f conc %v heat %.1f kWh lost %.2f steam %.1f el %.2f miss %v", u.Drawn*1000, u.Fresh*1000, u.Returned*1000, u.Recovered*1000, u.Sewer*1000, u.Concentrate, u.Heat.KilowattHours(), u.Lost.KilowattHours(), st, el.KilowattHours(), u.Missing)
			t.Logf("   hold %.0f heat %.0f strength %.0f %v return %s %.1f °C %.3f%% interface %s %.1f L %v %q", h, rh, rs, ok, s.Return, rt.Celsius(), 100*rst, s.Interface.Of, v*1000, okv, s.Interface.Why)
		}
		t.Logf("cycle %.1f min total %+v saved %+v", r.Cycle/60, r.Total, r.Saved)
		t.Logf("balance %+v", r.Balance)
		for _, a := range r.Assumptions {
			t.Log("  ", a)
		}
		for _, tr := range r.Trends {
			t.Log(tr.What, tr.Place, len(tr.Points), tr.Points[len(tr.Points)/2])
		}
		for _, tr := range r.Tanks {
			t.Log(tr.Vessel, len(tr.Points), tr.Points[0], tr.Points[len(tr.Points)-1])
		}
		s := r.State(450)
		for _, run := range s.Runs {
			if run.Flow != 0 {
				t.Log(run)
			}
		}
	}
}

func BenchmarkDemo(b *testing.B) {
	p := demo(b, "oat-drink-station")
	h := p.Heights()
	steps := programme(p, "Vessel T-201")
	for b.Loop() {
		if _, err := wash.Run(p, h, steps, wash.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
