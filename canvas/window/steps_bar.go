package window

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// stepsBar stands above the grid: which programme it shows, and what can be done with
// programmes, steps and line-ups.
type stepsBar struct {
	of      *stepsPanel
	root    fyne.CanvasObject
	pick    *pickList // of the programme
	names   []string  // of its entries, behind the one for all
	quietly bool
	buttons []stepButton
	menus   []*menuButton
	movers  *toggle // shows only what a step moves
	details *toggle
}

// stepButton is a button for one action.
type stepButton struct {
	*button
	does *action
}

const allProgrammes = "All programmes"

func newStepsBar(of *stepsPanel) *stepsBar {
	b := &stepsBar{of: of}
	on, a := of.on, of.on.actions
	b.pick = newPickList(on, nil, func(string) {
		i := b.pick.SelectedIndex()
		if b.quietly || i < 0 {
			return
		}
		if i == len(b.names) {
			on.showProgramme(programmeChoice{all: true, name: of.choice.name})
			return
		}
		on.showProgramme(programmeChoice{name: b.names[i]})
	})
	b.pick.PlaceHolder = "No programme yet"
	row := container.NewHBox(withLayout(fixedWidth(176), b.pick))
	for _, x := range []struct {
		text string
		list []*action
	}{
		{"Programme", []*action{a.programmes.add, a.programmes.duplicate, a.programmes.rename, a.programmes.remove, a.upkeep.often, nil, a.programmes.before, a.programmes.after, a.programmes.all, nil, a.programmes.list}},
		{"Step", []*action{a.addStep, a.duplicateStep, a.stepUp, a.stepDown, a.deleteStep, nil, a.stepBefore, a.stepAfter, a.stepNone}},
		{"Line-up", []*action{a.programmes.find, a.programmes.findAll, nil, a.programmes.steam, a.programmes.empty}},
	} {
		m := newMenuButton(on, x.text, x.list)
		b.menus = append(b.menus, m)
		row.Add(m)
	}
	for _, x := range []struct {
		icon fyne.Resource
		do   *action
	}{
		{theme.ContentAddIcon(), a.addStep},
		{theme.MoveUpIcon(), a.stepUp},
		{theme.MoveDownIcon(), a.stepDown},
	} {
		k := newButton(on, "", x.icon, func() { on.do(x.do) })
		b.buttons = append(b.buttons, stepButton{k, x.do})
		row.Add(k)
	}
	b.movers = newToggle(on, nil, "Moved only", false, func(bool) { of.refresh() })
	shown := !on.app.Preferences().Bool(prefNoDetails)
	b.details = newToggle(on, nil, "Details", shown, func(shown bool) {
		on.app.Preferences().SetBool(prefNoDetails, !shown)
		of.showSlot()
	})
	row.Add(widget.NewSeparator())
	row.Add(b.movers)
	b.root = container.NewBorder(nil, nil, row, b.details)
	return b
}

// refresh shows what can be done now.
func (b *stepsBar) refresh() {
	on := b.of.on
	b.names = on.drawing().Programmes()
	options := make([]string, 0, len(b.names)+1)
	for _, n := range b.names {
		if n == "" {
			n = "Without a name"
		}
		options = append(options, n)
	}
	at := slices.Index(b.names, b.of.choice.name)
	if len(b.names) > 1 {
		options = append(options, allProgrammes)
		if b.of.choice.all {
			at = len(b.names)
		}
	}
	b.quietly = true
	b.pick.SetOptions(options)
	if at < 0 {
		b.pick.ClearSelected()
	} else if b.pick.SelectedIndex() != at || b.pick.Selected != options[at] {
		b.pick.SetSelectedIndex(at)
	}
	b.quietly = false
	for _, x := range b.buttons {
		x.able(x.does.can())
	}
}

// menuButton opens a menu of actions beneath it.
type menuButton struct {
	button
	list []*action
}

func newMenuButton(on *Window, text string, list []*action) *menuButton {
	m := &menuButton{list: list}
	m.button.on = on
	m.Text, m.Icon, m.IconPlacement = text, theme.MenuDropDownIcon(), widget.ButtonIconTrailingText
	m.Importance = widget.LowImportance
	m.OnTapped = m.openMenu
	m.ExtendBaseWidget(m)
	return m
}

// menu makes the menu as things stand now.
func (m *menuButton) menu() *fyne.Menu {
	out := fyne.NewMenu("")
	for _, x := range m.list {
		if x == nil {
			out.Items = append(out.Items, fyne.NewMenuItemSeparator())
			continue
		}
		item := m.on.item(x)
		item.Action = func() { m.on.fromMenu(x) }
		out.Items = append(out.Items, item)
	}
	return out
}

func (m *menuButton) openMenu() {
	p := widget.NewPopUpMenu(m.menu(), m.on.win.Canvas())
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(m)
	p.ShowAtPosition(at.AddXY(0, m.Size().Height))
	p.ActivateNext()
}

func (m *menuButton) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeyDown:
		m.openMenu()
	default:
		m.button.TypedKey(e)
	}
}

// stepsFoot tells beneath the grid what the step shown suffers from, or else how the
// grid is read.
type stepsFoot struct {
	on   *Window
	root fyne.CanvasObject
	text *widget.Label
	icon *widget.Icon
	all  *button
	full string // what is told of all steps
}

func newStepsFoot(on *Window) *stepsFoot {
	f := &stepsFoot{on: on, text: quiet(""), icon: widget.NewIcon(iconStop)}
	f.text.Truncation = fyne.TextTruncateEllipsis
	f.all = newButton(on, "All…", nil, func() { on.tellLong("What to look out for in these steps", f.full) })
	f.root = container.NewBorder(nil, nil, withLayout(fixedWidth(18), f.icon), f.all, f.text)
	return f
}

const gridReads = "Bold: set by the step. Framed: otherwise than in the step before. A click moves it."

// refresh tells what is wrong with the step shown first.
func (f *stepsFoot) refresh() {
	p := f.on.steps
	if p == nil {
		return
	}
	var here, faults, order []string
	icon := iconNote
	for _, s := range p.steps {
		for _, g := range p.meeting.gripes(s.ID) {
			if s.ID == f.on.stepID {
				here = append(here, g.text)
				if len(here) == 1 {
					icon = g.sign
				}
			}
			if told := p.label(s) + ": " + g.text; g.sign == iconNote {
				order = append(order, told)
			} else {
				faults = append(faults, told)
			}
		}
	}
	f.full = strings.Join(append(slices.Clone(faults), order...), "\n\n")
	switch {
	case len(here) > 0:
		f.text.SetText(here[0])
		f.icon.SetResource(icon)
		f.icon.Show()
	case len(p.steps) > 0:
		f.text.SetText(gridReads)
		f.icon.Hide()
	default:
		f.text.SetText("")
		f.icon.Hide()
	}
	switch {
	case len(faults) > 0:
		f.all.SetText(plural(len(faults), "fault") + "…")
		f.all.Show()
	case len(order) > 0:
		f.all.SetText("Order of switching…")
		f.all.Show()
	default:
		f.all.Hide()
	}
	f.root.Refresh()
}
