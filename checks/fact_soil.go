package checks

import (
	"rinsewright/model"
	"rinsewright/model/quantity"
)

// washed is one thing that a step washes, with what is to be taken off it.
type washed struct {
	id       model.ID
	soil     model.Soil     // empty: nobody told
	material model.Material // empty: nobody told
}

// washedIn gives what a step washes: what it names, else what its flow passes.
func (s *Snapshot) washedIn(step *model.Step) []washed {
	ids := step.Cleans
	if r := Route.Of(s, step); len(ids) == 0 && r.Found {
		ids = cleanedInFlow(s, step, r)
	}
	var out []washed
	for _, id := range ids {
		w := washed{id: id}
		switch part := s.Circuit.Part(id).(type) {
		case *model.Vessel:
			w.soil, w.material = part.Soil.Or(""), part.Material.Or("")
		case *model.Object:
			w.soil, w.material = part.Soil.Or(""), part.Material.Or("")
		default:
			continue
		}
		out = append(out, w)
	}
	return out
}

// soilWords tells for which soil a band is.
func soilWords(s model.Soil) string {
	if s == "" {
		return "any soil"
	}
	return "soil " + string(s)
}

// outside says on which side of a band x lies: -1 below, +1 above, 0 within.
func outside(x, least, most float64) int {
	switch {
	case below(x, least):
		return -1
	case above(x, most):
		return 1
	}
	return 0
}

// bandText writes a band.
func bandText[T ~float64](least, most T) Text { return Say("%v to %v", Of(least), Of(most)) }

// percents gives the ends of a band in shares.
func percents(ends [2]float64) (least, most quantity.Strength) {
	return quantity.Strength(ends[0] / 100), quantity.Strength(ends[1] / 100)
}
