package programme

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/lineup"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// Options say for what steps are made.
type Options struct {
	Objects  []model.ID // washed one after the other in one line
	Ordered  bool       // in the order of Objects
	Name     string     // of the programme; empty: the template's title and the objects' tags
	Optional bool       // also the steps that are not done always
	Flow     Opt[Flow]  // asked of every step; unknown: the most that an object or the spray devices of a vessel need
	Avoid    []model.ID // as in [lineup.Ask]
	Keep     map[model.ID]string
	NewID    func() model.ID // ids of the steps; nil: random ones
}

// Plan is a programme for a circuit.
type Plan struct {
	Steps []*model.Step
	Notes []Note
}

// Note tells what a step lacks, or what was done for it.
type Note struct {
	Step model.ID
	Text string
	At   model.Place
}

// Make puts a template on a circuit. Steps are numbered 10, 20 and on. The source of
// a step is the storing vessel that holds its medium, else a supply of it; where
// neither leads there and a concentrate supply can be dosed into a storing vessel, the
// solution is made up there, and the vessel is emptied and filled again before the
// next water is drawn from it. Of several sources and sewer drains that do, the
// cheapest line-up counts.
//
// A step for which no line-up was found is made all the same, without positions, and
// noted. The error tells of objects that are not in the circuit and of a template that
// is not valid.
func Make(p *network.Plant, t *Template, o Options) (*Plan, error) {
	if err := t.Validate(); err != nil {
		return nil, err
	}
	if len(o.Objects) == 0 && t.Washes() {
		return nil, errors.New("programme: nothing to be washed is named")
	}
	for _, id := range o.Objects {
		if p.Circuit.Part(id) == nil {
			return nil, fmt.Errorf("programme: %s is not in the circuit", id)
		}
	}
	if o.NewID == nil {
		o.NewID = func() model.ID { return model.NewID("s") }
	}
	m := &maker{p: p, o: o, plan: &Plan{}, made: map[model.ID]model.Medium{}}
	if o.Name == "" {
		m.o.Name = t.Title
		if len(o.Objects) > 0 {
			m.o.Name += ": " + m.tags(o.Objects)
		}
	}
	m.flow = m.needs()
	for i := range t.Steps {
		s := &t.Steps[i]
		if s.Optional != "" && !o.Optional {
			continue
		}
		var err error
		switch s.Purpose {
		case model.Drain:
			err = m.drain(s)
		case model.Prepare:
			err = m.prepare(s)
		default:
			err = m.wash(s)
		}
		if err != nil {
			return nil, err
		}
	}
	return m.plan, nil
}

// words writes a medium as people say it: "recovered water".
func words(m model.Medium) string { return strings.ReplaceAll(string(m), "-", " ") }

// Washes says whether a template needs something to be washed: whether it does more
// than prepare.
func (t *Template) Washes() bool {
	return slices.ContainsFunc(t.Steps, func(s Phase) bool { return s.Purpose != model.Prepare })
}

// maker makes the steps of one plan.
type maker struct {
	p    *network.Plant
	o    Options
	plan *Plan
	flow Opt[Flow]

	made map[model.ID]model.Medium // vessels that hold a solution made up in them
	last *lineup.Proposal          // line-up of the step before
	ask  lineup.Ask                // and what it was for
}

// step adds a step with what the template tells.
func (m *maker) step(s *Phase) *model.Step {
	step := &model.Step{ID: m.o.NewID(), Programme: m.o.Name, Order: 10 * (len(m.plan.Steps) + 1), Name: s.Name,
		Purpose: Some(s.Purpose), Medium: Some(s.Medium), EndsOn: s.EndsOn, Cleans: slices.Clone(m.o.Objects)}
	if s.Strength != nil {
		step.Strength = Some(Strength(s.Strength.Value / 100))
	}
	if s.Temperature != nil {
		step.Temperature = Some(Celsius(s.Temperature.Value))
	}
	if s.Time != nil {
		step.Time = Some(Duration(s.Time.Value * 60))
	}
	if c, told := agents[s.Agent]; told {
		step.Chemical = Some(c)
	}
	if s.TimerFrom != nil {
		step.TimerFrom = Some(s.TimerFrom.Value)
	}
	if s.Conductive != nil {
		step.EndConductivity = Some(Conductivity(s.Conductive.Value / 10))
	}
	if s.Longest != nil {
		step.Longest = Some(Duration(s.Longest.Value * 60))
	}
	if s.Optional != "" {
		step.Optional = Some(true)
		step.Note = "Done " + s.Optional + "."
	}
	m.plan.Steps = append(m.plan.Steps, step)
	return step
}

