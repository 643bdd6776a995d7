package edit

import (
	"fmt"
	"slices"
	"strings"

	"rinsewright/model"
)

// Programmes lists the names of the programmes in order.
func (d *Drawing) Programmes() []string {
	var out []string
	for _, s := range d.circuit.Steps() {
		out = append(out, s.Programme)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// StepsOf gives the steps of a programme in order.
func (d *Drawing) StepsOf(programme string) []*model.Step {
	var out []*model.Step
	for _, s := range d.circuit.Steps() {
		if s.Programme == programme {
			out = append(out, s)
		}
	}
	return out
}

// AddStep adds a step to a programme before the step of an index; at the end
// for an index beyond the last.
func (d *Drawing) AddStep(programme, name string, index int) (model.Edit, error) {
	if strings.TrimSpace(name) == "" {
		return model.Edit{}, &PropertyError{Key: "name", Label: "Name", Message: "a step needs a name"}
	}
	f := d.draft()
	s := &model.Step{ID: f.newID("s"), Programme: programme, Name: strings.TrimSpace(name)}
	f.lineUp(slices.Insert(d.StepsOf(programme), d.stepIndex(programme, index), s))
	return f.edit("add step " + s.Name), nil
}

// DuplicateStep adds a copy of a step behind it, line-up and all.
func (d *Drawing) DuplicateStep(step model.ID) (model.Edit, error) {
	s, err := d.stepOf(step)
	if err != nil {
		return model.Edit{}, err
	}
	f := d.draft()
	s.ID = f.newID("s")
	list := d.StepsOf(s.Programme)
	at := slices.IndexFunc(list, func(o *model.Step) bool { return o.ID == step })
	f.lineUp(slices.Insert(list, at+1, s))
	return f.edit("duplicate step " + d.name(s)), nil
}

// DeleteStep takes a step out of its programme.
func (d *Drawing) DeleteStep(step model.ID) (model.Edit, error) {
	s := d.circuit.Step(step)
	if s == nil {
		return model.Edit{}, fmt.Errorf("there is no step %s", step)
	}
	f := d.draft()
	f.remove(step)
	return f.edit("delete step " + d.name(s)), nil
}

// MoveStep takes a step to another index of its programme; beyond the last it
// goes to the end.
func (d *Drawing) MoveStep(step model.ID, index int) (model.Edit, error) {
	s := d.circuit.Step(step)
	if s == nil {
		return model.Edit{}, fmt.Errorf("there is no step %s", step)
	}
	f := d.draft()
	rest := slices.DeleteFunc(d.StepsOf(s.Programme), func(o *model.Step) bool { return o.ID == step })
	f.lineUp(slices.Insert(rest, min(max(index, 0), len(rest)), s))
	return f.edit("move step " + d.name(s)), nil
}

func (d *Drawing) stepIndex(programme string, index int) int {
	return min(max(index, 0), len(d.StepsOf(programme)))
}

// lineUp numbers steps from 1 in the order of the list.
func (f *draft) lineUp(list []*model.Step) {
	for i, s := range list {
		if s.Order != i+1 || f.circuit.Step(s.ID) != s {
			next := model.Clone(s)
			next.Order = i + 1
			f.put(next)
		}
	}
}

// stepOf gives a copy of a step to change.
func (d *Drawing) stepOf(step model.ID) (*model.Step, error) {
	s := d.circuit.Step(step)
	if s == nil {
		return nil, fmt.Errorf("there is no step %s", step)
	}
	return model.Clone(s), nil
}

// Position gives where a valve stands in a step, and whether that is said at
// all: by the step, or else as the valve's normal position.
func (d *Drawing) Position(step *model.Step, valve model.ID) (string, bool) {
	if p, ok := step.Positions[valve]; ok {
		return p, true
	}
	if v, ok := d.circuit.Part(valve).(*model.Valve); ok {
		return v.Normal.Get()
	}
	return "", false
}

// SetPosition says where a valve stands in a step. The normal position is not
// written down, so that it follows the valve when that is changed.
func (d *Drawing) SetPosition(step, valve model.ID, position string) (model.Edit, error) {
	next, err := d.stepOf(step)
	if err != nil {
		return model.Edit{}, err
	}
	v, ok := d.circuit.Part(valve).(*model.Valve)
	if !ok {
		return model.Edit{}, fmt.Errorf("%s is no valve", valve)
	}
	if k := d.kindOf(v); k != nil && !slices.Contains(k.Positions, position) {
		return model.Edit{}, fmt.Errorf("%s has no position %s, only %s", d.name(v), position, strings.Join(k.Positions, ", "))
	}
	if normal, known := v.Normal.Get(); known && normal == position {
		return d.SetNormal(step, valve)
	}
	if next.Positions == nil {
		next.Positions = map[model.ID]string{}
	}
	next.Positions[valve] = position
	return d.replacing(next, fmt.Sprintf("set %s %s in %s", d.name(v), position, d.name(next))), nil
}

// SetNormal leaves a valve in its normal position in a step.
func (d *Drawing) SetNormal(step, valve model.ID) (model.Edit, error) {
	next, err := d.stepOf(step)
	if err != nil {
		return model.Edit{}, err
	}
	delete(next.Positions, valve)
	if len(next.Positions) == 0 {
		next.Positions = nil
	}
	return d.replacing(next, fmt.Sprintf("set %s normal in %s", d.nameOf(valve), d.name(next))), nil
}

// SetRunning says whether a pump runs in a step.
func (d *Drawing) SetRunning(step, pump model.ID, running bool) (model.Edit, error) {
	if _, ok := d.circuit.Part(pump).(*model.Pump); !ok {
		return model.Edit{}, fmt.Errorf("%s is no pump", pump)
	}
	next, err := d.stepOf(step)
	if err != nil {
		return model.Edit{}, err
	}
	next.Running = listed(next.Running, pump, running)
	verb := "stop"
	if running {
		verb = "run"
	}
	return d.replacing(next, fmt.Sprintf("%s %s in %s", verb, d.nameOf(pump), d.name(next))), nil
}

// SetCleans says whether a part is washed in a step.
func (d *Drawing) SetCleans(step, part model.ID, cleans bool) (model.Edit, error) {
	if d.circuit.Part(part) == nil {
		return model.Edit{}, fmt.Errorf("there is no part %s", part)
	}
	next, err := d.stepOf(step)
	if err != nil {
		return model.Edit{}, err
	}
	next.Cleans = listed(next.Cleans, part, cleans)
	return d.replacing(next, fmt.Sprintf("set what %s cleans", d.name(next))), nil
}

// SetSource says where the liquid of a step comes from; empty: not said.
func (d *Drawing) SetSource(step, part model.ID) (model.Edit, error) {
	return d.setPlace(step, part, "source", func(s *model.Step) { s.Source = part })
}

// SetDestination says where the liquid of a step goes to; empty: not said.
func (d *Drawing) SetDestination(step, part model.ID) (model.Edit, error) {
	return d.setPlace(step, part, "destination", func(s *model.Step) { s.Destination = part })
}

func (d *Drawing) setPlace(step, part model.ID, what string, set func(*model.Step)) (model.Edit, error) {
	next, err := d.stepOf(step)
	if err != nil {
		return model.Edit{}, err
	}
	if part != "" && d.circuit.Part(part) == nil {
		return model.Edit{}, fmt.Errorf("there is no part %s", part)
	}
	set(next)
	return d.replacing(next, fmt.Sprintf("set the %s of %s", what, d.name(next))), nil
}

// listed gives a list with an id in it once, or without it.
func listed(list []model.ID, id model.ID, in bool) []model.ID {
	has := slices.Contains(list, id)
	switch {
	case in && !has:
		list = append(list, id)
	case !in && has:
		list = slices.DeleteFunc(list, func(o model.ID) bool { return o == id })
	}
	return emptied(list)
}

// nameOf gives the name of a record that may be gone.
func (d *Drawing) nameOf(id model.ID) string {
	if r := d.circuit.Record(id); r != nil {
		return d.name(r)
	}
	return string(id)
}
