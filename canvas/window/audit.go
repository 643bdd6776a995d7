package window

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/model"
)

// audit is what serves a reviewer: marks, checklists, comparing, merging and the
// report.
type audit struct {
	on       *Window
	pinner   *pinner
	marks    *marksPanel
	asked    *checklistPanel
	compare  *comparePanel
	report   *reportDialog // opened last
	merging  *mergeDialog  // opened last
	marksTab int           // their places among the tabs
	askedTab int
	compTab  int
	noting   *noteDialog // opened last
}

func newAudit(on *Window) *audit {
	a := &audit{on: on}
	a.pinner = &pinner{of: a}
	a.marks = newMarksPanel(a)
	a.asked = newChecklistPanel(a)
	a.compare = newComparePanel(a)
	a.compare.filter()
	return a
}

func (a *audit) addTabs(t *tabs) {
	a.marksTab = len(t.titles)
	t.add("Marks", a.marks.root)
	a.askedTab = len(t.titles)
	t.add("Checklist", a.asked.root)
	a.compTab = len(t.titles)
	t.add("Compare", a.compare.root)
}

// changed brings all up to date after the circuit has changed; reset says that it
// is another one.
func (a *audit) changed(reset bool) {
	if reset {
		a.pinner.stop()
		a.marks.picked, a.asked.picked = "", ""
		a.compare.end()
	}
	a.marks.refresh()
	a.asked.refresh()
	a.compare.refresh()
	a.titles()
}

// again writes all anew: look or units have changed.
func (a *audit) again() { a.changed(false) }

func (a *audit) titles() {
	open := 0
	for _, k := range a.on.circuit().Marks() {
		if !settledMark(k) {
			open++
		}
	}
	a.on.tabs.setTitle(a.marksTab, fmt.Sprintf("Marks  %d", open))
	a.on.tabs.setTitle(a.askedTab, fmt.Sprintf("Checklist  %d", a.asked.open))
	if a.compare.old != nil {
		a.on.tabs.setTitle(a.compTab, fmt.Sprintf("Compare  %d", len(a.compare.is.Differences)))
	}
}

func (a *audit) show(tab int) {
	w := a.on
	if w.tabs.at != tab || w.panes.hidden[paneBottom] {
		w.tabs.pick(tab)
	}
}

// prefReviewer keeps the user's name, which is asked once.
const prefReviewer = "own-name"

// named calls then with the user's name, and asks for it the first time.
func (w *Window) named(then func(name string)) {
	if name := w.app.Preferences().String(prefReviewer); name != "" {
		then(name)
		return
	}
	w.askName(then)
}

// askName asks for the name that marks, answers and reports carry.
func (w *Window) askName(then func(name string)) {
	e := newSearchEntry("Your name")
	e.Icon, e.onKey = nil, w.function
	e.SetText(w.app.Preferences().String(prefReviewer))
	var down func()
	take := func() {
		name := strings.TrimSpace(e.Text)
		if name == "" {
			e.SetPlaceHolder("A name is needed: others must know who says so")
			w.focus(e)
			return
		}
		w.app.Preferences().SetString(prefReviewer, name)
		down()
		if then != nil {
			w.guard("name", func() { then(name) })
		}
	}
	e.OnSubmitted = func(string) { take() }
	about := quiet("It stands beside your marks, answers and reports, and is kept for the next time. It is told to nobody else.")
	about.Wrapping = fyne.TextWrapWord
	down = w.askStaying("Who are you?", withLayout(atLeast{420, 0}, withLayout(columnLayout{}, about, container.NewThemeOverride(e, barless{}))), "Go on", take)
	e.onEscape = func() { down() }
	w.focus(e)
}

// auditActions are what a reviewer can ask for.
type auditActions struct {
	place, onSelected, onFinding, onCircuit *action
	next, last, goMarks, goAsked, goCompare *action
	compareFile, compareSaved, compareEnd   *action
	merge, exportMarks, mergeMarks          *action
	report, name, nextOpen                  *action
	answers                                 []*action
	compareCSV, compareJSON                 *action
}

