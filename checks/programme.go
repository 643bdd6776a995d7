package checks

import "rinsewright/model"

// programmes gives the steps of each programme in order. Steps of no programme
// make one of their own.
func (s *Snapshot) programmes() [][]*model.Step {
	var out [][]*model.Step
	for _, step := range s.Circuit.Steps() { // in order of programme and place
		if n := len(out); n > 0 && out[n-1][0].Programme == step.Programme {
			out[n-1] = append(out[n-1], step)
			continue
		}
		out = append(out, []*model.Step{step})
	}
	return out
}

// moves says whether a step sends liquid through the circuit.
func moves(step *model.Step) bool {
	switch step.Purpose.Or("") {
	case model.Drain, model.AirBlow, model.Hold, model.Prepare, model.Production:
		return false
	}
	return true
}

// water says whether a medium rinses a chemical out.
func water(m model.Medium) bool { return m == model.Water || m == model.Recovered }
