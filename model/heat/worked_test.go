package heat_test

import (
	"math"
	"slices"
	"testing"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/fluid"
	"rinsewright/model/heat"
	"rinsewright/model/network/networktest"
	. "rinsewright/model/quantity"
	"rinsewright/model/thermal"
)

// Worked with the iapws library for Python, as in package thermal: 10 m³/h of water from
// 20 to 80 °C by steam of 4 bar absolute takes 696 kW and 1175 kg/h; the mean difference
// is 90.3 K, the surface 2.6 m² at 3000 and 7.7 m² at 1000 W/(m²·K).
func TestWorkedHeaterInACircuit(t *testing.T) {
	for _, r := range []struct {
		u    string
		area float64
	}{{"3000", 2.6}, {"1000", 7.7}} {
		s := circuit(t, `,"start_temperature_C":20`, "plate-heater", `,"area_m2":2,"coefficient_Wm2K":`+r.u, 0.5)
		steam(s)
		h := of(t, s, asks("T1", "T1", 10, 80), heat.Options{})
		if len(h.Exchangers) != 1 || len(h.Failures) > 0 {
			t.Fatalf("%+v", h)
		}
		x := h.Exchangers[0]
		celsius(t, "inlet", x.Inlet, 20, 1e-9)
		is(t, "duty, kW", x.Needed, 1e3, 696, 0.5)
		is(t, "mean difference", x.MeanDifference, 1, 90.3, 0.05)
		is(t, "area at "+r.u, x.NeededArea, 1, r.area, 0.05)
		is(t, "absolute pressure, bar", x.Steam.Absolute, 1e5, 4, 1e-6)
		celsius(t, "saturation", x.Steam.Saturation, 143.61, 0.01) // steam table of IF97, 4 bar
		// ε = 60/(143.61 − 20) = 0.4854 and NTU = −ln(1 − ε) = 0.6644, by hand.
		is(t, "effectiveness", x.Effectiveness, 1, 0.4854, 1e-4)
		is(t, "transfer units", x.TransferUnits, 1, 0.6644, 2e-4)
		// What 2 m² give at these coefficients: Q = C (143.61 − 20)(1 − exp(−UA/C)), C being
		// 696/60 = 11.6 kW/K: 579 kW at 6 kW/K, 227 kW at 2 kW/K, by hand.
		ua := map[string]float64{"3000": 6, "1000": 2}[r.u]
		gives := 11.6 * 123.61 * (1 - math.Exp(-ua/11.6))
		is(t, "gives, kW", x.Gives, 1e3, gives, 1)
		celsius(t, "reaches", x.Reaches, 20+gives/11.6, 0.1)
		// Its steam is that for what it gives: 1175 kg/h for 696 kW.
		is(t, "steam, kg/h", x.Steam.Flow, 1.0/3600, 1175*gives/696, 2)
		// The flow that it brings to 80 °C: UA/NTU of 11.6 kW/K for 10 m³/h.
		is(t, "once through, m³/h", x.OnceThrough, 1.0/3600, ua/0.6644/11.6*10, 0.01)
		if !x.Short() {
			t.Error("it is not told that the heater falls short")
		}
	}
}

// With a duty that is enough the heater passes what is needed: 1175 kg/h.
func TestSteamOfTheWorkedHeater(t *testing.T) {
	s := circuit(t, `,"start_temperature_C":20`, "plate-heater", `,"area_m2":4,"coefficient_Wm2K":3000,"duty_kW":800`, 0.5)
	steam(s)
	h := of(t, s, asks("T1", "T1", 10, 80), heat.Options{})
	x := h.Exchangers[0]
	is(t, "steam, kg/h", x.Steam.Flow, 1.0/3600, 1175, 1)
	is(t, "condensate, kg/h", x.Steam.Condensate, 1.0/3600, 1175, 1)
	celsius(t, "reaches", x.Reaches, 80, 1e-6)
	// 800 kW bring 800/696 of 10 m³/h to 80 °C; the surface would do more.
	is(t, "once through, m³/h", x.OnceThrough, 1.0/3600, 800/696.0*10, 0.02)
	if x.Short() {
		t.Error("it is said to fall short")
	}
}

