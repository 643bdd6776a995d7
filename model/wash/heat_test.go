package wash_test

import (
	"fmt"
	"math"
	"testing"

	"rinsewright/model"
	. "rinsewright/model/quantity"
	"rinsewright/model/wash"
)

const size = `"size":"` + dn50 + `"`

// loop draws a tank whose content is pumped through a heater and back, joined face to
// face; more adds to the heater's properties.
func loop(t testing.TB, kind string, litres float64, heater, more string) *sketch {
	s := newSketch(t)
	s.tank("T", kind, litres)
	s.part("P", "centrifugal-pump", size+`,"outlet_size":"`+dn50+`","elevation_m":0`)
	s.part("H", heater, size+`,"elevation_m":0,`+more)
	s.run("T.outlet", "P.a", 0)
	s.run("P.b", "H.a", 0)
	s.run("H.b", "T.return", 0)
	return s
}

func prepare(m model.Medium, celsius, pct float64) *model.Step {
	st := &model.Step{Purpose: Some(model.Prepare), Medium: Some(m), Temperature: Some(Celsius(celsius)),
		Source: "T", Destination: "T", Flow: Some(CubicMetresPerHour(10)), Running: []model.ID{"P"}}
	if pct > 0 {
		st.Strength = Some(Strength(pct / 100))
	}
	return st
}

// when gives the time at which a tank comes to a temperature in °C.
func when(t testing.TB, r *wash.Record, vessel model.ID, celsius float64) float64 {
	t.Helper()
	for _, tank := range r.Tanks {
		if tank.Vessel != vessel {
			continue
		}
		for _, x := range tank.Points {
			if k, ok := x.Temperature.Get(); ok && k.Celsius() >= celsius {
				return float64(x.Time)
			}
		}
	}
	t.Fatalf("%s never comes to %g °C", vessel, celsius)
	return 0
}

// 2 000 L from 20 to 80 °C at 100 kW take 84 min (1996 kg · 4.185 kJ/(kg·K) · 60 K /
// 100 kW, worked by hand with IAPWS-IF97).
func TestHeatUp(t *testing.T) {
	p := loop(t, "water-tank", 2000, "electric-heater", `"duty_kW":100`).plant()
	r := simulated(t, run(t, p, wash.Options{Longest: 4 * 3600}, prepare(model.Water, 95, 0)))
	near(t, "minutes to 80 °C", when(t, r, "T", 80)/60, 1996.4*4.185*60/100/60, 0.5)
	near(t, "heat given", float64(r.Total.Heat), 1996.4*4185*(95-20-0.5), 3e6)
	if r.Total.Electric != r.Total.Heat {
		t.Errorf("electric heat %v of %v", r.Total.Electric, r.Total.Heat)
	}
}

// A step that waits for what never comes ends with words, and the tank is as warm as
// its heater could make it: 10 kW give 36 MJ in an hour, 4.3 K.
func TestPreparationThatFails(t *testing.T) {
	p := loop(t, "water-tank", 2000, "electric-heater", `"duty_kW":10`).plant()
	st := prepare(model.Water, 80, 0)
	st.Time = Some(Duration(3600))
	r := run(t, p, wash.Options{}, st)
	s := r.Steps[0]
	if !s.Simulated || s.Why == "" || s.Time != 3600 {
		t.Fatalf("simulated %v for %v s: %q", s.Simulated, s.Time, s.Why)
	}
	points := r.Tanks[0].Points
	near(t, "temperature", known(t, "t", points[len(points)-1].Temperature)-273.15, 20+36e6/(1996.4*4185), 0.02)
}

// Steam for indirect heating at 4 bar absolute, condensate not subcooled: 1.96 kg/h per
// m³/h and kelvin (1.161 kW over 2133.3 kJ/kg, IAPWS-IF97).
func TestSteam(t *testing.T) {
	s := newSketch(t)
	s.part("W", "water-supply", size+`,"medium":"water","temperature_C":20,"elevation_m":0`)
	s.part("H", "plate-heater", size+`,"elevation_m":0,"service_size":"`+dn50+`","duty_kW":400`)
	s.part("S", "steam-supply", size+`,"medium":"steam","pressure_bar":2.98675`)
	s.part("D", "sewer-drain", size+`,"medium":"sewage","elevation_m":0`)
	s.run("W.a", "H.a", 0)
	s.run("H.b", "D.a", 0)
	s.run("S.a", "H.s", 1)
	st := rinse("W", "D", 10, 60)
	st.Temperature = Some(Celsius(40))
	r := simulated(t, run(t, s.plant(), wash.Options{}, st))
	near(t, "steam", known(t, "steam", r.Total.Steam), 1.96*10*20, 0.005*392)
	near(t, "power", float64(r.Total.Heat)/3600, 1161*10*20, 0.005*232e3)
	near(t, "return", known(t, "t", r.Steps[0].ReturnTemperature), 313.15, 1e-6)

	// By its surface alone: ε = 1 − exp(−UA/C), Kays and London. Steam at 143.61 °C.
	s.changes[1] = model.Adding(func() model.Record {
		h := model.Clone(s.changes[1].After).(*model.Exchanger)
		h.Duty, h.Area, h.Coefficient = Opt[Power]{}, Some(Area(1)), Some(HeatTransfer(3000))
		return h
	}())
	st.Temperature = Some(Celsius(90))
	r = simulated(t, run(t, s.plant(), wash.Options{}, st))
	c := 998.2 * 10 / 3600 * 4185
	near(t, "outlet by surface", known(t, "t", r.Steps[0].ReturnTemperature)-273.15, 20+(143.61-20)*(1-math.Exp(-3000/c)), 0.05)

	// Without a pressure the steam is not known.
	s.changes[2] = model.Adding(func() model.Record {
		x := model.Clone(s.changes[2].After).(*model.Terminal)
		x.Pressure = Opt[Pressure]{}
		return x
	}())
	r = run(t, s.plant(), wash.Options{}, st)
	if r.Total.Steam.Known() || len(r.Total.Missing) == 0 {
		t.Errorf("steam %v, missing %v", r.Total.Steam, r.Total.Missing)
	}
}

