package window

import (
	"context"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/programme"
	"rinsewright/model/quantity"
)

// newProgramme is the dialog that makes a programme: an empty one, or one from a ready
// programme for what the user ticks. What would be made is told before it is.
type newProgramme struct {
	on        *Window
	templates []*programme.Template
	at        int // picked: 0 for an empty one, else a template and one
	list      *keyList
	about     *fyne.Container // what the ready programme is and does
	reading   *container.Scroll
	name      *searchEntry
	named     bool // the name was typed
	objects   []model.Part
	ticks     []*check
	order     []model.ID // ticked, in the order of ticking
	ordered   *check
	optional  *check
	flow      *searchEntry
	forThis   *fyne.Container // all fields that an empty programme does not need
	washed    *fyne.Container // of those, the ones that a programme needs that washes
	result    *widget.Label
	wrong     *widget.Label
	work      *besideWork
	plan      *programme.Plan // of what is chosen now; nil while it is awaited or cannot be made
	wanted    bool            // to be added once the plan is there
	down      func()
}

// askProgramme opens the dialog.
func (w *Window) askProgramme() {
	d := &newProgramme{on: w, templates: programme.All(), at: 1, work: &besideWork{on: w}, objects: likelyWashed(w)}
	d.build()
	size := w.win.Canvas().Size()
	wide, high := min(1080, size.Width-60), min(600, size.Height-150)
	body := withLayout(programmeColumns{wide, high}, d.list, scrolledForm(d.reading), d.fields())
	d.down = w.askStaying("New programme", body, "Add programme", d.take)
	down := d.down
	d.down = func() { d.work.stop(); down() }
	d.list.Select(d.at)
	w.focus(d.list)
	d.list.List.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown}) // its frame goes to what is picked
}

// likelyWashed lists what can be washed, the tanks of the station last.
func likelyWashed(w *Window) []model.Part {
	list := washables(w.circuit())
	rank := func(p model.Part) int {
		if k := w.cat.Kind(p.Meta().Kind); k != nil && k.Has(catalogue.TraitStorage) {
			return 1
		}
		return 0
	}
	slices.SortStableFunc(list, func(a, b model.Part) int { return rank(a) - rank(b) })
	return list
}

// programmeColumns lays the list, what is read and the fields side by side.
type programmeColumns struct{ wide, high float32 }

func (c programmeColumns) MinSize([]fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(c.wide, c.high)
}

func (c programmeColumns) Layout(o []fyne.CanvasObject, s fyne.Size) {
	x := float32(0)
	for i, share := range []float32{0.22, 0.4, 0.38} {
		w := float32(int(s.Width*share)) - 8
		o[i].Move(fyne.NewPos(x, 0))
		o[i].Resize(fyne.NewSize(w, s.Height))
		x += w + 8
	}
}

func (d *newProgramme) build() {
	w := d.on
	d.list = newKeyList(w, func() int { return len(d.templates) + 1 }, func() fyne.CanvasObject {
		l := widget.NewLabel("")
		l.Truncation = fyne.TextTruncateEllipsis
		return l
	}, func(i widget.ListItemID, o fyne.CanvasObject) {
		text := "Empty programme"
		if i > 0 && i <= len(d.templates) {
			text = d.templates[i-1].Title
		}
		o.(*widget.Label).SetText(text)
	})
	d.list.onEscape = func() { d.down() }
	d.list.onArrow = func(by int) {
		if to := d.at + by; to >= 0 && to <= len(d.templates) {
			d.list.Select(to)
		}
	}
	d.list.OnSelected = d.pick
	d.about = container.NewVBox()
	d.reading = container.NewVScroll(container.New(sidePadding{}, d.about))
	entry := func(hint string) *searchEntry {
		e := newSearchEntry(hint)
		e.Icon = nil
		e.OnSubmitted = func(string) { w.guard("add a programme", d.take) }
		e.onEscape = func() { d.down() }
		return e
	}
	d.name, d.flow = entry("Name of the programme"), entry("what the objects need")
	quietly := func(string) { d.named = d.name.Text != "" && d.name.Text != d.offered() }
	d.name.OnChanged = quietly
	d.flow.OnChanged = func(string) { d.make(150 * time.Millisecond) }
	d.ordered = newCheck(w, "Passed in the order in which they were ticked", func(bool) { d.make(0) })
	d.optional = newCheck(w, "With the steps that are done only at times", func(bool) { d.make(0) })
	d.result, d.wrong = widget.NewLabel(""), widget.NewLabel("")
	d.result.Wrapping, d.wrong.Wrapping = fyne.TextWrapWord, fyne.TextWrapWord
	d.result.SizeName = theme.SizeNameCaptionText
	d.wrong.Importance = widget.DangerImportance
	d.wrong.Hide()
	// What the step shown washes is the likeliest to be washed again.
	shown := w.shownStep()
	for _, part := range d.objects {
		id := part.RecordID()
		t := newCheck(w, nameOf(part, w.cat)+", "+titleOf(part, w.cat), nil)
		likely := len(d.objects) == 1 || shown != nil && slices.Contains(shown.Cleans, id)
		if likely {
			t.Checked = true
			d.order = append(d.order, id)
		}
		t.OnChanged = func(on bool) { d.tick(id, on) }
		d.ticks = append(d.ticks, t)
	}
}

