package plot

import (
	"math"
	"testing"
)

// Steps are 1, 2 or 5 times a power of ten and the ends hold all values.
func TestNewScale(t *testing.T) {
	tests := []struct {
		axis           Axis
		values         []float64
		from, to, step float64
	}{
		{Axis{}, []float64{0.3, 11.7}, 0, 12, 2},
		{Axis{FromZero: true}, []float64{31, 44}, 0, 50, 10},
		{Axis{}, []float64{-0.02, 0.31}, -0.1, 0.4, 0.1},
		{Axis{}, nil, 0, 1, 0.2},
		{Axis{}, []float64{7, 7}, 6, 8, 0.5},
		{Axis{Least: 0, End: 100}, []float64{40}, 0, 100, 20},
	}
	for _, tt := range tests {
		s := newScale(tt.axis, tt.values)
		for _, c := range [][2]float64{{s.from, tt.from}, {s.to, tt.to}, {s.step, tt.step}} {
			if math.Abs(c[0]-c[1]) > 1e-9 {
				t.Errorf("%v: from %v to %v by %v, want %v to %v by %v", tt.values, s.from, s.to, s.step, tt.from, tt.to, tt.step)
				break
			}
		}
		n := len(s.ticks())
		if n < 3 || n > 11 {
			t.Errorf("%v: %d ticks", tt.values, n)
		}
	}
	if got := (scale{step: 0.05, digits: 2}).text(-1e-12); got != "0.00" {
		t.Errorf("zero is written %q", got)
	}
}

// A tight axis ends with its last value; its ticks stay round and within.
func TestTightScale(t *testing.T) {
	s := newScale(Axis{FromZero: true, Tight: true, End: 81.8}, nil)
	if s.from != 0 || s.to != 81.8 || s.share(81.8) != 1 {
		t.Errorf("from %v to %v", s.from, s.to)
	}
	ticks := s.ticks()
	if len(ticks) != 5 || ticks[4] != 80 {
		t.Errorf("ticks %v", ticks)
	}
	if ticks := newScale(Axis{FromZero: true, Tight: true, End: 80}, nil).ticks(); ticks[len(ticks)-1] != 80 {
		t.Errorf("of a round end, ticks %v", ticks)
	}
}
