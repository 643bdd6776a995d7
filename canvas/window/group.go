package window

import (
	"errors"
	"fmt"
	"image"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"rinsewright/canvas/edit"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/group"
)

// groupRows are the ready groups and the user's own as rows of the store of parts.
func (p *partsPanel) groupRows() []*partRow {
	var out []*partRow
	for _, g := range append(append([]*group.Group{}, group.Builtin()...), p.on.ownGroups()...) {
		row := newPartRow(p, &catalogue.Kind{Name: groupKey(g), Title: g.Title, Group: g.Heading, Words: g.Words, Help: g.Help})
		row.group = g
		out = append(out, row)
	}
	return out
}

// groupKey names a group among the kinds, none of which has a colon in its name.
func groupKey(g *group.Group) string {
	if g.Own {
		return "own:" + g.Name
	}
	return "group:" + g.Name
}

// groupOf gives the group that stands behind a row, or nil for a part.
func (p *partsPanel) groupOf(k *catalogue.Kind) *group.Group {
	for _, r := range p.rows {
		if r.kind == k {
			return r.group
		}
	}
	return nil
}

// renew reads the user's groups anew.
func (p *partsPanel) renew() {
	p.fill()
	p.filter()
}

// picture draws what the row places, in pixels.
func (r *partRow) picture(wide, high int) image.Image {
	if r.group != nil {
		return groupImage(r.group, r.in.on.cat, wide, high, darkNow())
	}
	return symbolImage(r.kind, wide, high, darkNow())
}

func (r *partRow) TappedSecondary(e *fyne.PointEvent) {
	if r.group == nil || !r.group.Own {
		return
	}
	m := fyne.NewMenu("", fyne.NewMenuItem("Place it", func() { r.in.on.pickKind(r.kind) }),
		fyne.NewMenuItem("Delete this group…", func() { r.in.on.askRemoveGroup(r.group) }))
	widget.ShowPopUpMenuAtPosition(m, r.in.on.win.Canvas(), e.AbsolutePosition)
}

// groupFolder is where the user's groups lie; empty if there is no such place.
func (w *Window) groupFolder() string {
	if w.parts != nil && w.parts.folder != "" {
		return w.parts.folder
	}
	if root := w.app.Storage().RootURI(); root != nil && root.Scheme() == "file" {
		return filepath.Join(root.Path(), "groups")
	}
	return ""
}

// ownGroups reads the user's groups. Those that cannot be used are told at the foot
// of the window.
func (w *Window) ownGroups() []*group.Group {
	dir := w.groupFolder()
	if dir == "" {
		return nil
	}
	list, wrong := group.ReadFolder(dir, w.cat)
	if len(wrong) > 0 && w.status != nil {
		w.tellHint(fmt.Sprintf("%d of your own groups cannot be used. %s", len(wrong), wrong[0]))
	}
	for _, g := range list {
		g.Heading = group.OwnHeading
	}
	return list
}

// placeGroupInView places a group in the middle of the board, or below all that
// stands there.
func (w *Window) placeGroupInView(g *group.Group) {
	b := w.board
	at := edit.Snapped(b.view.at(fyne.NewPos(b.Size().Width/2, b.Size().Height/2)))
	if w.crowded(g, at) {
		wide, high := w.drawing().GroupSize(g)
		all := w.drawing().Bounds()
		at = edit.Snapped(model.Point{X: all.Min.X + wide/2, Y: all.Max.Y + high/2 + 20})
	}
	e := w.drawing().PlaceGroup(g, at)
	if err := w.apply(e); err != nil {
		w.tellIf(err)
		return
	}
	w.doc.Select(partsOf(e)...)
	b.bringIntoView(w.drawing().Bounds(edit.Added(e)...))
	w.focusBoard()
}

// crowded says whether a group with its middle at a place would lie on a part.
func (w *Window) crowded(g *group.Group, at model.Point) bool {
	wide, high := w.drawing().GroupSize(g)
	for _, p := range w.circuit().Parts() {
		b := w.drawing().Box(p)
		if b.Max.X > at.X-wide/2 && b.Min.X < at.X+wide/2 && b.Max.Y > at.Y-high/2 && b.Min.Y < at.Y+high/2 {
			return true
		}
	}
	return false
}

// partsOf gives the parts that an edit adds.
func partsOf(e model.Edit) []model.ID {
	var out []model.ID
	for _, c := range e.Changes {
		if p, ok := c.After.(model.Part); ok && c.Before == nil {
			out = append(out, p.RecordID())
		}
	}
	return out
}

// groupActions are saving a selection as a group and finding the groups.
type groupActions struct{ save, show *action }