// fields lays out what is asked for this circuit.
func (d *newProgramme) fields() fyne.CanvasObject {
	d.washed = container.NewVBox(heading("What is washed, one after the other in one line"))
	if len(d.ticks) == 0 {
		l := quiet("Nothing in the circuit can be washed yet: place a process vessel or another object to be cleaned.")
		l.Wrapping = fyne.TextWrapWord
		d.washed.Add(l)
	}
	for _, t := range d.ticks {
		d.washed.Add(t)
	}
	d.washed.Add(d.ordered)
	d.forThis = container.NewVBox(d.washed, heading("How"))
	d.forThis.Add(newFieldRow("Flow", quantity.DisplayUnit[quantity.Flow](d.on.units()).Name, d.flow).box)
	d.forThis.Add(d.optional)
	all := container.NewVBox(newFieldRow("Name", "", d.name).box, d.wrong, d.forThis, heading("What it would be here"), d.result)
	s := container.NewVScroll(container.New(sidePadding{}, all))
	return scrolledForm(s)
}

func (d *newProgramme) template() *programme.Template {
	if d.at < 1 || d.at > len(d.templates) {
		return nil
	}
	return d.templates[d.at-1]
}

// pick shows a ready programme.
func (d *newProgramme) pick(i int) {
	d.at = i
	d.about.RemoveAll()
	wrapped := func(text string, l *widget.Label) {
		l.Wrapping = fyne.TextWrapWord
		l.SetText(text)
		d.about.Add(l)
	}
	t := d.template()
	if t == nil {
		d.forThis.Hide()
		wrapped("Empty programme", heading(""))
		wrapped("One step to begin with; the others are added by hand.", widget.NewLabel(""))
	} else {
		d.forThis.Show()
		if t.Washes() {
			d.washed.Show()
			d.flow.SetPlaceHolder("what the objects need")
		} else {
			d.washed.Hide()
			d.flow.SetPlaceHolder("that of the pump")
		}
		title := heading("")
		title.Truncation = fyne.TextTruncateOff
		wrapped(t.Title, title)
		wrapped(t.About, widget.NewLabel(""))
		optional := false
		for i := range t.Steps {
			head, lines := phaseLines(i, &t.Steps[i], d.on.units())
			l := quiet(strings.Join(lines, "\n"))
			l.Wrapping = fyne.TextWrapWord
			d.about.Add(container.New(tight, heading(head), l))
			optional = optional || t.Steps[i].Optional != ""
		}
		wrapped("The figures are a start. What holds are the supplier's data, the makers of seals and the plant's own trials.", quiet(""))
		able(d.optional, optional)
	}
	d.reading.ScrollToTop()
	d.about.Refresh()
	d.offer()
	d.make(0)
}

func (d *newProgramme) tick(id model.ID, on bool) {
	d.order = slices.DeleteFunc(d.order, func(o model.ID) bool { return o == id })
	if on {
		d.order = append(d.order, id)
	}
	d.offer()
	d.make(0)
}

// offered gives the name that a programme gets if none is typed.
func (d *newProgramme) offered() string {
	name := "Programme"
	if t := d.template(); t != nil {
		name = t.Title
		if len(d.order) > 0 && t.Washes() {
			name += ": " + d.on.lineUpWords().names(d.order)
		}
	}
	return d.on.drawing().FreeProgramme(name)
}

