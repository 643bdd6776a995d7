package window

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// tabGroups sorts the tabs by the work that they serve; of one group at a time the
// titles stand in the row. A title that is in none belongs to the last.
var tabGroups = []struct {
	name   string
	titles []string
}{
	{"Checks", []string{"Findings", "Not assessed", "Limits", "Heights"}},
	{"Washing", []string{"Steps", "Flow", "Wash", "Coverage"}},
	{"Design", []string{"Sizing"}},
	{"Audit", []string{"Marks", "Checklist", "Compare"}},
	{"Upkeep", []string{"Trace", "Isolate", "What if", "Service"}},
}

// groupOf gives the group of a title.
func groupOf(title string) int {
	for i, g := range tabGroups {
		if slices.Contains(g.titles, title) {
			return i
		}
	}
	return len(tabGroups) - 1
}

// tabChooser is the button before the titles: it names the group and opens a menu
// of all tabs.
type tabChooser struct {
	button
	of *tabs
}

func newTabChooser(t *tabs) *tabChooser {
	c := &tabChooser{of: t}
	c.on = t.on
	c.Text, c.Icon, c.IconPlacement = tabGroups[0].name, theme.MenuDropDownIcon(), widget.ButtonIconTrailingText
	c.Importance = widget.LowImportance
	c.OnTapped = c.open
	c.ExtendBaseWidget(c)
	return c
}

func (c *tabChooser) open() {
	m := fyne.NewMenu("")
	for g, group := range tabGroups {
		head := fyne.NewMenuItem(group.name, nil)
		head.Disabled = true
		items := []*fyne.MenuItem{head}
		for i, title := range c.of.titles {
			if c.of.groups[i] == g {
				item := fyne.NewMenuItem("    "+title.text, func() { c.of.pick(i) })
				item.Checked = i == c.of.at
				items = append(items, item)
			}
		}
		if len(items) == 1 {
			continue
		}
		if len(m.Items) > 0 {
			m.Items = append(m.Items, fyne.NewMenuItemSeparator())
		}
		m.Items = append(m.Items, items...)
	}
	p := widget.NewPopUpMenu(m, c.on.win.Canvas())
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(c)
	height := p.MinSize().Height
	y := at.Y + c.Size().Height
	if room := c.on.win.Canvas().Size().Height; y+height > room {
		y = max(0, at.Y-height) // above, where there is no room beneath
	}
	p.ShowAtPosition(fyne.NewPos(at.X, y))
	p.ActivateNext()
	p.ActivateNext() // the first is a heading
}

func (c *tabChooser) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyReturn, fyne.KeyEnter, fyne.KeyDown:
		c.open()
	default:
		c.button.TypedKey(e)
	}
}

// showGroup puts the titles of the group of the tab shown into the row.
func (t *tabs) showGroup() {
	g := t.groups[t.at]
	for i, title := range t.titles {
		if t.groups[i] == g {
			title.Show()
		} else {
			title.Hide()
		}
	}
	if name := tabGroups[g].name; t.chooser.Text != name {
		t.chooser.SetText(name)
	}
	t.header.Refresh()
}
