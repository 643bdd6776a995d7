package edit

import (
	"math"
	"slices"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

// splitStretches cuts a list of stretches at a part (0 to 1) of its length. Sums
// of known lengths and rises are kept. A stretch that is cut shares its rise out
// by length, as a straight pipe does. A stretch of unknown length weighs as much
// as the known ones do on average. Neither piece comes out empty unless the list
// is, because no stretches mean an unknown length, not none.
func splitStretches(list []model.Stretch, at float64) (first, second []model.Stretch) {
	if len(list) == 0 {
		return nil, nil
	}
	weights := weightsOf(list)
	rest := 0.0
	for _, w := range weights {
		rest += w
	}
	rest *= at
	for i, s := range list {
		w := weights[i]
		last := i == len(list)-1
		switch {
		case rest > w*(1+1e-9) && !last:
			first = append(first, s)
			rest -= w
		case rest >= w*(1-1e-9) && !last:
			// The cut is where two stretches meet.
			return append(first, s), slices.Clone(list[i+1:])
		default:
			share := 0.5
			if w > 0 {
				share = min(max(rest/w, 0), 1)
			}
			near, far := cutStretch(s, share)
			if share > 0 || len(first) == 0 {
				first = append(first, near)
			}
			if share < 1 || last {
				second = append(second, far)
			}
			return first, append(second, list[i+1:]...)
		}
	}
	return first, second
}

func weightsOf(list []model.Stretch) []float64 {
	sum, known := 0.0, 0
	for _, s := range list {
		if l, ok := s.Length.Get(); ok {
			sum += float64(l)
			known++
		}
	}
	mean := 1.0
	if known > 0 && sum > 0 {
		mean = sum / float64(known)
	}
	out := make([]float64, len(list))
	for i, s := range list {
		out[i] = mean
		if l, ok := s.Length.Get(); ok {
			out[i] = float64(l)
		}
	}
	return out
}

func cutStretch(s model.Stretch, share float64) (near, far model.Stretch) {
	near.Length, far.Length = cutLength(s.Length, share)
	near.Rise, far.Rise = cutLength(s.Rise, share)
	return near, far
}

func cutLength(l quantity.Opt[quantity.Length], share float64) (near, far quantity.Opt[quantity.Length]) {
	v, ok := l.Get()
	if !ok {
		return near, far
	}
	first := v * quantity.Length(share)
	return quantity.Some(first), quantity.Some(v - first)
}

// joinStretches puts two lists behind each other. Where one is empty and the
// other is not, the empty one becomes one stretch of which nothing is known.
// Two stretches of the same slope become one again.
func joinStretches(first, second []model.Stretch) []model.Stretch {
	if len(first) == 0 && len(second) == 0 {
		return nil
	}
	if len(first) == 0 {
		first = []model.Stretch{{}}
	}
	if len(second) == 0 {
		second = []model.Stretch{{}}
	}
	a, b := first[len(first)-1], second[0]
	if merged, ok := mergeStretch(a, b); ok {
		out := append(slices.Clone(first[:len(first)-1]), merged)
		return append(out, second[1:]...)
	}
	return append(slices.Clone(first), second...)
}

func mergeStretch(a, b model.Stretch) (model.Stretch, bool) {
	la, oka := a.Length.Get()
	lb, okb := b.Length.Get()
	if !oka || !okb || a.Rise.Known() != b.Rise.Known() {
		return model.Stretch{}, false
	}
	merged := model.Stretch{Length: quantity.Some(la + lb)}
	if !a.Rise.Known() {
		return merged, true
	}
	ra, rb := a.Rise.Or(0), b.Rise.Or(0)
	merged.Rise = quantity.Some(ra + rb)
	empty := func(l, r quantity.Length) bool { return l == 0 && r == 0 }
	sameSlope := math.Abs(float64(ra*lb-rb*la)) <= 1e-9*float64((la+lb)*(la+lb)) && la > 0 && lb > 0
	return merged, empty(la, ra) || empty(lb, rb) || sameSlope
}

// reversed gives the run with its ends exchanged: the same pipe told from the
// other end.
func reversed(r *model.Run) *model.Run {
	next := model.Clone(r)
	next.From, next.To = r.To, r.From
	slices.Reverse(next.Bends)
	slices.Reverse(next.Stretches)
	for i, s := range next.Stretches {
		if rise, ok := s.Rise.Get(); ok && rise != 0 {
			next.Stretches[i].Rise = quantity.Some(-rise)
		}
	}
	return next
}

// splitElbows shares the elbows of a run out by the corners of its drawn line.
func splitElbows(r *model.Run, line []model.Point, s spot) (first, second quantity.Opt[int]) {
	n, ok := r.Elbows.Get()
	if !ok {
		return first, second
	}
	before, all := 0, 0
	for i, p := range corners(line) {
		all = i + 1
		if lengthOf(line[:slices.Index(line, p)+1]) <= s.along {
			before = all
		}
	}
	share := s.part
	if all > 0 {
		share = float64(before) / float64(all)
	}
	k := int(math.Round(float64(n) * share))
	return quantity.Some(k), quantity.Some(n - k)
}

// addedElbows gives the elbows of two runs joined; unknown if one is.
func addedElbows(a, b quantity.Opt[int]) quantity.Opt[int] {
	x, okx := a.Get()
	y, oky := b.Get()
	if !okx || !oky {
		return quantity.Opt[int]{}
	}
	return quantity.Some(x + y)
}
