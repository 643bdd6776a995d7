package wash_test

import (
	"math"
	"testing"

	"rinsewright/model"
	. "rinsewright/model/quantity"
	"rinsewright/model/wash"
)

// vesselOf gives the tank of a sketch, to be changed.
func vesselOf(t testing.TB, s *sketch, id model.ID) *model.Vessel {
	t.Helper()
	for _, c := range s.changes {
		if v, ok := c.After.(*model.Vessel); ok && v.ID == id {
			return v
		}
	}
	t.Fatalf("no vessel %s", id)
	return nil
}

// A tank of 1.6 m and 5 m has π·d·h + π·d²/2 = 29.1 m² of wall. Behind 50 mm of mineral
// wool of 0.04 W/(m·K), with 8 W/(m²·K) outside, a square metre loses 0.727 W/K (plane
// wall, textbook), so water of 80 °C in air of 20 °C loses 1.27 kW. It is as warm as it
// is told, and so is its steel.
func TestTankLoses(t *testing.T) {
	s := loop(t, "water-tank", 2000, "electric-heater", `"duty_kW":1`)
	v := vesselOf(t, s, "T")
	v.StartTemperature, v.Wall, v.Insulation = Some(Celsius(80)), Some(Millimetres(3)), Some(Millimetres(50))
	hold := &model.Step{Purpose: Some(model.Hold), Time: Some(Duration(3600)), Source: "T"}
	r := simulated(t, run(t, s.plant(), wash.Options{}, hold))
	area := math.Pi*math.Sqrt(8/math.Pi)*5 + 4
	want := 3600 * area * 60 / (0.05/0.04 + 1.0/8)
	near(t, "loss in an hour", float64(r.Total.Lost), want, 0.1*want)
	points := r.Tanks[0].Points
	near(t, "temperature at the start", known(t, "t", points[0].Temperature), 353.15, 1e-9)
	capacity := 2*971.8*4185 + area*0.003*7900*500
	near(t, "temperature after an hour", known(t, "t", points[len(points)-1].Temperature), 353.15-float64(r.Total.Lost)/capacity, 0.05)

	// Bare stainless steel, emissivity 0.25, at 80 °C in air of 20 °C: about 420 W/m²
	// (worked with the usual laws of free convection and radiation).
	v.Insulation = Some(Bore(0))
	bare := simulated(t, run(t, s.plant(), wash.Options{}, hold))
	near(t, "loss of the bare tank", float64(bare.Total.Lost), 3600*area*420, 0.15*3600*area*420)

	// A tank that tells neither stands as it is.
	v.Insulation, v.Wall = Opt[Bore]{}, Opt[Bore]{}
	if r := simulated(t, run(t, s.plant(), wash.Options{}, hold)); r.Total.Lost != 0 {
		t.Errorf("lost %v", r.Total.Lost)
	}
}

// 2 000 L and the steel of their tank from 20 °C at 100 kW, losing heat all the while,
// warm up as T = T∞ − (T∞ − T₀)·exp(−UA·t/C), T∞ = 20 °C + P/UA: the closed form.
func TestHeatUpWithSteelAndLoss(t *testing.T) {
	s := loop(t, "water-tank", 2000, "electric-heater", `"duty_kW":100`)
	v := vesselOf(t, s, "T")
	v.StartTemperature, v.Wall, v.Insulation = Some(Celsius(20)), Some(Millimetres(4)), Some(Millimetres(30))
	r := simulated(t, run(t, s.plant(), wash.Options{Longest: 4 * 3600}, prepare(model.Water, 95, 0)))
	area := math.Pi*math.Sqrt(8/math.Pi)*5 + 4
	capacity := 1996.4*4185 + area*0.004*7900*500
	ua := area / (0.03/0.04 + 1.0/8)
	want := -capacity / ua * math.Log(1-60*ua/100e3)
	near(t, "seconds to 80 °C", when(t, r, "T", 80), want, 0.01*want)
}

// An insulated tube loses 2π·λ·ΔT/(ln(r₂/r₁) + λ/(α·r₂)) a metre (textbook), α about
// 5 W/(m²·K) outside sheet of little emissivity (common practice, no source); DN50
// under 30 mm at 30 K above the air. On average it takes half of 283 s until it is hot.
func TestInsulatedRun(t *testing.T) {
	lost := func(mm float64) float64 {
		s := newSketch(t)
		s.part("W", "water-supply", size+`,"medium":"water","temperature_C":50,"elevation_m":0`)
		s.part("D", "sewer-drain", size+`,"medium":"sewage","elevation_m":0`)
		s.run("W.a", "D.a", 200)
		for i, c := range s.changes {
			if x, ok := c.After.(*model.Run); ok {
				x = model.Clone(x)
				x.Insulation = Some(Millimetres(mm))
				s.changes[i] = model.Adding(x)
			}
		}
		st := rinse("W", "D", 5, 60)
		st.Temperature = Some(Celsius(50))
		r := simulated(t, run(t, s.plant(), wash.Options{Start: wash.FullOfWater}, st))
		return float64(r.Total.Lost) / 3600 / 200
	}
	want := 2 * math.Pi * 0.04 * 30 / (math.Log(0.0565/0.0265) + 0.04/(5*0.0565)) * (1 - 283.0/2/3600)
	near(t, "insulated", lost(30), want, 0.05*want)
	if bare := lost(0); !(bare > 3*want) {
		t.Errorf("bare %v W/m, insulated %v", bare, want)
	}
}

// Electricity is the shaft's power over the efficiency of the motor that is told.
func TestMotorEfficiency(t *testing.T) {
	energy := func(told string) float64 {
		s := newSketch(t)
		s.tank("T", "water-tank", 3000)
		s.part("P", "centrifugal-pump", size+`,"outlet_size":"`+dn50+`","elevation_m":0,"rated_flow_m3h":14,"rated_head_m":38,"efficiency_pct":58,"hold_up_L":2`+told)
		s.part("D", "sewer-drain", size+`,"medium":"sewage","elevation_m":0`)
		s.run("T.outlet", "P.a", 1)
		s.run("P.b", "D.a", 200)
		st := rinse("T", "D", 12, 10)
		st.Running = []model.ID{"P"}
		r := simulated(t, run(t, s.plant(), wash.Options{}, st))
		return known(t, "electricity", r.Total.Electricity)
	}
	near(t, "ratio of 60 and 85 %", energy(`,"motor_efficiency_pct":60`)/energy(""), 0.85/0.60, 1e-9)
}
