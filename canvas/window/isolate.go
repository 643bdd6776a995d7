package window

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/canvas/scene"
	"rinsewright/model"
	"rinsewright/model/isolation"
	"rinsewright/model/network"
)

const isolateTitle = "Isolate"

const (
	mostPlans = 5
	anyStep   = "Any step may have run last"
)

// isolatePanel plans how something is shut off for work on it.
type isolatePanel struct {
	on   *Window
	root fyne.CanvasObject

	workOn, use                             *widget.Label
	setting, pinning, forbidding, releasing *button
	automatic, regulating, check, single    *check
	after                                   *pickList
	steps                                   []model.ID // of the entries of after

	choice    *pickList
	onDrawing *toggle
	out       *button
	sum       *widget.Label
	list      *keyList
	rows      []flowLine
	empty     *widget.Label
	stack     *fyne.Container
	quietly   bool
	beside    besideWork

	ask    isolation.Ask
	asked  bool // work was asked for since the circuit was opened
	wanted string
	found  string         // key of the ask that was answered; empty: none
	of     *model.Circuit // for which
	plant  *network.Plant
	plans  []isolation.Plan
	at     int // the plan chosen
	err    error
}

func newIsolatePanel(on *Window) *isolatePanel {
	p := &isolatePanel{on: on, beside: besideWork{on: on}}
	a := &on.actions.upkeep
	p.workOn = widget.NewLabel("")
	p.workOn.Wrapping = fyne.TextWrapWord
	p.use = quiet("")
	p.use.Wrapping = fyne.TextWrapWord
	p.setting = newButton(on, "Work on what is selected", theme.ConfirmIcon(), func() { on.do(a.isolate) })
	p.pinning = newButton(on, "Must be shut", nil, func() { on.do(a.pin) })
	p.forbidding = newButton(on, "Not relied on", nil, func() { on.do(a.forbid) })
	p.releasing = newButton(on, "Either", nil, func() { on.do(a.plain) })
	policy := func(text string, to *bool) *check {
		return newCheck(on, text, func(yes bool) {
			*to = yes
			if !p.quietly {
				on.guard("plan the isolation", func() { p.want(0) })
			}
		})
	}
	p.automatic = policy("A single automatic valve counts", &p.ask.Policy.Automatic)
	p.regulating = policy("A regulating valve counts", &p.ask.Policy.Regulating)
	p.check = policy("A check valve counts", &p.ask.Policy.Check)
	p.single = policy("One valve is enough for hot, caustic, acid, steam", &p.ask.Policy.Single)
	p.after = newPickList(on, nil, func(string) {
		if i := p.after.SelectedIndex(); !p.quietly && i >= 0 && i < len(p.steps) {
			p.ask.After = p.steps[i]
			on.guard("plan the isolation", func() { p.want(0) })
		}
	})
	form := container.New(layout.NewCustomPaddedVBoxLayout(0), p.setting, p.workOn,
		container.NewHBox(p.pinning, p.forbidding, p.releasing), p.use,
		p.after, p.automatic, p.regulating, p.check, p.single)

	p.choice = newPickList(on, nil, func(string) {
		if i := p.choice.SelectedIndex(); !p.quietly && i >= 0 {
			on.guard("show a plan", func() { p.choose(i) })
		}
	})
	p.onDrawing = newToggle(on, theme.VisibilityIcon(), "On the drawing", false, func(bool) { on.do(a.isolateShow); on.lensChanged() })
	p.out = newButton(on, "Plan sheet…", theme.DocumentPrintIcon(), func() { on.popActions(p.out, []*action{a.planSheet, a.planCSV, a.planCopy}) })
	p.sum = widget.NewLabel("")
	p.sum.Truncation = fyne.TextTruncateEllipsis
	p.list = newLineList(on, func() []flowLine { return p.rows })
	caution := widget.NewLabel(isolation.Caution)
	caution.Importance = widget.WarningImportance
	caution.SizeName = theme.SizeNameCaptionText
	caution.Truncation = fyne.TextTruncateEllipsis
	p.empty = widget.NewLabel("")
	p.empty.Wrapping = fyne.TextWrapWord
	bar := container.NewBorder(nil, nil, p.onDrawing, p.out, p.choice)
	p.stack = container.NewStack(container.NewBorder(container.NewVBox(bar, p.sum), nil, nil, nil, p.list), p.empty)
	right := container.NewBorder(nil, caution, nil, nil, p.stack)
	p.root = newBeside(container.NewVScroll(withLayout(sidePadding{}, form)), right, 0.3).box
	p.tellAsk()
	return p
}

func (p *isolatePanel) body() fyne.CanvasObject { return p.root }

// plan gives the plan chosen; nil if there is none of the present state.
func (p *isolatePanel) plan() *isolation.Plan {
	if p.of != p.on.circuit() || p.found != p.key() || p.at >= len(p.plans) {
		return nil
	}
	return &p.plans[p.at]
}

