package hydraulic

import (
	"fmt"
	"math"

	"rinsewright/model/quantity"
)

// Law says how the head falls along a link with the flow. The laws are [Pipe],
// [Loss], [Valve], [Emitter], [Pump], [ConstantFlow] and [Function].
type Law interface {
	// check says in words what of the law cannot be.
	check() error
	// bind prepares the law for one fluid.
	bind(c *conditions, e *element)
}

// conditions are what is the same in the whole network.
type conditions struct {
	density, kinematic, gravity float64
	friction                    FrictionLaw // nil for Moody, which is built in
}

// Pipe is a round tube run full, with fittings: h = (f L/D + ΣK) v²/2g.
type Pipe struct {
	Length    quantity.Length // 0 or more
	Bore      quantity.Bore
	Roughness quantity.Length // height of the wall's roughness, up to 0.05 of the bore
	Loss      quantity.Ratio  // ΣK of its fittings, 0 or more
}

func (p Pipe) check() error {
	switch {
	case !within(float64(p.Bore), leastBore, greatestBore):
		return fmt.Errorf("bore %v m: it must lie between %g and %g", float64(p.Bore), leastBore, float64(greatestBore))
	case !within(float64(p.Length), 0, greatestRun):
		return fmt.Errorf("length %v m: it must lie between 0 and %g", float64(p.Length), greatestRun)
	case !within(float64(p.Loss), 0, greatestLossK):
		return fmt.Errorf("loss coefficient %v: it must lie between 0 and %g", float64(p.Loss), greatestLossK)
	}
	return checkRoughness(float64(p.Roughness) / float64(p.Bore))
}

func (p Pipe) bind(c *conditions, e *element) {
	d, l := float64(p.Bore), float64(p.Length)
	area := math.Pi / 4 * d * d
	velocityHead := 1 / (2 * c.gravity * area * area) // of 1 m³/s
	e.form = formPipe
	e.square = float64(p.Loss) * velocityHead
	e.friction = velocityHead * l / d
	e.perFlow = math.Pi / 4 * d * c.kinematic
	e.reynolds = 1 / e.perFlow
	e.linear = 64 * e.perFlow * e.friction // f = 64/Re
	e.roughness = float64(p.Roughness) / d
	e.start = 0.3 * area // 0.3 m/s
	if l == 0 {
		e.form = formSquare
		e.square = max(e.square, leastLoss)
	}
}

// Loss is a fixed loss coefficient on the velocity head in a bore: h = K v²/2g.
type Loss struct {
	K    quantity.Ratio // 0 or more
	Bore quantity.Bore
}

func (l Loss) check() error { return Pipe{Bore: l.Bore, Loss: l.K}.check() }

func (l Loss) bind(c *conditions, e *element) { Pipe{Bore: l.Bore, Loss: l.K}.bind(c, e) }

// Valve is a resistance told by its Kv: the flow of water of 1000 kg/m³ that loses
// 1 bar. A Kv of zero lets nothing pass. The Kv at an opening is given by
// [Characteristic].
type Valve struct{ Kv quantity.ValveFlow }

func (v Valve) check() error {
	if v.Kv != 0 && !within(float64(v.Kv), leastKv, greatestFlow) {
		return fmt.Errorf("Kv %v m³/h: it must be 0, or lie between %g and %g", float64(v.Kv)*3600, leastKv*3600, greatestFlow*3600.0)
	}
	return nil
}

func (v Valve) bind(c *conditions, e *element) {
	if v.Kv == 0 {
		e.form = formShut
		return
	}
	kv := float64(v.Kv)
	// Δp = 1 bar · (ρ/1000) (Q/Kv)²; h = Δp/ρg does not depend on the density.
	e.form = formSquare
	e.square = max(1e5/(kvDensity*c.gravity*kv*kv), leastLoss)
	e.start = 0.3 * kv // about 0.1 bar
}

// Emitter is an orifice or spray device: it passes Flow of water of 1000 kg/m³ at
// the pressure difference At, and Q = k √Δp otherwise. Its To node is the fixed
// pressure it sprays into.
type Emitter struct {
	Flow quantity.Flow
	At   quantity.Pressure
}

func (m Emitter) kv() Valve {
	return Valve{quantity.ValveFlow(float64(m.Flow) * math.Sqrt(1e5/float64(m.At)))}
}

func (m Emitter) check() error {
	if !(m.Flow > 0) || !(m.At > 0) || m.kv().check() != nil {
		return fmt.Errorf("passes %v m³/s at %v Pa: both must be above zero", float64(m.Flow), float64(m.At))
	}
	return nil
}

func (m Emitter) bind(c *conditions, e *element) { m.kv().bind(c, e) }

// Pump lifts the head by its curve, taken to a speed by the affinity laws: flow in
// proportion to the speed, head to its square. It lets nothing flow back unless
// Reverse is set. At a speed of zero it is shut.
type Pump struct {
	Curve   *Curve
	Speed   quantity.Ratio // of the speed of the curve, 0 to 10
	Reverse bool
}

func (p Pump) check() error {
	if p.Curve == nil || len(p.Curve.pieces) == 0 {
		return fmt.Errorf("pump without a curve")
	}
	if p.Speed != 0 && !within(float64(p.Speed), 1e-3, 10) {
		return fmt.Errorf("pump at %v of the speed of its curve: it must be 0, or lie between 0.001 and 10", float64(p.Speed))
	}
	return nil
}

func (p Pump) bind(_ *conditions, e *element) {
	if p.Speed == 0 {
		e.form = formShut
		return
	}
	e.form = formPump
	e.curve = p.Curve
	e.speed = float64(p.Speed)
	e.oneWay = e.oneWay || !p.Reverse
	e.start = 0.5 * p.Curve.Last() * e.speed
	if !(e.start > 0) {
		e.start = 1e-3
	}
}

// ConstantFlow is a flow that something outside keeps: a metering pump, a
// positive-displacement pump, a flow controller. The head it needs is a result.
type ConstantFlow struct{ Flow quantity.Flow }

func (c ConstantFlow) check() error {
	if !within(float64(c.Flow), -greatestFlow, greatestFlow) {
		return fmt.Errorf("flow %v m³/s", float64(c.Flow))
	}
	return nil
}

func (c ConstantFlow) bind(_ *conditions, e *element) {
	e.form = formFlow
	e.start = float64(c.Flow)
}

// Function is a law of one's own: the fall of the head, m, at a flow, m³/s, and
// its derivative. The fall must rise with the flow over all flows, smoothly.
type Function func(flow float64) (drop, slope float64)

func (f Function) check() error {
	if f == nil {
		return fmt.Errorf("law without a function")
	}
	before := math.Inf(-1)
	for _, q := range []float64{-1, -1e-2, -1e-4, 0, 1e-4, 1e-2, 1} {
		h, s := f(q)
		if !finite(h) || !finite(s) || s < 0 || h < before {
			return fmt.Errorf("head loss %v m, slope %v at %v m³/s: it must be finite and rise with the flow", h, s, q)
		}
		before = h
	}
	return nil
}

func (f Function) bind(_ *conditions, e *element) {
	e.form = formFunction
	e.function = f
	e.start = 1e-3
}
