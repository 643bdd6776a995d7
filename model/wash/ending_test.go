package wash_test

import (
	"math"
	"strings"
	"testing"

	"rinsewright/model"
	. "rinsewright/model/quantity"
	"rinsewright/model/wash"
)

func ending(t testing.TB, s wash.Step, key string) wash.Ending {
	t.Helper()
	for _, e := range s.Endings {
		if e.Key == key {
			return e
		}
	}
	t.Fatalf("%s waits for no %s: %v", s.Step.Name, key, s.Endings)
	return wash.Ending{}
}

// A rinse that ends at 1 mS/cm, with water of 0.5: what is left is the caustic of
// 0.5 mS/cm. By its limiting molar conductivity, 248 S·cm²/mol at 25 °C (CRC Handbook,
// from memory), that is 0.0806 g/L. The wash before it ends on 40 mS/cm rising, which
// is 0.75 % by the table of PHREEQC (26.95 and 51.73 mS/cm at 0.5 and 1 %).
func TestEndsOnConductivity(t *testing.T) {
	s := station(t, 100)
	for i, c := range s.changes {
		if x, ok := c.After.(*model.Terminal); ok && x.ID == "W" {
			x = model.Clone(x)
			x.Conductivity = Some(Conductivity(0.05))
			s.changes[i] = model.Adding(x)
		}
	}
	alkali := on(model.AlkaliWash, model.Alkali, "TA", "TA", 12, 0)
	alkali.Time, alkali.EndConductivity = Opt[Duration]{}, Some(Conductivity(4))
	rinse := on(model.RinseBetween, model.Water, "TW", "D", 12, 0)
	rinse.Time, rinse.EndConductivity = Opt[Duration]{}, Some(Conductivity(0.1))
	r := simulated(t, run(t, s.plant(), wash.Options{Start: wash.FullOfWater}, alkali, rinse))
	if e := ending(t, r.Steps[0], "end_conductivity_mScm"); e.Place != model.PlaceOf("AT") || e.Met != Some(r.Steps[0].Time) {
		t.Errorf("%+v after %v s", e, r.Steps[0].Time)
	}
	// Plug flow: 103 m of tube, the pump and the object hold 215 L.
	plug := (103*math.Pi/4*0.05*0.05 + 0.0128) / (12.0 / 3600)
	near(t, "wash", float64(r.Steps[0].Time), plug, 4)
	if x := 100 * known(t, "strength", r.Steps[0].ReturnStrength); !(x > 0.72 && x < 0.9) {
		t.Errorf("wash ends at %v %%", x)
	}
	if x := 10 * known(t, "conductivity", r.Steps[1].ReturnAt25); !(x <= 1.03 && x > 0.7) {
		t.Errorf("rinse ends at %v mS/cm", x)
	}
	if x := 997 * known(t, "strength", r.Steps[1].ReturnStrength); !(x <= 0.0806*1.03 && x > 0.03) {
		t.Errorf("rinse ends at %v g/L", x)
	}
	if x := float64(r.Steps[1].Time); !(x > plug && x < plug+15) {
		t.Errorf("rinse took %v s, plug flow %v", x, plug)
	}
}

// A step waits for all that it is told; an end that cannot come is told in words when
// the longest time is up.
func TestEndsThatCannotCome(t *testing.T) {
	rinse := on(model.FinalRinse, model.Water, "TW", "D", 12, 1)
	rinse.EndConductivity, rinse.Longest = Some(Conductivity(0.01)), Some(Duration(240))
	cold := on(model.FinalRinse, model.Water, "TW", "D", 12, 1)
	cold.EndTemperature, cold.Temperature = Some(Celsius(15)), Some(Celsius(12)) // as the tank has: it comes
	never := on(model.FinalRinse, model.Water, "TW", "D", 12, 1)
	never.EndTemperature, never.Longest = Some(Celsius(5)), Some(Duration(120))
	never.Temperature = Some(Celsius(2)) // as the step says; the tank has 12 °C
	r := run(t, station(t, 30).plant(), wash.Options{Start: wash.FullOfWater}, rinse, cold, never)
	a := r.Steps[0]
	if a.Time != 240 || !strings.Contains(a.Why, "conductivity is 0.5 mS/cm, its end is 0.1 mS/cm, and the water itself has 0.5") {
		t.Errorf("after %v s: %q", a.Time, a.Why)
	}
	if e := ending(t, a, "time_min"); known(t, "time", e.Met) > 61 {
		t.Errorf("%+v", e)
	}
	if e := ending(t, a, "end_conductivity_mScm"); e.Met.Known() {
		t.Errorf("%+v", e)
	}
	if b := r.Steps[1]; b.Why != "" || b.Time < 60 {
		t.Errorf("after %v s: %q", b.Time, b.Why)
	}
	if c := r.Steps[2]; c.Time != 120 || !strings.Contains(c.Why, "its end is 5 °C") {
		t.Errorf("after %v s: %q", c.Time, c.Why)
	}
	assumed := false
	for _, x := range r.Assumptions {
		assumed = assumed || x.Record == "W" && x.Key == "conductivity_mScm"
	}
	if !assumed {
		t.Error("the water's own conductivity is not listed as assumed")
	}
	// Nothing is known of the conductivity of peracetic acid.
	paa := on(model.Disinfection, model.Disinfect, "TA", "TA", 12, 1)
	paa.Strength, paa.EndConductivity, paa.Longest = Some(Strength(0.002)), Some(Conductivity(0.1)), Some(Duration(90))
	r = run(t, station(t, 30).plant(), wash.Options{Start: wash.FullOfWater}, paa)
	if x := r.Steps[0]; !strings.Contains(x.Why, "conductivity is not known") || x.Time != 90 {
		t.Errorf("after %v s: %q", x.Time, x.Why)
	}
}

