package window

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/model"
	"rinsewright/model/lineup"
	"rinsewright/model/programme"
)

// stepsTab is the place of the steps among the tabs.
const stepsTab = 2

// lineUpFinder shows what was found for a step, or for all steps of a programme. What
// is picked is shown on the drawing before it is applied. It stands where the
// properties of the step stand otherwise.
type lineUpFinder struct {
	on     *Window
	root   fyne.CanvasObject
	title  *widget.Label
	list   *fyne.Container
	rows   []*finderRow
	ticks  []*check // of the rows, for a whole programme; nil for those without a line-up
	text   *widget.Label
	steam  *check
	drain  *check
	apply  *button
	jump   *button
	away   *button
	scroll *container.Scroll
	work   *besideWork

	open    bool
	of      *model.Circuit // that was searched; nil for notes
	whole   bool           // all steps of a programme
	found   []lineUpFound  // one, or one a step
	steams  []bool         // of the rows: steam is to be opened
	at      int            // row that is picked; -1: none
	preview *model.Step    // shown on the drawing in the place of the circuit's own
	jumpTo  func()
}

func newLineUpFinder(on *Window) *lineUpFinder {
	f := &lineUpFinder{on: on, work: &besideWork{on: on}, title: heading(""), list: container.NewVBox(), text: widget.NewLabel(""), at: -1}
	f.text.Wrapping = fyne.TextWrapWord
	f.text.SizeName = theme.SizeNameCaptionText
	f.steam = newCheck(on, "Open steam to the heaters on the way", func(open bool) {
		if f.at >= 0 && f.at < len(f.steams) {
			f.steams[f.at] = open
		}
		f.show()
	})
	f.drain = newCheck(on, "Add a step that runs the line empty after it", nil)
	f.apply = newButton(on, "Apply", theme.ConfirmIcon(), f.take)
	f.apply.Importance = widget.HighImportance
	f.jump = newButton(on, "Go there", theme.NavigateNextIcon(), func() {
		if f.jumpTo != nil {
			on.guard("go to a place", f.jumpTo)
		}
	})
	f.away = newButton(on, "Close", theme.CancelIcon(), f.close)
	f.scroll = container.NewVScroll(container.New(sidePadding{}, container.NewVBox(f.list, f.steam, f.drain, f.text)))
	foot := container.NewVBox(widget.NewSeparator(), container.NewHBox(f.apply, f.jump, f.away))
	f.root = container.NewBorder(f.title, foot, nil, nil, scrolledForm(f.scroll))
	f.root.Hide()
	return f
}

// begin opens the finder with nothing in it yet, in view whatever tab was.
func (f *lineUpFinder) begin(title string) {
	f.forget()
	if f.on.tabs.at != stepsTab {
		f.on.tabs.pick(stepsTab)
	}
	f.open, f.of = true, f.on.circuit()
	f.title.SetText(title)
	f.say("Looking for line-ups…")
	f.away.SetText("Cancel")
	f.showButtons(false, false, false)
	f.on.steps.showSlot()
}

// forStep looks for the line-ups of the step shown.
func (f *lineUpFinder) forStep() {
	step := f.on.shownStep()
	if step == nil {
		return
	}
	all, plant := f.on.drawing().StepsOf(step.Programme), f.on.lines.plant
	f.begin("Line-ups for " + stepLabel(f.on.circuit(), step))
	f.work.begin("find line-ups", 0, func(context.Context) func() {
		x := findLineUps(plant, step, all, nil)
		return func() { f.takeIn([]lineUpFound{x}, false) }
	})
}

// forProgramme looks for the line-ups of all steps of a programme.
func (f *lineUpFinder) forProgramme(name string) {
	all, plant := f.on.drawing().StepsOf(name), f.on.lines.plant
	f.begin("Line-ups for all steps of " + programmeTitle(name))
	f.work.begin("find line-ups", 0, func(ctx context.Context) func() {
		var out []lineUpFound
		best := map[model.ID]*lineUpOption{}
		for _, s := range all {
			if ctx.Err() != nil {
				return nil
			}
			x := findLineUps(plant, s, all, best)
			if len(x.options) > 0 && x.options[0].empties == nil {
				best[s.ID] = &x.options[0]
			}
			out = append(out, x)
		}
		return func() { f.takeIn(out, true) }
	})
}

