package hydraulic

import "math"

type form uint8

const (
	formPipe form = iota
	formSquare
	formLaw // pipe with a friction law of one's own
	formPump
	formFunction
	formFlow // constant flow
	formShut
)

// element is a link made ready for one solve. It holds what every step of a solve
// touches, in two lines of the cache; the rest lies elsewhere.
type element struct {
	form     form
	oneWay   bool
	held     bool // a one-way link that holds against pressure
	known    bool // drop and conductance are those of the flow already
	placed   bool // turbulent is the point of the flow
	from, to int32
	edge     int32 // in the matrix; -1 when an end is fixed

	flow, drop, conductance float64
	off                     float64 // head difference less drop
	gain                    float64

	// Of a pipe. Elsewhere reynolds is zero.
	reynolds  float64 // of 1 m³/s
	perFlow   float64 // flow of Reynolds number 1
	roughness float64 // relative
	friction  float64 // turbulent, times the factor: m/(m³/s)²
	square    float64 // m/(m³/s)²; also of a fixed loss
	turbulent karman  // of the last flow, a start for the next

	*rest
}

// rest is of an element what is needed seldom, or of few.
type rest struct {
	law        FrictionLaw // nil for Moody
	linear     float64     // pipe, laminar: m/(m³/s)
	upper      float64     // factor at the end of the blend and its slope there; 0 when not yet known
	upperSlope float64
	speed      float64
	curve      *Curve
	function   Function
	start      float64 // flow to begin with
	begin      begin
}

// begin is what an element is at the flow to begin with.
type begin struct {
	known             bool // drop and conductance, that is; without a friction law of one's own
	drop, conductance float64
	turbulent         karman
}

const (
	// leakSlope is the resistance, m/(m³/s), of a one-way link against its way, on
	// the way to the solution: 10 m of head pass 1e-6 m³/s, too little to mislead
	// and enough to keep the equations sound.
	leakSlope = 1e7

	// leastSlope bounds the conductance of a link in the equations of a step. It
	// slows a step down where a link hardly resists; the solution is that of the law.
	leastSlope = 1e-4
)

// passes says that flow may adjust itself in the link.
func (e *element) passes() bool { return e.form < formFlow && !e.held }

// place goes to the flow of the element on the law of turbulent flow, where that
// holds; there it may move the flow by up to the width, relative, so that flow and
// drop lie on the law to rounding without iteration.
func (e *element) place(width float64) {
	if re := math.Abs(e.flow) * e.reynolds; e.turbulentAt(re) && !e.known {
		e.turbulent.near(re, e.roughness*roughTerm, width)
		e.flow = math.Copysign(e.turbulent.reynolds()*e.perFlow, e.flow)
		e.placed = true
	}
}

func (e *element) turbulentAt(reynolds float64) bool {
	return reynolds >= TurbulentLimit && e.form == formPipe && !(e.oneWay && e.flow < 0)
}

// weigh finds the drop of the element where it was placed, gain taken off, and its
// conductance.
func (e *element) weigh() {
	if e.known {
		e.known = false
		return
	}
	var slope float64
	if e.placed {
		e.placed = false
		f, rise := e.turbulent.factor()
		e.drop, slope = e.loss(e.flow, f, rise)
		e.drop -= e.gain
	} else {
		e.drop, slope = e.at(e.flow)
	}
	e.conductance = 1 / max(slope, leastSlope)
}

// at gives the fall of the head at a flow and its slope.
func (e *element) at(q float64) (drop, slope float64) {
	if e.oneWay && q < 0 {
		drop, _ = e.along(0)
		return drop - e.gain + leakSlope*q, leakSlope
	}
	drop, slope = e.along(q)
	return drop - e.gain, slope
}

func (e *element) along(q float64) (drop, slope float64) {
	switch e.form {
	case formSquare:
		return e.square * q * math.Abs(q), 2 * e.square * math.Abs(q)
	case formPump:
		h, s := e.curve.At(q / e.speed)
		return -h * e.speed * e.speed, -s * e.speed
	case formFunction:
		return e.function(q)
	}
	a := math.Abs(q)
	re := a * e.reynolds
	switch {
	case e.form == formLaw && re == 0:
		return 0, e.linear
	case e.form == formLaw:
		f, slope := e.law(re, e.roughness)
		return e.loss(q, f, re*slope)
	case re <= LaminarLimit:
		return (e.linear + e.square*a) * q, e.linear + 2*e.square*a
	case re < TurbulentLimit:
		if e.upper == 0 {
			f, rise := turbulent(TurbulentLimit, e.roughness)
			e.upper, e.upperSlope = f, rise/TurbulentLimit
		}
		f, slope := blend(re, e.upper, e.upperSlope)
		return e.loss(q, f, re*slope)
	}
	e.turbulent.near(re, e.roughness*roughTerm, exact)
	f, rise := e.turbulent.factor()
	return e.loss(q, f, rise)
}

// loss gives the fall of the head in a pipe and its slope, for the friction factor
// and Re times its derivative.
func (e *element) loss(q, factor, rise float64) (drop, slope float64) {
	a := math.Abs(q)
	k := e.friction*factor + e.square
	return k * a * q, (2*k + e.friction*rise) * a
}
