package wash_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"rinsewright/model"
	. "rinsewright/model/quantity"
	"rinsewright/model/wash"
)

// station draws two tanks with a pump each into one line of a length in m, at whose end
// valves lead to the sewer, to a recovered-water tank and back to the alkali tank.
func station(t testing.TB, length float64) *sketch {
	s := newSketch(t)
	s.tank("TW", "water-tank", 2000)
	s.tank("TA", "alkali-tank", 2000)
	s.tank("TR", "recovered-tank", 500)
	s.part("W", "water-supply", size+`,"medium":"water","temperature_C":12`)
	s.run("W.a", "TW.fill", 1)
	s.part("C", "concentrate-supply", size+`,"medium":"alkali","strength_pct":30,"temperature_C":20`)
	s.run("C.a", "TA.fill", 1)
	s.part("VW", "seat-valve", size+`,"seat_a_mm":15,"seat_b_mm":15,"normal":"closed"`)
	s.part("VA", "seat-valve", size+`,"seat_a_mm":15,"seat_b_mm":15,"normal":"closed"`)
	s.part("T1", "tee", size+`,"second_size":"`+dn50+`","stub_mm":20,"run_mm":100`)
	s.part("P", "centrifugal-pump", size+`,"outlet_size":"`+dn50+`","hold_up_L":3`)
	s.part("AT", "conductivity-transmitter", size+`,"stub_mm":20,"pocket_bore_mm":38`)
	s.part("V1", "divert-valve", size+`,"seat_a_mm":20,"seat_b_mm":20,"normal":"to-a"`)
	s.part("V2", "divert-valve", size+`,"seat_a_mm":20,"seat_b_mm":20,"normal":"to-a"`)
	s.part("O", "filler-line", size+`,"smallest_bore_mm":50,"length_m":5,"hold_up_L":9.8`)
	s.part("D", "sewer-drain", size+`,"medium":"sewage"`)
	s.run("TW.outlet", "VW.a", 1)
	s.run("TA.outlet", "VA.a", 1)
	s.run("VW.b", "T1.a", 1)
	s.run("VA.b", "T1.branch", 1)
	s.run("T1.b", "P.a", 1)
	s.run("P.b", "O.a", length/2)
	s.run("O.b", "AT.a", length/2)
	s.run("AT.b", "V1.c", 1)
	s.run("V1.a", "D.a", 1)
	s.run("V1.b", "V2.c", 1)
	s.run("V2.a", "TR.return", 1)
	s.run("V2.b", "TA.return", 1)
	return s
}

// on makes a step of the station.
func on(purpose model.Purpose, medium model.Medium, source, destination string, m3h, minutes float64) *model.Step {
	st := &model.Step{Purpose: Some(purpose), Medium: Some(medium), Temperature: Some(Celsius(20)), Source: model.ID(source),
		Destination: model.ID(destination), Flow: Some(CubicMetresPerHour(m3h)), Time: Some(Duration(60 * minutes)),
		Running: []model.ID{"P"}, Cleans: []model.ID{"O"}, Positions: map[model.ID]string{}}
	st.Positions[map[string]model.ID{"TW": "VW", "TA": "VA"}[source]] = "open"
	switch destination {
	case "TR":
		st.Positions["V1"] = "to-b"
	case "TA":
		st.Positions["V1"], st.Positions["V2"] = "to-b", "to-b"
	}
	if medium == model.Alkali {
		st.Strength = Some(Strength(0.01))
	}
	return st
}

