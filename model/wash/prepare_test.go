package wash_test

import (
	"strings"
	"testing"

	"rinsewright/model"
	. "rinsewright/model/quantity"
	"rinsewright/model/wash"
)

// A solution is made up in steps of their own: the tank is filled with 1 000 L, then its
// supply pump sends them round past the tank, concentrate is dosed until the meter in
// the loop shows 51.7 mS/cm and that of the water, and the heater warms the loop.
//
// 51.73 mS/cm at 25 °C are 1 % caustic (PHREEQC). 999.5 kg of water at 12 °C take
// 999.5·0.01/(0.5−0.01) = 20.4 kg of 50 % for that: 13.4 L, 241 s at 200 L/h.
//
// With C = (999.5 + 20.4 kg)·0.99·4.185 kJ/(kg·K) and 10 m³/h, 200 kW warm by 17.2 K a
// pass, so up to 57.8 °C it takes C·45.8 K/200 kW = 968 s; then the heater gives 75 °C
// and the tank follows as 75 − 17.2·exp(−t/(1.014 m³/10 m³/h)), to half a kelvin short
// in 1 292 s. Worked by hand.
func TestSolutionIsMadeUp(t *testing.T) {
	s := newSketch(t)
	s.tank("T", "alkali-tank", 0)
	s.part("W", "water-supply", size+`,"medium":"water","temperature_C":12,"conductivity_mScm":0.5,"elevation_m":8`)
	s.part("C", "concentrate-supply", size+`,"medium":"alkali","strength_pct":50,"temperature_C":20,"flow_m3h":0.2`)
	s.part("P", "centrifugal-pump", size+`,"outlet_size":"`+dn50+`","elevation_m":0,"hold_up_L":3`)
	s.part("H", "electric-heater", size+`,"elevation_m":0,"duty_kW":200,"hold_up_L":10`)
	s.part("AT", "conductivity-transmitter", size+`,"stub_mm":20,"pocket_bore_mm":38,"elevation_m":0`)
	s.run("W.a", "T.fill", 2)
	s.run("C.a", "T.nozzle", 2)
	s.run("T.outlet", "P.a", 2)
	s.run("P.b", "H.a", 1)
	s.run("H.b", "AT.a", 1)
	s.run("AT.b", "T.return", 3)
	fill := &model.Step{Name: "Fill", Purpose: Some(model.Prepare), Medium: Some(model.Water), Temperature: Some(Celsius(12)),
		Source: "W", Destination: "T", Flow: Some(CubicMetresPerHour(6)), EndVolume: Some(Volume(1))}
	mix := prepare(model.Alkali, 75, 0)
	mix.Name, mix.Chemical, mix.EndConductivity = "Make up", Some(model.SodiumHydroxide), Some(Conductivity(5.173+0.05))
	r := simulated(t, run(t, s.plant(), wash.Options{}, fill, mix))
	near(t, "filling", float64(r.Steps[0].Time), 600, 1e-6)
	near(t, "filled", float64(r.Steps[0].Use.Filled), 1-0.0039, 0.002) // less what the tube to the tank holds
	d := r.Steps[1].Use.Concentrate
	if len(d) != 1 || d[0].Supply != "C" {
		t.Fatalf("dosed %v", d)
	}
	near(t, "concentrate", float64(d[0].Mass), 20.4, 0.4)
	points := r.Tanks[0].Points
	last := points[len(points)-1]
	near(t, "strength", float64(last.Strength), 0.01, 2e-4)
	near(t, "warm", known(t, "t", last.Temperature), 348.15, 1)
	near(t, "seconds of heating", float64(r.Steps[1].Time), 968+1292, 0.02*2260)
	if e := ending(t, r.Steps[1], "end_conductivity_mScm"); e.Place != model.PlaceOf("AT") || !(known(t, "met", e.Met) > 241 && known(t, "met", e.Met) < 280) {
		t.Errorf("%+v", e)
	}

	// With a time and nothing else, that is the most that it may take.
	mix.Time = Some(Duration(300))
	r = run(t, s.plant(), wash.Options{}, fill, mix)
	if x := r.Steps[1]; x.Time != 300 || x.Why == "" {
		t.Errorf("%v s: %q", x.Time, x.Why)
	}
}