func (m *maker) note(step *model.Step, at model.Place, format string, args ...any) {
	if at == (model.Place{}) {
		at = model.PlaceOf(step.ID)
	}
	m.plan.Notes = append(m.plan.Notes, Note{step.ID, fmt.Sprintf(format, args...), at})
}

// choice is a source and destination with their line-up.
type choice struct {
	ask      lineup.Ask
	proposal *lineup.Proposal
}

// wash makes a step that sends a medium through the objects.
func (m *maker) wash(s *Phase) error {
	phase := *s
	best, sources, err := m.best(&phase)
	if err != nil {
		return err
	}
	made := model.ID("")
	if (best == nil || !best.proposal.Found) && !water(phase.Medium) {
		if vessel, ok := m.makeUp(&phase); ok {
			made = vessel
			if best, sources, err = m.bestOf(&phase, []model.ID{vessel}); err != nil {
				return err
			}
		}
	}
	if best != nil && made == "" {
		if err := m.renew(best.ask.Source, phase.Medium); err != nil {
			return err
		}
	}
	step := m.step(&phase)
	step.Flow = m.flow
	if phase.Medium != s.Medium {
		m.note(step, model.Place{}, "nothing holds %s; %s is taken", words(s.Medium), words(phase.Medium))
	}
	m.asClean(step, &phase)
	if best == nil {
		m.last = nil
		if len(sources) == 0 {
			m.note(step, model.Place{}, "nothing in the circuit holds or supplies %s", words(phase.Medium))
		} else {
			step.Source = sources[0]
			m.note(step, model.Place{}, "there is nowhere for the liquid to go: no %s", phase.To)
		}
		return nil
	}
	step.Source, step.Destination = best.ask.Source, best.ask.Destination
	if !best.proposal.Found {
		m.last = nil
		m.note(step, best.proposal.At, "no line-up: %s", best.proposal.Missing)
		return nil
	}
	best.proposal.Into(step, best.ask)
	m.last, m.ask = best.proposal, best.ask
	if phase.Temperature != nil && phase.Temperature.Value > warm {
		m.heat(step, best.proposal)
	}
	if !m.flow.Known() {
		m.note(step, model.Place{}, "no flow is told for %s: enter what it needs", m.tags(m.o.Objects))
	}
	return nil
}

// asClean ends a step when its return is nearly as the supply water.
func (m *maker) asClean(step *model.Step, s *Phase) {
	if s.AboveWater == nil {
		return
	}
	for _, id := range m.ofTrait(catalogue.TraitSupply) {
		t, ok := m.p.Circuit.Part(id).(*model.Terminal)
		if !ok || t.Medium.Or("") != model.Water {
			continue
		}
		if own, told := t.Conductivity.Get(); told {
			step.EndConductivity = Some(own + Conductivity(s.AboveWater.Value/10))
			return
		}
		m.note(step, model.Place{Element: id, Key: "conductivity_mScm"}, "the conductivity of %s is not told, so the rinse ends on time alone", m.tags([]model.ID{id}))
		return
	}
}

// warm, in °C, is the temperature above which a step is heated. Common practice, no
// source.
const warm = 30

func water(m model.Medium) bool { return m == model.Water || m == model.Recovered }

// best gives the cheapest line-up over all sources of a step's medium, or of the one
// that may be taken for it; nil if there is no source or nowhere to go.
func (m *maker) best(s *Phase) (*choice, []model.ID, error) {
	got, sources, err := m.bestOf(s, m.sources(s.Medium))
	if err != nil || got != nil && got.proposal.Found || s.Or == "" {
		return got, sources, err
	}
	s.Medium = s.Or
	return m.bestOf(s, m.sources(s.Medium))
}

func (m *maker) bestOf(s *Phase, sources []model.ID) (*choice, []model.ID, error) {
	var out *choice
	for _, source := range sources {
		for _, to := range m.destinations(s, source) {
			ask := lineup.Ask{Source: source, Destination: to, Through: m.o.Objects, Ordered: m.o.Ordered, Avoid: m.o.Avoid, Keep: m.o.Keep, Medium: s.Medium, Most: 1}
			got, err := lineup.Find(m.p, ask)
			if err != nil {
				return nil, nil, err
			}
			x := &choice{ask, &got[0]}
			switch {
			case out == nil, x.proposal.Found && !out.proposal.Found,
				x.proposal.Found && out.proposal.Found && x.proposal.Cost < out.proposal.Cost-1e-9:
				out = x
			}
		}
	}
	return out, sources, nil
}

