package programme

import (
	"fmt"
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/lineup"
	. "rinsewright/model/quantity"
)

// What emptying a tank takes, and dosing and filling at most, in minutes: a first
// figure, to be set after the tank's volume. Common practice, no source.
const (
	emptyMinutes   = 10
	prepareMinutes = 60
)

// stronger is by how much a solution is made up too strong for the water that the line
// still holds. Common practice, no source.
const stronger = 1.1

// makeUp adds the step that doses a concentrate into a storing vessel from which the
// objects can be washed, and gives the vessel; false if there is none.
func (m *maker) makeUp(s *Phase) (model.ID, bool) {
	for _, vessel := range m.ofTrait(catalogue.TraitStorage) {
		if v, ok := m.p.Circuit.Part(vessel).(*model.Vessel); !ok || !water(v.Holds.Or("")) || slices.Contains(m.o.Objects, vessel) {
			continue
		}
		for _, supply := range m.ofTrait(catalogue.TraitSupply) {
			t, ok := m.p.Circuit.Part(supply).(*model.Terminal)
			if !ok || t.Medium.Or("") != s.Medium {
				continue
			}
			dose, ok := m.move(supply, vessel, s.Medium)
			if !ok {
				continue
			}
			if got, _, err := m.bestOf(s, []model.ID{vessel}); err != nil || got == nil || !got.proposal.Found {
				continue
			}
			step := m.aside(fmt.Sprintf("Dose %s", s.Medium), model.Prepare, s.Medium, prepareMinutes, dose)
			if c, told := agents[s.Agent]; told {
				step.Chemical = Some(c)
			}
			if s.Strength != nil {
				step.Strength = Some(Strength(stronger * s.Strength.Value / 100))
			}
			m.note(step, model.PlaceOf(vessel), "no tank holds %s; it is made up in %s, a tenth stronger for the water that the line holds", words(s.Medium), m.tags([]model.ID{vessel}))
			m.made[vessel] = s.Medium
			return vessel, true
		}
	}
	return "", false
}

// renew empties a vessel in which a solution was made up and fills it with water
// again, before something else is drawn from it.
func (m *maker) renew(vessel model.ID, medium model.Medium) error {
	held, made := m.made[vessel]
	if !made || held == medium {
		return nil
	}
	delete(m.made, vessel)
	tag := m.tags([]model.ID{vessel})
	var out *choice
	for _, sewer := range m.ofTrait(catalogue.TraitSewer) {
		if x, ok := m.move(vessel, sewer, held); ok && (out == nil || x.proposal.Cost < out.proposal.Cost-1e-9) {
			out = x
		}
	}
	if out == nil {
		step := m.aside("Empty "+tag, model.Drain, held, emptyMinutes, &choice{ask: lineup.Ask{Source: vessel}})
		m.note(step, model.PlaceOf(vessel), "no line-up empties %s to a sewer drain", tag)
	} else {
		m.aside("Empty "+tag, model.Drain, held, emptyMinutes, out)
	}
	for _, supply := range m.ofTrait(catalogue.TraitSupply) {
		if t, ok := m.p.Circuit.Part(supply).(*model.Terminal); !ok || t.Medium.Or("") != model.Water {
			continue
		}
		if x, ok := m.move(supply, vessel, model.Water); ok {
			m.aside("Refill "+tag, model.Prepare, model.Water, prepareMinutes, x)
			return nil
		}
	}
	step := m.aside("Refill "+tag, model.Prepare, model.Water, prepareMinutes, &choice{ask: lineup.Ask{Destination: vessel}})
	m.note(step, model.PlaceOf(vessel), "no water supply leads into %s", tag)
	return nil
}

// move finds the line-up from one end to another past what is named. Objects may get wet,
// as they are being washed.
func (m *maker) move(from, to model.ID, medium model.Medium, past ...model.ID) (*choice, bool) {
	ask := lineup.Ask{Source: from, Destination: to, May: m.o.Objects, Avoid: append(past, m.o.Avoid...), Keep: m.o.Keep, Medium: medium, Most: 1}
	got, err := lineup.Find(m.p, ask)
	if err != nil || !got[0].Found {
		return nil, false
	}
	return &choice{ask, &got[0]}, true
}

// aside adds a step that washes nothing; a preparing one ends when its tank is ready and
// takes the minutes at most.
func (m *maker) aside(name string, purpose model.Purpose, medium model.Medium, minutes float64, x *choice) *model.Step {
	step := m.step(&Phase{Name: name, Purpose: purpose, Medium: medium})
	step.Cleans = nil
	if purpose == model.Prepare {
		step.Longest = Some(Duration(minutes * 60))
	} else {
		step.Time = Some(Duration(minutes * 60))
	}
	step.Source, step.Destination = x.ask.Source, x.ask.Destination
	if x.proposal != nil {
		x.proposal.Into(step, x.ask)
	}
	return step
}

// drain adds the step that lets the line of the step before run empty.
func (m *maker) drain(s *Phase) error {
	step := m.step(s)
	if m.last == nil {
		m.note(step, model.Place{}, "the step before has no line-up to be emptied")
		return nil
	}
	e, err := lineup.Empty(m.p, m.ask, m.last)
	if err != nil {
		return err
	}
	if e.Missing != "" {
		m.note(step, model.Place{}, "%s", e.Missing)
		return nil
	}
	step.Destination, step.Positions = e.Destination, e.Moved
	return nil
}
