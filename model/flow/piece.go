package flow

import (
	"math"

	"rinsewright/model/hydraulic"
	"rinsewright/model/network"
)

// piece is the resistance of one edge of the plant, but for running pumps and the
// losses of tees in which three legs flow.
type piece struct {
	edge    int
	length  float64 // m
	bore    float64 // m; 0 without one
	fixed   float64 // loss whatever the flow, m/(m³/s)²
	fitting hydraulic.Fitting
	count   float64 // of the fitting
	on      float64 // bore that the fitting is in, m
	power   power
	cone    cone
	oneWay  bool // passes from the edge's From to its To only
	exit    float64
	spray   bool
	pump    bool // a running pump, with a link of its own
	missing []network.Missing
	broken  bool // a told number cannot be; the failure stands in the solution
}

// power is a pressure drop told at one flow that grows with a power of the flow.
type power struct{ head, flow, exponent float64 }

// cone is a reducer: its loss depends on the way of the flow.
type cone struct {
	narrowing, widening float64 // m/(m³/s)²
	fromLarge           bool    // the edge's From is the large end
}

// velocityHead gives v²/2g in m at 1 m³/s in a bore.
func velocityHead(bore float64) float64 {
	return 8 / (math.Pi * math.Pi * hydraulic.StandardGravity * bore * bore * bore * bore)
}

// loss gives the loss of the piece, but for friction along its length, in m at
// 1 m³/s, as it is at a flow in m³/s counted along the edge.
func (p *piece) loss(flow float64, f hydraulic.Fluid) float64 {
	sum := p.fixed
	a := math.Abs(flow)
	if p.count > 0 {
		re := max(4*a/(math.Pi*p.on*f.Kinematic()), leastReynolds)
		if k, err := hydraulic.Hooper(p.fitting, p.on, re); err == nil {
			sum += p.count * k * velocityHead(p.on)
		}
	}
	if p.power.head > 0 {
		q := max(a, leastShare*p.power.flow)
		sum += p.power.head / (p.power.flow * p.power.flow) * math.Pow(q/p.power.flow, p.power.exponent-2)
	}
	if (flow >= 0) == p.cone.fromLarge {
		return sum + p.cone.narrowing
	}
	return sum + p.cone.widening
}

const (
	leastReynolds = 10.0 // keeps K1/Re finite where nothing flows
	leastShare    = 1e-3 // of a rated flow, below which a power law goes on as a square
)

// drop gives the head in m that the piece loses at a flow along its edge.
func (p *piece) drop(flow, roughness float64, f hydraulic.Fluid) float64 {
	h := p.loss(flow, f) * flow * math.Abs(flow)
	if p.length > 0 && p.bore > 0 && flow != 0 {
		re := 4 * math.Abs(flow) / (math.Pi * p.bore * f.Kinematic())
		factor, _ := hydraulic.Moody(re, roughness/p.bore)
		h += factor * p.length / p.bore * velocityHead(p.bore) * flow * math.Abs(flow)
	}
	return h
}