// sources gives the storing vessels that hold a medium, then, if there is none, the
// supplies of it.
func (m *maker) sources(medium model.Medium) []model.ID {
	var vessels, supplies []model.ID
	for _, part := range m.p.Circuit.Parts() {
		id := part.RecordID()
		k := m.p.Catalogue.Kind(part.Meta().Kind)
		if k == nil || slices.Contains(m.o.Objects, id) {
			continue
		}
		switch x := part.(type) {
		case *model.Vessel:
			if k.Has(catalogue.TraitStorage) && x.Holds.Or("") == medium {
				vessels = append(vessels, id)
			}
		case *model.Terminal:
			if k.Has(catalogue.TraitSupply) && x.Medium.Or("") == medium && water(medium) {
				supplies = append(supplies, id)
			}
		}
	}
	if len(vessels) > 0 {
		return vessels
	}
	return supplies
}

func (m *maker) destinations(s *Phase, source model.ID) []model.ID {
	switch s.To {
	case ToSource:
		if _, vessel := m.p.Circuit.Part(source).(*model.Vessel); vessel {
			return []model.ID{source}
		}
	case ToRecovered:
		var tanks []model.ID
		for _, id := range m.sources(model.Recovered) {
			if m.p.Circuit.Part(id).Class() == model.ClassVessel {
				tanks = append(tanks, id)
			}
		}
		if len(tanks) > 0 {
			return tanks
		}
	}
	return m.ofTrait(catalogue.TraitSewer)
}

func (m *maker) ofTrait(trait string) []model.ID {
	var out []model.ID
	for _, part := range m.p.Circuit.Parts() {
		if k := m.p.Catalogue.Kind(part.Meta().Kind); k != nil && k.Has(trait) {
			out = append(out, part.RecordID())
		}
	}
	return out
}

// heat opens steam to the heaters on the way and notes what stays cold.
func (m *maker) heat(step *model.Step, x *lineup.Proposal) {
	moved, cold := lineup.Heating(m.p, x.Route)
	maps.Copy(step.Positions, moved)
	for _, id := range cold {
		m.note(step, model.PlaceOf(id), "no way leads from a steam supply to %s", m.tags([]model.ID{id}))
	}
	for _, e := range x.Way {
		if part := m.p.Circuit.Part(m.p.Edges[e].Part); part != nil && part.Class() == model.ClassExchanger && m.heats(part) {
			return
		}
	}
	m.note(step, model.Place{}, "no heater is on the way; the liquid must be warm in its tank")
}

// heats says whether an exchanger can heat: with steam, or by itself, having no
// second side.
func (m *maker) heats(part model.Part) bool {
	k := m.p.Catalogue.Kind(part.Meta().Kind)
	return k.Has(catalogue.TraitSteamHeated) || len(k.Ports) == 2
}

// needs gives the most that one of the objects needs: an object's own flow, or that
// of the spray devices of a vessel together.
func (m *maker) needs() Opt[Flow] {
	if m.o.Flow.Known() {
		return m.o.Flow
	}
	var most Flow
	for _, id := range m.o.Objects {
		var need Opt[Flow]
		switch x := m.p.Circuit.Part(id).(type) {
		case *model.Object:
			need = x.NeedsFlow
		case *model.Vessel:
			need = m.sprayed(id)
		default:
			continue
		}
		f, known := need.Get()
		if !known {
			return Opt[Flow]{}
		}
		most = max(most, f)
	}
	if most == 0 {
		return Opt[Flow]{}
	}
	return Some(most)
}

func (m *maker) sprayed(vessel model.ID) Opt[Flow] {
	var sum Flow
	for _, r := range m.p.Circuit.RunsAt(vessel) {
		for _, end := range []model.End{r.From, r.To} {
			if spray, ok := m.p.Circuit.Part(end.Part).(*model.Spray); ok {
				f, known := spray.RatedFlow.Get()
				if !known {
					return Opt[Flow]{}
				}
				sum += f
			}
		}
	}
	if sum == 0 {
		return Opt[Flow]{}
	}
	return Some(sum)
}

// tags names some parts.
func (m *maker) tags(ids []model.ID) string {
	out := ""
	for i, id := range ids {
		if i > 0 {
			out += ", "
		}
		if tag := m.p.Circuit.Part(id).Meta().Tag; tag != "" {
			out += tag
		} else {
			out += string(id)
		}
	}
	return out
}