// 2000 L of water from 20 to 80 °C at 100 kW: 1996.4 kg · 4.184 kJ/(kg·K) · 60 K / 100 kW
// = 5012 s = 84 min (density 998.2 kg/m³, steam tables), with nothing lost in air of 80 °C
// and little in the short circuit.
func TestWorkedWarmUp(t *testing.T) {
	s := circuit(t, `,"start_temperature_C":20,"wall_mm":3`, "electric-heater", `,"duty_kW":100`, 0)
	h := of(t, s, asks("T1", "T1", 10, 80), heat.Options{Air: Celsius(80)})
	u := h.WarmUp
	if u == nil || u.AtLeast || u.Never {
		t.Fatalf("warm-up %+v, missing %v", u, h.Missing)
	}
	is(t, "liquid, L", u.Liquid, 1e-3, 2000, 1e-9)
	// Steel of the tank, shell of 1.2 by 2.5 m and two ends: (π·1.2·2.5 + π/2·1.44)·0.003·7900
	// = 277 kg; held beside it 15 L.
	if math.Abs(float64(u.Steel)-277) > 0.5 || math.Abs(u.Held.Litres()-15) > 1e-6 {
		t.Errorf("%.1f kg of steel, %.1f L held", float64(u.Steel), u.Held.Litres())
	}
	// (2015 L · 0.9982 · 4.184 + 277 · 0.5) · 60 / 100 = 5132 s; without steel and hold-up 5012.
	is(t, "time, s", u.Time, 1, 5132, 10)
	bare := circuit(t, `,"start_temperature_C":20`, "electric-heater", `,"duty_kW":100`, 0)
	u = of(t, bare, asks("T1", "T1", 10, 80), heat.Options{Air: Celsius(80)}).WarmUp
	is(t, "time without the steel, min", u.Time, 60, 84.2, 0.2) // 15 L add 0.6 min to 83.5
	if !u.AtLeast {
		t.Error("the steel of the tank is not told and the time is no least one")
	}
}

// Steam with a limited duty: constant power until the surface passes less, then the
// approach to the steam. Against the midpoint rule on dt = C·dT/(P(T) − loss).
func TestWarmUpTurnsFromDutyToSurface(t *testing.T) {
	const c, rate, duty = 8.4e6, 11600, 300e3
	from, to, steam := Celsius(20), Celsius(95), Celsius(143.61)
	for _, loss := range []thermal.Loss{{}, {Conductance: 200, Air: Celsius(20)}} {
		can := heat.Capability{Duty: duty, Surface: 4000, Steam: steam}
		ua := rate * (1 - math.Exp(-4000.0/rate))
		const steps = 100000
		want := 0.0
		for i := range steps {
			T := float64(from) + (float64(i)+0.5)*float64(to-from)/steps
			want += c * float64(to-from) / steps / (math.Min(duty, ua*(float64(steam)-T)) - float64(loss.Conductance)*(T-float64(loss.Air)))
		}
		got, err := can.WarmUp(c, rate, from, to, loss)
		if err != nil || math.Abs(float64(got)-want) > 1e-6*want {
			t.Errorf("%v s, want %v: %v", float64(got), want, err)
		}
	}
	var never *heat.NeverError
	for _, can := range []heat.Capability{
		{Duty: math.Inf(1), Surface: 4000, Steam: Celsius(90)}, {Duty: 10e3}, {Duty: 10e3, Surface: 4000, Steam: steam},
	} {
		if _, err := can.WarmUp(c, rate, from, to, thermal.Loss{Conductance: 200, Air: Celsius(20)}); err == nil || !asNever(err, &never) || never.Tends >= to {
			t.Errorf("%+v: %v", can, err)
		}
	}
}

func asNever(err error, to **heat.NeverError) bool {
	n, ok := err.(*heat.NeverError)
	*to = n
	return ok
}

