package window

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"rinsewright/model"
)

// refreshSide shows the properties of the step that is shown on the drawing.
func (p *stepsPanel) refreshSide() {
	step := p.on.shownStep()
	shape := fmt.Sprint(p.on.units())
	if step != nil {
		shape += string(step.ID)
	}
	for _, p := range washables(p.on.circuit()) {
		shape += " " + string(p.RecordID()) + p.Meta().Tag
	}
	if shape != p.shape || p.form == nil && step != nil {
		p.shape = shape
		p.rebuildSide(step)
	}
	if p.form != nil {
		p.form.refresh()
	}
}

func (p *stepsPanel) rebuildSide(step *model.Step) {
	if step == nil {
		p.form = nil
		l := quiet("Pick a step at the left edge of the grid to see its line-up on the drawing and to say what it sends where.")
		l.Wrapping = fyne.TextWrapWord
		p.side.Content = container.NewPadded(l)
		p.side.Refresh()
		return
	}
	f := newForm(p.on, []model.ID{step.ID})
	p.form = f
	id := step.ID
	now := func() *model.Step { return p.on.circuit().Step(id) }
	f.words("name", "Name", "What the step is called.", 1)
	f.words("programme", "Programme", "Steps of one programme run one after the other. Another name moves this step to that programme.", 1)
	f.property("purpose")
	f.property("optional")

	f.heading("What is sent")
	for _, key := range []string{"medium", "chemical", "strength_pct", "temperature_C"} {
		f.property(key)
	}
	f.heading("How it is sent")
	f.property("flow_m3h")
	f.property("pump_speed_pct")

	f.heading("Where it goes")
	p.placeRow(f, "source", "From", "Vessel or supply that the liquid comes from.", true, func() model.ID { return now().Source },
		func(v string) error { return p.on.tried(p.on.drawing().SetSource(id, model.ID(v))) })
	p.placeRow(f, "destination", "To", "Vessel, drain or end that the liquid goes to. The same vessel as From: it goes round.", false, func() model.ID { return now().Destination },
		func(v string) error { return p.on.tried(p.on.drawing().SetDestination(id, model.ID(v))) })
	f.box.Add(container.NewHBox(newButton(p.on, "Find line-up…", theme.SearchIcon(), func() { p.on.do(p.on.actions.programmes.find) })))

	f.heading("What is washed")
	if list := washables(p.on.circuit()); len(list) == 0 {
		f.remark("Place a process vessel or another object to be cleaned.")
	} else {
		for _, part := range list {
			p.cleansRow(f, id, part)
		}
	}

	f.heading("How it ends")
	f.remark("The step is over when all that is told here is met; the longest time ends it in any case.")
	for _, key := range []string{"time_min", "timer_from", "end_conductivity_mScm", "end_temperature_C", "end_volume_L", "longest_min"} {
		f.property(key)
	}
	f.words("ends_on", "Ends on", "A further condition in words: level low, return clear to the eye. The program does not compute it.", 1)
	f.words("note", "Note", "Anything a reader should know.", 2)
	for _, key := range stepKeys {
		p.senseRow(f, now, key)
	}
	p.side.Content = container.New(sidePadding{}, f.box)
	p.side.Refresh()
}

// stepKeys are the properties that do not make sense in every step.
var stepKeys = []string{"chemical", "strength_pct", "flow_m3h", "pump_speed_pct", "timer_from", "end_conductivity_mScm", "end_temperature_C", "end_volume_L", "longest_min"}

// senseless says why a property makes no sense in a step; empty where it does.
func senseless(s *model.Step, key string) string {
	medium, told := s.Medium.Get()
	solution := medium == model.Alkali || medium == model.Acid || medium == model.Disinfect
	switch key {
	case "chemical", "strength_pct":
		if told && !solution {
			return "no agent in " + plainWords(string(medium))
		}
	case "flow_m3h":
		if s.Purpose.Or("") == model.Hold {
			return "nothing is sent"
		}
	case "pump_speed_pct":
		if s.Purpose.Or("") == model.Hold {
			return "nothing is sent"
		}
		if s.Flow.Known() {
			return "the flow is asked"
		}
	case "timer_from":
		if !s.Time.Known() {
			return "no time is told"
		}
	case "end_conductivity_mScm", "end_temperature_C", "end_volume_L":
		if s.Purpose.Or("") == model.Hold {
			return "nothing is sent"
		}
		if told && (medium == model.Air || medium == model.Steam || medium == model.Gas) {
			return plainWords(string(medium)) + " is sent"
		}
	case "longest_min":
		if !s.EndConductivity.Known() && !s.EndTemperature.Known() && !s.EndVolume.Known() && s.TimerFrom.Or(model.TimerStart) == model.TimerStart {
			return "the time alone ends it"
		}
	}
	return ""
}

// senseRow greys the field of a property where it makes no sense and says there why.
// What is told all the same stays open, so that it can be taken out.
func (p *stepsPanel) senseRow(f *form, now func() *model.Step, key string) {
	in := f.keys[key]
	refresh := func() {
		s := now()
		if s == nil {
			return
		}
		why := senseless(s, key)
		if why != "" && p.on.drawing().Text(s.ID, key, p.on.units()) != "" {
			why = ""
		}
		switch in := in.(type) {
		case *fieldEntry:
			if why != "" {
				in.PlaceHolder = why
			}
			able(in, why == "")
			in.Refresh()
		case *choiceField:
			if why != "" {
				in.PlaceHolder = why
			}
			able(in, why == "")
			in.Refresh()
		}
	}
	f.rows = append(f.rows, refresh)
	refresh()
}

// able greys a field or wakes it.
func able(o fyne.Disableable, on bool) {
	switch {
	case on == !o.Disabled():
	case on:
		o.Enable()
	default:
		o.Disable()
	}
}

// placeRow adds a row for where a step draws from or sends to.
func (p *stepsPanel) placeRow(f *form, key, label, help string, from bool, get func() model.ID, set func(string) error) {
	c := newSearchField(p.on, "Tag or name", func() []choiceOf {
		var out []choiceOf
		for _, part := range ends(p.on.circuit(), p.on.cat, from) {
			out = append(out, choiceOf{string(part.RecordID()), nameOf(part, p.on.cat), titleOf(part, p.on.cat)})
		}
		return out
	}, set)
	c.onFocus = f.helpOn(label, help)
	f.keys[key] = c
	row := newFieldRow(label, "", c)
	c.problem = tellRow(row)
	f.add(row, func() {
		text := ""
		if part := p.on.circuit().Part(get()); part != nil {
			text = nameOf(part, p.on.cat) + ", " + titleOf(part, p.on.cat)
		}
		c.setShown(text, false)
	})
}

func (p *stepsPanel) cleansRow(f *form, step model.ID, part model.Part) {
	quietly := false
	c := newCheck(p.on, nameOf(part, p.on.cat)+", "+titleOf(part, p.on.cat), nil)
	c.OnChanged = func(on bool) {
		if !quietly {
			p.on.try(p.on.drawing().SetCleans(step, part.RecordID(), on))
		}
	}
	f.box.Add(c)
	refresh := func() {
		quietly = true
		if s := p.on.circuit().Step(step); s != nil {
			c.SetChecked(slices.Contains(s.Cleans, part.RecordID()))
		}
		quietly = false
	}
	f.rows = append(f.rows, refresh)
	refresh()
}