// A programme with recovery: each destination gets the flow times the time less what
// filled the line; caustic goes round; the mixed phase is that of the line.
func TestRecovery(t *testing.T) {
	r := simulated(t, run(t, station(t, 60).plant(), wash.Options{Start: wash.FullOfWater},
		on(model.FirstRinse, model.Water, "TW", "D", 12, 3),
		on(model.AlkaliWash, model.Alkali, "TA", "TA", 12, 10),
		on(model.RinseBetween, model.Water, "TW", "TA", 12, 0.5),
		on(model.RinseBetween, model.Water, "TW", "D", 12, 3),
		on(model.FinalRinse, model.Water, "TW", "TR", 12, 5)))
	u := r.Total
	near(t, "water", float64(u.Water), 12.0/60*(3+0.5+3+5), 1e-9)
	near(t, "to sewer", float64(u.Sewer), 12.0/60*(3+3), 1e-9)
	near(t, "to other tanks", float64(u.Recovered), 12.0/60*(0.5+5), 1e-9)
	near(t, "back", float64(u.Returned), 12.0/60*10, 1e-9)
	near(t, "recovered", float64(r.Saved.Recovered.Volume), float64(u.Recovered), 1e-9)
	near(t, "circulated", float64(r.Saved.Circulated.Volume), float64(u.Returned), 1e-9)
	near(t, "chemical at its start", float64(r.Steps[1].Use.Drawn), 2, 1e-9)
	kg := func(b wash.Back) float64 {
		if len(b.Chemical) != 1 || b.Chemical[0].Medium != model.Alkali {
			t.Fatalf("came back: %v", b.Chemical)
		}
		return float64(b.Chemical[0].Mass)
	}
	// 2 m³ of 1 % (1009 kg/m³) less the water that the line held before, (1+1+60+1+1+1) m of
	// tube, object, pump: 150 L. Of the solution in the line the next 100 L went back too.
	near(t, "circulated caustic", kg(r.Saved.Circulated), 10.09*(2-0.150), 0.5)
	near(t, "recovered caustic", kg(r.Saved.Recovered), 10.09*0.1, 0.1)
	if p := r.Steps[1].Return; p != model.PlaceOf("AT") {
		t.Errorf("the last point is %v", p)
	}
	// Plug flow: the front comes to the sensor after the volume up to it.
	ahead := (1+1+1+60)*math.Pi/4*0.05*0.05 + 0.003 + 0.0098 // runs, the pump, the object
	from := known(t, "from", r.Steps[1].Interface.From)
	to := known(t, "to", r.Steps[1].Interface.To)
	near(t, "half the front", (from+to)/2, ahead/(12.0/3600), 2)
	// Conductivity of 1 % caustic at 20 °C: 47.3 mS/cm (PHREEQC), band of 5 %.
	seen := false
	for _, x := range trendOf(t, r, "AT") {
		if k, ok := x.Conductivity.Get(); ok && x.Step == 1 && x.Strength > 0.00999 {
			near(t, "conductivity", float64(k)*10, 47.3, 0.05*47.3)
			seen = true
			break
		}
	}
	if !seen {
		t.Error("no conductivity of the wash")
	}
	for _, s := range r.Tanks {
		if s.Vessel == "TR" {
			near(t, "recovered", float64(s.Points[len(s.Points)-1].Volume), 0.5+1, 1e-9)
		}
	}
}

// A longer line makes a longer mixed phase, more flow reaches strength sooner.
func TestMonotonic(t *testing.T) {
	wash1 := func(length, m3h float64) wash.Step {
		r := simulated(t, run(t, station(t, length).plant(), wash.Options{Start: wash.FullOfWater},
			on(model.AlkaliWash, model.Alkali, "TA", "TA", m3h, 10)))
		return r.Steps[0]
	}
	mixed, reached := 0.0, 0.0
	for _, length := range []float64{20, 40, 80, 160} {
		s := wash1(length, 12)
		v, at := known(t, "mixed", s.Interface.Volume), known(t, "reached", s.ReachedStrength)
		if v <= mixed || at <= reached {
			t.Errorf("%g m: mixed phase %v, reached after %v s", length, v, at)
		}
		mixed, reached = v, at
	}
	reached = math.Inf(1)
	for _, m3h := range []float64{6, 9, 12, 18} {
		at := known(t, "reached", wash1(60, m3h).ReachedStrength)
		if at >= reached {
			t.Errorf("%g m³/h reach strength after %v s", m3h, at)
		}
		reached = at
	}
}

// Nothing is lost or made in any programme: random steps, lengths, flows and options.
func TestRandomProgrammes(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 11))
	simulatedSteps := 0
	for range 60 {
		s := station(t, 1+100*rng.Float64())
		var steps []*model.Step
		for range 1 + rng.IntN(7) {
			medium, source := model.Water, "TW"
			if rng.IntN(2) == 0 {
				medium, source = model.Alkali, "TA"
			}
			st := on(model.RinseBetween, medium, source, []string{"D", "TR", "TA"}[rng.IntN(3)], 1+20*rng.Float64(), 6*rng.Float64())
			switch rng.IntN(10) {
			case 0:
				st.Purpose = Some(model.Hold)
			case 1:
				st.Purpose = Some(model.Prepare)
			case 2:
				st.Purpose = Some(model.AirBlow)
			}
			steps = append(steps, st)
		}
		opt := wash.Options{Start: wash.Start(rng.IntN(3)), Hot: rng.IntN(2) == 0, NoMakeUp: rng.IntN(2) == 0, Slugs: 20 + rng.IntN(100),
			Tanks: map[model.ID]wash.Filling{"TA": {Temperature: Some(Celsius(20 + 60*rng.Float64()))}}}
		r := run(t, s.plant(), opt, steps...)
		for _, x := range r.Steps {
			if x.Simulated {
				simulatedSteps++
			} else if x.Why == "" {
				t.Errorf("%s: not simulated, and nothing says why", x.Step.Name)
			}
		}
		for _, at := range []float64{0, 0.3, 0.7, 1} {
			for _, fill := range r.State(Duration(at) * r.Cycle).Runs {
				last := Ratio(0)
				for _, seg := range fill.Segments {
					if seg.From != last || seg.To <= seg.From {
						t.Fatalf("%s: segments %v", fill.Run, fill.Segments)
					}
					last = seg.To
				}
				if last != 1 {
					t.Fatalf("%s: segments %v", fill.Run, fill.Segments)
				}
			}
		}
	}
	if simulatedSteps < 100 {
		t.Errorf("only %d steps were simulated", simulatedSteps)
	}
}