// takeIn shows what was found.
func (f *lineUpFinder) takeIn(found []lineUpFound, whole bool) {
	f.found, f.whole, f.at = found, whole, -1
	f.away.SetText("Close")
	some, proven, options := 0, 0, 0
	t := f.on.lineUpWords()
	for _, x := range found {
		options += len(x.options)
		if len(x.options) > 0 {
			some++
			if x.options[0].proposal.Proven {
				proven++
			}
		}
	}
	switch {
	case whole:
		for _, x := range found {
			f.programmeRow(t, x)
		}
		f.say(fmt.Sprintf("Found for %d of %s. Pick one to see it on the drawing; what is ticked is applied.", some, plural(len(found), "step")))
	case options == 0:
		f.tellMissing(&found[0])
	default:
		for i := range found[0].options {
			x := &found[0].options[i]
			f.add(newFinderRow(f.on, fmt.Sprintf("%d   %s", i+1, t.head(x)), t.under(x), nil), nil)
		}
	}
	f.list.Refresh()
	if len(f.rows) > 0 {
		f.pick(0)
		f.on.focus(f.rows[0])
	} else {
		f.on.focus(f.jump)
	}
	f.on.events.tell("lineups", map[string]any{"steps": len(found), "found": some, "proven": proven, "options": options})
}

// programmeRow adds the row of one step of a programme.
func (f *lineUpFinder) programmeRow(t lineUpWords, x lineUpFound) {
	head := stepOnly(f.on.circuit(), x.step)
	if len(x.options) == 0 {
		f.add(newFinderRow(f.on, head, "None: "+x.missing, iconFix), nil)
		return
	}
	tick := newCheck(f.on, "", func(bool) { f.canApply() })
	tick.Checked = true
	f.add(newFinderRow(f.on, head, t.head(&x.options[0])+"; "+t.under(&x.options[0]), nil), tick)
}

// add adds a row.
func (f *lineUpFinder) add(r *finderRow, tick *check) {
	i := len(f.rows)
	r.onPick = func() { f.pick(i) }
	r.onTake = f.take
	r.onAway = f.close
	r.onMove = func(by int) {
		if to := i + by; to >= 0 && to < len(f.rows) {
			f.on.focus(f.rows[to])
			f.rows[to].pick()
		}
	}
	f.rows, f.ticks, f.steams = append(f.rows, r), append(f.ticks, tick), append(f.steams, false)
	if x := f.found; len(x) > 0 {
		f.steams[i] = warmStep(x[min(i, len(x)-1)].step)
	}
	if tick == nil {
		f.list.Add(r)
		return
	}
	f.list.Add(container.NewBorder(nil, nil, tick, nil, r))
}

// picked gives what the row picked stands for; nil where nothing was found.
func (f *lineUpFinder) picked() (*lineUpFound, *lineUpOption) {
	switch {
	case f.at < 0 || len(f.found) == 0:
		return nil, nil
	case f.whole:
		x := &f.found[f.at]
		if len(x.options) == 0 {
			return x, nil
		}
		return x, &x.options[0]
	case f.at >= len(f.found[0].options):
		return &f.found[0], nil
	}
	return &f.found[0], &f.found[0].options[f.at]
}

// pick shows a row's line-up on the drawing.
func (f *lineUpFinder) pick(i int) {
	if i < 0 || i >= len(f.rows) {
		return
	}
	f.at = i
	for j, r := range f.rows {
		r.set(j == i)
	}
	x, option := f.picked()
	switch {
	case x == nil:
		return
	case option == nil:
		f.preview = nil
		f.on.showStep(x.step.ID)
		f.tellMissing(x)
		f.on.previewStep(nil)
		return
	}
	some := len(option.steam) > 0
	f.steam.SetChecked(f.steams[i])
	f.showChecks(some, !f.whole && option.empties == nil)
	f.canApply()
	f.show()
}

// warmStep says whether a step is warmer than the supply, so that its heater is meant
// to heat. 30 °C is common practice, no source.
func warmStep(s *model.Step) bool {
	t, known := s.Temperature.Get()
	return known && t.Celsius() > 30
}

// show previews what is picked and tells about it.
func (f *lineUpFinder) show() {
	x, option := f.picked()
	if option == nil || !f.open {
		return
	}
	t := f.on.lineUpWords()
	lines := t.lines(option)
	if len(option.steam) > 0 {
		lines = append(lines, "Steam is opened by "+t.moves(option.steam)+".")
	}
	f.say(strings.Join(lines, "\n"))
	f.preview = option.with(f.steams[f.at])
	f.on.showStep(x.step.ID)
	f.on.previewStep(f.preview)
	f.on.tellHint("A preview: nothing is changed until it is applied.")
	f.on.events.tell("preview", map[string]any{"step": string(x.step.ID), "row": f.at, "route": f.on.lines.found()})
}