// Equal-difference limit: a cooler whose two streams change alike has the difference of
// its ends all along. Water of 10 m³/h from 80 to 60 °C by 10 m³/h from 40 °C: as the two
// capacity rates are nearly equal (ρ·cp of water at 80 and 40 °C differ by 1.7 %, steam
// tables), the mean difference is 20 K within 1 K, and the effectiveness one half.
func TestCoolerWithEqualDifferences(t *testing.T) {
	s := networktest.New(t)
	s.Part("W1", "water-supply", `"elevation_m":0.5,"size":"`+networktest.DN50+`","medium":"water","pressure_bar":0,"temperature_C":80`)
	s.Part("P1", "centrifugal-pump", pump)
	s.Part("E1", "plate-cooler", heater+`,"area_m2":10,"coefficient_Wm2K":3000`)
	s.Part("C1", "water-supply", `"elevation_m":2,"size":"`+networktest.DN50+`","medium":"water","pressure_bar":2,"temperature_C":40,"flow_m3h":10`)
	s.Part("D1", "sewer-drain", `"elevation_m":0.2,"size":"`+networktest.DN50+`"`)
	s.Run("W1.a", "P1.a", 0)
	s.Run("P1.b", "E1.a", 0)
	s.Run("E1.b", "D1.a", 0)
	s.Run("C1.a", "E1.s", 0)
	h := of(t, s, asks("W1", "D1", 10, 60), heat.Options{})
	x := h.Exchangers[0]
	if !x.Cools || x.Idle || x.Cooling.Supply != "C1" {
		t.Fatalf("%+v", x)
	}
	is(t, "duty, kW", x.Needed, 1e3, 971.8/360*4.192*20, 0.5) // density at 80 °C, heat capacity at 70 °C
	is(t, "mean difference", x.MeanDifference, 1, 20, 1)
	is(t, "effectiveness", x.Effectiveness, 1, 0.5, 0.01)
	is(t, "transfer units", x.TransferUnits, 1, 1, 0.06)
	celsius(t, "cooling water leaves at", x.Cooling.Outlet, 60, 0.5)
	celsius(t, "reaches", x.Reaches, 60, 1e-6) // 30 kW/K are more than enough
}

// The tube of the circuit loses what the published table of thermal's tests was held to:
// the circuit's loss is that of its metres, DN50 being 53 mm outside.
func TestLossOfBareRuns(t *testing.T) {
	s := circuit(t, `,"start_temperature_C":20,"insulation_mm":0`, "electric-heater", `,"duty_kW":100`, 10)
	h := of(t, s, asks("T1", "T1", 10, 80), heat.Options{Emissivity: 0.9})
	tube, ok := catalogue.Builtin().Tube(networktest.DN50)
	if !ok || tube.Outside != Millimetres(53) {
		t.Fatalf("DN50 is %v", tube)
	}
	// Between the 56 and 190 W/m of 48.3 mm and the 68 and 230 of 60.3 mm at 50 and 100 °C
	// (table of black steel in air of 20 °C, emissivity 0.9), by the power law between them:
	// 60.6 W/m at 50, 206 at 100, 143 W/m at 80 °C; tables of this sort differ by 7 %.
	runs := 0
	for _, l := range h.Losses {
		if l.Length.Known() {
			runs++
			is(t, "loss of 10 m", l.Power, 10, 143, 10)
			if l.Insulation.Known() {
				t.Error("nobody told the insulation of the run")
			}
		}
	}
	if runs != 4 {
		t.Errorf("%d runs lose heat", runs)
	}
	if !slices.ContainsFunc(h.Assumptions, func(a assumption) bool { return a.What == "insulation of 4 runs" }) {
		t.Errorf("that runs were taken as bare is not listed: %v", h.Assumptions)
	}
}

