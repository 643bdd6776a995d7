package window

import (
	"errors"
	"fmt"
	"reflect"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/canvas/scene"
	"rinsewright/model"
	"rinsewright/model/hydraulic"
	"rinsewright/model/quantity"
)

// questions of a design that the solved step can answer.
var questions = []string{"Speed of a pump for a flow", "Head that a pump must add for a flow", "Smallest tube for a flow", "Balance branches by their valves"}

const (
	askSpeed = iota
	askHead
	askTube
	askBalance
)

// designForm asks what the solved step would need and answers in words. An answer
// that is a change of the plant can be made as an edit.
type designForm struct {
	on      *Window
	root    fyne.CanvasObject
	what    *pickList
	pump    *pickList
	pumps   []model.ID // of the entries of pump
	flow    *fieldEntry
	least   *fieldEntry // limits of the velocity; empty: none
	most    *fieldEntry
	rows    [5]*fieldRow // pump, flow, least, most, valves
	balance *balanceForm
	ask     *button
	answer  *widget.Label
	give    *button // makes the answer an edit
	edit    func() (model.Edit, error)
}

func newDesignForm(on *Window) *designForm {
	d := &designForm{on: on, answer: widget.NewLabel("")}
	d.answer.Wrapping = fyne.TextWrapWord
	d.what = newPickList(on, questions, func(string) { d.chosen() })
	d.pump = newPickList(on, nil, func(string) { d.say("") })
	d.pump.PlaceHolder = "no pump runs"
	d.flow, d.least, d.most = newAskEntry(on, d.work), newAskEntry(on, d.work), newAskEntry(on, d.work)
	d.balance = newBalanceForm(on, d.work)
	d.ask = newButton(on, "Work out", theme.ConfirmIcon(), d.work)
	d.ask.Importance = widget.HighImportance
	d.give = newButton(on, "", theme.ConfirmIcon(), d.giveAnswer)
	d.give.Hide()
	d.build()
	d.quietly(askSpeed)
	return d
}

// build lays the fields out with the units in force.
func (d *designForm) build() {
	flow, velocity := quantity.DisplayUnit[quantity.Flow](d.on.system).Name, quantity.DisplayUnit[quantity.Velocity](d.on.system).Name
	d.rows = [5]*fieldRow{newFieldRow("Pump", "", d.pump), newFieldRow("Flow", flow, d.flow), newFieldRow("Velocity at least", velocity, d.least),
		newFieldRow("Velocity at most", velocity, d.most), {box: container.NewVBox(d.balance.root)}}
	box := container.NewVBox(d.what)
	for _, r := range d.rows {
		box.Add(r.box)
	}
	box.Add(container.NewHBox(d.ask, d.give))
	box.Add(d.answer)
	d.root = box
}

func (d *designForm) quietly(question int) {
	d.what.SetSelectedIndex(question)
	d.chosen()
}

// chosen shows the fields of a question.
func (d *designForm) chosen() {
	if d.root == nil {
		return
	}
	i := d.what.SelectedIndex()
	for k, shown := range [5]bool{i == askSpeed || i == askHead, i != askBalance, i == askTube, i == askTube, i == askBalance} {
		if shown {
			d.rows[k].box.Show()
		} else {
			d.rows[k].box.Hide()
		}
	}
	d.say("")
	d.root.Refresh()
}

// open asks the questions in a dialog.
func (d *designForm) open() {
	w := d.on
	d.build()
	flow := ""
	if q, ok := w.solution.Supply.Asked.Get(); ok {
		flow = quantity.Number(quantity.DisplayUnit[quantity.Flow](w.system).FromSI(float64(q)))
	}
	d.flow.setShown(flow)
	d.limits()
	d.balance.fill()
	d.quietly(max(d.what.SelectedIndex(), 0))
	w.askWith("What would be needed in "+stepLabel(w.circuit(), w.shownStep()), d.root, fyne.NewSize(520, 0), answer{"Close", nil})
	w.focus(d.what)
}

