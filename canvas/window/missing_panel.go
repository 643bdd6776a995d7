package window

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"rinsewright/checks"
	"rinsewright/model"
)

// missingPanel is the table of all missing values, each with its field. The list of
// the judgements that wait for them lies behind it.
type missingPanel struct {
	on      *Window
	root    *fyne.Container
	table   fyne.CanvasObject
	byRule  *toggle // shows the judgements instead
	search  *searchEntry
	rule    *pickList
	all     *check
	told    *widget.Label
	empty   *widget.Label
	box     *fyne.Container
	scroll  *container.Scroll
	more    *button
	list    []missingValue
	others  int // of the list, that no value would help
	rows    []*missingRow
	page    int // how many rows are shown at most
	quietly bool
	stale   bool // the rows are not those of the list
}

// missingPage is how many rows are made at a time: a large plant that was just drawn
// lacks thousands.
const missingPage = 30

func newMissingPanel(on *Window, judgements fyne.CanvasObject) *missingPanel {
	p := &missingPanel{on: on, search: newSearchEntry("Find a part or property"), told: quiet(""), empty: widget.NewLabel(""), box: container.NewVBox(), page: missingPage}
	p.search.OnChanged = func(string) { p.page = missingPage; p.filter() }
	p.search.onKey = on.function
	p.search.onEscape = func() { p.search.SetText("") }
	p.search.onDown = func() { p.start() }
	p.search.OnSubmitted = func(string) { p.start() }
	p.rule = newPickList(on, []string{anyRule}, func(string) {
		if !p.quietly {
			p.page = missingPage
			p.filter()
		}
	})
	p.rule.PlaceHolder = anyRule
	p.byRule = newToggle(on, nil, "By judgement", false, func(bool) { p.show() })
	p.all = newCheck(on, "", func(ticked bool) {
		if !p.quietly {
			for _, r := range p.rows {
				r.tick.SetChecked(ticked)
			}
		}
	})
	p.told.Truncation = fyne.TextTruncateEllipsis
	p.empty.Wrapping, p.empty.Alignment = fyne.TextWrapWord, fyne.TextAlignCenter
	p.more = newButton(on, "", nil, func() { p.page += missingPage; p.filter() })
	p.more.Hide()
	p.scroll = container.NewVScroll(container.NewVBox(p.box, p.more))
	title := func(text string) fyne.CanvasObject {
		l := quiet(text)
		l.Truncation = fyne.TextTruncateEllipsis
		return l
	}
	head := withLayout(missingColumns, p.all, title(""), title("Where"), title("What is missing"), title("Value"), title("Unit"), title("Waiting"), title("Rules that wait for it"))
	filters := container.NewBorder(nil, nil, nil, p.byRule, withLayout(shares{0.26, 0.3, 0.44}, container.NewThemeOverride(p.search, barless{}), p.rule, p.told))
	p.table = container.NewBorder(head, nil, nil, nil, container.NewStack(p.scroll, container.New(layout.NewCustomPaddedLayout(24, 0, 20, 20), p.empty)))
	p.root = container.NewBorder(filters, nil, nil, nil, p.table, judgements)
	judgements.Hide()
	return p
}

// show shows the table, or the judgements.
func (p *missingPanel) show() {
	list := p.on.open.root
	if p.byRule.lit {
		p.table.Hide()
		list.Show()
	} else {
		list.Hide()
		p.table.Show()
	}
	p.root.Refresh()
}

// set takes in what the checks could not assess.
func (p *missingPanel) set(r *checks.Result) {
	p.list, p.others = p.on.missingOf(r)
	var rules []string
	for i := range p.list {
		for _, title := range p.list[i].rules {
			if !slices.Contains(rules, title) {
				rules = append(rules, title)
			}
		}
	}
	slices.Sort(rules)
	p.quietly = true
	was := p.rule.Selected
	p.rule.SetOptions(append([]string{anyRule}, rules...))
	if was != "" && was != anyRule && !slices.Contains(rules, was) {
		p.rule.SetSelected(anyRule)
	}
	p.quietly = false
	if p.stale = true; p.on.tabs.at == missingTab || len(p.list) == 0 {
		p.filter()
	}
}

// filter shows the rows that pass rule and words. Rows that stay keep what is typed in
// them and the caret.
func (p *missingPanel) filter() {
	p.stale = false
	words := strings.Fields(strings.ToLower(p.search.Text))
	var rows []*missingRow
	left := 0
	for i := range p.list {
		m := &p.list[i]
		if r := p.rule.Selected; r != "" && r != anyRule && !slices.Contains(m.rules, r) {
			continue
		}
		text := strings.ToLower(m.name + " " + m.label + " " + strings.Join(m.rules, " "))
		if slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(text, w) }) {
			continue
		}
		if len(rows) >= p.page {
			left++
			continue
		}
		rows = append(rows, p.rowOf(m))
	}
	at := p.focusedRow()
	if !slices.Equal(rows, p.rows) {
		p.rows = rows
		p.box.Objects = make([]fyne.CanvasObject, len(rows))
		for i, r := range rows {
			p.box.Objects[i] = r.box
		}
		p.box.Refresh()
	}
	if left > 0 {
		p.more.SetText(fmt.Sprintf("Show more (%d are not shown)", left))
		p.more.Show()
	} else {
		p.more.Hide()
	}
	if at != nil && !slices.Contains(rows, at) {
		// The row that held the caret has gone: the keys must not go with it.
		p.on.win.Canvas().Unfocus()
		if len(rows) > 0 {
			p.on.focus(rows[0].field)
		}
	}
	p.tellEmpty()
	p.tellTicked()
}