// tellMissing says why there is no line-up and offers the way to the place.
func (f *lineUpFinder) tellMissing(x *lineUpFound) {
	f.say("No line-up: " + x.missing + ".")
	at, key, id := x.at, x.key, x.step.ID
	f.jumpTo = func() {
		if key != "" || at.Element == id || at == (model.Place{}) {
			f.close()
			f.on.gotoProperty(id, key)
			return
		}
		if f.on.circuit().Step(at.Element) != nil {
			f.close()
			f.on.gotoProperty(at.Element, "source")
			return
		}
		f.on.gotoPlace(at)
	}
	f.showChecks(false, false)
	f.showButtons(f.whole, true, true)
	f.canApply()
}

// canApply greys Apply while nothing is to be applied.
func (f *lineUpFinder) canApply() {
	n := len(f.chosen())
	f.showButtons(f.whole || n > 0, f.jump.Visible() && f.jumpTo != nil, true)
	if f.whole {
		f.apply.SetText("Apply to " + plural(n, "step"))
	} else {
		f.apply.SetText("Apply")
	}
	f.apply.able(n > 0)
}

// chosen gives the steps as they would be applied.
func (f *lineUpFinder) chosen() []*model.Step {
	var out []*model.Step
	if !f.whole {
		if _, x := f.picked(); x != nil {
			out = append(out, x.with(f.steams[f.at]))
		}
		return out
	}
	for i, x := range f.found {
		if i >= len(f.ticks) || len(x.options) == 0 || !f.ticks[i].Checked {
			continue
		}
		out = append(out, x.options[0].with(f.steams[i]))
	}
	return out
}

// take applies what is chosen as one step of the history.
func (f *lineUpFinder) take() {
	w := f.on
	steps := f.chosen()
	if len(steps) == 0 || f.of != w.circuit() {
		return
	}
	label, d := "line up "+stepOnly(w.circuit(), steps[0]), w.drawing()
	if f.whole {
		label = "line up " + plural(len(steps), "step")
	}
	e, err := d.PutSteps(label, steps)
	if _, x := f.picked(); !f.whole && x != nil && f.drain.Checked && f.drain.Visible() {
		behind, why := drainBehind(w.lines.plant, steps[0], x)
		if behind == nil {
			f.say("The line cannot be emptied: " + why + ".")
			return
		}
		e, err = d.PutStepAnd(label+" and empty it after", steps[0], behind)
	}
	w.guard("apply a line-up", func() {
		f.close()
		w.try(e, err)
		if err == nil {
			w.tellHint(sentence("done: " + e.Label + ". Ctrl+Z takes it back."))
		}
	})
	w.focus(w.steps.table)
}

// tellNotes shows what a programme lacks, with the way to each place.
func (f *lineUpFinder) tellNotes(title string, notes []programme.Note) {
	f.forget()
	f.open = true
	f.title.SetText(title)
	f.away.SetText("Close")
	for i, n := range notes {
		r := newFinderRow(f.on, stepOnly(f.on.circuit(), f.on.circuit().Step(n.Step)), sentence(n.Text)+".", iconNote)
		f.add(r, nil)
		r.onPick = func() { f.pickNote(i, n) }
		r.onTake = r.onPick
	}
	f.say("Pick a line to go to its place.")
	f.showButtons(false, false, true)
	f.list.Refresh()
	f.on.steps.showSlot()
}

func (f *lineUpFinder) pickNote(i int, n programme.Note) {
	for j, r := range f.rows {
		r.set(i == j)
	}
	if f.on.circuit().Step(n.Step) != nil {
		f.on.showStep(n.Step)
	}
	if f.on.circuit().Step(n.At.Element) == nil {
		f.on.gotoPlace(n.At)
	}
}

// forget drops what was found and its preview.
func (f *lineUpFinder) forget() {
	f.work.stop()
	had := f.preview != nil
	f.list.RemoveAll()
	f.open, f.of, f.whole, f.at, f.preview, f.jumpTo = false, nil, false, -1, nil, nil
	f.found, f.rows, f.ticks, f.steams = nil, nil, nil, nil
	f.drain.Checked = false
	f.showChecks(false, false)
	if had {
		f.on.previewStep(nil)
	}
}

