package fluid_test

import (
	"fmt"

	"rinsewright/model/fluid"
	"rinsewright/model/quantity"
)

func ExampleLiquid_Properties() {
	l := fluid.Liquid{Medium: fluid.Caustic, Strength: 0.02, Temperature: quantity.Celsius(75)}
	p, err := l.Properties()
	if err != nil {
		fmt.Println(err)
		return
	}
	k, _ := p.Conductivity.Get()
	fmt.Printf("%.0f kg/m³, %.2f mPa·s, %.2f kJ/(kg·K), %.0f mS/cm\n",
		float64(p.Density), 1e3*float64(p.Viscosity), float64(p.HeatCapacity)/1e3, 10*float64(k))
	// Output: 996 kg/m³, 0.42 mPa·s, 4.10 kJ/(kg·K), 176 mS/cm
}

func ExampleStrengthOf() {
	// The return sensor reads 85 mS/cm at 60 °C.
	w, err := fluid.StrengthOf(fluid.Caustic, 8.5, quantity.Celsius(60))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(quantity.Text(w, quantity.Metric))
	// Beyond the table there is no answer.
	_, err = fluid.StrengthOf(fluid.Caustic, 60, quantity.Celsius(60))
	fmt.Println(err)
	// Output:
	// 1.04 %
	// fluid: strength of sodium hydroxide solution at 60 °C: conductivity 600 mS/cm is outside 0 to 353.13 mS/cm
}

func ExampleMakeUp() {
	l := fluid.Liquid{Medium: fluid.Caustic, Strength: 0.015, Temperature: quantity.Celsius(20)}
	d, err := fluid.MakeUp(l, 1, fluid.Concentrates()[0])
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f kg of concentrate, %.1f L\n", d.Concentrate, d.Volume.Litres())
	// Output: 30.4 kg of concentrate, 20.0 L
}

func ExampleSaturatedAt() {
	s, err := fluid.SaturatedAt(quantity.Bar(4))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f °C, %.1f kJ/kg\n", s.Temperature.Celsius(), float64(s.Latent())/1e3)
	// Output: 143.61 °C, 2133.3 kJ/kg
}
