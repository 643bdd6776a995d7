package edit

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"rinsewright/model"
)

// A programme is nothing but the name that its steps share: it comes with its
// first step and goes with its last.

// freeProgramme gives a name for a programme that is none yet, or says why it
// cannot be one.
func (d *Drawing) freeProgramme(name string) (string, error) {
	name = strings.TrimSpace(name)
	switch {
	case name == "":
		return "", &PropertyError{Key: "programme", Label: "Programme", Message: "a programme needs a name"}
	case slices.Contains(d.Programmes(), name):
		return "", &PropertyError{Key: "programme", Label: "Programme", Message: "there is a programme " + name + " already"}
	}
	return name, nil
}

// FreeProgramme gives a name that no programme has: the one asked for, or that with
// a number behind it.
func (d *Drawing) FreeProgramme(name string) string {
	name = strings.TrimSpace(name)
	if name == "" {
		name = "Programme"
	}
	free := name
	for i, taken := 2, d.Programmes(); slices.Contains(taken, free); i++ {
		free = fmt.Sprintf("%s %d", name, i)
	}
	return free
}

// AddProgramme adds a programme of the steps given, in their order and numbered
// from 1. The steps are copied; an id that is taken or missing is made anew.
// A programme without steps gets one to begin with.
func (d *Drawing) AddProgramme(name string, steps []*model.Step) (model.Edit, error) {
	name, err := d.freeProgramme(name)
	if err != nil {
		return model.Edit{}, err
	}
	if len(steps) == 0 {
		steps = []*model.Step{{Name: "Step 1"}}
	}
	f := d.draft()
	f.addSteps(name, steps)
	return f.edit("add programme " + name), nil
}

// DuplicateProgramme adds a copy of a programme, line-ups and all, under a name of
// its own.
func (d *Drawing) DuplicateProgramme(programme, name string) (model.Edit, error) {
	steps := d.StepsOf(programme)
	if len(steps) == 0 {
		return model.Edit{}, errNoProgramme(programme)
	}
	name, err := d.freeProgramme(name)
	if err != nil {
		return model.Edit{}, err
	}
	f := d.draft()
	f.addSteps(name, steps)
	return f.edit("duplicate programme " + programmeWords(programme)), nil
}

// addSteps adds copies of steps as a programme of a name.
func (f *draft) addSteps(programme string, steps []*model.Step) {
	for i, s := range steps {
		next := model.Clone(s)
		if next.ID == "" || f.record(next.ID) != nil {
			next.ID = f.newID("s")
		}
		next.Programme, next.Order = programme, i+1
		f.put(next)
	}
}

// DeleteProgramme takes all steps of a programme out of the circuit.
func (d *Drawing) DeleteProgramme(programme string) (model.Edit, error) {
	steps := d.StepsOf(programme)
	if len(steps) == 0 {
		return model.Edit{}, errNoProgramme(programme)
	}
	f := d.draft()
	for _, s := range steps {
		f.remove(s.ID)
	}
	return f.edit("delete programme " + programmeWords(programme)), nil
}

// RenameProgramme gives all steps of a programme another one's name. The name of
// an existing programme is refused, and so is none.
func (d *Drawing) RenameProgramme(programme, name string) (model.Edit, error) {
	steps := d.StepsOf(programme)
	if len(steps) == 0 {
		return model.Edit{}, errNoProgramme(programme)
	}
	if strings.TrimSpace(name) == programme {
		return model.Edit{Label: "rename programme"}, nil
	}
	name, err := d.freeProgramme(name)
	if err != nil {
		return model.Edit{}, err
	}
	f := d.draft()
	for _, s := range steps {
		next := model.Clone(s)
		next.Programme = name
		f.put(next)
	}
	f.renameFrequency(programme, name)
	return f.edit("rename programme to " + name), nil
}

func errNoProgramme(name string) error {
	return fmt.Errorf("there is no programme %s", programmeWords(name))
}

// programmeWords names a programme; steps that name none are one too.
func programmeWords(name string) string {
	if name == "" {
		return "without a name"
	}
	return name
}

// PutSteps puts changed copies of steps in the place of those of the same ids, as one
// edit of the label given. Only their line-ups and what else differs change.
func (d *Drawing) PutSteps(label string, steps []*model.Step) (model.Edit, error) {
	f := d.draft()
	for _, s := range steps {
		if d.circuit.Step(s.ID) == nil {
			return model.Edit{}, fmt.Errorf("there is no step %s", s.ID)
		}
		next := model.Clone(s)
		tidyLineUp(next)
		f.put(next)
	}
	return f.edit(label), nil
}

// PutStepAnd is [Drawing.PutSteps] for one step that another one is added behind.
func (d *Drawing) PutStepAnd(label string, step, behind *model.Step) (model.Edit, error) {
	if d.circuit.Step(step.ID) == nil {
		return model.Edit{}, fmt.Errorf("there is no step %s", step.ID)
	}
	if behind == nil {
		return model.Edit{}, errors.New("there is no step to be added")
	}
	f := d.draft()
	changed, added := model.Clone(step), model.Clone(behind)
	tidyLineUp(changed)
	tidyLineUp(added)
	added.ID, added.Programme = f.newID("s"), changed.Programme
	list := d.StepsOf(changed.Programme)
	at := slices.IndexFunc(list, func(o *model.Step) bool { return o.ID == step.ID })
	if at < 0 {
		return model.Edit{}, fmt.Errorf("step %s is of another programme now", step.ID)
	}
	list[at] = changed
	f.lineUp(slices.Insert(list, at+1, added))
	return f.edit(label), nil
}

// tidyLineUp takes empty lists out, as a file has none.
func tidyLineUp(s *model.Step) {
	if len(s.Positions) == 0 {
		s.Positions = nil
	}
	s.Running, s.Cleans = emptied(s.Running), emptied(s.Cleans)
}
