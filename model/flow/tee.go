package flow

import (
	"math"

	"rinsewright/model/hydraulic"
)

// tee is a tee of which three legs may flow. Its losses depend on how the flow
// divides, and can be gains.
type tee struct {
	node   int
	legs   [3]leg // the two of the run, then the branch
	simple bool   // each leg loses after Hooper on its own flow, whatever the others do
}

type leg struct {
	link   int
	away   bool // the link begins at the tee
	branch bool
	bore   float64 // m
}

func newTee(node int, legs []leg) (tee, bool) {
	t := tee{node: node}
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

// along gives the flow along a leg's link for the flow into the tee, and on which side
// of the link the tee is.
func (l leg) along(in float64) (flow float64, side int) {
	if l.away {
		return -in, 0
	}
	return in, 1
}

// greatest gives the whole flow of a tee.
func (t *tee) greatest(in [3]float64) float64 {
	return max(math.Abs(in[0]), math.Abs(in[1]), math.Abs(in[2]))
}

// slopes gives how the loss of each leg grows with its own flow, m/(m³/s), while the
// leg with the whole flow takes up the difference.
func (t *tee) slopes(in [3]float64, f hydraulic.Fluid) [3]float64 {
	var out [3]float64
	q := t.greatest(in)
	if q == 0 {
		return out
	}
	if t.simple {
		for i, lost := range t.losses(in, f) {
			if in[i] != 0 {
				out[i] = 2 * lost / math.Abs(in[i])
			}
		}
		return out
	}
	whole := 0
	for i := range in {
		if math.Abs(in[i]) > math.Abs(in[whole]) {
			whole = i
		}
	}
	by := 1e-4 * q
	for i := range in {
		if i == whole {
			continue
		}
		more, less := in, in
		d := math.Copysign(by, in[i])
		more[i] += d
		more[whole] -= d
		less[i] -= d
		less[whole] += d
		out[i] = (t.losses(more, f)[i] - t.losses(less, f)[i]) / (2 * by)
	}
	return out
}

// fades is the share of the whole flow below which the loss of a leg fades out, so
// that it does not jump when the flow turns round.
const fades = 0.02

// losses gives the head in m that each leg loses, for the flows of its legs in m³/s
// into the tee. After Crane TP-410 where the whole flow is in the run; where it is in
// the branch, or the branch is wider than the run, after Hooper for each leg.
func (t *tee) losses(in [3]float64, f hydraulic.Fluid) [3]float64 {
	var out [3]float64
	if t.simple {
		for i := range t.legs {
			out[i] = t.hooper(i, i == 2, in[i], f)
		}
		return out
	}
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
			if i != whole {
				out[i] = t.hooper(i, whole == 2 || i == 2, in[i], f)
			}
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

// hooper gives the loss of a leg on its own flow: round the corner or straight on.
func (t *tee) hooper(i int, corner bool, in float64, f hydraulic.Fluid) float64 {
	fitting := hydraulic.TeeRun
	if corner {
		fitting = hydraulic.TeeBranch
	}
	d, a := t.legs[i].bore, math.Abs(in)
	k, _ := hydraulic.Hooper(fitting, d, max(4*a/(math.Pi*d*f.Kinematic()), leastReynolds))
	return k * velocityHead(d) * a * a
}
