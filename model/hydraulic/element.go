package hydraulic

import "math"

type form uint8

const (
	formPipe form = iota
	formSquare
	formPump
	formFunction
	formFlow // constant flow
	formShut
)

// element is a link made ready for one solve.
type element struct {
	form     form
	oneWay   bool
	held     bool // a one-way link that holds against pressure
	from, to int32
	high     int32 // unknown of the From node, -1 when fixed
	low      int32 // unknown of the To node, -1 when fixed
	edge     int32 // in the matrix; -1 when an end is fixed

	linear    float64   // pipe, laminar: m/(m³/s)
	friction  float64   // pipe, turbulent, times the factor: m/(m³/s)²
	square    float64   // m/(m³/s)²
	reynolds  float64   // of 1 m³/s
	roughness float64   // relative
	turbulent colebrook // of the last flow, a start for the next
	upper     float64   // factor at the end of the blend, and Re times its slope there
	upperRise float64
	law       FrictionLaw
	gain      float64
	start     float64 // flow to begin with
	speed     float64
	curve     *Curve
	function  Function

	flow, drop, conductance float64
	off                     float64 // head difference less drop
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
	if re <= LaminarLimit && e.law == nil {
		return (e.linear + e.square*a) * q, e.linear + 2*e.square*a
	}
	var f, rise float64 // the factor, and Re times its slope
	switch {
	case e.law != nil && re == 0:
		return 0, e.linear
	case e.law != nil:
		f, rise = e.law(re, e.roughness)
		rise *= re
	case re < TurbulentLimit:
		if e.upper == 0 {
			e.upper, e.upperRise = new(colebrook).at(TurbulentLimit, e.roughness)
		}
		f, rise = blend(re, e.upper, e.upperRise/TurbulentLimit)
		rise *= re
	default:
		f, rise = e.turbulent.at(re, e.roughness)
	}
	k := e.friction*f + e.square
	return k * a * q, (2*k + e.friction*rise) * a
}
