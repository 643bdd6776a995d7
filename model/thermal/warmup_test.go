package thermal

import (
	"math"
	"testing"

	"rinsewright/model/quantity"
)

// integrate gives the time in which C·dT/dt = heat(T) goes from one temperature
// to another, by the midpoint rule on dt = C·dT/heat(T): apart from the closed
// forms of the package.
func integrate(c float64, from, to quantity.Temperature, heat func(T float64) float64) float64 {
	const steps = 20000
	step := float64(to-from) / steps
	sum := 0.0
	for i := range steps {
		sum += c * step / heat(float64(from)+(float64(i)+0.5)*step)
	}
	return sum
}

func TestContent(t *testing.T) {
	// 1 m³ of water at 20 °C and 500 kg of steel of 0.50 kJ/(kg·K):
	// 998.21·4.1836 + 250 = 4426 kJ/K (mean heat capacity 20 to 80 °C from the
	// enthalpies 83.9 and 335.0 kJ/kg of the steam tables).
	c := must(Content{water(20), 1, 500}.Capacity(quantity.Celsius(80)))(t)
	nearly(t, "capacity", float64(c)/1e3, 4426, 5e-4)
	refused[Capacity](t, "negative steel")(Content{water(20), 1, -1}.Capacity(quantity.Celsius(80)))
	refused[Capacity](t, "beyond the liquid")(Content{water(20), 1, 0}.Capacity(quantity.Celsius(200)))
}

func TestWarmUp(t *testing.T) {
	const c = 4.4e6
	from, to, steam := quantity.Celsius(20), quantity.Celsius(80), quantity.Celsius(143.61)
	air := quantity.Celsius(20)
	for _, ul := range []float64{0, 40, 400} {
		loss := Loss{Conductance(ul), air}
		lost := func(T float64) float64 { return ul * (T - float64(air)) }
		got := must(WarmUpAtPower(c, from, to, 200e3, loss))(t)
		nearly(t, "at power", float64(got), integrate(c, from, to, func(T float64) float64 { return 200e3 - lost(T) }), 1e-7)
		got = must(WarmUpBySteam(c, from, to, steam, 3000, loss))(t)
		nearly(t, "by steam", float64(got), integrate(c, from, to, func(T float64) float64 { return 3000*(float64(steam)-T) - lost(T) }), 1e-7)
	}
	// By hand: 4.4 MJ/K · 60 K / 200 kW = 1320 s.
	nearly(t, "by hand", float64(must(WarmUpAtPower(c, from, to, 200e3, Loss{}))(t)), 1320, 1e-12)
	// A tiny loss is no loss.
	nearly(t, "tiny loss", float64(must(WarmUpAtPower(c, from, to, 200e3, Loss{1e-6, air}))(t)), 1320, 1e-8)
	refused[quantity.Duration](t, "more loss than power")(WarmUpAtPower(c, from, to, 20e3, Loss{400, air}))
	refused[quantity.Duration](t, "hotter than steam")(WarmUpBySteam(c, from, quantity.Celsius(150), steam, 3000, Loss{}))
	refused[quantity.Duration](t, "as hot as steam")(WarmUpBySteam(c, from, steam, steam, 3000, Loss{}))
	refused[quantity.Duration](t, "cooling")(WarmUpAtPower(c, to, from, 20e3, Loss{}))
	refused[quantity.Duration](t, "no power")(WarmUpAtPower(c, from, to, 0, Loss{}))
}

func TestCirculated(t *testing.T) {
	// Pumping a tank round through an exchanger with steam: the power at any tank
	// temperature is the exchanger's own.
	cold := Stream{2, 4184, quantity.Celsius(35)}
	k := must(Circulated(cold.Capacity(), 5000))(t)
	x := must(RateCondensing(quantity.Celsius(143.61), cold, 5000))(t)
	nearly(t, "power", float64(k)*(143.61-35), float64(x.Power), 1e-12)
	// In a strong flow it is the exchanger's conductance.
	nearly(t, "strong flow", float64(must(Circulated(1e12, 5000))(t)), 5000, 1e-8)
	if math.Abs(float64(must(Circulated(1, 5000))(t))-1) > 1e-12 {
		t.Error("in a weak flow it is the flow's capacity rate")
	}
}
