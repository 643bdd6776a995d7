package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// answer is one button of a question. The first one is what Return does, the
// last one what Escape does.
type answer struct {
	text string
	run  func()
}

// ask puts a question over the window and gives the way to take it down.
func (w *Window) ask(title, text string, answers ...answer) (down func()) {
	l := widget.NewLabel(text)
	l.Wrapping = fyne.TextWrapWord
	return w.askWith(title, l, fyne.NewSize(440, 0), answers...)
}

// tellDialog says something that must be read.
func (w *Window) tellDialog(title, text string) { w.ask(title, text, answer{"Close", nil}) }

// tellLong says something that may be longer than the window.
func (w *Window) tellLong(title, text string) {
	l := widget.NewLabel(text)
	l.Wrapping = fyne.TextWrapWord
	s := container.NewVScroll(l)
	size := w.win.Canvas().Size()
	wide := min(560, size.Width-80)
	l.Resize(fyne.NewSize(wide, 0)) // its height follows from its width
	s.SetMinSize(fyne.NewSize(0, min(size.Height-160, l.MinSize().Height+8)))
	w.askWith(title, s, fyne.NewSize(wide, 0), answer{"Close", nil})
}

// askWith is ask with a body of its own. It gives the function that takes the
// question down without an answer.
func (w *Window) askWith(title string, body fyne.CanvasObject, least fyne.Size, answers ...answer) (down func()) {
	var pop *widget.PopUp
	row := container.NewHBox(layout.NewSpacer())
	back := w.win.Canvas().Focused()
	finish := func(run func()) {
		pop.Hide()
		if back != nil {
			w.win.Canvas().Focus(back)
		} else {
			w.focusBoard()
		}
		if run != nil {
			w.guard(title, run)
		}
	}
	last := answers[len(answers)-1].run
	var first *askButton
	for i, a := range answers {
		b := newAskButton(a.text, func() { finish(a.run) }, func() { finish(last) })
		if i == 0 {
			b.Importance = widget.HighImportance
			first = b
		}
		row.Add(b)
	}
	head := widget.NewLabel(title)
	head.TextStyle.Bold = true
	head.SizeName = theme.SizeNameSubHeadingText
	width := canvas.NewRectangle(nil)
	width.SetMinSize(least)
	content := container.New(layout.NewCustomPaddedLayout(8, 8, 12, 12),
		container.NewBorder(container.NewVBox(head, width), container.NewVBox(widget.NewSeparator(), row), nil, nil, body))
	pop = widget.NewModalPopUp(content, w.win.Canvas())
	pop.Show()
	w.win.Canvas().Focus(first)
	w.events.tell("dialog", map[string]any{"title": title})
	return func() { finish(nil) }
}

// askStaying is askWith for a body that decides itself when it is done: confirm
// runs take, which takes the question down through the function given back.
func (w *Window) askStaying(title string, body fyne.CanvasObject, confirm string, take func()) (down func()) {
	var pop *widget.PopUp
	back := w.win.Canvas().Focused()
	down = func() {
		pop.Hide()
		if back != nil {
			w.win.Canvas().Focus(back)
		} else {
			w.focusBoard()
		}
	}
	ok := newAskButton(confirm, func() { w.guard(title, take) }, down)
	ok.Importance = widget.HighImportance
	row := container.NewHBox(layout.NewSpacer(), ok, newAskButton("Cancel", down, down))
	head := widget.NewLabel(title)
	head.TextStyle.Bold = true
	head.SizeName = theme.SizeNameSubHeadingText
	pop = widget.NewModalPopUp(container.New(layout.NewCustomPaddedLayout(8, 8, 12, 12),
		container.NewBorder(head, container.NewVBox(widget.NewSeparator(), row), nil, nil, body)), w.win.Canvas())
	pop.Show()
	w.events.tell("dialog", map[string]any{"title": title})
	return down
}

// askButton answers to Return and Escape, which fyne's own button does not.
type askButton struct {
	widget.Button
	cancel func()
}

func newAskButton(text string, run, cancel func()) *askButton {
	b := &askButton{cancel: cancel}
	b.Text, b.OnTapped = text, run
	b.ExtendBaseWidget(b)
	return b
}

func (b *askButton) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		b.OnTapped()
	case fyne.KeyEscape:
		b.cancel()
	default:
		b.Button.TypedKey(e)
	}
}
