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

// builder makes networks for the tests by short words.
type builder struct{ Network }

func (b *builder) node(n Node) int {
	n.Name = fmt.Sprintf("n%d", len(b.Nodes))
	b.Nodes = append(b.Nodes, n)
	return len(b.Nodes) - 1
}

func (b *builder) tank(level float64) int { return b.node(tank(level)) }

func (b *builder) junction(elevation, demand float64) int {
	return b.node(Node{Elevation: metres(elevation), Demand: quantity.Flow(demand)})
}

func (b *builder) link(from, to int, law Law) *Link {
	b.Links = append(b.Links, Link{Name: fmt.Sprintf("l%d", len(b.Links)), From: from, To: to, Law: law})
	return &b.Links[len(b.Links)-1]
}

// tube is a hygienic tube: length m, bore mm, ΣK.
func tube(length, bore, loss float64) Pipe {
	return Pipe{metres(length), quantity.Millimetres(bore), 1.5e-6, quantity.Ratio(loss)}
}

// square is the curve H = a - c Q², c from a duty point.
func square(a, flow, head float64) *Curve {
	c, err := Quadratic(a, 0, (head-a)/(flow*flow), 2*flow)
	if err != nil {
		panic(err)
	}
	return c
}

// gridNetwork is a grid of n×m junctions fed at one corner, with tubes of four
// bores and demands that all differ. One link in the middle is a valve.
func gridNetwork(n, m int) Network {
	b := &builder{}
	for x := 0; x < n; x++ {
		for y := 0; y < m; y++ {
			b.junction(float64((x*3+y*7)%10), float64((x*5+y*11)%7)*2e-5)
		}
	}
	bores := []float64{50, 66, 81, 100}
	for x := 0; x < n; x++ {
		for y := 0; y < m; y++ {
			length, bore := float64(50+(x*13+y*29)%100), bores[(x+y*3)%4]
			if x+1 < n {
				b.link(x*m+y, (x+1)*m+y, tube(length, bore, 0))
			}
			if y+1 < m {
				b.link(x*m+y, x*m+y+1, tube(length+7, bore, 0))
			}
		}
	}
	b.link(b.tank(100), 0, tube(10, 300, 0))
	link, open, _ := gridValve(b.Network)
	b.Links[link].Law = open
	return b.Network
}

// gridValve is the valve of a gridNetwork, with two settings.
func gridValve(n Network) (link int, open, throttled Valve) {
	return len(n.Links) / 2, Valve{80.0 / 3600}, Valve{8.0 / 3600}
}

// plant is a cleaning circuit: tank, supply pump, two branches with valves and a
// spray device, a return pump with a check valve, back to the tank.
func plant(speed float64) Network {
	b := &builder{}
	t := b.tank(1.2)
	suction, delivery, fork := b.junction(0.3, 0), b.junction(0.5, 0), b.junction(3, 0)
	b.link(t, suction, tube(3, 66, 1.5))
	b.link(suction, delivery, Pump{Curve: square(42, 18.0/3600, 33), Speed: quantity.Ratio(speed)})
	b.link(delivery, fork, tube(35, 50, 6))
	left, right, join := b.junction(3, 0), b.junction(4, 0), b.junction(0.4, 0)
	b.link(fork, left, Valve{30.0 / 3600})
	b.link(fork, right, Valve{22.0 / 3600})
	b.link(left, join, tube(40, 50, 8))
	b.link(right, join, tube(25, 38, 10))
	out := b.junction(0.6, 0)
	b.link(join, out, Pump{Curve: square(16, 20.0/3600, 12), Speed: 1})
	back := b.junction(2, 0)
	b.link(out, back, tube(30, 66, 4)).OneWay = true
	b.link(back, t, tube(2, 66, 1))
	return b.Network
}

// randomNetwork is a connected network of tubes with some tanks, pumps, check
// valves and valves, and demands.
func randomNetwork(r *rand.Rand, nodes int) Network {
	b := &builder{}
	for i := 0; i < nodes; i++ {
		if i == 0 || r.IntN(12) == 0 {
			b.tank(20 + 30*r.Float64())
		} else {
			b.junction(10*r.Float64(), 4e-4*r.Float64())
		}
	}
	bores := []float64{26, 38, 50, 66, 81}
	pipe := func() Pipe { return tube(5+100*r.Float64(), bores[r.IntN(len(bores))], 5*r.Float64()) }
	for i := 1; i < nodes; i++ {
		b.link(i, r.IntN(i), pipe())
	}
	for extra := nodes / 2; extra > 0; extra-- {
		from, to := r.IntN(nodes), r.IntN(nodes)
		if from == to {
			continue
		}
		switch r.IntN(5) {
		case 0:
			b.link(from, to, Pump{Curve: square(10+30*r.Float64(), 3e-3, 8), Speed: quantity.Ratio(0.7 + 0.5*r.Float64())})
		case 1:
			b.link(from, to, pipe()).OneWay = true
		case 2:
			b.link(from, to, Valve{quantity.ValveFlow((5 + 40*r.Float64()) / 3600)})
		case 3:
			b.link(from, to, pipe()).Shut = true
		default:
			b.link(from, to, pipe())
		}
	}
	return b.Network
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
