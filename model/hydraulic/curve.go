package hydraulic

import (
	"fmt"
	"math"
	"slices"
)

// Curve is the head of a pump against its flow at one speed. It falls with the
// flow and has a continuous slope. Make one with [Through], [Fit] or [Quadratic].
type Curve struct {
	pieces      []piece // by rising flow
	back        float64 // slope before the first piece
	first, last float64 // flows that the curve was told between, m³/s
}

// piece holds from its flow on: head = c0 + t(c1 + t(c2 + t·c3)), t from its flow.
type piece struct {
	flow float64
	c    [4]float64
}

// Duty is one point of a pump's curve: flow in m³/s, head in m.
type Duty struct{ Flow, Head float64 }

// At gives the head (m) and its slope (m/(m³/s)) at a flow (m³/s). Outside the
// flows that the curve was told for it goes on: a fitted one by its formula, one
// through points by a straight line. Whether it does is told by [Curve.Outside].
func (c *Curve) At(flow float64) (head, slope float64) {
	if flow < c.pieces[0].flow {
		return c.pieces[0].c[0] + c.back*(flow-c.pieces[0].flow), c.back
	}
	i := len(c.pieces) - 1
	for i > 0 && flow < c.pieces[i].flow {
		i--
	}
	p := &c.pieces[i]
	t := flow - p.flow
	return p.c[0] + t*(p.c[1]+t*(p.c[2]+t*p.c[3])), p.c[1] + t*(2*p.c[2]+t*3*p.c[3])
}

// First and Last give the flows (m³/s) between which the curve was told.
func (c *Curve) First() float64 { return c.first }
func (c *Curve) Last() float64  { return c.last }

// Outside says that a flow (m³/s) lies beyond the curve. The shut-off side counts
// only when the curve does not begin at zero flow.
func (c *Curve) Outside(flow float64) bool {
	return flow > c.last*(1+1e-9) || flow < c.first*(1-1e-9)
}

// Quadratic makes the three-term curve H = a + bQ + cQ² (m, m³/s), told up to the
// flow last. The head must not rise anywhere from 0 to last: b and c zero or below
// and not both zero. Below zero flow the head rises in a straight line.
func Quadratic(a, b, c, last float64) (*Curve, error) {
	if !finite(a) || !finite(b) || !finite(c) {
		return nil, fmt.Errorf("hydraulic: pump curve of %v, %v, %v: the numbers must be finite", a, b, c)
	}
	if !within(last, 0, greatestFlow) || last == 0 {
		return nil, fmt.Errorf("hydraulic: pump curve up to %v m³/s: its greatest flow must lie above 0 and up to %g", last, float64(greatestFlow))
	}
	if b > 0 || c > 0 || b == 0 && c == 0 {
		return nil, fmt.Errorf("hydraulic: pump curve of %v m, %v, %v: the head must fall with the flow", a, b, c)
	}
	if !(a > 0) || a > greatestHead {
		return nil, fmt.Errorf("hydraulic: pump curve with a shut-off head of %v m: it must lie above 0 and up to %g", a, float64(greatestHead))
	}
	// Back through a pump that lets flow back: at least as steep as on average.
	return &Curve{pieces: []piece{{0, [4]float64{a, b, c}}}, back: min(b, b+c*last), last: last}, nil
}

// Fit makes the three-term curve that fits two or more points best (least
// squares). Where the best fit would rise with the flow, the linear term is left
// out. The error says what of the points cannot be.
func Fit(points []Duty) (*Curve, error) {
	points, err := sorted(points)
	if err != nil {
		return nil, err
	}
	last := points[len(points)-1].Flow
	var a, b, c float64
	if len(points) > 2 {
		a, b, c = leastSquares(points, last, true)
	}
	if len(points) == 2 || b > 0 || c > 0 {
		a, _, c = leastSquares(points, last, false)
		b = 0
	}
	return Quadratic(a, b, c, last)
}

