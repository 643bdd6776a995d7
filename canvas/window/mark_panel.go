package window

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"rinsewright/canvas/place"
	"rinsewright/model"
)

// marksPanel lists reviewers' marks; picking one leads to its place.
type marksPanel struct {
	of      *audit
	on      *Window
	root    fyne.CanvasObject
	list    *keyList
	search  *searchEntry
	state   *pickList
	classes map[model.MarkClass]*toggle
	empty   *widget.Label
	detail  *markDetail
	shown   []*model.Mark
	picked  model.ID
	quietly bool
}

const (
	anyState   = "All states"
	notSettled = "Not settled"
)

func newMarksPanel(of *audit) *marksPanel {
	on := of.on
	p := &marksPanel{of: of, on: on, search: newSearchEntry("Find"), classes: map[model.MarkClass]*toggle{}}
	p.search.OnChanged = func(string) { p.filter() }
	p.search.onKey = on.function
	p.search.onEscape = func() { p.search.SetText("") }
	p.state = newPickList(on, append([]string{anyState, notSettled}, model.MarkState("").Choices()...), func(string) {
		if !p.quietly {
			p.filter()
		}
	})
	p.state.PlaceHolder = anyState
	p.list = newKeyList(on, func() int { return len(p.shown) }, func() fyne.CanvasObject { return newFindingRow(on, false) }, p.fillRow)
	p.list.OnSelected = p.pick
	p.list.HideSeparators = true
	p.empty = widget.NewLabel("")
	p.empty.Wrapping = fyne.TextWrapWord
	p.empty.Alignment = fyne.TextAlignCenter
	p.detail = newMarkDetail(of)
	filters := container.NewHBox()
	for _, c := range markClasses() {
		t := newToggle(on, markIcons[c][0], "", true, func(bool) { p.filter() })
		p.classes[c] = t
		filters.Add(t)
	}
	place := newButton(on, "Place a mark", nil, func() { on.do(on.actions.audit.place) })
	row := container.NewBorder(nil, nil, container.NewHBox(place, filters), nil,
		withLayout(shares{0.5, 0.5}, container.NewThemeOverride(p.search, barless{}), p.state))
	head := newFindingRow(on, false)
	head.head = true
	head.icon.Hide()
	head.set(nil, [cells]string{"Where", "What", "Class", "State"})
	left := container.NewBorder(container.NewVBox(row, head), nil, nil, nil,
		container.NewStack(p.list, container.New(layout.NewCustomPaddedLayout(24, 0, 20, 20), p.empty)))
	p.root = newBeside(left, p.detail.root, 0.6).box
	return p
}

func (p *marksPanel) fillRow(i widget.ListItemID, o fyne.CanvasObject) {
	if i >= len(p.shown) {
		return
	}
	k := p.shown[i]
	o.(*findingRow).set(signOf(k), [cells]string{
		cellWhere:    markName(k) + "  " + p.on.markPlace(k),
		cellText:     strings.Join(strings.Fields(k.Text), " "),
		cellMeasured: string(k.Class),
		cellLimit:    string(k.State()),
	})
}

// refresh lists the marks of the circuit.
func (p *marksPanel) refresh() {
	count := map[model.MarkClass]int{}
	for _, k := range p.on.circuit().Marks() {
		count[k.Class]++
	}
	for c, t := range p.classes {
		t.setText(fmt.Sprintf("%s %d", sentence(string(c)), count[c]))
	}
	p.filter()
}

func (p *marksPanel) filter() {
	words := strings.Fields(strings.ToLower(p.search.Text))
	p.shown = p.shown[:0:0]
	at := -1
	for _, k := range p.on.circuit().Marks() {
		if t := p.classes[k.Class]; t != nil && !t.lit {
			continue
		}
		switch s := p.state.Selected; {
		case s == "" || s == anyState:
		case s == notSettled && settledMark(k), s != notSettled && s != string(k.State()):
			continue
		}
		text := strings.ToLower(strings.Join([]string{markName(k), string(k.ID), p.on.markPlace(k), k.Text, k.Finding, k.Rule, strings.Join(k.Attachments, " ")}, " "))
		if slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(text, w) }) {
			continue
		}
		if k.ID == p.picked {
			at = len(p.shown)
		}
		p.shown = append(p.shown, k)
	}
	p.quietly = true
	p.list.UnselectAll()
	if at >= 0 {
		p.list.Select(at)
		p.list.ScrollTo(at)
		p.detail.show(p.shown[at])
	} else {
		p.picked = ""
		p.detail.show(nil)
	}
	p.quietly = false
	p.list.Refresh()
	switch {
	case len(p.shown) > 0:
		p.empty.Hide()
	case len(p.on.circuit().Marks()) > 0:
		p.empty.SetText("No mark passes these filters.")
		p.empty.Show()
	default:
		p.empty.SetText("No marks yet. K places one: on a part, on a run, on an area. They travel in the file and can be handed on alone.")
		p.empty.Show()
	}
}

func (p *marksPanel) pick(i widget.ListItemID) {
	if p.quietly || i >= len(p.shown) {
		return
	}
	p.pickMark(p.shown[i].ID)
}

// pickMark shows a mark in the list, in its detail and on the drawing.
func (p *marksPanel) pickMark(id model.ID) {
	k := p.on.circuit().Mark(id)
	if k == nil {
		return
	}
	p.picked = id
	if !slices.ContainsFunc(p.shown, func(x *model.Mark) bool { return x.ID == id }) {
		p.quietly = true
		p.search.SetText("")
		p.state.SetSelected(anyState)
		for _, t := range p.classes {
			t.set(true)
		}
		p.quietly = false
	}
	p.filter()
	p.on.board.lookAt(p.boundsOf(k))
	if k.Pin.On != "" {
		p.on.board.flash(k.Pin.On)
	}
	p.on.board.refreshOverlay()
	p.on.events.tell("mark picked", map[string]any{"id": string(id), "number": k.Number})
}

func (p *marksPanel) boundsOf(k *model.Mark) place.Rect {
	d := p.on.drawing()
	if k.Pin.On != "" && !p.on.circuit().Adrift(k) {
		return d.Bounds(k.Pin.On)
	}
	if k.Pin.On == "" && k.Pin.To != nil {
		return place.Spanned(*k.Pin.At, *k.Pin.To)
	}
	if at, ok := d.PinPlace(k); ok {
		return place.Rect{Min: at, Max: at}.Grown(10)
	}
	return place.Rect{}
}

// step picks the next or the previous mark of the list.
func (a *audit) step(by int) {
	a.show(a.marksTab)
	p := a.marks
	if len(p.shown) == 0 {
		return
	}
	at := slices.IndexFunc(p.shown, func(k *model.Mark) bool { return k.ID == p.picked })
	switch {
	case at < 0 && by < 0:
		at = len(p.shown) - 1
	case at < 0:
		at = 0
	default:
		at = (at + by + len(p.shown)) % len(p.shown)
	}
	p.pickMark(p.shown[at].ID)
}
