package plot

import (
	"math"
	"strconv"
)

// scale maps values of an axis to its length.
type scale struct {
	from, to, step float64
	ends           float64 // the last tick lies less than half a step beyond
	digits         int     // behind the point
}

// newScale chooses round ends and steps for values: one, two or five times a
// power of ten, four to nine of them.
func newScale(a Axis, values []float64) scale {
	low, high := math.Inf(1), math.Inf(-1)
	if a.Least != 0 || a.End != 0 {
		low, high = a.Least, a.End
	}
	for _, v := range values {
		low, high = min(low, v), max(high, v)
	}
	if a.FromZero {
		low, high = min(low, 0), max(high, 0)
	}
	switch {
	case math.IsInf(low, 0): // nothing to show
		low, high = 0, 1
	case high-low < 1e-9*max(math.Abs(low), math.Abs(high), 1e-3):
		pad := max(math.Abs(low)*0.1, 0.5)
		low, high = low-pad, high+pad
	}
	s := scale{step: round125((high - low) / 6)}
	s.from = math.Floor(low/s.step+1e-9) * s.step
	s.to = math.Ceil(high/s.step-1e-9) * s.step
	s.ends = s.to
	if a.Tight {
		s.to, s.ends = high, high-s.step/2 // no tick beyond
	}
	s.digits = max(0, -int(math.Floor(math.Log10(s.step)+1e-9)))
	return s
}

// round125 gives the least of 1, 2 or 5 times a power of ten that is not below x.
func round125(x float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(x)))
	for _, f := range []float64{1, 2, 5} {
		if f*power >= x*(1-1e-9) {
			return f * power
		}
	}
	return 10 * power
}

// share tells where a value lies, 0 to 1.
func (s scale) share(v float64) float64 { return (v - s.from) / (s.to - s.from) }

func (s scale) ticks() []float64 {
	var out []float64
	for i := 0; ; i++ {
		v := s.from + float64(i)*s.step
		if v > s.ends+s.step/2 {
			return out
		}
		out = append(out, v)
	}
}

func (s scale) text(v float64) string {
	if math.Abs(v) < s.step/1e6 {
		v = 0 // no minus sign before zero
	}
	return strconv.FormatFloat(v, 'f', s.digits, 64)
}