// key tells asks apart.
func (p *isolatePanel) key() string { return fmt.Sprintf("%+v", p.ask) }

// forget begins anew with another circuit. What the site relies on stays.
func (p *isolatePanel) forget() {
	p.ask = isolation.Ask{Policy: p.ask.Policy, Most: mostPlans}
	p.plans, p.found, p.of, p.err, p.at, p.asked = nil, "", nil, nil, 0, false
	if p.on.lensOf(isolateTitle) {
		p.on.showLens(nil)
	}
}

// setWork says what is worked on.
func (p *isolatePanel) setWork(ids []model.ID) {
	p.ask.Work = p.kept(ids, false)
	p.at = 0
	p.want(0)
}

// mark says of valves that they must be shut, must not be relied on, or neither.
func (p *isolatePanel) mark(ids []model.ID, pin, forbid bool) {
	mark := func(list []model.ID, in bool) []model.ID {
		list = slices.DeleteFunc(slices.Clone(list), func(id model.ID) bool { return slices.Contains(ids, id) })
		if in {
			list = append(list, ids...)
		}
		slices.Sort(list)
		return list
	}
	p.ask.Pin, p.ask.Forbid = mark(p.ask.Pin, pin), mark(p.ask.Forbid, forbid)
	p.at = 0
	p.want(0)
}

// kept gives of some ids those that are still in the circuit and can be asked for.
func (p *isolatePanel) kept(ids []model.ID, valves bool) []model.ID {
	var out []model.ID
	for _, id := range ids {
		part := p.on.circuit().Part(id)
		switch {
		case valves:
			if _, ok := part.(*model.Valve); ok {
				out = append(out, id)
			}
		case part != nil && part.Class() != model.ClassFrame, p.on.circuit().Run(id) != nil:
			out = append(out, id)
		}
	}
	return out
}

// want plans what is asked for, if it is to be seen.
func (p *isolatePanel) want(wait time.Duration) {
	w := p.on
	if w.upkeep == nil || !w.upkeep.seen(isolateTitle) {
		return
	}
	p.ask.Most = mostPlans
	p.ask.Work = p.kept(p.ask.Work, false)
	if len(p.ask.Work) == 0 && !p.asked {
		p.ask.Work = p.kept(w.doc.Selection(), false) // what is selected when the tab is first looked at
	}
	p.asked = true
	p.ask.Pin, p.ask.Forbid = p.kept(p.ask.Pin, true), p.kept(p.ask.Forbid, true)
	if w.circuit().Step(p.ask.After) == nil {
		p.ask.After = ""
	}
	p.tellAsk()
	k, c := p.key(), w.circuit()
	wanted := fmt.Sprintf("%p %s", c, k)
	if p.of == c && p.found == k {
		return
	}
	if p.beside.busy && p.wanted == wanted {
		return
	}
	p.wanted = wanted
	if len(p.ask.Work) == 0 {
		p.beside.stop()
		p.of, p.found, p.plans, p.err = c, k, nil, nil
		p.refresh()
		if w.lensOf(isolateTitle) {
			w.showLens(nil)
		}
		return
	}
	ask := p.ask
	ask.Work, ask.Pin, ask.Forbid = slices.Clone(ask.Work), slices.Clone(ask.Pin), slices.Clone(ask.Forbid)
	p.beside.begin("show the plan", wait, func(ctx context.Context) func() {
		done, ok := w.upkeep.alone(ctx)
		if !ok {
			return nil
		}
		defer done()
		plant, heights := w.upkeep.built.of(c, w.cat)
		begun := time.Now()
		plans, err := isolation.Find(plant, heights, ask)
		took := time.Since(begun)
		return func() {
			p.of, p.found, p.plant, p.plans, p.err = c, k, plant, plans, err
			p.at = min(p.at, max(len(plans)-1, 0))
			p.refresh()
			if w.lensOf(isolateTitle) || p.plan() != nil && p.seenFirst() {
				p.show()
			}
			p.tellPlan(took)
		}
	})
	p.refresh()
}

// seenFirst says whether a plan may be put on the drawing by itself: nothing else is
// shown there in place of the step.
func (p *isolatePanel) seenFirst() bool { return p.on.board.moment == nil }

// tellPlan lets a test follow.
func (p *isolatePanel) tellPlan(took time.Duration) {
	fields := map[string]any{"plans": len(p.plans), "at": p.at, "took_ms": took.Milliseconds()}
	if pl := p.plan(); pl != nil {
		fields["found"] = pl.Found
		var tags []string
		for _, b := range pl.Barriers {
			tags = append(tags, isolation.PlaceName(p.plant, b.Valve))
		}
		fields["barriers"] = tags
	}
	if p.err != nil {
		fields["error"] = p.err.Error()
	}
	p.on.events.tell("isolation", fields)
}