// offer writes a name unless one was typed.
func (d *newProgramme) offer() {
	if !d.named {
		d.name.SetText(d.offered())
		d.named = false
	}
}

// options gives what is chosen, or says what is missing.
func (d *newProgramme) options() (programme.Options, error) {
	o := programme.Options{Optional: d.optional.Checked && !d.optional.Disabled()}
	if t := d.template(); t == nil || t.Washes() {
		o.Objects, o.Ordered = slices.Clone(d.order), d.ordered.Checked
		if len(o.Objects) == 0 {
			return o, errors.New("tick what is to be washed")
		}
	}
	if text := strings.TrimSpace(d.flow.Text); text != "" {
		q, err := quantity.Parse(text, reflect.TypeFor[quantity.Flow](), d.on.units())
		if err == nil && q <= 0 {
			err = errors.New("must be above zero")
		}
		if err != nil {
			return o, fmt.Errorf("flow: %w", err)
		}
		o.Flow = quantity.Some(quantity.Flow(q))
	}
	return o, nil
}

// make works out what the programme would be.
func (d *newProgramme) make(wait time.Duration) {
	d.plan = nil
	d.complain(nil)
	t := d.template()
	if t == nil {
		d.work.stop()
		d.result.SetText("One step without a line-up.")
		return
	}
	o, err := d.options()
	if err != nil {
		d.work.stop()
		d.result.SetText(sentence(err.Error()) + ".")
		return
	}
	d.result.SetText("Looking for line-ups…")
	plant := d.on.lines.plant
	d.work.begin("make a programme", wait, func(context.Context) func() {
		plan, err := programme.Make(plant, t, o)
		return func() {
			if err != nil {
				d.result.SetText(sentence(strings.TrimPrefix(err.Error(), "programme: ")) + ".")
				d.wanted = false
				return
			}
			d.plan = plan
			d.result.SetText(d.told(plan))
			d.on.events.tell("plan", map[string]any{"template": t.Name, "steps": len(plan.Steps), "notes": len(plan.Notes)})
			if d.wanted {
				d.take()
			}
		}
	})
}

// told writes what a plan holds and lacks.
func (d *newProgramme) told(plan *programme.Plan) string {
	t := d.on.lineUpWords()
	var b strings.Builder
	for i, s := range plan.Steps {
		fmt.Fprintf(&b, "%d  %s", i+1, s.Name)
		if what := sends(s, t.name, t.units); what != "" {
			b.WriteString(": " + what)
		}
		b.WriteString("\n")
		for _, n := range plan.Notes {
			if n.Step == s.ID {
				b.WriteString("      ! " + n.Text + "\n")
			}
		}
	}
	if len(plan.Notes) == 0 {
		b.WriteString("\nEvery step has its line-up.")
	} else {
		b.WriteString("\n" + plural(len(plan.Notes), "note") + ": they stay in view once the programme is added, with the way to each place.")
	}
	return b.String()
}

func (d *newProgramme) complain(err error) {
	if err == nil {
		d.wrong.Hide()
		return
	}
	d.wrong.SetText(sentence(plainError(err).Error()) + ".")
	d.wrong.Show()
}

// take adds the programme as one edit.
func (d *newProgramme) take() {
	w := d.on
	var steps []*model.Step
	var notes []programme.Note
	if d.template() != nil {
		if _, err := d.options(); err != nil {
			d.complain(err)
			return
		}
		if d.plan == nil {
			d.wanted = d.work.busy
			return
		}
		steps, notes = d.plan.Steps, d.plan.Notes
	}
	d.wanted = false
	e, err := w.drawing().AddProgramme(d.name.Text, steps)
	if err == nil {
		err = w.apply(e)
	}
	if err != nil {
		d.complain(err)
		return
	}
	d.down()
	name := strings.TrimSpace(d.name.Text)
	w.showProgramme(programmeChoice{name: name})
	if len(notes) > 0 {
		w.steps.finder.tellNotes("Notes on "+name, notes)
	}
	w.tellHint("Added " + name + ": " + plural(len(w.drawing().StepsOf(name)), "step") + ". Ctrl+Z takes it back.")
}