func (w *Window) auditActions() auditActions {
	var a auditActions
	fKey := func(k fyne.KeyName, mod fyne.KeyModifier) fyne.Shortcut {
		return &desktop.CustomShortcut{KeyName: k, Modifier: mod}
	}
	a.place = &action{label: "Place a mark", key: "K", checked: func() bool { return w.audit != nil && w.audit.pinner.up }, run: func() { w.audit.pinner.begin() }}
	a.onSelected = &action{label: "Mark what is selected…", key: "Shift+K", enabled: func() bool { return len(w.doc.Selection()) == 1 }, run: func() {
		w.audit.note(model.Pin{On: w.doc.Selection()[0]}, nil)
	}}
	a.onFinding = &action{label: "Mark the finding picked…", shortcut: fKey(fyne.KeyF7, fyne.KeyModifierShortcutDefault), enabled: func() bool { return w.findingInHand() != nil }, run: func() {
		w.audit.markFinding(w.findingInHand())
	}}
	a.onCircuit = &action{label: "Mark the circuit as a whole…", run: func() { w.audit.note(model.Pin{}, nil) }}
	a.next = &action{label: "Next mark", shortcut: fKey(fyne.KeyF7, 0), run: func() { w.audit.step(1) }}
	a.last = &action{label: "Previous mark", shortcut: fKey(fyne.KeyF7, fyne.KeyModifierShift), run: func() { w.audit.step(-1) }}
	a.nextOpen = &action{label: "Next open question", shortcut: fKey(fyne.KeyF9, 0), run: func() { w.audit.show(w.audit.askedTab); w.audit.asked.nextOpen() }}
	for i, r := range []model.Reply{model.ReplyYes, model.ReplyNo, model.ReplyNone, model.ReplyOpen} {
		x := &action{label: "Answer: " + replyText(r), shortcut: ctrl([]fyne.KeyName{fyne.Key1, fyne.Key2, fyne.Key3, fyne.Key4}[i]),
			enabled: func() bool { return w.audit != nil && w.audit.asked.picked != "" }, run: func() { w.audit.asked.detail.answer(r) }}
		a.answers = append(a.answers, x)
	}
	a.goMarks = &action{label: "Go to the marks", short: "Marks", run: func() { w.audit.show(w.audit.marksTab); w.focus(w.audit.marks.list) }}
	a.goAsked = &action{label: "Go to the checklist", short: "Checklist", run: func() { w.audit.show(w.audit.askedTab); w.focus(w.audit.asked.list) }}
	comparing := func() bool { return w.audit != nil && w.audit.compare.old != nil }
	a.goCompare = &action{label: "Go to the comparison", short: "Comparison", enabled: comparing, run: func() { w.audit.show(w.audit.compTab); w.focus(w.audit.compare.list) }}
	a.compareFile = &action{label: "Compare with a file…", run: w.askCompare}
	a.compareSaved = &action{label: "Compare with the last saved version", enabled: func() bool { return w.file.path != "" }, run: w.compareSaved}
	a.compareEnd = &action{label: "End comparing", enabled: comparing, run: func() { w.audit.compare.end() }}
	a.compareCSV = &action{label: "Export the comparison as CSV…", enabled: comparing, run: func() { w.audit.compare.export(".csv") }}
	a.compareJSON = &action{label: "Export the comparison as JSON…", enabled: comparing, run: func() { w.audit.compare.export(".json") }}
	a.merge = &action{label: "Merge somebody's changes…", run: w.askMerge}
	a.exportMarks = &action{label: "Export marks alone…", enabled: func() bool { return len(w.circuit().Marks()) > 0 }, run: w.exportMarks}
	a.mergeMarks = &action{label: "Merge marks from a file…", run: w.askMergeMarks}
	a.report = &action{label: "Report…", shortcut: fKey(fyne.KeyF11, 0), enabled: func() bool { return len(w.circuit().Parts())+len(w.circuit().Runs()) > 0 }, run: w.askReport}
	a.name = &action{label: "Your name…", run: func() { w.askName(nil) }}
	return a
}