// Dosing: 1 000 L of 1.5 % caustic soda at 20 °C (1.0155 kg/L) take 15.23 kg of it,
// 30.47 kg of 50 % (worked by hand). The tank begins with the water of that batch.
func TestDosing(t *testing.T) {
	for _, hand := range []bool{false, true} {
		s := loop(t, "alkali-tank", (1015.5-30.47)/998.2*1000, "electric-heater", `"duty_kW":1`)
		if !hand {
			s.part("C", "concentrate-supply", size+`,"medium":"alkali","strength_pct":50,"temperature_C":20`)
			s.run("C.a", "T.fill", 1)
		}
		r := simulated(t, run(t, s.plant(), wash.Options{Dosing: CubicMetresPerHour(0.1)}, prepare(model.Alkali, 20, 1.5)))
		if len(r.Total.Concentrate) != 1 {
			t.Fatalf("concentrate %v", r.Total.Concentrate)
		}
		d := r.Total.Concentrate[0]
		near(t, "concentrate", float64(d.Mass), 30.47, 0.05)
		near(t, "litres of it", 1000*float64(d.Volume), 19.98, 0.15) // of 1.525 kg/L; here 1.517
		near(t, "minutes", float64(r.Cycle)/60, 19.98/100*60, 0.15)
		points := r.Tanks[0].Points
		last := points[len(points)-1]
		near(t, "strength", float64(last.Strength), 0.015, 2e-5)
		near(t, "litres", 1000*float64(last.Volume), 1000, 8)
		if (d.Supply == "") != hand {
			t.Errorf("dosed from %q", d.Supply)
		}
	}
}

// Bare tube of painted steel, air at 20 °C, wall at 50 °C: 56 W/m at 48.3 mm, 68 W/m at
// 60.3 mm (a published table of heat loss from pipe), so 60.7 W/m at the 53 mm of DN50.
// Water loses it on its way, and steel keeps what it took to warm up.
func TestLossOnTheWay(t *testing.T) {
	s := newSketch(t)
	s.part("W", "water-supply", size+`,"medium":"water","temperature_C":50,"elevation_m":0`)
	s.part("D", "sewer-drain", size+`,"medium":"sewage","elevation_m":0`)
	s.run("W.a", "D.a", 200)
	st := rinse("W", "D", 5, 60)
	st.Temperature = Some(Celsius(50))
	r := simulated(t, run(t, s.plant(), wash.Options{Start: wash.FullOfWater, Emissivity: 0.9}, st))
	out := known(t, "t", r.Steps[0].ReturnTemperature) - 273.15
	mean := (50 + out) / 2
	near(t, "fall in temperature", 50-out, 60.7*200*(mean-20)/30/(5.0/3600*988*4185), 0.15)
	// Steel: π·51.5 mm·1.5 mm·7900 kg/m³·200 m·0.5 kJ/(kg·K).
	steel := math.Pi * 0.0515 * 0.0015 * 7900 * 200 * 500 * (mean - 20)
	water := math.Pi / 4 * 0.05 * 0.05 * 200 * 4185 * (988*mean - 998.2*20)
	near(t, "heat kept by water and steel", r.Balance.Heat.Stored, steel+water, 0.02*(steel+water))
}

// More heats faster, a greater tank slower.
func TestHeatUpIsMonotonic(t *testing.T) {
	last := math.Inf(1)
	for _, kw := range []float64{30, 60, 120, 240} {
		p := loop(t, "water-tank", 1000, "electric-heater", fmt.Sprintf(`"duty_kW":%g`, kw)).plant()
		m := when(t, run(t, p, wash.Options{}, prepare(model.Water, 70, 0)), "T", 60)
		if m >= last {
			t.Errorf("%g kW take %g s, less took %g s", kw, m, last)
		}
		last = m
	}
	last = 0
	for _, litres := range []float64{500, 1000, 2000} {
		p := loop(t, "water-tank", litres, "electric-heater", `"duty_kW":60`).plant()
		m := when(t, run(t, p, wash.Options{}, prepare(model.Water, 70, 0)), "T", 60)
		if m <= last {
			t.Errorf("%g L take %g s, less took %g s", litres, m, last)
		}
		last = m
	}
}