// 500 L at 12 m³/h take 150 s; a hot line cools to its end.
func TestEndsOnVolumeAndTemperature(t *testing.T) {
	first := on(model.FirstRinse, model.Water, "TW", "D", 12, 0)
	first.Time, first.EndVolume = Opt[Duration]{}, Some(Volume(0.5))
	hot := on(model.AlkaliWash, model.Alkali, "TA", "TA", 12, 5)
	rinse := on(model.RinseBetween, model.Water, "TW", "D", 12, 0)
	rinse.Time, rinse.EndTemperature = Opt[Duration]{}, Some(Celsius(30))
	r := simulated(t, run(t, station(t, 60).plant(), wash.Options{Start: wash.FullOfWater,
		Tanks: map[model.ID]wash.Filling{"TA": {Temperature: Some(Celsius(75))}}}, first, hot, rinse))
	near(t, "time of 500 L", float64(r.Steps[0].Time), 150, 1e-6)
	near(t, "sent", float64(r.Steps[0].Use.Drawn), 0.5, 1e-9)
	if k := known(t, "t", r.Steps[2].ReturnTemperature) - 273.15; !(k <= 30 && k > 25) {
		t.Errorf("ends at %v °C", k)
	}
	if x := r.Steps[2].Time; !(x > 38 && x < 80) { // plug flow 38 s, then the steel
		t.Errorf("cooled in %v s", x)
	}
}

// The timer starts with the step, with the warm return, with the strong one, or with
// the later of both.
func TestTimers(t *testing.T) {
	p := demo(t, "oat-drink-station")
	steps := programme(p, "Vessel T-201")
	timed := func(from model.TimerFrom) wash.Step {
		st := *steps[1]
		st.TimerFrom, st.EndConductivity, st.Longest = Some(from), Opt[Conductivity]{}, Opt[Duration]{}
		r, err := wash.Run(p, p.Heights(), []*model.Step{steps[0], &st}, wash.Options{})
		if err != nil {
			t.Fatal(err)
		}
		s := simulated(t, r).Steps[1]
		near(t, string(from), float64(s.Time), known(t, "hold", s.Hold)+float64(st.Time.Or(0)), 1e-6)
		return s
	}
	a, b, c, d := timed(model.TimerStart), timed(model.TimerWarm), timed(model.TimerStrong), timed(model.TimerWarmStrong)
	if a.Hold != Some(Duration(0)) || b.Hold != b.ReachedHeat || c.Hold != c.ReachedStrength || d.Hold != Some(max(d.ReachedHeat.Or(0), d.ReachedStrength.Or(0))) {
		t.Errorf("timers started after %v, %v, %v, %v s", a.Hold, b.Hold, c.Hold, d.Hold)
	}
	for key, st := range map[string]*model.Step{
		"temperature_C": {TimerFrom: Some(model.TimerWarm)},
		"strength_pct":  {TimerFrom: Some(model.TimerWarmStrong), Temperature: Some(Celsius(60))},
	} {
		x := on(model.AlkaliWash, model.Alkali, "TA", "TA", 12, 1)
		x.Temperature, x.TimerFrom, x.Strength = st.Temperature, st.TimerFrom, Opt[Strength]{}
		r := run(t, station(t, 30).plant(), wash.Options{Tanks: map[model.ID]wash.Filling{"TA": {Strength: Some(Strength(0.01))}}}, x)
		s := r.Steps[0]
		if s.Simulated || len(s.Missing) == 0 || s.Missing[0].Key != key {
			t.Errorf("simulated %v, %q, missing %v", s.Simulated, s.Why, s.Missing)
		}
	}
}

// Below its low level nothing is drawn: 2000 L down to 0.25 m over 2 m² give 1500 L,
// which 12 m³/h take in 450 s.
func TestLowLevel(t *testing.T) {
	s := station(t, 30)
	s.changes[0].After.(*model.Vessel).LowLevel = Some(Length(0.25))
	r := run(t, s.plant(), wash.Options{NoMakeUp: true}, on(model.FirstRinse, model.Water, "TW", "D", 12, 30))
	x := r.Steps[0]
	near(t, "time", float64(x.Time), 450, 3)
	if !strings.Contains(x.Why, "TW is down to its low level") || !x.Simulated || x.At.Key != "low_level_m" {
		t.Errorf("why %q at %v", x.Why, x.At)
	}
}