func (a *auditActions) menu() []*action {
	out := []*action{a.place, a.onSelected, a.onFinding, a.onCircuit, nil, a.next, a.last, nil, a.nextOpen}
	out = append(out, a.answers...)
	return append(out, nil, a.goMarks, a.goAsked, a.goCompare, nil,
		a.compareFile, a.compareSaved, a.compareEnd, a.compareCSV, a.compareJSON, nil, a.name)
}

func (a *auditActions) files() []*action {
	return []*action{a.report, nil, a.exportMarks, a.mergeMarks, a.merge}
}

// auditFunction does what a function key stands for, wherever the focus is.
func (w *Window) auditFunction(k fyne.KeyName) bool {
	a := &w.actions.audit
	switch {
	case k == fyne.KeyF7 && held()&fyne.KeyModifierShift != 0:
		w.do(a.last)
	case k == fyne.KeyF7:
		w.do(a.next)
	case k == fyne.KeyF9:
		w.do(a.nextOpen)
	case k == fyne.KeyF11:
		w.do(a.report)
	default:
		return false
	}
	return true
}

// auditKey does what a plain key of the board stands for.
func (w *Window) auditKey(k fyne.KeyName) bool {
	switch {
	case k == fyne.KeyK && held()&fyne.KeyModifierShift != 0:
		w.do(w.actions.audit.onSelected)
	case k == fyne.KeyK:
		w.do(w.actions.audit.place)
	default:
		return false
	}
	return true
}

// atLeast gives its one object at least a size.
type atLeast struct{ wide, high float32 }

func (l atLeast) MinSize(o []fyne.CanvasObject) fyne.Size {
	return o[0].MinSize().Max(fyne.NewSize(l.wide, l.high))
}
func (l atLeast) Layout(o []fyne.CanvasObject, s fyne.Size) {
	o[0].Move(fyne.NewPos(0, 0))
	o[0].Resize(s)
}

// columnLayout sets objects under one another, each as wide as there is.
type columnLayout struct{}

func (columnLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	var s fyne.Size
	for _, x := range o {
		if x.Visible() {
			m := x.MinSize()
			s = fyne.NewSize(max(s.Width, m.Width), s.Height+m.Height+theme.Padding()/2)
		}
	}
	return s
}

func (columnLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	y := float32(0)
	for _, x := range o {
		if !x.Visible() {
			continue
		}
		h := x.MinSize().Height
		x.Move(fyne.NewPos(0, y))
		x.Resize(fyne.NewSize(s.Width, h))
		y += h + theme.Padding()/2
	}
}

// buttonRow sets buttons side by side, as wide as they are.
func buttonRow(on *Window, of ...*button) fyne.CanvasObject {
	var o []fyne.CanvasObject
	for _, b := range of {
		b.Importance = widget.MediumImportance
		o = append(o, b)
	}
	return withLayout(flowLayout{}, o...)
}

// flowLayout sets objects side by side and goes on beneath where there is no room.
type flowLayout struct{}

func (flowLayout) rows(o []fyne.CanvasObject, wide float32, put func(fyne.CanvasObject, fyne.Position, fyne.Size)) float32 {
	x, y, tall := float32(0), float32(0), float32(0)
	for _, b := range o {
		if !b.Visible() {
			continue
		}
		m := b.MinSize()
		if x > 0 && x+m.Width > wide {
			x, y = 0, y+tall+theme.Padding()
			tall = 0
		}
		put(b, fyne.NewPos(x, y), m)
		x += m.Width + theme.Padding()
		tall = max(tall, m.Height)
	}
	return y + tall
}

// MinSize asks for the height at 300 units of width, about what a detail has.
func (l flowLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	wide := float32(0)
	for _, b := range o {
		if b.Visible() {
			wide = max(wide, b.MinSize().Width)
		}
	}
	return fyne.NewSize(wide, l.rows(o, max(wide, 300), func(fyne.CanvasObject, fyne.Position, fyne.Size) {}))
}

func (l flowLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	l.rows(o, s.Width, func(b fyne.CanvasObject, at fyne.Position, size fyne.Size) {
		b.Move(at)
		b.Resize(size)
	})
}
