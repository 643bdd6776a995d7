package flow

import (
	"fmt"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/hydraulic"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// shutOff is the head at no flow over the rated head, and runOut the greatest flow
// over the rated one, of the curve of a pump of which one point alone is told:
// H = shutOff·H0 - (shutOff-1)·H0·(Q/Q0)². Common practice, no source.
const (
	shutOff = 1.2
	runOut  = 1.4
)

// driver is a running pump as the network sees it.
type driver struct {
	pump  *model.Pump
	edge  int
	curve *hydraulic.Curve // at rated speed; nil for positive displacement
	rated float64          // flow at rated speed of positive displacement, m³/s
	speed float64          // over the rated one
	hand  bool             // its speed was set by hand
	found bool             // its speed was found
	order int              // place on the way from the source
	whole bool             // the whole flow of the route passes it
}

func (d *driver) displaces() bool { return d.curve == nil }

// law gives the pump's law at its speed.
func (d *driver) law() hydraulic.Law {
	if d.displaces() {
		return hydraulic.ConstantFlow{Flow: Flow(d.rated * d.speed)}
	}
	return hydraulic.Pump{Curve: d.curve, Speed: Ratio(d.speed)}
}

// gives says whether there is a law that the pump follows.
func (d *driver) gives() bool { return d.curve != nil || d.rated > 0 }

// drives makes a driver of a running pump, or says what is missing.
func (w *work) drives(pump *model.Pump, edge int) (*driver, []network.Missing) {
	kind := w.p.Catalogue.Kind(pump.Kind)
	d := &driver{pump: pump, edge: edge, speed: 1}
	if n, set := w.opt.Speeds[pump.ID]; set && n > 0 {
		d.speed, d.hand = float64(n), true
	}
	var missing []network.Missing
	need := func(key string) { missing = append(missing, network.Missing{Record: pump.ID, Key: key}) }
	q, knownFlow := pump.RatedFlow.Get()
	if kind.Has(catalogue.TraitDisplacement) {
		if !knownFlow {
			need("rated_flow_m3h")
		} else if !(q > 0) {
			w.impossible(pump.ID, "rated flow", q)
		}
		d.rated = float64(q)
		return d, missing
	}
	if d.curve = w.curveOf(pump); d.curve != nil {
		return d, nil
	}
	h, knownHead := pump.RatedHead.Get()
	if !knownFlow {
		need("rated_flow_m3h")
	} else if !(q > 0) {
		w.impossible(pump.ID, "rated flow", q)
	}
	if !knownHead {
		need("rated_head_m")
	} else if !(h > 0) {
		w.impossible(pump.ID, "rated head", h)
	}
	if !(q > 0 && h > 0) {
		return d, missing
	}
	q0, h0 := float64(q), float64(h)
	curve, err := hydraulic.Quadratic(shutOff*h0, 0, -(shutOff-1)*h0/(q0*q0), runOut*q0)
	if err != nil {
		w.fail(model.PlaceOf(pump.ID), "%v", err)
		return d, nil
	}
	d.curve = curve
	w.assume(Assumption{What: "curve of the pump", Value: fmt.Sprintf("through its rated point, %.1f of the rated head at no flow", shutOff), Basis: practice, Record: pump.ID, Key: "curve"})
	return d, nil
}

// curveOf makes the curve of the points that are told, or nil.
func (w *work) curveOf(pump *model.Pump) *hydraulic.Curve {
	var points []hydraulic.Duty
	for _, p := range pump.Curve {
		q, knownFlow := p.Flow.Get()
		h, knownHead := p.Head.Get()
		if knownFlow && knownHead {
			points = append(points, hydraulic.Duty{Flow: float64(q), Head: float64(h)})
		}
	}
	if len(points) < 2 {
		return nil
	}
	if c, err := hydraulic.Through(points); err == nil {
		return c
	}
	c, err := hydraulic.Fit(points)
	if err != nil {
		w.assume(Assumption{What: "points of the curve", Value: "left aside", Basis: "they make no curve that falls with the flow", Record: pump.ID, Key: "curve"})
		return nil
	}
	w.assume(Assumption{What: "curve of the pump", Value: "three terms fitted to its points", Basis: "the head of the points rises with the flow somewhere", Record: pump.ID, Key: "curve"})
	return c
}

// speedFor gives the speed, over that of the curve, at which it gives a head (m) at
// a flow (m³/s), by the affinity laws; not ok if no speed from 0.01 to 10 does.
func speedFor(c *hydraulic.Curve, flow, head float64) (speed float64, ok bool) {
	off := func(n float64) float64 {
		h, _ := c.At(flow / n)
		return n*n*h - head
	}
	low, high := 0.01, 10.0
	if off(low) > 0 || off(high) < 0 {
		return 0, false
	}
	for range 100 {
		mid := (low + high) / 2
		if mid == low || mid == high {
			break
		}
		if off(mid) < 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2, true
}