// close puts the finder away and shows the step as it is.
func (f *lineUpFinder) close() {
	if !f.open {
		return
	}
	f.forget()
	f.on.steps.showSlot()
	f.on.focus(f.on.steps.table)
}

// stale puts the finder away where what it shows is no longer of the circuit that is
// open, or of the step that is shown.
func (f *lineUpFinder) stale() {
	switch {
	case !f.open || f.of == nil:
	case f.of != f.on.circuit():
		f.preview = nil // the window shows the new circuit already
		f.forget()
	case !f.whole && len(f.found) > 0 && f.found[0].step.ID != f.on.stepID:
		f.preview = nil
		f.forget()
	case f.preview != nil && f.preview.ID != f.on.stepID:
		f.preview = nil
	}
}

func (f *lineUpFinder) say(text string) { f.text.SetText(text) }

func (f *lineUpFinder) showButtons(apply, jump, away bool) {
	for _, b := range []struct {
		o     fyne.CanvasObject
		shown bool
	}{{f.apply, apply}, {f.jump, jump}, {f.away, true}} {
		if b.shown {
			b.o.Show()
		} else {
			b.o.Hide()
		}
	}
}

func (f *lineUpFinder) showChecks(steam, drain bool) {
	if steam {
		f.steam.Show()
	} else {
		f.steam.Hide()
	}
	if drain {
		f.drain.Show()
	} else {
		f.drain.Hide()
	}
}

// previewStep shows a step on the drawing as it would be; nil: the one of the circuit.
func (w *Window) previewStep(s *model.Step) {
	if s == nil {
		s = w.shownStep()
	}
	w.lines = lineUpOf(w.circuit(), w.cat, s)
	w.solve(0)
	w.tools.refresh()
	w.board.repaint()
	w.steps.refresh()
	w.props.refresh()
}

// stepOnly numbers a step within its programme.
func stepOnly(c *model.Circuit, s *model.Step) string {
	if s == nil {
		return "a step that is gone"
	}
	n := 0
	for _, o := range c.Steps() {
		if o.Programme == s.Programme {
			if n++; o.ID == s.ID {
				break
			}
		}
	}
	return fmt.Sprintf("%d  %s", n, stepName(s))
}

// programmeTitle names a programme.
func programmeTitle(name string) string {
	if name == "" {
		return "the programme without a name"
	}
	return name
}

// openSteam opens steam to the heaters on the way of the step shown.
func (w *Window) openSteam() {
	step := w.shownStep()
	moved, cold := heatingOf(w.lines)
	t := w.lineUpWords()
	if len(cold) > 0 {
		defer w.tellHint("No way leads from a steam supply to " + t.names(cold) + ".")
	}
	if len(moved) == 0 {
		if len(cold) == 0 {
			w.tellHint("There is nothing to open: no steam heater is on the way of this step, or its steam is open already.")
		}
		return
	}
	next := (&lineUpOption{step: model.Clone(step), steam: moved}).with(true)
	w.try(w.drawing().PutSteps("open steam in "+stepName(step)+": "+t.moves(moved), []*model.Step{next}))
}

// heatingOf gives what has still to be moved for steam to the heaters of the line-up
// shown, and which of them cannot be had.
func heatingOf(l *shownLineUp) (moved map[model.ID]string, cold []model.ID) {
	if !l.found() {
		return nil, nil
	}
	moved, cold = lineup.Heating(l.plant, l.route)
	maps.DeleteFunc(moved, func(id model.ID, at string) bool { return l.route.LineUp.Positions[id] == at })
	return moved, cold
}

// emptyAfter adds a step behind the one shown in which its line runs empty.
func (w *Window) emptyAfter() {
	step := w.shownStep()
	line, why := standing(w.lines.plant, step, w.drawing().StepsOf(step.Programme))
	var behind *model.Step
	if line != nil {
		behind, why = drainBehind(w.lines.plant, step, line)
	}
	if behind == nil {
		w.tellIf(fmt.Errorf("the line cannot be emptied: %s", why))
		return
	}
	e, err := w.drawing().PutStepAnd("empty the line after "+stepName(step), step, behind)
	w.stepMade(func() { w.try(e, err) })
}

// canEmpty says whether the step shown sends something through a line.
func (w *Window) canEmpty() bool {
	s := w.shownStep()
	return s != nil && s.Source != "" && s.Destination != "" && !slices.Contains([]model.Purpose{model.Hold, model.Production}, s.Purpose.Or(""))
}
