package flow

import (
	"math"

	"rinsewright/model/hydraulic"
)

// tee is a tee of which three legs may flow. Its losses depend on how the flow
// divides, and can be gains.
type tee struct {
	legs [3]leg // the two of the run, then the branch
}

type leg struct {
	link   int
	away   bool // the link begins at the tee
	branch bool
	bore   float64 // m
}

func newTee(legs []leg) (tee, bool) {
	var t tee
	run := 0
	for _, l := range legs {
		switch {
		case l.bore == 0:
			return t, false
		case l.branch:
			t.legs[2] = l
		case run < 2:
			t.legs[run] = l
			run++
		}
	}
	return t, run == 2 && t.legs[2].bore > 0
}

// fades is the share of the whole flow below which the loss of a leg fades out, so
// that it does not jump when the flow turns round.
const fades = 0.02

// losses gives the head in m that each leg loses, for the flows of its legs in m³/s
// into the tee. After Crane TP-410 where the whole flow is in the run; where it is in
// the branch, or the branch is wider than the run, after Hooper for each leg.
func (t *tee) losses(in [3]float64, f hydraulic.Fluid) [3]float64 {
	var out [3]float64
	whole := 0
	for i := range in {
		if math.Abs(in[i]) > math.Abs(in[whole]) {
			whole = i
		}
	}
	q := math.Abs(in[whole])
	if q == 0 {
		return out
	}
	run, branch := t.legs[0].bore, t.legs[2].bore
	law := hydraulic.Tee{Run: run, Branch: branch, Angle: 90}
	share := math.Min(1, math.Abs(in[2])/q)
	head := velocityHead(run) * q * q
	var k hydraulic.TeeLoss
	var err error
	switch {
	case whole == 2 || branch > run:
		for i := range t.legs {
			if i == whole {
				continue
			}
			fitting := hydraulic.TeeBranch
			if whole != 2 && i != 2 {
				fitting = hydraulic.TeeRun
			}
			d, a := t.legs[i].bore, math.Abs(in[i])
			re := max(4*a/(math.Pi*d*f.Kinematic()), leastReynolds)
			kh, _ := hydraulic.Hooper(fitting, d, re)
			out[i] = kh * velocityHead(d) * a * a
		}
		return out
	case in[whole] > 0:
		k, err = law.Dividing(share)
	default:
		k, err = law.Joining(share)
	}
	if err != nil {
		return out
	}
	other := 1 - whole
	out[other] = k.Run * head * min(1, math.Abs(in[other])/(fades*q))
	out[2] = k.Branch * head * min(1, math.Abs(in[2])/(fades*q))
	return out
}