// A supply that gives 6 m³/h lets the tank fall by half of what 12 m³/h draw, and fills
// it again while nothing is drawn: 0.5 m³ less after 5 min, 0.3 m³ more after 3.
func TestSupplyGivesAtMost(t *testing.T) {
	s := station(t, 30)
	for i, c := range s.changes {
		if x, ok := c.After.(*model.Terminal); ok && x.ID == "W" {
			x = model.Clone(x)
			x.Most = Some(CubicMetresPerHour(6))
			s.changes[i] = model.Adding(x)
		}
	}
	r := simulated(t, run(t, s.plant(), wash.Options{}, on(model.FirstRinse, model.Water, "TW", "D", 12, 5),
		&model.Step{Purpose: Some(model.Hold), Time: Some(Duration(180))}))
	at := func(seconds float64) float64 {
		for _, x := range r.State(Duration(seconds)).Vessels {
			if x.Vessel == "TW" {
				return float64(x.Volume)
			}
		}
		return math.NaN()
	}
	near(t, "after 5 min", at(299.9), 1.5, 0.02)
	near(t, "after 8 min", at(481), 1.8, 0.02)
	near(t, "fresh", float64(r.Total.Fresh), 0.8, 0.01)
}

// An acid step that names phosphoric acid is that: 1 % of it stands in the tank, and it
// is no nitric acid that is seen at the return.
func TestPhosphoricAcid(t *testing.T) {
	st := on(model.AcidWash, model.Acid, "TA", "TA", 12, 5)
	st.Chemical, st.Strength = Some(model.PhosphoricAcid), Some(Strength(0.01))
	rinse := on(model.FinalRinse, model.Water, "TW", "D", 12, 0)
	rinse.Time, rinse.EndConductivity = Opt[Duration]{}, Some(Conductivity(0.1))
	r := simulated(t, run(t, station(t, 30).plant(), wash.Options{Start: wash.FullOfWater}, st, rinse))
	for _, x := range trendOf(t, r, "AT") {
		// 10.1 mS/cm for 1 % at 20 °C: CRC Handbook, from memory.
		if k, ok := x.Conductivity.Get(); ok && x.Step == 0 && x.Strength > 0.00999 {
			near(t, "conductivity", 10*float64(k), 10.1, 0.3)
		}
	}
	if c := r.Saved.Circulated.Chemical; len(c) != 1 || c[0].Medium != model.Acid || c[0].Mass < 5 {
		t.Errorf("came back %v", c)
	}
	// 0.5 mS/cm of wholly split phosphoric acid (386 S·cm²/mol, 98 g/mol) are 0.127 g/L.
	if x := 997 * known(t, "strength", r.Steps[1].ReturnStrength); !(x < 0.13 && x > 0.03) {
		t.Errorf("%v g/L are left", x)
	}
}

// What was lacking is told in the reader's units: 15 °C are 59 °F.
func TestWhyInUSUnits(t *testing.T) {
	st := on(model.FinalRinse, model.Water, "TW", "D", 12, 1)
	st.Temperature, st.EndTemperature, st.Longest = Some(Celsius(2)), Some(Celsius(5)), Some(Duration(120))
	r := run(t, station(t, 30).plant(), wash.Options{Start: wash.FullOfWater}, st)
	if got := r.Steps[0].Told(US); !strings.Contains(got, "its end is 41 °F") {
		t.Errorf("%q", got)
	}
}

// A chemical without data is not simulated as another one: not the step that names it,
// nor one that draws from the tank that holds it. The others run.
func TestChemicalWithoutData(t *testing.T) {
	st := on(model.Disinfection, model.Disinfect, "TA", "TA", 12, 5)
	st.Chemical, st.Strength = Some(model.SodiumHypochlorite), Some(Strength(0.0003))
	again := on(model.Disinfection, model.Disinfect, "TA", "TA", 12, 5)
	again.Strength = Some(Strength(0.0003))
	rinse := on(model.FinalRinse, model.Water, "TW", "D", 12, 1)
	r := run(t, station(t, 30).plant(), wash.Options{Start: wash.FullOfWater}, st, again, rinse)
	for i, want := range []string{"sodium hypochlorite is not simulated", "what TA holds is not simulated: sodium hypochlorite", ""} {
		if s := r.Steps[i]; s.Simulated != (want == "") || !strings.Contains(s.Why, want) {
			t.Errorf("step %d: simulated %v, %q", i, s.Simulated, s.Why)
		}
	}
	if c := r.Saved.Circulated.Chemical; len(c) != 0 {
		t.Errorf("came back %v", c)
	}
}