// looked makes the rows once they are to be seen: to make them costs more than all
// that is done after an edit otherwise.
func (p *missingPanel) looked() {
	if p.stale && p.on.tabs.at == missingTab {
		p.filter()
	}
}

// missingTab is the place of the table among the tabs.
const missingTab = 1

// rowOf gives the row of a missing value: the one that is there, if nothing but what
// waits for it has changed.
func (p *missingPanel) rowOf(m *missingValue) *missingRow {
	for _, r := range p.rows {
		if r.m.same(m) && !r.filled && r.m.why == m.why && r.m.name == m.name && r.m.label == m.label {
			r.update(*m)
			return r
		}
	}
	next := newMissingRow(p, *m)
	for _, r := range p.rows { // what is half typed is not lost
		if !r.m.same(m) || r.filled {
			continue
		}
		old, ok := r.field.(*fieldEntry)
		field, isEntry := next.field.(*fieldEntry)
		if ok && isEntry && old.Text != old.shown {
			field.SetText(old.Text)
		}
		next.tick.Checked = r.tick.Checked
		if p.on.win.Canvas().Focused() == r.field {
			p.on.later(0, func() { p.on.focus(next.field) })
		}
	}
	return next
}

func (p *missingPanel) focusedRow() *missingRow {
	f := p.on.win.Canvas().Focused()
	for _, r := range p.rows {
		if f != nil && f == r.field {
			return r
		}
	}
	return nil
}

// tellEmpty says why there is no row.
func (p *missingPanel) tellEmpty() {
	text := ""
	switch {
	case len(p.rows) > 0:
		p.empty.Hide()
		return
	case len(p.list) > 0:
		text = "Nothing that is missing passes these filters."
	case p.on.result == nil:
		text = "Checking…"
	case len(p.on.circuit().Parts()) == 0:
		text = "Nothing is drawn yet, so nothing is missing."
	default:
		text = "Everything that the rules ask for is known."
	}
	p.empty.SetText(text)
	p.empty.Show()
}

// ticked gives the rows that are ticked.
func (p *missingPanel) ticked() []*missingRow {
	var out []*missingRow
	for _, r := range p.rows {
		if r.tick.Checked && !r.filled {
			out = append(out, r)
		}
	}
	return out
}

// together gives a row and those that get the same value: if it is ticked, all ticked
// ones that lack the same property.
func (p *missingPanel) together(r *missingRow) []*missingRow {
	out := []*missingRow{r}
	if !r.tick.Checked {
		return out
	}
	for _, x := range p.ticked() {
		if x != r && x.m.key == r.m.key {
			out = append(out, x)
		}
	}
	return out
}

// tellTicked says what typing a value would do.
func (p *missingPanel) tellTicked() {
	text := plural(len(p.list)-p.others, "value") + " missing"
	if p.others > 0 {
		text += fmt.Sprintf("; %d open for another reason", p.others)
	}
	if n := len(p.ticked()); n > 0 {
		text = fmt.Sprintf("%d ticked: a value typed into one of them goes to all ticked that lack the same", n)
	}
	set(p.told, text)
	all := len(p.rows) > 0 && !slices.ContainsFunc(p.rows, func(r *missingRow) bool { return !r.tick.Checked })
	if p.all.Checked != all {
		p.quietly = true
		p.all.SetChecked(all)
		p.quietly = false
	}
}

// start puts the caret into the first field.
func (p *missingPanel) start() {
	if p.byRule.lit {
		p.byRule.set(false)
		p.show()
	}
	if len(p.rows) > 0 {
		p.on.focus(p.rows[0].field)
	} else {
		p.on.focus(p.search)
	}
}

// focusNext puts the caret into the next field that is not filled, by steps of by; the
// search gets it behind the last one.
func (p *missingPanel) focusNext(r *missingRow, by int) {
	at := slices.Index(p.rows, r)
	for i := at + by; i >= 0 && i < len(p.rows); i += by {
		if !p.rows[i].filled {
			p.on.focus(p.rows[i].field)
			return
		}
	}
	p.on.focus(p.search)
}

// key goes up and down the fields by the arrow keys.
func (p *missingPanel) key(k fyne.KeyName) bool {
	if r := p.focusedRow(); r != nil && (k == fyne.KeyUp || k == fyne.KeyDown) {
		by := 1
		if k == fyne.KeyUp {
			by = -1
		}
		p.focusNext(r, by)
		return true
	}
	return p.on.function(k)
}

// focused brings a row into view and tells of its property.
func (p *missingPanel) focused(r *missingRow) {
	y, tall := r.box.Position().Y, r.box.Size().Height
	switch top := p.scroll.Offset.Y; {
	case y < top:
		p.scroll.ScrollToOffset(fyne.NewPos(0, y))
	case y+tall > top+p.scroll.Size().Height:
		p.scroll.ScrollToOffset(fyne.NewPos(0, y+tall-p.scroll.Size().Height))
	}
	if record := p.on.circuit().Record(r.m.record); record != nil {
		c := captionOf(record, r.m.key, p.on.cat)
		p.on.board.point(model.PlaceOf(r.m.record))
		p.on.tellHint(strings.TrimSuffix(r.m.name+", "+strings.ToLower(c.label)+": "+c.help, ": "))
	}
}

// again writes all anew: the units have changed.
func (p *missingPanel) again() {
	p.rows = nil
	if p.stale = true; p.on.tabs.at == missingTab {
		p.filter()
	}
}