// What flows in two branches comes together again; the shorter way brings its front
// first, so the step response has two fronts, and nothing is lost.
func TestBranches(t *testing.T) {
	s := newSketch(t)
	s.part("W", "water-supply", size+`,"medium":"water","pressure_bar":0.5,"temperature_C":20,"elevation_m":0`)
	for _, id := range []string{"A", "B"} {
		s.part(id, "tee", size+`,"second_size":"`+dn50+`","stub_mm":20,"run_mm":100,"elevation_m":0`)
	}
	s.part("D", "sewer-drain", size+`,"medium":"sewage","elevation_m":0`)
	s.run("W.a", "A.a", 10)
	short := s.run("A.b", "B.a", 20)
	long := s.run("A.branch", "B.branch", 40)
	s.run("B.b", "D.a", 10)
	r := simulated(t, run(t, s.plant(), wash.Options{Start: wash.FullOfProduct, Every: 0.2}, rinse("W", "D", 10, 3)))
	flow := map[model.ID]float64{}
	for _, fill := range r.State(60).Runs {
		flow[fill.Run] = float64(fill.Flow)
	}
	if !(flow[short] > 1.2*flow[long] && flow[long] > 0) {
		t.Fatalf("flows %v", flow)
	}
	share := flow[short] / (flow[short] + flow[long])
	flat := 0
	for _, x := range trendOf(t, r, "return") {
		if math.Abs(float64(x.Share)-share) < 0.03 {
			flat++
		}
	}
	if flat < 5 {
		t.Errorf("between the fronts the share should stand at %.3f; %d points do", share, flat)
	}
	near(t, "share at the end", float64(r.Trends[len(r.Trends)-1].Points[len(r.Trends[len(r.Trends)-1].Points)-1].Share), 1, 1e-3)
}

// What cannot be simulated says why and what is missing; the other steps go on.
func TestWhy(t *testing.T) {
	good := func() *model.Step { return on(model.FirstRinse, model.Water, "TW", "D", 12, 2) }
	cases := []struct {
		name    string
		change  func(s *sketch, st *model.Step)
		why     string
		missing string
	}{
		{"no time", func(_ *sketch, st *model.Step) { st.Time = Opt[Duration]{} }, "no time", "time_min"},
		{"production", func(_ *sketch, st *model.Step) { st.Purpose = Some(model.Production) }, "production", ""},
		{"shut", func(_ *sketch, st *model.Step) { st.Positions = nil }, "shut", ""},
		{"no source", func(_ *sketch, st *model.Step) { st.Source = "" }, "no source", ""},
		{"unknown level", func(s *sketch, _ *model.Step) {
			v := model.Clone(s.changes[0].After).(*model.Vessel)
			v.Level = Opt[Length]{}
			s.changes[0] = model.Adding(v)
		}, "TW", "level_m"},
		{"unknown length", func(s *sketch, _ *model.Step) {
			for i, c := range s.changes {
				if x, ok := c.After.(*model.Run); ok && x.From.Part == "T1" {
					x = model.Clone(x)
					x.Stretches = nil
					s.changes[i] = model.Adding(x)
				}
			}
		}, "", "stretches"},
		{"flow not known", func(_ *sketch, st *model.Step) { st.Flow = Opt[Flow]{} }, "flow", ""},
	}
	for _, c := range cases {
		s := station(t, 30)
		st := good()
		c.change(s, st)
		other := on(model.AlkaliWash, model.Alkali, "TA", "D", 12, 2)
		if strings.HasPrefix(c.name, "unknown length") {
			other = &model.Step{Purpose: Some(model.Hold), Time: Some(Duration(60))}
		}
		r := run(t, s.plant(), wash.Options{}, st, other)
		x := r.Steps[0]
		if x.Simulated || x.Why == "" || !strings.Contains(x.Why, c.why) {
			t.Errorf("%s: simulated %v, why %q", c.name, x.Simulated, x.Why)
		}
		if c.missing != "" && !strings.Contains(fmt.Sprint(x.Missing), c.missing) {
			t.Errorf("%s: missing %v", c.name, x.Missing)
		}
		if !r.Steps[1].Simulated {
			t.Errorf("%s: the other step was not simulated: %s", c.name, r.Steps[1].Why)
		}
	}
	p := station(t, 30).plant()
	for _, steps := range [][]*model.Step{nil, {nil}} {
		if _, err := wash.Run(p, p.Heights(), steps, wash.Options{}); err == nil {
			t.Errorf("no error for %v", steps)
		}
	}
	if _, err := wash.Run(nil, nil, []*model.Step{good()}, wash.Options{}); err == nil {
		t.Error("no error without a plant")
	}
}