func (w *Window) groupActions() groupActions {
	return groupActions{
		save: &action{label: "Save selection as a group…", shortcut: ctrlShift(fyne.KeyG), run: w.askSaveGroup, enabled: func() bool {
			for _, id := range w.doc.Selection() {
				if w.circuit().Part(id) != nil {
					return true
				}
			}
			return false
		}},
		show: &action{label: "Place a ready group", shortcut: ctrlShift(fyne.KeyK), run: w.showGroups},
	}
}

// showGroups goes to the first ready group in the store of parts.
func (w *Window) showGroups() {
	if w.panes.hidden[paneLeft] {
		w.do(w.actions.showParts)
	}
	p := w.parts
	p.search.SetText("")
	for _, r := range p.rows {
		if r.group != nil {
			p.scroll.Offset.Y = max(0, min(r.Position().Y-rowHigh, p.list.MinSize().Height-p.scroll.Size().Height))
			p.scroll.Refresh()
			w.focus(r)
			return
		}
	}
}

// askSaveGroup asks what the selection is to be called and keeps it.
func (w *Window) askSaveGroup() {
	if w.groupFolder() == "" {
		w.tellDialog("Groups cannot be kept", "This system gives the program no folder of its own.")
		return
	}
	ids := w.doc.Selection()
	name := newSearchEntry("Name of the group")
	name.Icon = nil
	words := newSearchEntry("Words that it is found by")
	words.Icon = nil
	trial, err := w.drawing().GroupOf("Group", ids)
	if err != nil {
		w.tellIf(err)
		return
	}
	tells := widget.NewLabel(fmt.Sprintf("%s and %s are kept, with all their properties. %s. The group then stands in the store of parts under %q.",
		plural(len(trial.Circuit.Parts()), "part"), plural(len(trial.Circuit.Runs()), "run"), freeEndWords(trial), group.OwnHeading))
	tells.Wrapping = fyne.TextWrapWord
	tells.Resize(fyne.NewSize(440, 0)) // its height follows from its width
	wrong := widget.NewLabel("")
	wrong.Importance = widget.DangerImportance
	wrong.Hide()
	var down func()
	take := func() {
		g, err := w.drawing().GroupOf(name.Text, ids)
		if strings.TrimSpace(name.Text) == "" {
			err = errors.New("give the group a name")
		}
		if err != nil {
			wrong.SetText(sentence(err.Error()))
			wrong.Show()
			return
		}
		g.Words = strings.Fields(words.Text)
		down()
		w.keepGroup(g, false)
	}
	name.OnSubmitted = func(string) { take() }
	name.onEscape = func() { down() }
	words.OnSubmitted, words.onEscape = name.OnSubmitted, name.onEscape
	body := container.NewVBox(tells, name, words, wrong)
	down = w.askStaying("Save selection as a group", withLayout(fixedWidth(440), body), "Save group", take)
	w.focus(name)
}

func freeEndWords(g *group.Group) string {
	switch n := len(g.Free); n {
	case 0:
		return "No end of it is free"
	case 1:
		return "One end is free and is to be joined where it is placed"
	default:
		return fmt.Sprintf("%d ends are free and are to be joined where it is placed", n)
	}
}

// keepGroup writes a group and shows it in the store of parts.
func (w *Window) keepGroup(g *group.Group, replace bool) {
	err := group.Save(w.groupFolder(), g, replace)
	if errors.Is(err, group.ErrTaken) {
		w.ask("There is a group "+g.Title+" already", "The old one is kept as a backup beside the new one.",
			answer{"Replace it", func() { w.keepGroup(g, true) }}, answer{"Keep the old one", nil})
		return
	}
	if err != nil {
		w.tellDialog("The group cannot be kept", err.Error())
		return
	}
	w.parts.renew()
	w.tellHint(g.Title + " stands in the store of parts under " + group.OwnHeading)
	w.events.tell("group saved", map[string]any{"name": g.Name, "parts": len(g.Circuit.Parts())})
}

// askRemoveGroup asks whether one of the user's groups is to go. What was placed of it
// stays.
func (w *Window) askRemoveGroup(g *group.Group) {
	if g == nil || !g.Own {
		return
	}
	w.ask("Delete the group "+g.Title+"?", "It leaves the store of parts for good. What was placed of it stays on the drawings.",
		answer{"Keep it", nil}, answer{"Delete it", func() {
			if err := group.Remove(w.groupFolder(), g.Name); err != nil {
				w.tellDialog("The group cannot be deleted", err.Error())
			}
			w.parts.renew()
		}})
}