// leastSquares fits H = a + bQ + cQ², or without b, by the normal equations in
// Q over the last flow, which keeps them well conditioned.
func leastSquares(points []Duty, last float64, linear bool) (a, b, c float64) {
	var m [3][4]float64
	for _, p := range points {
		x := p.Flow / last
		row := [3]float64{1, x * x, x}
		for i := range row {
			for j := range row {
				m[i][j] += row[i] * row[j]
			}
			m[i][3] += row[i] * p.Head
		}
	}
	n := 2
	if linear {
		n = 3
	}
	for k := 0; k < n; k++ {
		for i := k + 1; i < n; i++ {
			r := m[i][k] / m[k][k]
			for j := k; j < 4; j++ {
				m[i][j] -= r * m[k][j]
			}
		}
	}
	var x [3]float64
	for k := n - 1; k >= 0; k-- {
		x[k] = m[k][3]
		for j := k + 1; j < n; j++ {
			x[k] -= m[k][j] * x[j]
		}
		x[k] /= m[k][k]
	}
	return x[0], x[2] / last, x[1] / (last * last)
}

// Through makes the curve through two or more points whose heads fall as the flow
// rises: cubics that do not overshoot (F. N. Fritsch, J. Butland, SIAM J. Sci.
// Stat. Comput. 5 (1984) 300). The error names a point that rises; [Fit] may then
// serve.
func Through(points []Duty) (*Curve, error) {
	points, err := sorted(points)
	if err != nil {
		return nil, err
	}
	n := len(points)
	step, secant := make([]float64, n-1), make([]float64, n-1)
	for i := range step {
		step[i] = points[i+1].Flow - points[i].Flow
		secant[i] = (points[i+1].Head - points[i].Head) / step[i]
		if secant[i] >= 0 {
			return nil, fmt.Errorf("hydraulic: pump curve: the head must fall with the flow, and from %.4g to %.4g m³/h it does not",
				points[i].Flow*3600, points[i+1].Flow*3600)
		}
	}
	slope := make([]float64, n)
	for i := 1; i < n-1; i++ { // weighted harmonic mean of the secants beside
		w := (step[i-1] + 2*step[i]) / (3 * (step[i-1] + step[i]))
		slope[i] = secant[i-1] * secant[i] / (w*secant[i] + (1-w)*secant[i-1])
	}
	slope[0], slope[n-1] = secant[0], secant[n-2]
	if n > 2 {
		slope[0] = end(secant[0], secant[1], step[0], step[1])
		slope[n-1] = end(secant[n-2], secant[n-3], step[n-2], step[n-3])
	}
	c := &Curve{first: points[0].Flow, last: points[n-1].Flow, back: slope[0]}
	for i, h := range step {
		c.pieces = append(c.pieces, piece{points[i].Flow, [4]float64{
			points[i].Head, slope[i],
			(3*secant[i] - 2*slope[i] - slope[i+1]) / h,
			(slope[i] + slope[i+1] - 2*secant[i]) / (h * h),
		}})
	}
	c.pieces = append(c.pieces, piece{c.last, [4]float64{points[n-1].Head, slope[n-1]}})
	return c, nil
}

// end gives the slope at an end from the secants next to it (three-point formula),
// kept falling and not steeper than a monotone cubic allows.
func end(near, far, nearStep, farStep float64) float64 {
	s := ((2*nearStep+farStep)*near - nearStep*far) / (nearStep + farStep)
	return max(min(s, 0.05*near), 3*near)
}

// sorted gives the points by rising flow, or says what of them cannot be.
func sorted(points []Duty) ([]Duty, error) {
	if len(points) < 2 {
		return nil, fmt.Errorf("hydraulic: a pump curve needs two points or more, not %d", len(points))
	}
	points = slices.Clone(points)
	for _, p := range points {
		if !within(p.Flow, 0, greatestFlow) || !within(p.Head, -greatestHead, greatestHead) {
			return nil, fmt.Errorf("hydraulic: pump curve: point of %v m³/s and %v m", p.Flow, p.Head)
		}
	}
	slices.SortFunc(points, func(a, b Duty) int {
		switch {
		case a.Flow < b.Flow:
			return -1
		case a.Flow > b.Flow:
			return 1
		}
		return 0
	})
	for i := 1; i < len(points); i++ {
		if points[i].Flow-points[i-1].Flow <= 1e-9*math.Abs(points[len(points)-1].Flow) {
			return nil, fmt.Errorf("hydraulic: pump curve: two heads at %.4g m³/h", points[i].Flow*3600)
		}
	}
	return points, nil
}