// What a full tank cannot hold runs over and is told: a tank of 2 m² by 5 m that holds
// 9 m³ and gets 3 m³ more, less the 3.9 L that the tube to it holds.
func TestTankRunsOver(t *testing.T) {
	s := newSketch(t)
	s.tank("T", "alkali-tank", 9000)
	s.part("W", "water-supply", size+`,"medium":"water","temperature_C":12,"elevation_m":8`)
	s.run("W.a", "T.fill", 2)
	fill := &model.Step{Name: "Fill", Purpose: Some(model.Prepare), Medium: Some(model.Water), Temperature: Some(Celsius(12)),
		Source: "W", Destination: "T", Flow: Some(CubicMetresPerHour(6)), EndVolume: Some(Volume(3))}
	r := run(t, s.plant(), wash.Options{}, fill) // which holds it to its balances
	step := &r.Steps[0]
	near(t, "ran over", float64(step.Use.Elsewhere), 9+3-0.0039-10, 0.002)
	if points := r.Tanks[0].Points; float64(points[len(points)-1].Volume) > 10+1e-9 {
		t.Errorf("the tank of 10 m³ holds %v m³", points[len(points)-1].Volume)
	}
	if len(step.Notes) != 1 || !strings.HasPrefix(step.Notes[0], "T runs over: 1996 L more comes than its 10000 L hold") {
		t.Errorf("notes %q", step.Notes)
	}
	if us := step.ToldNotes(US); len(us) != 1 || !strings.HasPrefix(us[0], "T runs over: 527 gal more") {
		t.Errorf("in US units %q", us)
	}
}

// An end temperature below what the heater is set to is what the tank has to reach, not
// only the loop behind the heater. With TestSolutionIsMadeUp's figures: 968 s to 57.8 °C,
// then 75 − 17.2·exp(−t/365 s) is half a kelvin short of 70 °C after 416 s.
func TestTankIsWarmAtItsEndTemperature(t *testing.T) {
	s := newSketch(t)
	s.tank("T", "alkali-tank", 1014)
	s.part("P", "centrifugal-pump", size+`,"outlet_size":"`+dn50+`","elevation_m":0,"hold_up_L":3`)
	s.part("H", "electric-heater", size+`,"elevation_m":0,"duty_kW":200,"hold_up_L":10`)
	s.part("TT", "temperature-transmitter", size+`,"stub_mm":20,"pocket_bore_mm":38,"elevation_m":0`)
	s.run("T.outlet", "P.a", 2)
	s.run("P.b", "H.a", 1)
	s.run("H.b", "TT.a", 1)
	s.run("TT.b", "T.return", 3)
	warm := prepare(model.Alkali, 75, 0)
	warm.EndTemperature = Some(Celsius(70))
	r := simulated(t, run(t, s.plant(), wash.Options{Tanks: map[model.ID]wash.Filling{"T": {Temperature: Some(Celsius(12))}}}, warm))
	near(t, "seconds of heating", float64(r.Steps[0].Time), 968+416, 0.03*1384)
	points := r.Tanks[0].Points
	near(t, "warm", known(t, "t", points[len(points)-1].Temperature), 273.15+69.5, 0.3)
}

// Water boils at 100 °C under 1013 mbar (steam tables): a vented tank that is warmed beyond
// that is told, one that stays below and one that is shut are not.
func TestVentedTankThatBoilsIsTold(t *testing.T) {
	for _, x := range []struct {
		vented string
		to     float64
		told   int
	}{{"true", 105, 1}, {"true", 95, 0}, {"false", 105, 0}} {
		s := newSketch(t)
		s.part("T", "alkali-tank", `"diameter_m":1,"height_m":2,"bottom":"flat","top":"flat","level_m":0.5,"elevation_m":1,`+size+`,"inlet_size":"`+dn50+`","start_temperature_C":90,"vented":`+x.vented)
		s.part("P", "centrifugal-pump", size+`,"outlet_size":"`+dn50+`","elevation_m":0,"hold_up_L":3`)
		s.part("H", "electric-heater", size+`,"elevation_m":0,"duty_kW":200,"hold_up_L":10`)
		s.run("T.outlet", "P.a", 2)
		s.run("P.b", "H.a", 1)
		s.run("H.b", "T.return", 3)
		r := simulated(t, run(t, s.plant(), wash.Options{}, prepare(model.Water, x.to, 0)))
		if got := r.Steps[0].Notes; len(got) != x.told || x.told > 0 && !strings.Contains(got[0], "T is vented and comes to 10") {
			t.Errorf("vented %s, %v °C: %q", x.vented, x.to, got)
		}
	}
}
