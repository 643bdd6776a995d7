package window

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/model/catalogue"
)

// partsPanel is the store of parts: every kind by group, searched by name and
// words, dragged onto the board or picked for the next click on it.
type partsPanel struct {
	on      *Window
	root    fyne.CanvasObject
	search  *searchEntry
	list    *fyne.Container
	scroll  *container.Scroll
	rows    []*partRow
	byGroup []fyne.CanvasObject // headings and rows, as they stand with nothing searched for
	none    *widget.Label
	shown   []*partRow // that match the search, best first
	picked  string     // kind that the next click on the board places
	folder  string     // of the user's groups; empty: the program's own place
}

func newPartsPanel(on *Window) *partsPanel {
	p := &partsPanel{on: on, search: newSearchEntry("Search parts"), list: container.New(stack(0))}
	p.search.OnChanged = func(string) { p.filter() }
	p.search.OnSubmitted = func(string) {
		if len(p.shown) > 0 && strings.TrimSpace(p.search.Text) != "" {
			on.placeInView(p.shown[0].kind)
		}
	}
	p.search.onKey = on.function
	p.search.onEscape = func() {
		if p.search.Text != "" {
			p.search.SetText("")
			return
		}
		on.focusBoard()
	}
	p.search.onDown = func() {
		if len(p.shown) > 0 {
			on.focus(p.shown[0])
		}
	}
	p.none = quiet("")
	p.none.Wrapping = fyne.TextWrapWord
	p.none.Hide()
	p.fill()
	p.scroll = container.NewVScroll(p.list)
	title := widget.NewLabel("Parts")
	title.SizeName = theme.SizeNameSubHeadingText
	title.TextStyle.Bold = true
	help := quiet("Drag onto the board, or click here and then there. Return places the first that is found.")
	help.Wrapping = fyne.TextWrapWord
	p.root = panel(container.NewBorder(container.NewVBox(title, p.search), container.NewVBox(widget.NewSeparator(), help), nil, nil, p.scroll))
	p.filter()
	return p
}

// fill makes the rows: all kinds by group, then the ready groups.
func (p *partsPanel) fill() {
	p.rows, p.byGroup = nil, nil
	group := ""
	for _, row := range append(p.kindRows(), p.groupRows()...) {
		if row.kind.Group != group {
			group = row.kind.Group
			p.byGroup = append(p.byGroup, heading(group))
		}
		p.rows = append(p.rows, row)
		p.byGroup = append(p.byGroup, row)
	}
	p.byGroup = append(p.byGroup, p.none)
	p.list.Objects = p.byGroup
}

func (p *partsPanel) kindRows() []*partRow {
	var out []*partRow
	for _, k := range p.on.cat.Kinds() {
		out = append(out, newPartRow(p, k))
	}
	return out
}

// found tells how well a kind answers a search: 0 not at all, more is better. A
// title that begins with what is searched for comes before one with a word that
// does, and that before what is found by other words only.
func found(k *catalogue.Kind, search string) int {
	words := strings.Fields(strings.ToLower(search))
	if len(words) == 0 {
		return 1
	}
	title := strings.ToLower(k.Title)
	all := title + " " + strings.ToLower(k.Group+" "+strings.Join(k.Words, " ")+" "+k.Name+" "+k.Prefix)
	score := 0
	if strings.HasPrefix(title, strings.Join(words, " ")) {
		score = 1000
	}
	least := 100
	for _, w := range words {
		here := 0
		switch {
		case strings.HasPrefix(title, w):
			here = 8
		case strings.Contains(" "+title, " "+w):
			here = 6
		case strings.Contains(title, w):
			here = 4
		case strings.Contains(" "+all, " "+w):
			here = 2
		case strings.Contains(all, w):
			here = 1
		default:
			return 0
		}
		score += here
		least = min(least, here)
	}
	return score + 20*least
}

// filter shows what the search finds, the best of all groups first; with nothing
// searched for, all kinds by group.
func (p *partsPanel) filter() {
	p.shown = nil
	score := map[*partRow]int{}
	for _, r := range p.rows {
		if s := found(r.kind, p.search.Text); s > 0 {
			r.Show()
			p.shown = append(p.shown, r)
			score[r] = s
		} else {
			r.Hide()
		}
	}
	searched := strings.TrimSpace(p.search.Text) != ""
	p.list.Objects = p.byGroup
	if searched {
		slices.SortStableFunc(p.shown, func(a, b *partRow) int { return score[b] - score[a] })
		p.list.Objects = nil
		for _, r := range p.shown {
			p.list.Objects = append(p.list.Objects, r)
		}
		p.list.Objects = append(p.list.Objects, p.none)
	}
	if len(p.shown) == 0 {
		p.none.SetText(fmt.Sprintf("No part is called %q. Try a plainer word: valve, pump, tank, sensor.", strings.TrimSpace(p.search.Text)))
		p.none.Show()
	} else {
		p.none.Hide()
	}
	p.scroll.ScrollToTop()
	p.list.Refresh()
	p.scroll.Refresh()
	p.tellFirst()
}

// tellFirst lets a test find the best of what a search found on the screen.
func (p *partsPanel) tellFirst() {
	if p.on.events == nil || !p.on.started || len(p.shown) == 0 {
		return
	}
	first := p.shown[0]
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(first)
	s := p.on.win.Canvas().Scale()
	p.on.events.tell("search", map[string]any{"text": p.search.Text, "kind": first.kind.Name,
		"x": at.X * s, "y": at.Y * s, "width": first.Size().Width * s, "height": first.Size().Height * s})
}

// mark shows which kind the next click on the board places; none for "".
func (p *partsPanel) mark(kind string) {
	if p.picked == kind {
		return
	}
	p.picked = kind
	for _, r := range p.rows {
		if on := r.kind.Name == kind; on != r.picked {
			r.picked = on
			r.Refresh()
		}
	}
}

// again draws the symbols anew: the theme has changed.
func (p *partsPanel) again() {
	for _, r := range p.rows {
		r.image.Image = nil
		r.Refresh()
	}
}

// step moves the focus from a row to the one above or below.
func (p *partsPanel) step(from *partRow, by int) {
	visible := p.shown
	i := slices.Index(visible, from) + by
	switch {
	case i < 0:
		p.on.focus(p.search)
	case i < len(visible):
		p.on.focus(visible[i])
		y := visible[i].Position().Y
		if y < p.scroll.Offset.Y {
			p.scroll.Offset.Y = y
		} else if low := y + visible[i].Size().Height - p.scroll.Size().Height; low > p.scroll.Offset.Y {
			p.scroll.Offset.Y = low
		}
		p.scroll.Refresh()
	}
}
