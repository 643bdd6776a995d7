package window

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"rinsewright/canvas/edit"
	"rinsewright/model"
)

// redoToo is the other shortcut for redo that hands are used to.
var redoToo = ctrlShift(fyne.KeyZ)

// typedKey takes the plain keys that no focused field has taken.
func (w *Window) typedKey(e *fyne.KeyEvent) {
	if held()&(fyne.KeyModifierControl|fyne.KeyModifierAlt|fyne.KeyModifierSuper) != 0 || w.boardKey(e.Name, held()&fyne.KeyModifierShift != 0) || w.function(e.Name) || w.auditKey(e.Name) {
		return
	}
	a := w.actions
	switch e.Name {
	case fyne.KeyF, fyne.KeyHome:
		w.do(a.fit)
	case fyne.KeyV:
		w.do(a.toolSelect)
	case fyne.KeyP:
		w.do(a.toolRun)
	case fyne.KeyH:
		w.do(a.toolPan)
	case fyne.KeyG:
		w.do(a.snap)
	case fyne.KeyN:
		w.guard("select", func() { w.selectNext(1, held()&fyne.KeyModifierShift != 0) })
	case fyne.KeyB:
		w.guard("select", func() { w.selectNext(-1, held()&fyne.KeyModifierShift != 0) })
	case fyne.KeyW:
		if held()&fyne.KeyModifierShift != 0 {
			w.do(a.lastValues)
		} else {
			w.do(a.nextValues)
		}
	case fyne.KeyPlus, fyne.KeyEqual, "KP_Add":
		w.do(a.zoomIn)
	case fyne.KeyMinus, "KP_Subtract":
		w.do(a.zoomOut)
	case fyne.Key0:
		w.do(a.natural)
	case fyne.KeySlash:
		w.do(a.gotoSearch)
	default:
		w.playKey(e.Name)
	}
}

// typedRune takes the letters that open a field; what others do comes by typedKey.
func (w *Window) typedRune(r rune) { w.boardRune(r) }

// held gives the modifiers held now; none with a driver that does not know.
func held() fyne.KeyModifier {
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok {
		return d.CurrentKeyModifiers()
	}
	return 0
}

// function does what a function key stands for, wherever the focus is, and says
// whether it stands for something.
func (w *Window) function(k fyne.KeyName) bool {
	a := w.actions
	switch {
	case w.auditFunction(k):
	case k == fyne.KeyF8 && held()&fyne.KeyModifierShift != 0:
		w.do(a.lastFinding)
	case k == fyne.KeyF8:
		w.do(a.nextFinding)
	case k == fyne.KeyF5:
		w.do(a.recheck)
	case k == fyne.KeyF1:
		w.do(a.shortcuts)
	default:
		return false
	}
	return true
}

// keyList is a list that leaves the function keys to the window.
type keyList struct {
	widget.List
	on       *Window
	onEscape func()       // nil: to the board
	onArrow  func(by int) // beside what the list does itself; nil: nothing
}

func newKeyList(on *Window, length func() int, create func() fyne.CanvasObject, update func(widget.ListItemID, fyne.CanvasObject)) *keyList {
	l := &keyList{on: on}
	l.Length, l.CreateItem, l.UpdateItem = length, create, update
	l.ExtendBaseWidget(l)
	return l
}

func (l *keyList) TypedKey(e *fyne.KeyEvent) {
	switch {
	case l.on.function(e.Name):
	case e.Name == fyne.KeyEscape && l.onEscape != nil:
		l.onEscape()
	case e.Name == fyne.KeyEscape:
		l.on.focusBoard()
	default:
		l.List.TypedKey(e)
		if l.onArrow != nil && e.Name == fyne.KeyUp {
			l.onArrow(-1)
		}
		if l.onArrow != nil && e.Name == fyne.KeyDown {
			l.onArrow(1)
		}
	}
}

// focusProperties puts the caret into the first field of the properties.
func (w *Window) focusProperties() {
	if w.panes.hidden[paneRight] {
		w.panes.show(paneRight, true)
	}
	if w.props.form == nil {
		return
	}
	if f := firstFocusable(w.props.form.box); f != nil {
		w.focus(f)
	}
}

// gotoProperty selects a record and puts the caret into the field of a property.
func (w *Window) gotoProperty(id model.ID, key string) {
	var f *form
	if w.circuit().Step(id) != nil {
		w.tabs.pick(2)
		w.showStep(id)
		f = w.steps.form
	} else {
		if w.panes.hidden[paneRight] {
			w.panes.show(paneRight, true)
		}
		w.selectAndShow(id)
		f = w.props.form
	}
	if f == nil {
		return
	}
	if in, ok := f.keys[key]; ok {
		w.focus(in)
		return
	}
	if in := firstFocusable(f.box); in != nil {
		w.focus(in)
	}
}

func firstFocusable(o fyne.CanvasObject) fyne.Focusable {
	switch o := o.(type) {
	case *fyne.Container:
		for _, c := range o.Objects {
			if !c.Visible() {
				continue
			}
			if f := firstFocusable(c); f != nil {
				return f
			}
		}
	case *container.ThemeOverride:
		return firstFocusable(o.Content)
	case fyne.Focusable:
		return o
	}
	return nil
}

