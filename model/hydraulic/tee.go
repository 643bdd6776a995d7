package hydraulic

import (
	"fmt"
	"math"
)

// Tee is a branch that leaves or joins a run at an angle.
type Tee struct {
	Run    float64 // bore of the run, m
	Branch float64 // bore of the branch, m; not above that of the run
	Angle  float64 // between branch and run, degrees: 30 to 90
}

// TeeLoss holds the loss coefficients of the two ways of a tee. Both are on the
// velocity head of the whole flow in the run. A coefficient may be below zero: the
// faster stream drags the other along. It is physical and must not be clamped.
type TeeLoss struct{ Run, Branch float64 }

// Joining gives the losses where the branch joins the run, for the share of the
// whole flow that comes from the branch, 0 to 1 (Crane TP-410, 2009 and later,
// formulae 2-37 and 2-38; between the angles of its table the constant is
// interpolated, the tee of 90° has its own law from 75° on). The error says what
// lies outside the range.
func (t Tee) Joining(share float64) (TeeLoss, error) {
	if err := t.check(share); err != nil {
		return TeeLoss{}, err
	}
	b := t.areaRatio()
	c := 0.55
	switch {
	case b <= 0.35:
		c = 1
	case share <= 0.4:
		c = 0.9 * (1 - share)
	}
	f := interpolate(t.Angle, []float64{30, 45, 60, 90}, []float64{1.74, 1.41, 1, 0})
	loss := TeeLoss{Branch: c * (1 + share/b*share/b - 2*(1-share)*(1-share) - f/b*share*share)}
	if t.Angle < 75 {
		f = interpolate(t.Angle, []float64{30, 45, 60}, []float64{1.74, 1.41, 1})
		loss.Run = 1 - (1-share)*(1-share) - f/b*share*share
	} else {
		loss.Run = 1.55*share - share*share
	}
	return loss, nil
}

// Dividing gives the losses where the branch leaves the run, for the share of the
// whole flow that goes into the branch, 0 to 1 (Crane TP-410, 2009 and later,
// formulae 2-35 and 2-36).
func (t Tee) Dividing(share float64) (TeeLoss, error) {
	if err := t.check(share); err != nil {
		return TeeLoss{}, err
	}
	b, beta := t.areaRatio(), t.Branch/t.Run
	var g float64
	switch {
	case t.Angle >= 75 && beta <= 2.0/3:
		g = 1
	case t.Angle >= 75:
		g = 1 + 0.3*share*share
	case b <= 0.35 && share <= 0.4:
		g = 1.1 - 0.7*share
	case b <= 0.35:
		g = 0.85
	case share <= 0.6:
		g = 1 - 0.6*share
	default:
		g = 0.6
	}
	h, j := 1.0, 2.0
	if t.Angle >= 75 && beta > 2.0/3 {
		h, j = 0.3, 0
	}
	s := share / b
	loss := TeeLoss{Branch: g * (1 + h*s*s - j*s*math.Cos(t.Angle*math.Pi/180))}
	m := 0.4
	switch {
	case b <= 0.4:
	case share <= 0.5:
		m = 2 * (2*share - 1)
	default:
		m = 0.3 * (2*share - 1)
	}
	loss.Run = m * share * share
	return loss, nil
}

func (t Tee) areaRatio() float64 { return t.Branch / t.Run * t.Branch / t.Run }

func (t Tee) check(share float64) error {
	switch {
	case !(t.Branch > 0) || !(t.Run >= t.Branch) || math.IsInf(t.Run, 0):
		return fmt.Errorf("hydraulic: tee of %v m with a branch of %v m: the branch must be above zero and not above the run", t.Run, t.Branch)
	case !(t.Angle >= 30 && t.Angle <= 90):
		return fmt.Errorf("hydraulic: tee at %v degrees: the law holds from 30 to 90", t.Angle)
	case !(share >= 0 && share <= 1):
		return fmt.Errorf("hydraulic: a share of %v in the branch of a tee: it lies from 0 to 1", share)
	}
	return nil
}

// interpolate reads a table by straight lines; at must lie within.
func interpolate(at float64, x, y []float64) float64 {
	for i := 1; i < len(x); i++ {
		if at <= x[i] {
			return y[i-1] + (y[i]-y[i-1])*(at-x[i-1])/(x[i]-x[i-1])
		}
	}
	return y[len(y)-1]
}
