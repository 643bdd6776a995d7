package window

import (
	"cmp"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/canvas/edit"
	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// insertRows is how many kinds the small list at the pointer offers.
const insertRows = 7

// inserter is the small field at the pointer in which the name of a part is typed.
type inserter struct {
	on    *Window
	at    model.Point
	run   model.ID // under the pointer; empty: none
	after model.ID // part that was selected: the new one can be joined to it
	entry *searchEntry
	list  *fyne.Container
	shown []*catalogue.Kind
	row   int
	popup *widget.PopUp
}

// quickInsert asks at the pointer for a part by its name. Return places it: in or
// on the run under the pointer, or joined to the part that is selected, or where
// the pointer is.
func (w *Window) quickInsert() {
	b := w.board
	x := &inserter{on: w}
	screen := fyne.NewPos(b.Size().Width/2, b.Size().Height/2)
	if ids := w.doc.Selection(); len(ids) == 1 {
		switch r := w.circuit().Record(ids[0]).(type) {
		case model.Part:
			x.after = ids[0]
			screen = b.view.on(w.drawing().Box(r).Centre())
		case *model.Run:
			x.run = ids[0]
			if line := w.drawing().Line(r); len(line) > 1 {
				long, _ := place.Longest(line)
				screen = b.view.on(model.Point{X: (line[long].X + line[long+1].X) / 2, Y: (line[long].Y + line[long+1].Y) / 2})
			}
		}
	}
	if b.inside && x.run == "" {
		screen = b.pointer
		if h := w.drawing().HitRun(b.view.at(screen), reach/b.view.Zoom); h.Kind == edit.HitRun {
			x.run, x.after = h.ID, ""
		}
	}
	x.at = edit.Snapped(b.view.at(screen))
	x.open(screen)
}

func (x *inserter) open(screen fyne.Position) {
	w := x.on
	x.entry = newSearchEntry("Name of the part")
	x.entry.OnChanged = func(string) { x.search() }
	x.entry.OnSubmitted = func(string) { x.take(x.row) }
	x.entry.onEscape = x.close
	x.entry.onDown = func() { x.mark(x.row + 1) }
	x.entry.onKey = func(k fyne.KeyName) bool {
		if k == fyne.KeyUp {
			x.mark(x.row - 1)
		}
		return k == fyne.KeyUp
	}
	x.list = container.NewVBox()
	what := "Return places it here"
	switch {
	case x.run != "":
		what = "Return puts it into " + nameOf(w.circuit().Record(x.run), w.cat)
	case x.after != "":
		what = "Return places it behind " + nameOf(w.circuit().Record(x.after), w.cat) + " and joins the two"
	}
	help := quiet(what)
	help.Truncation = fyne.TextTruncateEllipsis
	room := canvas.NewRectangle(colour(theme.ColorNameOverlayBackground))
	room.SetMinSize(fyne.NewSize(300, 0))
	x.popup = widget.NewPopUp(container.NewStack(room, container.NewVBox(x.entry, x.list, help)), w.win.Canvas())
	x.search()
	origin := fyne.CurrentApp().Driver().AbsolutePositionForObject(w.board)
	at := origin.Add(screen).AddXY(8, 8)
	size, most := x.popup.MinSize(), w.win.Canvas().Size()
	at.X, at.Y = min(at.X, most.Width-size.Width-8), min(at.Y, most.Height-size.Height-8)
	x.popup.ShowAtPosition(at)
	w.focus(x.entry)
}

func (x *inserter) close() {
	x.popup.Hide()
	x.on.focusBoard()
}

// search lists the kinds that answer best to what is typed; on a run those that
// can stand there.
func (x *inserter) search() {
	type answer struct {
		kind  *catalogue.Kind
		score int
	}
	var all []answer
	for _, k := range x.on.cat.Kinds() {
		if x.run != "" && !edit.FitsRun(k) {
			continue
		}
		if s := found(k, x.entry.Text); s > 0 {
			all = append(all, answer{k, s})
		}
	}
	slices.SortStableFunc(all, func(a, b answer) int { return cmp.Compare(b.score, a.score) })
	x.shown, x.row = nil, 0
	for _, a := range all[:min(len(all), insertRows)] {
		x.shown = append(x.shown, a.kind)
	}
	x.fill()
}

func (x *inserter) fill() {
	x.list.Objects = nil
	for i, k := range x.shown {
		row := widget.NewButton(k.Title, func() { x.take(i) })
		row.Alignment = widget.ButtonAlignLeading
		row.Importance = widget.LowImportance
		if i == x.row {
			row.Importance = widget.MediumImportance
		}
		x.list.Add(row)
	}
	for i := len(x.shown); i < insertRows; i++ { // the field keeps its size
		empty := widget.NewLabel("")
		if i == 0 && strings.TrimSpace(x.entry.Text) != "" {
			empty.SetText("No part is called that")
		}
		x.list.Add(empty)
	}
	x.list.Refresh()
}

func (x *inserter) mark(row int) {
	x.row = min(max(row, 0), max(len(x.shown)-1, 0))
	x.fill()
}

// take places the kind of a row.
func (x *inserter) take(row int) {
	if row >= len(x.shown) {
		return
	}
	k, w := x.shown[row], x.on
	x.close()
	w.guard("insert", func() {
		var e model.Edit
		var err error
		switch {
		case x.run != "":
			e, err = w.drawing().PlaceOnRun(k.Name, x.run, edit.Pose{At: x.at})
		case x.after != "":
			e, err = w.drawing().PlaceBehind(k.Name, x.after)
		default:
			e, err = w.drawing().Place(k.Name, edit.Pose{At: w.freePlace(k, x.at)})
		}
		w.try(e, err)
		if err != nil {
			return
		}
		for _, id := range edit.Added(e) {
			if p := w.circuit().Part(id); p != nil && p.Meta().Kind == k.Name {
				w.doc.Select(id)
				w.board.bringIntoView(w.drawing().Bounds(id))
			}
		}
	})
}