// limits puts the velocities of the limits profile into their fields.
func (d *designForm) limits() {
	limits, _ := d.on.profile().With(d.on.circuit().Header().Limits)
	for name, e := range map[string]*fieldEntry{"velocity-least": d.least, "velocity-most": d.most} {
		text := ""
		if l, ok := limits.Limit(name); ok {
			text = quantity.Number(quantity.DisplayUnit[quantity.Velocity](d.on.system).FromSI(l.Is()))
		}
		e.setShown(text)
	}
}

// refresh offers what runs in the step that was solved last.
func (d *designForm) refresh() {
	d.pumps = nil
	var names []string
	at := -1
	if s := d.on.solution; s != nil {
		for _, p := range s.Pumps {
			if !p.Running {
				continue
			}
			if at < 0 || p.Pump == s.Supply.Pump {
				at = len(d.pumps)
			}
			d.pumps = append(d.pumps, p.Pump)
			names = append(names, nameOf(d.on.circuit().Record(p.Pump), d.on.cat))
		}
	}
	was := slices.Index(names, d.pump.Selected)
	if was >= 0 {
		at = was
	}
	d.pump.SetOptions(names)
	d.pump.ClearSelected()
	if at >= 0 {
		d.pump.SetSelectedIndex(at)
	}
}

// newAskEntry makes an entry that keeps what is typed without changing a circuit.
// Return asks.
func newAskEntry(on *Window, ask func()) *fieldEntry {
	var e *fieldEntry
	e = newFieldEntry(func(text string) error { e.shown = text; return nil })
	e.onKey = on.function
	e.OnSubmitted = func(string) { e.commit(); ask() }
	return e
}

func (d *designForm) say(text string) {
	d.answer.SetText(text)
	d.edit = nil
	d.give.Hide()
}

// work answers.
func (d *designForm) work() {
	d.on.guard("work out", func() {
		d.say("")
		text, err := d.answered()
		d.answer.Importance = widget.MediumImportance
		if err != nil {
			text = sentence(flowErrorWords(err, d.on.system))
			d.answer.Importance = widget.DangerImportance
		}
		d.answer.SetText(text)
		if d.edit != nil {
			d.give.Show()
		}
		d.on.events.tell("answer", map[string]any{"text": text})
	})
}

// giveAnswer makes the answer an edit, which can be undone like any other.
func (d *designForm) giveAnswer() {
	if d.edit == nil {
		return
	}
	e, err := d.edit()
	if err = d.on.tried(e, err); err != nil {
		d.answer.SetText(sentence(err.Error()))
		return
	}
	d.edit = nil
	d.give.Hide()
	d.answer.SetText(d.answer.Text + "\n\nDone: " + e.Label + ". Ctrl+Z takes it back.")
}

var errNotSolvedYet = errors.New("the flow of the step shown is not solved; the tab Flow tells why")

func (d *designForm) answered() (string, error) {
	w, s := d.on, d.on.solution
	if s == nil {
		return "", errNotSolvedYet
	}
	i := d.what.SelectedIndex()
	if i == askBalance {
		return d.balance.answered(d)
	}
	q, err := positive[quantity.Flow](d.flow.Text, "flow", w.system)
	if err != nil {
		return "", err
	}
	switch i {
	case askSpeed, askHead:
		at := d.pump.SelectedIndex()
		if at < 0 || at >= len(d.pumps) {
			return "", errors.New("no pump runs in this step")
		}
		if i == askHead {
			return d.head(d.pumps[at], q)
		}
		return d.speed(d.pumps[at], q)
	case askTube:
		return d.tube(q)
	}
	return "", errors.New("choose what is to be worked out")
}

