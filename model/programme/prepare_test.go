package programme_test

import (
	"math"
	"strings"
	"testing"

	"rinsewright/model"
	"rinsewright/model/network/networktest"
	"rinsewright/model/programme"
	. "rinsewright/model/quantity"
	"rinsewright/model/wash"
)

// The steps of a template tell their chemical, when their timer starts and what ends
// them: the final rinse 0.1 mS/cm above the 0.5 of the demo's water.
func TestEndsOnDemo(t *testing.T) {
	p := demo(t, "oat-drink-station")
	plan, err := programme.Make(p, programme.Named("oat-drink"), programme.Options{Objects: []model.ID{"p-t-201"}})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range plan.Steps {
		var chemical Opt[model.Chemical]
		var timer Opt[model.TimerFrom]
		var end Opt[Conductivity]
		switch s.Purpose.Or("") {
		case model.AlkaliWash:
			chemical, timer = Some(model.SodiumHydroxide), Some(model.TimerWarmStrong)
		case model.AcidWash:
			chemical, timer = Some(model.NitricAcid), Some(model.TimerWarmStrong)
		case model.RinseBetween:
			end = Some(Conductivity(0.1))
		case model.FinalRinse:
			end = Some(Conductivity(0.06))
		}
		if s.Chemical != chemical || s.TimerFrom != timer || s.EndConductivity.Known() != end.Known() || math.Abs(float64(s.EndConductivity.Or(0)-end.Or(0))) > 1e-9 {
			t.Errorf("%s: %v, timer %v, ends at %v S/m", s.Name, s.Chemical, s.TimerFrom, s.EndConductivity)
		}
		if waits := timer.Known() || end.Known(); waits != s.Longest.Known() {
			t.Errorf("%s: longest %v", s.Name, s.Longest)
		}
	}
	r, err := wash.Run(p, p.Heights(), plan.Steps, wash.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range r.Steps {
		if !s.Simulated || s.Why != "" {
			t.Errorf("%s: simulated %v, %s", s.Step.Name, s.Simulated, s.Why)
		}
	}
	// A water of which nothing is told leaves the rinse to its time, and says so.
	untold := model.Clone(p.Circuit.Part("p-ws-101")).(*model.Terminal)
	untold.Conductivity = Opt[Conductivity]{}
	q := changed(t, p, untold)
	if plan, err = programme.Make(q, programme.Named("oat-drink"), programme.Options{Objects: []model.ID{"p-t-201"}}); err != nil {
		t.Fatal(err)
	}
	said := false
	for _, n := range plan.Notes {
		said = said || n.At == model.Place{Element: "p-ws-101", Key: "conductivity_mScm"}
	}
	if last := plan.Steps[4]; last.EndConductivity.Known() || !said {
		t.Errorf("%s ends at %v, notes %v", last.Name, last.EndConductivity, plan.Notes)
	}
}

// A single-use station makes its alkali up, washes with it and empties the tank: the
// whole plan runs, and the wash has its strength though the line held water.
func TestPharmaPlanRuns(t *testing.T) {
	p := demo(t, "pharma-loop")
	plan, err := programme.Make(p, programme.Named("pharma"), programme.Options{Objects: []model.ID{"p-bv-20"}})
	if err != nil {
		t.Fatal(err)
	}
	r, err := wash.Run(p, p.Heights(), plan.Steps, wash.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range r.Steps {
		if s.Step.Purpose == Some(model.AlkaliWash) {
			if x, ok := s.ReturnStrength.Get(); !s.Simulated || s.Why != "" || !ok || x < 0.0095 || x > 0.0115 {
				t.Errorf("%s: %v %s", s.Step.Name, s.ReturnStrength, s.Why)
			}
		}
	}
}

// A tank with a loop past it is filled, dosed, mixed and warmed by the steps of a
// template: 1 000 kg of 1 % take 10 kg of sodium hydroxide, 33 kg of 30 %; from 12 to
// 75 °C it takes 1 000·4.19·63/3600 = 73 kWh. Worked by hand.
func TestMakeUpByTemplate(t *testing.T) {
	const size = `"size":"` + networktest.DN50 + `"`
	s := networktest.New(t)
	s.Part("T", "alkali-tank", size+`,"inlet_size":"`+networktest.DN50+`","holds":"alkali","diameter_m":1,"height_m":1.6,"bottom":"flat","top":"flat","working_volume_L":1000,"level_m":0,"elevation_m":1`)
	s.Part("W", "water-supply", size+`,"medium":"water","temperature_C":12,"pressure_bar":3,"flow_m3h":6,"elevation_m":3`)
	s.Part("C", "concentrate-supply", size+`,"medium":"alkali","strength_pct":30,"temperature_C":20,"flow_m3h":0.5`)
	s.Part("VW", "butterfly-valve", size+`,"seat_a_mm":15,"seat_b_mm":15,"normal":"closed"`)
	s.Part("P", "centrifugal-pump", size+`,"outlet_size":"`+networktest.DN50+`","rated_flow_m3h":12,"rated_head_m":20,"efficiency_pct":55,"elevation_m":0,"hold_up_L":3`)
	s.Part("H", "electric-heater", size+`,"duty_kW":200,"hold_up_L":10,"rated_flow_m3h":12,"pressure_drop_bar":0.2,"elevation_m":0`)
	s.Part("D", "divert-valve", size+`,"seat_a_mm":20,"seat_b_mm":20,"normal":"to-a","elevation_m":0`)
	s.Part("O", "filler-line", size+`,"smallest_bore_mm":50,"largest_bore_mm":50,"length_m":5,"hold_up_L":9.8,"needs_flow_m3h":11`)
	s.Part("S", "sewer-drain", size+`,"medium":"sewage"`)
	s.Run("W.a", "VW.a", 1)
	s.Run("VW.b", "T.fill", 1)
	s.Run("C.a", "T.nozzle", 1)
	s.Run("T.outlet", "P.a", 1)
	s.Run("P.b", "H.a", 1)
	s.Run("H.b", "D.c", 2)
	s.Run("D.a", "T.return", 3)
	s.Run("D.b", "O.a", 5)
	s.Run("O.b", "S.a", 5)
	p := s.Plant()
	plan, err := programme.Make(p, programme.Named("make-up-alkali"), programme.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(plan.Steps) != 2 || len(plan.Notes) > 0 || plan.Steps[0].Programme != "Make up alkali" {
		t.Fatalf("%d steps, notes %+v", len(plan.Steps), plan.Notes)
	}
	fill, mix := plan.Steps[0], plan.Steps[1]
	if fill.EndVolume != Some(Volume(1)) || fill.Positions["VW"] != "open" || fill.Source != "W" || fill.Destination != "T" {
		t.Errorf("%+v", fill)
	}
	if mix.Source != "T" || mix.Destination != "T" || len(mix.Running) != 1 || mix.Running[0] != "P" || math.Abs(mix.Flow.Or(0).CubicMetresPerHour()-12) > 1e-9 {
		t.Errorf("%+v", mix)
	}
	r, err := wash.Run(p, p.Heights(), plan.Steps, wash.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range r.Steps {
		if !x.Simulated || x.Why != "" {
			t.Fatalf("%s: simulated %v, %s", x.Step.Name, x.Simulated, x.Why)
		}
	}
	if m := float64(r.Steps[0].Time) / 60; m < 9.9 || m > 10.1 { // 1 000 L at 6 m³/h
		t.Errorf("filled in %v min", m)
	}
	if c := r.Total.Concentrate; len(c) != 1 || c[0].Mass < 33 || c[0].Mass > 36 {
		t.Errorf("dosed %+v", c)
	}
	if kwh := r.Total.Heat.KilowattHours(); kwh < 70 || kwh > 78 {
		t.Errorf("%v kWh", kwh)
	}
	if s := r.Steps[1].Time; s < 0.8*73/200*3600 || s > 2*73.0/200*3600 {
		t.Errorf("made up in %v s", s)
	}
}

// The demo's station has no way round its tanks: the plan says so.
func TestMakeUpOnDemo(t *testing.T) {
	plan, err := programme.Make(demo(t, "oat-drink-station"), programme.Named("make-up-acid"), programme.Options{})
	if err != nil {
		t.Fatal(err)
	}
	said := ""
	for _, n := range plan.Notes {
		said += n.Text + "\n"
	}
	if len(plan.Steps) != 2 || !strings.Contains(said, "no way leads from T-103 round and back") || !strings.Contains(said, "no water supply leads into T-103") {
		t.Errorf("%d steps, notes %s", len(plan.Steps), said)
	}
}

// A station with a bypass makes its solution up past the vessel that it washes: water is
// pumped over from the water tank, then goes round by the bypass. For 4000 L of 1 % of the
// concentrate of 30 % some 4000·0.01/(0.3 − 0.01)/1.33 = 104 L are dosed (1.33 kg/L, from
// memory of tables of caustic); from 12 to 74.5 °C it takes
// 4000·0.99·4.18·62.5/3600 = 290 kWh and a little for steel and line.
func TestSolutionIsMadeUpPastWhatIsWashed(t *testing.T) {
	p := demo(t, "oat-mixing-station")
	plan, err := programme.Make(p, programme.Named("make-up-alkali"), programme.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(plan.Steps) != 2 || len(plan.Notes) != 1 || plan.Notes[0].At.Key != "level_m" {
		t.Fatalf("%d steps, notes %v", len(plan.Steps), plan.Notes)
	}
	for i, source := range []model.ID{"p-t-401", "p-t-402"} {
		s := plan.Steps[i]
		if s.Source != source || s.Destination != "p-t-402" || s.Positions["p-v-441"] != "to-b" || s.Positions["p-v-442"] != "to-b" || s.Positions["p-sb-501"] == "joined" || !s.Flow.Known() {
			t.Errorf("%s: from %s to %s, %v", s.Name, s.Source, s.Destination, s.Positions)
		}
	}
	r, err := wash.Run(p, p.Heights(), plan.Steps, wash.Options{Tanks: map[model.ID]wash.Filling{"p-t-402": {Volume: Some(Volume(0))}}})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range r.Steps {
		if !s.Simulated || s.Why != "" {
			t.Errorf("%s: simulated %v, %s", s.Step.Name, s.Simulated, s.Why)
		}
	}
	made := r.Steps[1].Use
	if len(made.Concentrate) != 1 || math.Abs(made.Concentrate[0].Volume.Litres()-104) > 4 {
		t.Errorf("dosed %v", made.Concentrate)
	}
	if kWh := float64(made.Heat) / 3.6e6; kWh < 290 || kWh > 310 {
		t.Errorf("heated by %.0f kWh", kWh)
	}
}
