package hydraulic

import (
	"fmt"
	"math/rand/v2"

	"rinsewright/model/quantity"
)

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
