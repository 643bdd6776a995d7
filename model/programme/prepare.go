package programme

import (
	"fmt"
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/lineup"
	. "rinsewright/model/quantity"
)

// prepare makes a step that fills the tank of a solution with water, or one that sends
// the solution round past its tank, doses it and warms it.
func (m *maker) prepare(s *Phase) error {
	of := s.Medium
	if s.To == ToTank {
		of = s.Into
	}
	step := m.step(s)
	step.Cleans = nil
	vessel, ok := m.storing(of)
	if !ok {
		m.note(step, model.Place{}, "no tank of the circuit holds %s", words(of))
		return nil
	}
	step.Destination = vessel
	if s.To == ToTank {
		m.fillTank(step, vessel)
		return nil
	}
	step.Source = vessel
	return m.goRound(step, s, vessel)
}

// storing gives the first storing vessel that holds a medium.
func (m *maker) storing(medium model.Medium) (model.ID, bool) {
	for _, id := range m.ofTrait(catalogue.TraitStorage) {
		if v, ok := m.p.Circuit.Part(id).(*model.Vessel); ok && v.Holds.Or("") == medium {
			return id, true
		}
	}
	return "", false
}

// fillTank lets a water supply run into a tank up to its working volume, or pumps the
// water there from a tank that holds it.
func (m *maker) fillTank(step *model.Step, vessel model.ID) {
	if v, ok := m.p.Circuit.Part(vessel).(*model.Vessel); ok {
		step.EndVolume = v.Working
		if v.Level.Or(0) > 0 {
			m.note(step, model.Place{Element: vessel, Key: "level_m"}, "%s is not empty: empty it first, or fill in less", m.tags([]model.ID{vessel}))
		}
	}
	if !step.EndVolume.Known() {
		m.note(step, model.Place{Element: vessel, Key: "working_volume_L"}, "the working volume of %s is not told: enter the volume to be filled", m.tags([]model.ID{vessel}))
	}
	for _, supply := range m.ofTrait(catalogue.TraitSupply) {
		t, ok := m.p.Circuit.Part(supply).(*model.Terminal)
		if !ok || t.Medium.Or("") != model.Water {
			continue
		}
		if x, ok := m.move(supply, vessel, model.Water, m.stores(vessel)...); ok {
			x.proposal.Into(step, x.ask)
			step.Temperature = t.Temperature
			if !t.Pressure.Known() {
				step.Flow = t.Most
			}
			return
		}
	}
	for _, tank := range m.sources(model.Water) {
		if tank == vessel || m.p.Circuit.Part(tank).Class() != model.ClassVessel {
			continue
		}
		if x, ok := m.move(tank, vessel, model.Water); ok {
			x.proposal.Into(step, x.ask)
			if step.Flow = m.o.Flow; !step.Flow.Known() {
				step.Flow = m.loopFlow(x.proposal.Pumps)
			}
			return
		}
	}
	m.note(step, model.PlaceOf(vessel), "no water supply leads into %s, and no water tank", m.tags([]model.ID{vessel}))
}

// goRound finds the way from a tank round and back that passes nothing that is washed.
func (m *maker) goRound(step *model.Step, s *Phase, vessel model.ID) error {
	ask := lineup.Ask{Source: vessel, Destination: vessel, Avoid: append(m.washable(vessel), m.o.Avoid...), Keep: m.o.Keep, Medium: s.Medium, Most: 1}
	got, err := lineup.Find(m.p, ask)
	if err != nil {
		return fmt.Errorf("programme: %s: %w", step.Name, err)
	}
	if x := &got[0]; x.Found {
		x.Into(step, ask)
		if step.Flow = m.o.Flow; !step.Flow.Known() {
			step.Flow = m.loopFlow(x.Pumps)
		}
		if s.Temperature != nil && s.Temperature.Value > warm {
			m.heat(step, x)
		}
	} else {
		m.note(step, x.At, "no way leads from %s round and back past what is washed, so it cannot be mixed before the wash: %s", m.tags([]model.ID{vessel}), x.Missing)
	}
	for _, supply := range m.ofTrait(catalogue.TraitSupply) {
		if t, ok := m.p.Circuit.Part(supply).(*model.Terminal); ok && t.Medium.Or("") == s.Medium {
			return nil
		}
	}
	m.note(step, model.PlaceOf(vessel), "no supply of %s concentrate stands in the circuit: it is dosed by hand", words(s.Medium))
	return nil
}

// stores lists the storing vessels but one.
func (m *maker) stores(but model.ID) []model.ID {
	return slices.DeleteFunc(m.ofTrait(catalogue.TraitStorage), func(id model.ID) bool { return id == but })
}

// loopFlow is the rated flow of the first pump on the way.
func (m *maker) loopFlow(pumps []model.ID) Opt[Flow] {
	for _, id := range pumps {
		if p, ok := m.p.Circuit.Part(id).(*model.Pump); ok {
			return p.RatedFlow
		}
	}
	return Opt[Flow]{}
}

// washable lists the vessels that do not store, and the objects.
func (m *maker) washable(but model.ID) []model.ID {
	var out []model.ID
	for _, part := range m.p.Circuit.Parts() {
		id := part.RecordID()
		k := m.p.Catalogue.Kind(part.Meta().Kind)
		switch part.Class() {
		case model.ClassObject:
			out = append(out, id)
		case model.ClassVessel:
			if id != but && k != nil && !k.Has(catalogue.TraitStorage) {
				out = append(out, id)
			}
		}
	}
	return out
}
