package window

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"rinsewright/canvas/edit"
)

// All that the hand does on the board becomes one stream of edit events here.

// reach is how near to a thing a click must be, in fyne's units.
const reach = 6

// modifiers gives the keys held now. The driver knows them on the desktop; a
// test driver does not, and there those of the last press count.
func (b *board) modifiers() edit.Modifiers {
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok {
		return modifiersOf(d.CurrentKeyModifiers())
	}
	return b.held
}

func modifiersOf(m fyne.KeyModifier) edit.Modifiers {
	return edit.Modifiers{
		Shift: m&fyne.KeyModifierShift != 0,
		Ctrl:  m&(fyne.KeyModifierControl|fyne.KeyModifierSuper) != 0,
		Alt:   m&fyne.KeyModifierAlt != 0,
	}
}

// send hands an event at a point of the board to the tools.
func (b *board) send(kind edit.EventKind, at fyne.Position, key string) {
	b.on.guard("draw", func() {
		if b.on.audit.pinner.event(kind, b.view.at(at), b.button, key, reach/b.view.Zoom) {
			return
		}
		tools := b.drawingRun()
		redraw := b.ed.Handle(edit.Event{
			Kind: kind, At: b.view.at(at), Button: b.button, Modifiers: b.modifiers(), Key: key,
			Tolerance: reach / b.view.Zoom,
		})
		switch redraw {
		case edit.RedrawAll:
			b.repaint()
		case edit.RedrawOverlay:
			b.refreshOverlay()
		}
		if tools != b.drawingRun() {
			b.on.tools.refresh()
		}
		b.tellHint()
		b.tellPicked()
	})
}

// tellHint says what a click would do, or why the last one did nothing.
func (b *board) tellHint() {
	o := b.ed.Overlay()
	hint, warn := o.Hint, o.Warn
	if m := b.ed.Message(); m != "" {
		hint, warn = m, true
	}
	if hint != b.told {
		b.told = hint
		b.on.status.tellHint(hint)
		b.on.status.warn(warn)
	}
}

// tellPicked marks in the store of parts which kind the next click places.
func (b *board) tellPicked() {
	if s := b.ed.State(); s != "place.idle" && s != "place.dragging" {
		b.on.parts.mark("")
	}
}

func (b *board) MouseDown(e *desktop.MouseEvent) {
	b.on.focusBoard()
	b.pointer = e.Position
	b.held = modifiersOf(e.Modifier)
	b.button = edit.Primary
	switch {
	case e.Button == desktop.MouseButtonSecondary:
		b.button = edit.Secondary
	case e.Button == desktop.MouseButtonTertiary, b.space:
		b.button = edit.Middle
	}
	b.pressed = true
	b.send(edit.Press, e.Position, "")
}

func (b *board) MouseUp(e *desktop.MouseEvent) {
	if !b.pressed {
		return
	}
	b.pressed = false
	b.pointer = e.Position
	b.held = modifiersOf(e.Modifier)
	b.send(edit.Release, e.Position, "")
	if b.menuAt != nil {
		at := *b.menuAt
		b.menuAt = nil
		b.on.contextMenu(b.menuHit, at)
	}
}

func (b *board) MouseIn(e *desktop.MouseEvent) {
	b.inside = true
	b.MouseMoved(e)
}

func (b *board) MouseMoved(e *desktop.MouseEvent) {
	b.moved(e.Position)
}

func (b *board) moved(p fyne.Position) {
	b.pointer = p
	b.on.status.tellPlace(b.view.at(p), true)
	b.send(edit.Move, p, "")
	b.followEdge()
}

func (b *board) MouseOut() {
	b.inside = false
	b.on.status.tellPlace(b.view.at(b.pointer), false)
	b.send(edit.Leave, b.pointer, "")
}

// Dragged comes instead of MouseMoved while a button is held.
func (b *board) Dragged(e *fyne.DragEvent) {
	if b.pressed {
		b.moved(e.Position)
	}
}

// DragEnd follows MouseUp; alone it comes when the button was let go elsewhere.
func (b *board) DragEnd() {
	if b.pressed {
		b.pressed = false
		b.send(edit.Release, b.pointer, "")
	}
}

func (b *board) DoubleTapped(e *fyne.PointEvent) {
	b.button = edit.Primary
	b.send(edit.DoubleClick, e.Position, "")
}

// Scrolled zooms about the pointer; with Shift, or sideways, it moves the view.
func (b *board) Scrolled(e *fyne.ScrollEvent) {
	dx, dy := float64(e.Scrolled.DX), float64(e.Scrolled.DY)
	if b.modifiers().Shift {
		if dx == 0 {
			dx, dy = dy, 0
		}
		b.setView(b.view.moved(4*dx, 4*dy))
		return
	}
	if math.Abs(dx) > math.Abs(dy) {
		b.setView(b.view.moved(4*dx, 0))
		return
	}
	b.setView(b.view.zoomed(math.Pow(1.2, dy/25), e.Position))
}

func (b *board) FocusGained() {}
func (b *board) FocusLost()   { b.space = false }

// TypedRune takes the letters that open a field; the others come as keys.
func (b *board) TypedRune(r rune) { b.on.boardRune(r) }

func (b *board) KeyDown(e *fyne.KeyEvent) {
	if e.Name == fyne.KeySpace {
		b.space = true
	}
}

func (b *board) KeyUp(e *fyne.KeyEvent) {
	if e.Name == fyne.KeySpace {
		b.space = false
	}
}

// toolKeys are those that the tools know.
var toolKeys = map[fyne.KeyName]string{
	fyne.KeyEscape: edit.KeyEscape, fyne.KeyReturn: edit.KeyEnter, fyne.KeyEnter: edit.KeyEnter,
	fyne.KeyDelete: edit.KeyDelete, fyne.KeyBackspace: edit.KeyBackspace,
	fyne.KeyLeft: edit.KeyLeft, fyne.KeyRight: edit.KeyRight, fyne.KeyUp: edit.KeyUp, fyne.KeyDown: edit.KeyDown,
	fyne.KeyR: edit.KeyTurn, fyne.KeyM: edit.KeyMirror,
}

func (b *board) TypedKey(e *fyne.KeyEvent) {
	if step, ok := arrows[e.Name]; ok && len(b.on.doc.Selection()) == 0 && !b.ed.Busy() {
		b.setView(b.view.moved(step[0]*60, step[1]*60))
		return
	}
	if key, ok := toolKeys[e.Name]; ok {
		b.send(edit.Key, b.pointer, key)
		if e.Name == fyne.KeyEscape {
			b.on.tools.refresh()
		}
		return
	}
	b.on.typedKey(e)
}

var arrows = map[fyne.KeyName][2]float64{
	fyne.KeyLeft: {1, 0}, fyne.KeyRight: {-1, 0}, fyne.KeyUp: {0, 1}, fyne.KeyDown: {0, -1},
}

// Cursor tells what the tool would do.
func (b *board) Cursor() desktop.Cursor {
	if b.space {
		return desktop.PointerCursor
	}
	switch b.ed.Overlay().Cursor {
	case edit.CursorPoint, edit.CursorGrab:
		return desktop.PointerCursor
	case edit.CursorCross:
		return desktop.CrosshairCursor
	}
	return desktop.DefaultCursor
}
