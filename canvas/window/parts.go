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
	on     *Window
	root   fyne.CanvasObject
	search *searchEntry
	list   *fyne.Container
	scroll *container.Scroll
	rows   []*partRow
	groups []*widget.Label
	none   *widget.Label
	shown  []*partRow // that match the search, best first
	picked string     // kind that the next click on the board places
}

func newPartsPanel(on *Window) *partsPanel {
	p := &partsPanel{on: on, search: newSearchEntry("Search parts"), list: container.New(listLayout{})}
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
	group := ""
	for _, k := range on.cat.Kinds() {
		if k.Group != group {
			group = k.Group
			g := heading(group)
			p.groups = append(p.groups, g)
			p.list.Add(g)
		}
		row := newPartRow(p, k)
		p.rows = append(p.rows, row)
		p.list.Add(row)
	}
	p.none = quiet("")
	p.none.Wrapping = fyne.TextWrapWord
	p.none.Hide()
	p.list.Add(p.none)
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

// found tells how well a kind answers a search: 0 not at all, more is better.
func found(k *catalogue.Kind, search string) int {
	words := strings.Fields(strings.ToLower(search))
	if len(words) == 0 {
		return 1
	}
	title := strings.ToLower(k.Title)
	all := title + " " + strings.ToLower(k.Group+" "+strings.Join(k.Words, " ")+" "+k.Name+" "+k.Prefix)
	score := 1
	for _, w := range words {
		switch {
		case strings.HasPrefix(title, w):
			score += 8
		case strings.Contains(" "+title, " "+w):
			score += 4
		case strings.Contains(title, w):
			score += 2
		case strings.Contains(all, w):
			score++
		default:
			return 0
		}
	}
	return score
}

// filter shows what the search finds, in order of the store; Return takes the
// best of it.
func (p *partsPanel) filter() {
	p.shown = nil
	perGroup := map[string]int{}
	score := map[*partRow]int{}
	for _, r := range p.rows {
		if s := found(r.kind, p.search.Text); s > 0 {
			r.Show()
			p.shown = append(p.shown, r)
			perGroup[r.kind.Group]++
			score[r] = s
		} else {
			r.Hide()
		}
	}
	for _, g := range p.groups {
		if perGroup[g.Text] > 0 {
			g.Show()
		} else {
			g.Hide()
		}
	}
	if len(p.shown) == 0 {
		p.none.SetText(fmt.Sprintf("No part is called %q. Try a plainer word: valve, pump, tank, sensor.", strings.TrimSpace(p.search.Text)))
		p.none.Show()
	} else {
		p.none.Hide()
	}
	if strings.TrimSpace(p.search.Text) != "" {
		slices.SortStableFunc(p.shown, func(a, b *partRow) int { return score[b] - score[a] })
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
	var visible []*partRow
	for _, r := range p.rows {
		if r.Visible() {
			visible = append(visible, r)
		}
	}
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

// listLayout stacks visible objects without gaps.
type listLayout struct{}

func (listLayout) MinSize(objects []fyne.CanvasObject) fyne.Size {
	var s fyne.Size
	for _, o := range objects {
		if o.Visible() {
			s.Height += o.MinSize().Height
			s.Width = max(s.Width, o.MinSize().Width)
		}
	}
	return s
}

func (listLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	y := float32(0)
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		h := o.MinSize().Height
		o.Move(fyne.NewPos(0, y))
		o.Resize(fyne.NewSize(size.Width, h))
		y += h
	}
}