// positive reads a number above zero.
func positive[T ~float64](text, what string, s quantity.System) (T, error) {
	if text == "" {
		return 0, fmt.Errorf("say the %s", what)
	}
	x, err := quantity.Parse(text, reflect.TypeFor[T](), s)
	if err == nil && x <= 0 {
		err = errors.New("must be above zero")
	}
	if err != nil {
		return 0, fmt.Errorf("%s: %w", what, err)
	}
	return T(x), nil
}

func (d *designForm) head(pump model.ID, q quantity.Flow) (string, error) {
	w := d.on
	head, err := w.solution.HeadFor(pump, q)
	if err != nil {
		return "", err
	}
	name := nameOf(w.circuit().Record(pump), w.cat)
	if head < 0 {
		return fmt.Sprintf("%s comes by itself: %s would have to hold %s back.", quantity.Text(q, w.system), name, quantity.Text(-head, w.system)), nil
	}
	return fmt.Sprintf("%s must add %s for %s.", name, quantity.Text(head, w.system), quantity.Text(q, w.system)), nil
}

func (d *designForm) speed(pump model.ID, q quantity.Flow) (string, error) {
	w := d.on
	speed, err := w.solution.SpeedFor(pump, q)
	if err != nil {
		return "", err
	}
	text := fmt.Sprintf("%s passes %s at %.0f %% of its rated speed.", nameOf(w.circuit().Record(pump), w.cat), quantity.Text(q, w.system), 100*float64(speed))
	if speed > 1 {
		text += " That is above its rated speed: take a larger pump, or ask its maker."
	}
	return text, nil
}

// tube names the smallest tube that meets the limits of the velocity, from the
// series of the selected runs, or else of those that flow.
func (d *designForm) tube(q quantity.Flow) (string, error) {
	w := d.on
	var limits hydraulic.Limits
	for _, l := range []struct {
		field *fieldEntry
		what  string
		to    *quantity.Velocity
	}{{d.least, "least velocity", &limits.LeastVelocity}, {d.most, "greatest velocity", &limits.MostVelocity}} {
		if l.field.Text == "" {
			continue
		}
		v, err := positive[quantity.Velocity](l.field.Text, l.what, w.system)
		if err != nil {
			return "", err
		}
		*l.to = v
	}
	runs := d.selectedRuns()
	series := d.series(runs)
	if series == "" {
		return "", errors.New("no run that flows has a tube size, so the series is not known")
	}
	tube, state, err := w.solution.TubeFor(q, limits, series)
	if errors.Is(err, hydraulic.ErrNoTube) {
		return "", fmt.Errorf("no tube of the series of %s keeps %s within these velocities", series, quantity.Text(q, w.system))
	}
	if err != nil {
		return "", err
	}
	text := fmt.Sprintf("%s: %s in it, wall shear %s; friction takes %s %% of its length as head.", tube.Size, quantity.Text(state.Velocity, w.system),
		scene.Pascals(state.Shear), quantity.Number(100*float64(state.Gradient)))
	if len(runs) == 0 {
		return text + " To give it to runs, select them before you ask.", nil
	}
	d.give.SetText("Give it to " + plural(len(runs), "selected run"))
	d.edit = func() (model.Edit, error) { return w.drawing().SetProperty(runs, "size", string(tube.Size), w.system) }
	return text, nil
}

// series gives a size of the tube table to choose from.
func (d *designForm) series(runs []model.ID) model.TubeSize {
	for _, id := range runs {
		if size, ok := d.on.circuit().Run(id).Size.Get(); ok {
			return size
		}
	}
	for _, r := range d.on.circuit().Runs() {
		if size, ok := r.Size.Get(); ok && d.on.lines.passes(r.ID) != passesNothing {
			return size
		}
	}
	return ""
}

func (d *designForm) selectedRuns() []model.ID {
	var out []model.ID
	for _, id := range d.on.doc.Selection() {
		if d.on.circuit().Run(id) != nil {
			out = append(out, id)
		}
	}
	return out
}