// contextMenu opens the menu of what lies under the pointer.
func (w *Window) contextMenu(h edit.Hit, at fyne.Position) {
	a := w.actions
	var list []*action
	if h.Kind == edit.HitNothing {
		list = []*action{a.paste, a.selectAll, nil, a.toolRun, a.fit, a.natural}
	} else {
		list = []*action{a.cut, a.copy, a.duplicate, a.delete, nil, a.turnRight, a.turnLeft, a.mirror, a.straighten, a.join, a.replaceKind, a.groups.save, nil, a.fitSelection, a.gotoProps, nil, a.upkeep.traceHere, a.upkeep.isolate, a.upkeep.fail}
	}
	if fitting := w.fittingActions(h, at); len(fitting) > 0 {
		list = append(append(fitting, nil), list...)
	}
	list = append(w.stateActions(h.ID), list...)
	m := fyne.NewMenu("")
	for _, x := range list {
		switch {
		case x == nil:
			m.Items = append(m.Items, fyne.NewMenuItemSeparator())
		case x.can() || h.Kind == edit.HitNothing:
			item := w.item(x)
			item.Action = func() { w.fromMenu(x) }
			m.Items = append(m.Items, item)
		}
	}
	origin := fyne.CurrentApp().Driver().AbsolutePositionForObject(w.board)
	widget.ShowPopUpMenuAtPosition(m, w.win.Canvas(), origin.Add(at))
}

// stateActions are what can be set of a valve or a pump in the step shown.
func (w *Window) stateActions(id model.ID) []*action {
	step := w.shownStep()
	if step == nil {
		return nil
	}
	var out []*action
	switch part := w.circuit().Part(id).(type) {
	case *model.Valve:
		kind := w.cat.Kind(part.Kind)
		if kind == nil || len(kind.Positions) < 2 {
			return nil
		}
		now, _ := positionOf(part, kind, step)
		for _, pos := range kind.Positions {
			out = append(out, &action{
				label:   "In this step: " + w.drawing().PositionWords(part, pos),
				checked: func() bool { return pos == now },
				run:     func() { w.tellIf(w.setPosition(step, part, pos)) },
			})
		}
	case *model.Pump:
		runs := slices.Contains(step.Running, part.ID)
		for _, on := range []bool{true, false} {
			word := pumpStopped
			if on {
				word = pumpRuns
			}
			out = append(out, &action{
				label:   "In this step: " + word,
				checked: func() bool { return on == runs },
				run:     func() { w.tellIf(w.setRunning(step, part.ID, on)) },
			})
		}
	default:
		return nil
	}
	return append(out, nil)
}

// fromMenu does an action of a menu that is about to close itself.
func (w *Window) fromMenu(a *action) {
	if top := w.win.Canvas().Overlays().Top(); top != nil {
		w.win.Canvas().Overlays().Remove(top)
	}
	w.do(a)
}

// tellShortcuts lists keys and gestures, those of the menus from the menus.
func (w *Window) tellShortcuts() {
	var b strings.Builder
	b.WriteString(`On the board
Click selects, Shift or Ctrl with a click adds or takes away, a drag over free ground draws a band.
Drag from a port to another port, to a run (a tee comes by itself) or to free ground: that draws a run.
Drag a part to move it with its runs; arrow keys nudge it, Shift moves farther, Alt leaves the grid.
Drag a tag or a size to where it should stand.
Double-click a run to bend it, a bend to take it off, a part for its properties.
Turn the wheel to zoom about the pointer; hold the middle button or the space bar and drag to pull the drawing; with nothing selected arrow keys pull it too.

Plain keys on the board
R turn right, Shift+R turn left, M mirror, V select, P draw a run, H pull, G grid, Shift+G rulers, I insert a part by its name at the pointer, behind the selected part or into the run, O overview map, Shift+F10 or the menu key the menu of what is selected, N next part, B the part before (with Shift it is added), W what stands beside runs, K place a mark (Shift+K on what is selected), F or Home fit, 0 natural size, + and - zoom, / search parts, Escape leaves a tool.

Keys of the menus
`)
	for _, m := range w.items {
		if s, ok := m.of.shortcut.(fyne.KeyboardShortcut); ok {
			b.WriteString(keyName(s) + "   " + m.of.label + "\n")
		}
	}
	b.WriteString(keyName(redoToo.(fyne.KeyboardShortcut)) + "   " + w.actions.redo.label + "\n")
	b.WriteString("\nTab and Shift+Tab go from field to field. Return takes a value over, Escape brings the old one back. A number may be typed with its unit: 2 in, 180 °F.")
	w.tellLong("Keys and gestures", b.String())
}

func keyName(s fyne.KeyboardShortcut) string {
	out := ""
	for _, m := range []struct {
		bit  fyne.KeyModifier
		name string
	}{{fyne.KeyModifierControl, "Ctrl+"}, {fyne.KeyModifierSuper, "Super+"}, {fyne.KeyModifierAlt, "Alt+"}, {fyne.KeyModifierShift, "Shift+"}} {
		if s.Mod()&m.bit != 0 {
			out += m.name
		}
	}
	return out + string(s.Key())
}

func (w *Window) tellAbout() {
	w.ask("Rinsewright", "Draws cleaning-in-place circuits and checks them: what will not get clean, will not drain, cannot be proved, or could hurt someone.\n\nVersion "+w.app.Metadata().Version+"\n\n"+cautionShort,
		answer{"Close", nil})
}
