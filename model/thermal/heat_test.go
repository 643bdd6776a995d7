package thermal

import (
	"math"
	"testing"

	"rinsewright/model/fluid"
	"rinsewright/model/quantity"
)

// nearly refuses a relative difference above tol (absolute where want is 0).
func nearly(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	d := math.Abs(got - want)
	if want != 0 {
		d /= math.Abs(want)
	}
	if !(d <= tol) {
		t.Errorf("%s: got %.10g, want %.10g (off by %.2g, allowed %.2g)", what, got, want, d, tol)
	}
}

// must turns a pair of value and error into the value, failing the test on an error.
func must[T any](v T, err error) func(*testing.T) T {
	return func(t *testing.T) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func refused[T any](t *testing.T, what string) func(T, error) {
	return func(_ T, err error) {
		t.Helper()
		if err == nil {
			t.Errorf("%s passed", what)
		}
	}
}

func water(c float64) fluid.Liquid {
	return fluid.Liquid{Medium: fluid.PureWater, Temperature: quantity.Celsius(c)}
}

func TestWorkedHeating(t *testing.T) {
	// Worked with the iapws library for Python: 10 m³/h of water from 20 to 80 °C
	// by steam of 4 bar absolute: 696 kW, 1 175 kg/h, mean difference 90.3 K, 2.6 m²
	// at U 3 000 and 7.7 m² at U 1 000 W/(m²·K).
	h := must(HeatingOf(water(20), quantity.CubicMetresPerHour(10), quantity.Celsius(80)))(t)
	nearly(t, "duty, kW", float64(h.Power)/1e3, 696, 0.5/696)
	steam := must(SteamFlow(h.Power, quantity.Bar(4), quantity.Opt[quantity.Temperature]{}))(t)
	nearly(t, "steam, kg/h", 3600*float64(steam), 1175, 1.0/1175)
	s := must(fluid.SaturatedAt(quantity.Bar(4)))(t)
	x := must(SizeCondensing(s.Temperature, Stream{h.Mass, h.HeatCapacity, quantity.Celsius(20)}, quantity.Celsius(80)))(t)
	nearly(t, "mean difference", float64(x.MeanDifference), 90.3, 0.05/90.3)
	nearly(t, "power", float64(x.Power), float64(h.Power), 1e-12)
	nearly(t, "area at 3000", float64(must(x.Area(3000))(t)), 2.6, 0.05/2.6)
	nearly(t, "area at 1000", float64(must(x.Area(1000))(t)), 7.7, 0.05/7.7)
	// The same by enthalpies of IF97 instead of a mean heat capacity.
	cold, hot := must(fluid.Water(quantity.Celsius(20)))(t), must(fluid.Water(quantity.Celsius(80)))(t)
	nearly(t, "duty by enthalpy", float64(h.Power), float64(h.Mass)*float64(hot.Enthalpy-cold.Enthalpy), 5e-5)
}

func TestDutyPerKelvin(t *testing.T) {
	// Rule of the trade, computed: 1.161 kW and 1.96 kg/h of steam at 4 bar
	// absolute per m³/h and kelvin.
	h := must(HeatingOf(water(20), quantity.CubicMetresPerHour(1), quantity.Celsius(21)))(t)
	nearly(t, "duty", float64(h.Power)/1e3, 1.161, 1e-3)
	m := must(SteamFlow(h.Power, quantity.Bar(4), quantity.Opt[quantity.Temperature]{}))(t)
	nearly(t, "steam", 3600*float64(m), 1.96, 2e-3)
	c := must(HeatingOf(water(80), quantity.CubicMetresPerHour(1), quantity.Celsius(20)))(t)
	if c.Power >= 0 || c.Rise != -60 {
		t.Errorf("cooling: %v W, %v K", c.Power, c.Rise)
	}
}

func TestMeanDifference(t *testing.T) {
	// Closed form: (50−20)/ln 2.5; equal ends; nearly equal ends, where
	// the textbook formula returns 24.99999966 in double precision.
	for _, r := range []struct{ a, b, want, tol float64 }{
		{50, 20, 32.740700038, 1e-10}, {20, 50, 32.740700038, 1e-10}, {50, 50, 50, 0},
		{25.0000001, 25, 25.00000005, 1e-14}, {100, 1e-3, 99.999 / math.Log(1e5), 1e-14},
	} {
		got := must(MeanDifference(Kelvin(r.a), Kelvin(r.b)))(t)
		nearly(t, "mean difference", float64(got), r.want, r.tol)
	}
	// Both branches meet at a ratio of 2, and the mean lies between the geometric
	// and the arithmetic.
	for _, a := range []float64{1.0001, 1.5, 1.999999, 2.000001, 3, 1000} {
		m := float64(must(MeanDifference(Kelvin(a), 1))(t))
		if !(m > math.Sqrt(a) && m < (a+1)/2) {
			t.Errorf("mean of %g and 1 is %g", a, m)
		}
	}
	low := float64(must(MeanDifference(1.9999999999, 1))(t))
	high := float64(must(MeanDifference(2.0000000001, 1))(t))
	nearly(t, "seam", high, low, 2e-10)
	refused[Kelvin](t, "a zero end")(MeanDifference(10, 0))
	refused[Kelvin](t, "crossing")(MeanDifference(10, -5))
	refused[Kelvin](t, "not a number")(MeanDifference(Kelvin(math.NaN()), 5))
}

func TestEffectiveness(t *testing.T) {
	// Closed form of Kays and London, evaluated apart from this program.
	for _, r := range []struct{ ntu, c, want float64 }{
		{1, 0.5, 0.564733402}, {2, 1, 2.0 / 3}, {3, 0.25, 0.918811274}, {1.5, 0, 0.776869840}, {0, 0.3, 0},
	} {
		e := must(Effectiveness(r.ntu, r.c))(t)
		nearly(t, "effectiveness", e, r.want, 1e-9)
		nearly(t, "back", must(TransferUnits(e, r.c))(t), r.ntu, 1e-12)
	}
	// No step as the capacity rates become equal.
	for _, c := range []float64{1 - 1e-6, 1 - 1e-9, 1 - 1e-12, 1 - 1e-15} {
		nearly(t, "near 1", must(Effectiveness(2, c))(t), 2.0/3, 1-c+1e-15)
		nearly(t, "back", must(TransferUnits(2.0/3, c))(t), 2, 3*(1-c)+1e-14)
	}
	refused[float64](t, "ratio above 1")(Effectiveness(1, 1.1))
	refused[float64](t, "negative units")(Effectiveness(-1, 0.5))
	refused[float64](t, "effectiveness 1")(TransferUnits(1, 0.5))
}

func TestOilCooler(t *testing.T) {
	// Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, example 11.1
	// (from memory): oil 0.1 kg/s, 2131 J/(kg·K), from 100 to 60 °C; water 0.2 kg/s,
	// 4178 J/(kg·K), from 30 °C: 8524 W, 40.2 °C, mean difference 43.2 K.
	oil := Stream{0.1, 2131, quantity.Celsius(100)}
	cooling := Stream{0.2, 4178, quantity.Celsius(30)}
	x := must(Size(oil, cooling, 8524))(t)
	nearly(t, "oil outlet", x.HotOutlet.Celsius(), 60, 1e-12)
	nearly(t, "water outlet", x.ColdOutlet.Celsius(), 40.2, 0.05/40.2)
	nearly(t, "mean difference", float64(x.MeanDifference), 43.2, 0.05/43.2)
	// What was sized gives back its duty when rated: two independent routes, the
	// mean difference and the effectiveness.
	r := must(Rate(oil, cooling, x.Conductance))(t)
	nearly(t, "power", float64(r.Power), 8524, 1e-12)
	nearly(t, "water outlet", float64(r.ColdOutlet), float64(x.ColdOutlet), 1e-12)
	nearly(t, "effectiveness", r.Effectiveness, x.Effectiveness, 1e-12)
	nearly(t, "mean difference", float64(r.MeanDifference), float64(x.MeanDifference), 1e-12)
	refused[Exchange](t, "crossing")(Size(oil, cooling, 15000))
	refused[Exchange](t, "cold hotter than hot")(Rate(cooling, oil, 100))
	refused[Exchange](t, "no flow")(Rate(Stream{0, 2131, 373}, cooling, 100))
	refused[quantity.Area](t, "no coefficient")(x.Area(0))
}

func TestRateCondensing(t *testing.T) {
	cold := Stream{2.7728, 4184, quantity.Celsius(20)}
	x := must(SizeCondensing(quantity.Celsius(143.61), cold, quantity.Celsius(80)))(t)
	r := must(RateCondensing(quantity.Celsius(143.61), cold, x.Conductance))(t)
	nearly(t, "outlet", r.ColdOutlet.Celsius(), 80, 1e-12)
	nearly(t, "effectiveness", r.Effectiveness, x.Effectiveness, 1e-12)
	refused[Exchange](t, "hotter than the steam")(SizeCondensing(quantity.Celsius(143.61), cold, quantity.Celsius(150)))
	refused[Exchange](t, "cold steam")(RateCondensing(quantity.Celsius(10), cold, 100))
}

func TestSteam(t *testing.T) {
	none := quantity.Opt[quantity.Temperature]{}
	// Latent heat at 0.3 MPa absolute 2163.436 kJ/kg (IF97 by the iapws library).
	nearly(t, "at 3 bar", float64(must(SteamFlow(2163436, quantity.Bar(3), none))(t)), 1, 5e-7)
	// Condensate subcooled to 80 °C at 4 bar: 2738.1 − 335.2 = 2402.9 kJ/kg (steam
	// table as above; liquid at 80 °C and 4 bar computed with iapws: 335.2).
	nearly(t, "subcooled", float64(must(SteamFlow(2402900, quantity.Bar(4), quantity.Some(quantity.Celsius(80))))(t)), 1, 1e-4)
	refused[MassFlow](t, "condensate above boiling")(SteamFlow(1e5, quantity.Bar(4), quantity.Some(quantity.Celsius(150))))
	refused[MassFlow](t, "supercritical")(SteamFlow(1e5, quantity.Bar(300), none))
	// Direct injection 20 to 80 °C at 4 bar absolute, computed: 104 kg per m³ of
	// cold water, diluted by about 10 %.
	i := must(Inject(quantity.Bar(4), quantity.Celsius(20), quantity.Celsius(80)))(t)
	nearly(t, "per cubic metre", i.Steam*998.21, 104, 0.5/104)
	nearly(t, "dilution", i.Dilution, 0.1, 0.07)
	refused[Injected](t, "hotter than steam")(Inject(quantity.Bar(1), quantity.Celsius(20), quantity.Celsius(110)))
	refused[Injected](t, "cooling")(Inject(quantity.Bar(4), quantity.Celsius(80), quantity.Celsius(20)))
}

func TestExpansion(t *testing.T) {
	// 0.96 mm/m for 60 K: 16e-6/K (EN 10088-1, from memory).
	nearly(t, "growth", 1e3*float64(Expansion(1, quantity.Celsius(20), quantity.Celsius(80))), 0.96, 1e-9)
}