// A tank that runs empty ends its step there: 2 000 L at 12 m³/h last 10 min.
func TestEmptyTank(t *testing.T) {
	r := run(t, station(t, 30).plant(), wash.Options{NoMakeUp: true}, on(model.FirstRinse, model.Water, "TW", "D", 12, 30))
	s := r.Steps[0]
	near(t, "time", float64(s.Time), 600, 3)
	if !strings.Contains(s.Why, "TW runs empty") || !s.Simulated {
		t.Errorf("why %q", s.Why)
	}
}

// Filling a tank from a supply takes its volume over the flow.
func TestFilling(t *testing.T) {
	s := newSketch(t)
	s.tank("T", "water-tank", 0)
	s.changes[0].After.(*model.Vessel).Working = Some(Volume(1))
	s.part("W", "water-supply", size+`,"medium":"water","temperature_C":12`)
	s.run("W.a", "T.fill", 0)
	r := simulated(t, run(t, s.plant(), wash.Options{}, &model.Step{Purpose: Some(model.Prepare), Medium: Some(model.Water),
		Temperature: Some(Celsius(12)), Source: "W", Destination: "T", Flow: Some(CubicMetresPerHour(6))}))
	near(t, "time", float64(r.Cycle), 600, 2)
	near(t, "fresh", float64(r.Total.Fresh), 1, 0.005)
	near(t, "filled", float64(r.Total.Filled), 1, 0.005)
	if r.Saved.Recovered.Volume != 0 {
		t.Errorf("filling saved %v", r.Saved)
	}
}

// While everything stands, tubes cool and nothing moves: DN50 full of water at 80 °C
// holds 8.2 kJ/(m·K) and 0.96 in its steel.
func TestHoldStep(t *testing.T) {
	s := newSketch(t)
	s.part("W", "water-supply", size+`,"medium":"water","temperature_C":80,"elevation_m":0`)
	s.part("D", "sewer-drain", size+`,"medium":"sewage","elevation_m":0`)
	s.run("W.a", "D.a", 20)
	st := rinse("W", "D", 10, 3)
	st.Temperature = Some(Celsius(80))
	r := simulated(t, run(t, s.plant(), wash.Options{Start: wash.FullOfWater}, st,
		&model.Step{Purpose: Some(model.Hold), Time: Some(Duration(1800))}))
	lost := float64(r.Steps[1].Use.Lost) / 1800 / 20
	if !(lost > 50 && lost < 83) { // 83 W/m at 60 K by the table of loss, falling as it cools
		t.Errorf("%v W/m", lost)
	}
	end := r.State(r.Cycle + 1).Runs[0].Segments
	k, _ := end[0].Temperature.Get()
	want := 80 - lost*1800/(8.2e3+960)
	near(t, "temperature after half an hour", k.Celsius(), want, 1.5) // the steel is colder than the water
}

// A run that is no longer wanted ends soon and gives nothing.
func TestRunIsStopped(t *testing.T) {
	p := demo(t, "oat-drink-station")
	for _, after := range []int{0, 1, 5} {
		asked := 0
		r, err := wash.Run(p, p.Heights(), programme(p, "Every day"), wash.Options{Stop: func() bool { asked++; return asked > after }})
		if r != nil || !errors.Is(err, wash.ErrStopped) || asked < after+1 || asked > after+2 {
			t.Errorf("asked to stop the %dth time: %v, %v, asked %d times", after+1, r != nil, err, asked)
		}
	}
}
