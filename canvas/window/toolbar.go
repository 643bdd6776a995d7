package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/model"
)

// toolbar holds the few things that the hand wants all the time.
type toolbar struct {
	on             *Window
	root           fyne.CanvasObject
	pick, run      *toggle
	snap           *toggle
	undo, redo     *button
	step           *pickList
	ids            []model.ID // of the entries of step
	quietly        bool
	earlier, later *button
	trouble        *notice
}

const noStep = "none, all at rest"

func newToolbar(on *Window) *toolbar {
	t := &toolbar{on: on}
	a := on.actions
	tool := func(icon fyne.Resource, text string, x *action) *toggle {
		return newToggle(on, icon, text, false, func(bool) { on.do(x); t.refresh() })
	}
	button := func(icon fyne.Resource, text string, x *action) *button {
		return newButton(on, text, icon, func() { on.do(x) })
	}
	t.pick = tool(iconSelect, "Select", a.toolSelect)
	t.run = tool(iconRun, "Run", a.toolRun)
	t.snap = tool(iconSnap, "Snap", a.snap)
	t.undo = button(theme.ContentUndoIcon(), "", a.undo)
	t.redo = button(theme.ContentRedoIcon(), "", a.redo)
	fit := button(iconFrame, "Fit", a.fit)
	t.step = newPickList(on, nil, func(string) {
		if i := t.step.SelectedIndex(); !t.quietly && i >= 0 && i < len(t.ids) {
			on.showStep(t.ids[i])
		}
	})
	t.earlier = button(theme.NavigateBackIcon(), "", a.stepBefore)
	t.later = button(theme.NavigateNextIcon(), "", a.stepAfter)
	t.trouble = newNotice(on)
	left := container.NewHBox(t.pick, t.run, widget.NewSeparator(), t.undo, t.redo, widget.NewSeparator(), fit, t.snap, widget.NewSeparator(),
		widget.NewLabel("Line-up shown:"), withLayout(fixedWidth(260), t.step), t.earlier, t.later)
	t.root = container.New(layout.NewCustomPaddedLayout(2, 2, 4, 4), container.NewBorder(nil, nil, left, nil, t.trouble))
	return t
}

// refresh shows the state of what the bar stands for.
func (t *toolbar) refresh() {
	t.pick.set(!t.on.board.drawingRun())
	t.run.set(t.on.board.drawingRun())
	t.snap.set(t.on.board.snap())
	t.undo.able(t.on.doc.CanUndo())
	t.redo.able(t.on.doc.CanRedo())
	names, ids := []string{noStep}, []model.ID{""}
	at := 0
	for i, s := range t.on.circuit().Steps() {
		if s.ID == t.on.stepID {
			at = i + 1
		}
		names = append(names, stepLabel(t.on.circuit(), s))
		ids = append(ids, s.ID)
	}
	t.earlier.able(at > 0)
	t.later.able(at < len(ids)-1)
	t.ids = ids
	t.quietly = true
	t.step.SetOptions(names)
	if t.step.SelectedIndex() != at || t.step.Selected != names[at] {
		t.step.SetSelectedIndex(at)
	}
	t.quietly = false
	short, full, where := t.on.lines.trouble()
	if where == (model.Place{}) {
		t.trouble.tell(short, full, nil)
		return
	}
	t.trouble.tell(short, full+". Click to go there.", func() { t.on.gotoPlace(where) })
}
