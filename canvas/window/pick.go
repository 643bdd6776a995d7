package window

import (
	"slices"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"rinsewright/model"
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

// askFind finds parts, runs and steps by tag, name, note or property. All that
// is found can be selected at once, to be edited together.
func (w *Window) askFind() {
	w.pickFrom("Find on the drawing", "Tag, name, kind, note, or seal=EPDM, kv>20, seal= (missing)", "Show", func(text string) []pickable {
		var out []pickable
		found := w.drawing().Find(text, w.system)
		drawn := slices.DeleteFunc(slices.Clone(found), func(id model.ID) bool { return w.circuit().Step(id) != nil })
		for _, id := range found {
			r := w.circuit().Record(id)
			p := pickable{text: nameOf(r, w.cat), more: w.whatIs(r), run: func() { w.selectAndShow(id) }}
			if w.circuit().Step(id) != nil {
				p.run = func() { w.tabs.pick(2); w.showStep(id) }
			}
			out = append(out, p)
		}
		if len(drawn) > 1 {
			all := pickable{text: "Select all " + strconv.Itoa(len(drawn)), more: "To edit, align or replace them together", run: func() {
				w.doc.Select(drawn...)
				w.board.bringIntoView(w.drawing().Bounds(drawn...))
				w.focusBoard()
			}}
			out = slices.Insert(out, 1, all)
		}
		return out
	})
}

// askReplace offers the kinds that all selected parts can become with their runs
// kept.
func (w *Window) askReplace() {
	ids := w.selectedParts()
	kinds := w.drawing().Replaceable(ids...)
	what := plural(len(ids), "part")
	if len(ids) == 1 {
		what = nameOf(w.circuit().Record(ids[0]), w.cat)
	}
	w.pickFrom("Replace "+what+" by", "Name of the kind", "Replace", func(text string) []pickable {
		var out []pickable
		for _, k := range kinds {
			if found(k, text) > 0 {
				out = append(out, pickable{k.Title, k.Help, func() { w.try(w.drawing().ReplaceKinds(ids, k.Name)) }})
			}
		}
		return out
	})
}

// selectedParts gives the parts among what is selected.
func (w *Window) selectedParts() []model.ID {
	var out []model.ID
	for _, id := range w.doc.Selection() {
		if w.circuit().Part(id) != nil {
			out = append(out, id)
		}
	}
	return out
}