// Insulation lowers the loss to what a cylinder of mineral wool passes: 30 mm of
// 0.04 W/(m·K) about 53 mm, 2π·0.04·60/ln(113/53) = 19.9 W/m at most, by hand.
func TestInsulationLowersTheLoss(t *testing.T) {
	s := circuit(t, `,"start_temperature_C":20`, "electric-heater", `,"duty_kW":100`, 10)
	bare := of(t, s, asks("T1", "T1", 10, 80), heat.Options{})
	for _, r := range s.Runs() {
		r.Insulation = Some(Millimetres(30))
	}
	lagged := of(t, s, asks("T1", "T1", 10, 80), heat.Options{})
	for i, l := range lagged.Losses {
		if !l.Length.Known() {
			continue
		}
		is(t, "loss of 10 m", l.Power, 10, 18, 2)
		if l.Power.Or(0) > bare.Losses[i].Power.Or(0)/3 {
			t.Errorf("%s loses %v, bare %v", l.Record, l.Power, bare.Losses[i].Power)
		}
	}
	if lagged.Back.Or(0) <= bare.Back.Or(0) {
		t.Error("what comes back is no warmer with insulation")
	}
}

// What was never told and matters is named with what it decides; nothing is made up.
func TestMissingOfHeat(t *testing.T) {
	for _, c := range []struct {
		name, heater, want string
		record             model.ID
	}{
		{"duty of an electric heater", "electric-heater", "duty_kW", "E1"},
		{"pressure of the steam", "plate-heater", "pressure_bar", "S1"},
	} {
		more := ""
		if c.heater == "plate-heater" {
			more = `,"area_m2":2,"coefficient_Wm2K":3000`
		}
		s := circuit(t, `,"start_temperature_C":20`, c.heater, more, 1)
		if c.heater == "plate-heater" {
			s.Part("S1", "steam-supply", `"elevation_m":2,"size":"`+networktest.DN50+`","medium":"steam"`)
			s.Run("S1.a", "E1.s", 1)
		}
		h := of(t, s, asks("T1", "T1", 10, 80), heat.Options{})
		if !slices.ContainsFunc(h.Missing, func(m heat.Missing) bool { return m.Record == c.record && m.Key == c.want && m.For != "" }) {
			t.Errorf("%s: missing %v", c.name, h.Missing)
		}
		x := h.Exchangers[0]
		is(t, "duty, kW", x.Needed, 1e3, 696, 0.5)
		if x.Gives.Known() || x.Reaches.Known() || x.OnceThrough.Known() || h.WarmUp.Time.Known() || x.Steam != nil && x.Steam.Flow.Known() {
			t.Errorf("%s: said all the same: %+v", c.name, x)
		}
	}
	// A step that asks for no temperature asks for no heat.
	s := circuit(t, "", "electric-heater", "", 1)
	st := asks("T1", "T1", 10, 80)
	st.Temperature = Opt[Temperature]{}
	p := s.Plant()
	if h := heat.Of(solve(t, p, st), heat.Options{}); h.WarmUp != nil || h.Lost.Known() || len(h.Losses) > 0 {
		t.Errorf("%+v", h)
	}
}

// The start: of the tank as told; else of the coldest supply of water, as assumed; else
// that of the air.
func TestStart(t *testing.T) {
	for _, c := range []struct {
		tank, supply string
		want         float64
		assumed      bool
	}{
		{`,"start_temperature_C":35`, `"temperature_C":12`, 35, false},
		{"", `"temperature_C":12`, 12, true},
		{"", "", 20, true},
	} {
		s := circuit(t, c.tank, "electric-heater", `,"duty_kW":100`, 1)
		more := c.supply
		if more != "" {
			more = "," + more
		}
		s.Part("W1", "water-supply", `"medium":"water","elevation_m":1,"size":"`+networktest.DN50+`"`+more)
		h := of(t, s, asks("T1", "T1", 10, 80), heat.Options{})
		celsius(t, "start", h.Start, c.want, 1e-9)
		if got := slices.ContainsFunc(h.Assumptions, func(a assumption) bool { return a.Record == "T1" && a.Key == "start_temperature_C" }); got != c.assumed {
			t.Errorf("start %v: assumed %v", c.want, got)
		}
	}
}