// tellAsk shows what is asked for.
func (p *isolatePanel) tellAsk() {
	w := p.on
	names := func(ids []model.ID) string {
		var out []string
		for _, id := range ids {
			out = append(out, nameOf(w.circuit().Record(id), w.cat))
		}
		return strings.Join(out, ", ")
	}
	work := "Nothing yet. Select parts or runs on the drawing, then press the button."
	if len(p.ask.Work) > 0 {
		work = "Work on " + names(p.ask.Work)
	}
	p.workOn.SetText(work)
	var use []string
	if len(p.ask.Pin) > 0 {
		use = append(use, "Must be shut: "+names(p.ask.Pin)+".")
	}
	if len(p.ask.Forbid) > 0 {
		use = append(use, "Not relied on: "+names(p.ask.Forbid)+".")
	}
	if len(use) == 0 {
		use = []string{"Valves selected on the drawing or in a plan can be asked for or ruled out."}
	}
	p.use.SetText(strings.Join(use, " "))
	words, ids, at := []string{anyStep}, []model.ID{""}, 0
	for _, s := range w.circuit().Steps() {
		if s.ID == p.ask.After {
			at = len(words)
		}
		words, ids = append(words, "After "+stepLabel(w.circuit(), s)), append(ids, s.ID)
	}
	p.quietly = true
	p.steps = ids
	if !slices.Equal(words, p.after.Options) {
		p.after.SetOptions(words)
	}
	if p.after.SelectedIndex() != at || p.after.Selected != words[at] {
		p.after.SetSelectedIndex(at)
	}
	p.quietly = false
	p.setting.able(len(w.doc.Selection()) > 0)
	for _, b := range []*button{p.pinning, p.forbidding, p.releasing} {
		b.able(len(w.selectedValves()) > 0)
	}
}

func (p *isolatePanel) again() {
	p.tellAsk()
	p.refresh()
	if p.on.lensOf(isolateTitle) {
		p.show()
	}
}

// choose shows another plan.
func (p *isolatePanel) choose(i int) {
	if i >= len(p.plans) {
		return
	}
	p.at = i
	p.refresh()
	if p.on.lensOf(isolateTitle) {
		p.show()
	}
	p.tellPlan(0)
}

func (p *isolatePanel) next() {
	if len(p.plans) > 0 {
		p.choose((p.at + 1) % len(p.plans))
	}
}

// turn puts the plan on the drawing, or away.
func (p *isolatePanel) turn() {
	if p.on.lensOf(isolateTitle) {
		p.on.showLens(nil)
		return
	}
	p.show()
}

// show puts the plan chosen on the drawing.
func (p *isolatePanel) show() {
	pl := p.plan()
	if pl == nil {
		p.on.showLens(nil)
		return
	}
	opt, signs := scene.Isolation(p.plant, pl, p.ask.Work)
	title := p.title()
	if pl.Found {
		title += ". Numbered: square lock, arrow down drain, arrow up vent, disc prove zero"
	}
	p.on.showLens(&lens{owner: isolateTitle, opt: opt, signs: signs, title: title, keys: scene.IsolationKey(pl)})
}

// title names the plan chosen.
func (p *isolatePanel) title() string {
	text := "Isolation of " + strings.TrimPrefix(p.workOn.Text, "Work on ")
	if len(p.plans) > 1 {
		text += fmt.Sprintf(", plan %d of %d", p.at+1, len(p.plans))
	}
	return text
}

// refresh tells the plan chosen, or why there is none.
func (p *isolatePanel) refresh() {
	w := p.on
	why := ""
	switch {
	case len(p.ask.Work) == 0:
		why = "Select what is to be worked on, one part or several, and press “Work on what is selected”. The program finds the valves that keep it from every source of liquid, pressure, heat and gas, what stays inside, and the order of work."
	case p.beside.busy && p.plan() == nil:
		why = "Planning…"
	case p.err != nil:
		why = "No plan can be made: " + p.err.Error() + "."
	case p.plan() == nil:
		why = "Not planned yet."
	}
	shown, empty := p.stack.Objects[0], p.stack.Objects[1]
	p.tellAsk()
	if why != "" {
		p.empty.SetText(why)
		shown.Hide()
		empty.Show()
		w.refreshMenu()
		return
	}
	shown.Show()
	empty.Hide()
	var words []string
	for i := range p.plans {
		words = append(words, p.planWords(i))
	}
	p.quietly = true
	if !slices.Equal(words, p.choice.Options) {
		p.choice.SetOptions(words)
	}
	if p.choice.SelectedIndex() != p.at || p.choice.Selected != words[p.at] {
		p.choice.SetSelectedIndex(p.at)
	}
	p.quietly = false
	p.rows = p.lines()
	p.sum.SetText(p.sumWords())
	p.list.Refresh()
	p.list.ScrollToTop()
	w.refreshMenu()
}

// copy puts the plan on the clipboard as text.
func (p *isolatePanel) copy() {
	if pl := p.plan(); pl != nil {
		p.on.app.Clipboard().SetContent(p.title() + "\n" + strings.Join(pl.Lines(p.plant, p.on.system), "\n") + "\n")
		p.on.tellHint("Copied the plan with its caution")
	}
}
