package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// pickable is one line of a list that is searched.
type pickable struct {
	text, more string
	run        func()
}

// pickFrom asks for one of what a search gives; Return takes the first.
func (w *Window) pickFrom(title, hint, confirm string, search func(text string) []pickable) {
	shown := search("")
	entry := newSearchEntry(hint)
	var down func()
	take := func(i int) {
		if i < len(shown) {
			down()
			w.guard(title, shown[i].run)
		}
	}
	list := widget.NewList(func() int { return len(shown) },
		func() fyne.CanvasObject {
			more := quiet("")
			more.Truncation = fyne.TextTruncateEllipsis
			text := widget.NewLabel("")
			text.Truncation = fyne.TextTruncateEllipsis
			return withLayout(shares{0.4, 0.6}, text, more)
		},
		func(i widget.ListItemID, o fyne.CanvasObject) {
			row := o.(*fyne.Container).Objects
			row[0].(*widget.Label).SetText(shown[i].text)
			row[1].(*widget.Label).SetText(shown[i].more)
		})
	list.OnSelected = func(i widget.ListItemID) { take(i) }
	entry.OnChanged = func(text string) {
		shown = search(text)
		list.Refresh()
	}
	entry.OnSubmitted = func(string) { take(0) }
	entry.onDown = func() { w.focus(list) }
	room := canvas.NewRectangle(nil)
	room.SetMinSize(fyne.NewSize(440, 260))
	down = w.askStaying(title, container.NewBorder(entry, nil, nil, nil, container.NewStack(room, list)), confirm, func() { take(0) })
	entry.onEscape = down
	w.focus(entry)
}

// askFind finds parts, runs and steps by tag, name or note.
func (w *Window) askFind() {
	w.pickFrom("Find on the drawing", "Tag, name, kind or note", "Show", func(text string) []pickable {
		var out []pickable
		for _, id := range w.drawing().Find(text) {
			r := w.circuit().Record(id)
			p := pickable{text: nameOf(r, w.cat), more: w.whatIs(r), run: func() { w.selectAndShow(id) }}
			if w.circuit().Step(id) != nil {
				p.run = func() { w.tabs.pick(2); w.showStep(id) }
			}
			out = append(out, p)
		}
		return out
	})
}

// askReplace offers the kinds that the selected part can become with its runs
// kept.
func (w *Window) askReplace() {
	id := w.doc.Selection()[0]
	kinds := w.drawing().Replaceable(id)
	w.pickFrom("Replace "+nameOf(w.circuit().Record(id), w.cat)+" by", "Name of the kind", "Replace", func(text string) []pickable {
		var out []pickable
		for _, k := range kinds {
			if found(k, text) > 0 {
				out = append(out, pickable{k.Title, k.Help, func() { w.try(w.drawing().ReplaceKind(id, k.Name)) }})
			}
		}
		return out
	})
}