// What runs round comes to a steady state in which the heater gives what is lost, and
// every kelvin is accounted for: the sum of the losses is the total, and each run loses
// what its liquid cools by.
func TestBalanceOfHeat(t *testing.T) {
	for _, metres := range []float64{0.5, 10, 300} {
		for _, celsius := range []float64{30, 60, 95} {
			s := circuit(t, `,"start_temperature_C":20,"insulation_mm":50`, "electric-heater", `,"duty_kW":400`, metres)
			h := of(t, s, asks("T1", "T1", 10, celsius), heat.Options{})
			sum, lost := 0.0, float64(h.Lost.Or(-1))
			for _, l := range h.Losses {
				sum += float64(l.Power.Or(Power(math.NaN())))
			}
			if math.Abs(sum-lost) > 1e-9*lost || math.Abs(float64(h.KnownLost)-lost) > 1e-9*lost {
				t.Errorf("%v m, %v °C: %v in all, the parts %v", metres, celsius, lost, sum)
			}
			is(t, "what the heater gives meanwhile", h.Exchangers[0].Holds, lost, 1, 1e-4)
			liquid := fluid.Liquid{Medium: fluid.PureWater, Temperature: Celsius(celsius)}
			props, err := liquid.Properties()
			if err != nil {
				t.Fatal(err)
			}
			rate := float64(props.Density) * float64(props.HeatCapacity) * float64(h.Solution.Supply.Flow.Or(0))
			for _, l := range h.Losses {
				if in, out := l.In.Or(0), l.Out.Or(0); l.Length.Known() && math.Abs(float64(l.Power.Or(0))-rate*float64(in-out)) > 1e-6*lost {
					t.Errorf("%s loses %v W and cools its liquid by %v K", l.Record, l.Power, float64(in-out))
				}
			}
			if h.Supplied.Or(0) < h.Back.Or(0) || h.Back.Or(0) < h.Coldest.Or(0) {
				t.Errorf("supplied %v, back %v, coldest %v", h.Supplied, h.Back, h.Coldest)
			}
			// Needed is m·cp·ΔT of the flow at its inlet.
			x := h.Exchangers[0]
			liquid.Temperature = x.Inlet.Or(0)
			need, err := thermal.HeatingOf(liquid, x.Flow.Or(0), Celsius(celsius))
			if err != nil || math.Abs(float64(x.Needed.Or(0))-float64(need.Mass)*float64(need.HeatCapacity)*float64(need.Rise)) > 1e-6*float64(need.Power) {
				t.Errorf("needed %v of %+v: %v", x.Needed, need, err)
			}
		}
	}
}

// Where the flow divides each way cools by its own loss, and what meets again is the mix.
func TestMixOfTwoWays(t *testing.T) {
	s := networktest.New(t)
	s.Part("T1", "alkali-tank", tank+`,"start_temperature_C":80`)
	s.Part("P1", "centrifugal-pump", pump)
	s.Part("A", "tee", networktest.Stubs)
	s.Part("B", "tee", networktest.Stubs+`,"elevation_m":0.5`)
	s.Run("T1.outlet", "P1.a", 1)
	s.Run("P1.b", "A.a", 1)
	short := s.Run("A.b", "B.a", 5)
	long := s.Run("A.c", "B.c", 200)
	back := s.Run("B.b", "T1.return", 1)
	h := of(t, s, asks("T1", "T1", 10, 80), heat.Options{})
	p := h.Solution.Plant
	ends := map[model.ID]Temperature{}
	flows := map[model.ID]float64{}
	for _, l := range h.Losses {
		ends[l.Record] = l.Out.Or(0)
		if e := p.RunEdges(l.Record); len(e) > 0 {
			flows[l.Record] = math.Abs(float64(h.Solution.Edges[e[0]].Flow.Or(0)))
		}
	}
	if !(ends[long] < ends[short]-1) {
		t.Errorf("the long way ends at %v °C, the short at %v", ends[long].Celsius(), ends[short].Celsius())
	}
	var in Temperature
	for _, l := range h.Losses {
		if l.Record == back {
			in = l.In.Or(0)
		}
	}
	mix := (flows[long]*float64(ends[long]) + flows[short]*float64(ends[short])) / (flows[long] + flows[short])
	if math.Abs(float64(in)-mix) > 1e-6 {
		t.Errorf("the mix has %v K, want %v", float64(in), mix)
	}
}
