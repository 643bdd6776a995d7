//go:build engine

package hydraulic

import (
	"fmt"
	"math"
	"math/rand/v2"

	"rinsewright/model/quantity"
)

// testCase is a network with a name and a fluid.
type testCase struct {
	name  string
	net   Network
	fluid Fluid
}

// cases are the networks that the reference engine solves as well.
func cases() []testCase {
	var all []testCase
	add := func(name string, n Network, f Fluid) { all = append(all, testCase{name, n, f}) }

	b := &builder{}
	t := b.tank(30)
	var ring []int
	for i := 0; i < 4; i++ {
		ring = append(ring, b.junction(0, 1e-3))
		b.link(t, ring[i], tube(50+10*float64(i), 50, 2))
	}
	for i := range ring {
		b.link(ring[i], ring[(i+1)%4], tube(20, 38, 1))
	}
	add("ring fed at four points", b.Network, water20)

	b = &builder{}
	j := b.junction(5, 0)
	for i, level := range []float64{40, 25, 10} {
		b.link(b.tank(level), j, tube(100+50*float64(i), 66, 3))
	}
	add("three tanks", b.Network, water20)

	b = &builder{}
	low, in, out, high := b.tank(0), b.junction(0, 0), b.junction(0, 0), b.tank(18)
	b.link(low, in, tube(4, 81, 2))
	for i := 0; i < 2; i++ {
		mid := b.junction(0, 0)
		b.link(in, mid, Pump{Curve: square(38, 4e-3, 26), Speed: quantity.Ratio(1 - 0.1*float64(i))})
		b.link(mid, out, tube(1, 50, 3)).OneWay = true
	}
	b.link(out, high, tube(120, 66, 6))
	add("two pumps side by side", b.Network, water20)

	b = &builder{}
	low, in, out, high = b.tank(0), b.junction(0, 0), b.junction(0, 0), b.tank(40)
	b.link(low, in, Pump{Curve: square(30, 5e-3, 22), Speed: 1})
	b.link(in, out, Pump{Curve: square(30, 5e-3, 22), Speed: 1.1})
	b.link(out, high, tube(60, 50, 4))
	add("two pumps one after another", b.Network, water20)

	b = &builder{}
	high, low = b.tank(20), b.tank(5)
	j, k := b.junction(0, 5e-4), b.junction(0, 3e-4)
	b.link(high, j, tube(30, 38, 2))
	b.link(low, j, tube(10, 38, 2)).OneWay = true // holds: j is above the low tank
	b.link(j, k, tube(20, 26, 1)).OneWay = true
	add("check valve that holds", b.Network, water20)

	b = &builder{}
	t = b.tank(25)
	j = b.junction(0, 0)
	b.link(t, j, tube(30, 50, 4))
	for i := 0; i < 3; i++ {
		spray := b.junction(float64(i), 0)
		b.link(j, spray, tube(10+5*float64(i), 26, 2))
		air := b.tank(float64(i))
		b.link(spray, air, Emitter{quantity.CubicMetresPerHour(4), quantity.Bar(2)})
	}
	add("three spray devices", b.Network, water20)

	viscous := Fluid{1050, 0.02}
	add("viscous: laminar and between", gridNetwork(5, 5), viscous)
	add("cleaning circuit", plant(1), water20)
	add("cleaning circuit, slow and hot", plant(0.75), water80)
	add("grid of 8 by 7", gridNetwork(8, 7), water20)
	add("grid of 23 by 23", gridNetwork(23, 23), water20)

	r := rand.New(rand.NewPCG(7, 8))
	for i := 0; i < 12; i++ {
		add(fmt.Sprintf("random %d", i), randomNetwork(r, 5+r.IntN(40)), []Fluid{water20, water80, viscous}[i%3])
	}
	return all
}

// engineFriction is the law of the reference engine, from its users' manual:
// 64/Re below 2000, Swamee-Jain above 4000, between them the cubic of Dunlop.
func engineFriction(re, rough float64) (f, slope float64) {
	switch {
	case re <= 2000:
		return 64 / re, -64 / (re * re)
	case re < 4000:
		y2 := rough/3.7 + 5.74/math.Pow(4000, 0.9)
		y3 := -2 / math.Ln10 * math.Log(y2)
		fa := 1 / (y3 * y3)
		fb := fa * (2 - 0.00514214965799093883760/(y2*y3))
		r := re / 2000
		x1, x2, x3, x4 := 7*fa-fb, 0.128-17*fa+2.5*fb, -0.128+13*fa-2*fb, 0.032-3*fa+0.5*fb
		return x1 + r*(x2+r*(x3+r*x4)), (x2 + r*(2*x3+r*3*x4)) / 2000
	}
	f = SwameeJain(re, rough)
	y := rough/3.7 + 5.74/math.Pow(re, 0.9)
	x := math.Log10(y)
	// f = 0.25/x², dx/dRe = (1/ln 10)(-0.9·5.74 Re^-1.9)/y.
	return f, -0.5 / (x * x * x) / math.Ln10 * (-0.9 * 5.74 * math.Pow(re, -1.9)) / y
}
