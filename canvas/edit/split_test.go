package edit

import (
	"math"
	"math/rand/v2"
	"testing"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

// tolerance is what sums of lengths in m may differ by from rounding.
const tolerance = 1e-9

func TestSplitStretches(t *testing.T) {
	unknown := model.Stretch{}
	lengthOnly := func(l float64) model.Stretch {
		return model.Stretch{Length: quantity.Some(quantity.Length(l))}
	}
	tests := []struct {
		desc          string
		list          []model.Stretch
		at            float64
		first, second []model.Stretch
	}{
		{"none stay none", nil, 0.3, nil, nil},
		{"a straight fall is shared by length", []model.Stretch{stretch(10, -0.1)}, 0.25,
			[]model.Stretch{stretch(2.5, -0.025)}, []model.Stretch{stretch(7.5, -0.075)}},
		{"the cut is in the second stretch", []model.Stretch{stretch(2, 2), stretch(8, 0)}, 0.5,
			[]model.Stretch{stretch(2, 2), stretch(3, 0)}, []model.Stretch{stretch(5, 0)}},
		{"the cut is where two meet", []model.Stretch{stretch(2, 2), stretch(2, 0)}, 0.5,
			[]model.Stretch{stretch(2, 2)}, []model.Stretch{stretch(2, 0)}},
		{"at the start the first piece is face to face", []model.Stretch{stretch(4, 1)}, 0,
			[]model.Stretch{stretch(0, 0)}, []model.Stretch{stretch(4, 1)}},
		{"at the end the second is", []model.Stretch{stretch(4, 1)}, 1,
			[]model.Stretch{stretch(4, 1)}, []model.Stretch{stretch(0, 0)}},
		{"face to face stays so on both sides", []model.Stretch{stretch(0, 0)}, 0.5,
			[]model.Stretch{stretch(0, 0)}, []model.Stretch{stretch(0, 0)}},
		{"unknown stays unknown", []model.Stretch{unknown}, 0.5, []model.Stretch{unknown}, []model.Stretch{unknown}},
		{"an unknown rise stays unknown", []model.Stretch{lengthOnly(4)}, 0.5,
			[]model.Stretch{lengthOnly(2)}, []model.Stretch{lengthOnly(2)}},
		{"an unknown length weighs as the known", []model.Stretch{stretch(4, 0), unknown}, 0.25,
			[]model.Stretch{stretch(2, 0)}, []model.Stretch{stretch(2, 0), unknown}},
	}
	for _, tt := range tests {
		first, second := splitStretches(tt.list, tt.at)
		if !sameStretches(first, tt.first) || !sameStretches(second, tt.second) {
			t.Errorf("%s: %v | %v, want %v | %v", tt.desc, first, second, tt.first, tt.second)
		}
	}
}

func sameStretches(a, b []model.Stretch) bool {
	if len(a) != len(b) {
		return false
	}
	same := func(x, y quantity.Opt[quantity.Length]) bool {
		return x.Known() == y.Known() && math.Abs(float64(x.Or(0)-y.Or(0))) < tolerance
	}
	for i := range a {
		if !same(a[i].Length, b[i].Length) || !same(a[i].Rise, b[i].Rise) {
			return false
		}
	}
	return true
}

// Property: wherever a run is cut, the lengths and rises of the pieces add up to
// those of the whole, and joining the pieces gives back the same stretches.
func TestSplitStretchesKeepsSums(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		var list []model.Stretch
		for range 1 + rng.IntN(5) {
			list = append(list, stretch(float64(rng.IntN(40))/4, float64(rng.IntN(9)-4)/10))
		}
		at := rng.Float64()
		if rng.IntN(5) == 0 {
			at = math.Round(at*4) / 4
		}
		first, second := splitStretches(list, at)
		if len(first) == 0 || len(second) == 0 {
			t.Fatalf("%v at %v: an empty piece", list, at)
		}
		l1, r1 := sums(first)
		l2, r2 := sums(second)
		l, r := sums(list)
		if math.Abs(l1+l2-l) > tolerance || math.Abs(r1+r2-r) > tolerance {
			t.Fatalf("%v at %v: %v and %v", list, at, first, second)
		}
		jl, jr := sums(joinStretches(first, second))
		if math.Abs(jl-l) > tolerance || math.Abs(jr-r) > tolerance {
			t.Fatalf("%v at %v: joined %v", list, at, joinStretches(first, second))
		}
	}
}

func sums(list []model.Stretch) (length, rise float64) {
	r := &model.Run{Stretches: list}
	return float64(r.Length().Or(quantity.Length(math.NaN()))), float64(r.Rise().Or(quantity.Length(math.NaN())))
}

func TestJoinStretches(t *testing.T) {
	unknown := model.Stretch{}
	tests := []struct {
		desc                string
		first, second, want []model.Stretch
	}{
		{"none and none", nil, nil, nil},
		{"unknown and known: not known to be nothing", nil, []model.Stretch{stretch(2, 0)}, []model.Stretch{unknown, stretch(2, 0)}},
		{"one slope is one stretch", []model.Stretch{stretch(2, -0.02)}, []model.Stretch{stretch(3, -0.03)}, []model.Stretch{stretch(5, -0.05)}},
		{"two slopes stay two", []model.Stretch{stretch(2, 0)}, []model.Stretch{stretch(3, 3)}, []model.Stretch{stretch(2, 0), stretch(3, 3)}},
		{"face to face adds nothing", []model.Stretch{stretch(0, 0)}, []model.Stretch{stretch(3, 3)}, []model.Stretch{stretch(3, 3)}},
	}
	for _, tt := range tests {
		if got := joinStretches(tt.first, tt.second); !sameStretches(got, tt.want) {
			t.Errorf("%s: %v, want %v", tt.desc, got, tt.want)
		}
	}
}
