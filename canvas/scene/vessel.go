package scene

import (
	"slices"

	"rinsewright/canvas/draw"
	"rinsewright/model"
)

// puddle is the share of its height to which a vessel is drawn full while it is
// washed or drained: the liquid that runs to the outlet.
const puddle = 0.12

// restLevels gives how full the vessels are of which the record tells it, as a
// share of the height, 0 to 1.
func restLevels(c *model.Circuit) map[model.ID]float64 {
	out := map[model.ID]float64{}
	for _, p := range c.Parts() {
		v, ok := p.(*model.Vessel)
		if !ok {
			continue
		}
		level, known := v.Level.Get()
		height, told := v.Height.Get()
		if known && told && height > 0 {
			out[v.ID] = min(max(float64(level/height), 0), 1)
		}
	}
	return out
}

// vessels tells what each vessel holds in the step and how full it is. A vessel
// that is washed or drained holds a puddle of what comes out of it; one that
// liquid is drawn from or brought to holds that liquid; any other keeps what it
// holds at rest.
func (s *scene) vessels(opt draw.Options) {
	for _, p := range s.plant.Circuit.Parts() {
		if p.Class() != model.ClassVessel {
			continue
		}
		id := p.RecordID()
		medium, flows, wet := s.inside(id)
		washed := slices.Contains(s.step.Cleans, id)
		purpose := s.step.Purpose.Or("")
		switch {
		case (id == s.step.Source || id == s.step.Destination) && !(washed && purpose == model.Drain):
			if m, ok := s.brought(p); ok {
				opt.Media[id] = m
			}
		case washed && purpose == model.Hold && wet:
			opt.Media[id] = medium // a soak fills it
		case washed && purpose == model.AirBlow, washed && !wet:
			opt.Levels[id] = 0
		case washed, purpose == model.Drain && flows:
			opt.Levels[id] = puddle
			if medium != "" {
				opt.Media[id] = medium
			}
		case flows && medium != "":
			opt.Media[id] = medium
		}
	}
}

// inside gives what is in a vessel in the step.
func (s *scene) inside(id model.ID) (medium model.Medium, flows, wet bool) {
	for _, e := range s.plant.PartEdges(id) {
		if s.flow[e] == draw.Dry || s.plant.Dry(e) {
			continue
		}
		wet = true
		flows = flows || s.flow[e] != draw.Still
		if medium == "" {
			medium = s.medium[e]
		}
	}
	return medium, flows, wet
}

// brought gives the medium of a vessel that is source or destination of the step.
// Water that is brought to recovered water becomes recovered water.
func (s *scene) brought(p model.Part) (model.Medium, bool) {
	m, ok := s.step.Medium.Get()
	v, vessel := p.(*model.Vessel)
	if ok && vessel && p.RecordID() != s.step.Source && m == model.Water && v.Holds.Or("") == model.Recovered {
		return model.Recovered, true
	}
	return m, ok
}
