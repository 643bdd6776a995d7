package thermal_test

import (
	"fmt"

	"rinsewright/model/fluid"
	"rinsewright/model/quantity"
	"rinsewright/model/thermal"
)

func Example() {
	// 10 m³/h of water from 20 to 80 °C, by steam of 4 bar absolute.
	cold := fluid.Liquid{Medium: fluid.PureWater, Temperature: quantity.Celsius(20)}
	h, err := thermal.HeatingOf(cold, quantity.CubicMetresPerHour(10), quantity.Celsius(80))
	if err != nil {
		fmt.Println(err)
		return
	}
	m, err := thermal.SteamFlow(h.Power, quantity.Bar(4), quantity.Opt[quantity.Temperature]{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s, %.0f kg/h of steam\n", quantity.Text(h.Power, quantity.Metric), 3600*float64(m))
	// Output: 696 kW, 1174 kg/h of steam
}

func ExampleWarmUpBySteam() {
	content := thermal.Content{
		Liquid: fluid.Liquid{Medium: fluid.Caustic, Strength: 0.02, Temperature: quantity.Celsius(20)},
		Volume: 2, Steel: 600,
	}
	to := quantity.Celsius(80)
	c, err := content.Capacity(to)
	if err != nil {
		fmt.Println(err)
		return
	}
	d, err := thermal.WarmUpBySteam(c, quantity.Celsius(20), to, quantity.Celsius(143.6), 4000, thermal.Loss{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(quantity.Text(d, quantity.Metric))
	_, err = thermal.WarmUpBySteam(c, quantity.Celsius(20), quantity.Celsius(150), quantity.Celsius(143.6), 4000, thermal.Loss{})
	fmt.Println(err)
	// Output:
	// 23.9 min
	// thermal: 150 °C is never reached; the content tends to 143.6 °C
}

func ExampleTube_Loss() {
	tube := thermal.Tube{Outside: quantity.Millimetres(53), Insulation: 0.03, Conductivity: 0.04, Emissivity: 0.25}
	h, err := tube.Loss(quantity.Celsius(80), quantity.Celsius(20))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f W/m, surface %.0f °C\n", h.PerMetre, h.Surface.Celsius())
	// Output: 16.8 W/m, surface 29 °C
}
