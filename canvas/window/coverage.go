package window

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/scene"
	"rinsewright/model"
	"rinsewright/model/coverage"
	"rinsewright/model/quantity"
)

// covering shows the coverage of the programme on the drawing.
type covering struct {
	on     *Window
	shown  bool
	medium model.Medium // empty: the worst of all
}

// turn shows coverage on the drawing, or puts it away.
func (c *covering) turn() {
	if c.shown {
		c.hide()
		return
	}
	c.on.player.end("")
	c.shown = true
	if c.on.washing.fresh() {
		c.refresh()
	} else {
		c.on.washing.want(0)
	}
	c.on.refreshMenu()
}

func (c *covering) hide() {
	if !c.shown {
		return
	}
	c.shown = false
	c.on.board.showMoment(nil)
	c.on.coverPanel.onDrawing.set(false)
	c.on.refreshMenu()
	c.on.events.tell("coverage", map[string]any{"shown": false})
}

// refresh puts the coverage of what was run last on the drawing.
func (c *covering) refresh() {
	if c == nil || !c.shown {
		return
	}
	r := c.on.washing.ran
	if !r.ok() || !c.on.washing.fresh() {
		c.on.board.showMoment(nil)
		return
	}
	c.on.coverPanel.onDrawing.set(true)
	opt := scene.Cover(r.plant, r.cover, c.medium)
	c.on.board.showMoment(&opt)
	c.on.board.refreshOverlay()
	fields := map[string]any{"shown": true, "medium": string(c.medium)}
	for _, t := range r.cover.Totals {
		fields[t.State.Class()] = t.Rows
	}
	c.on.events.tell("coverage", fields)
}

// told says what the drawing shows.
func (c *covering) told() string {
	medium := "the worst of all media"
	if c.medium != "" {
		medium = plainWords(string(c.medium))
	}
	text := "Coverage of " + programmeWords(c.on.washing.programme) + ": " + medium
	if v, ok := c.on.leastVelocity().Get(); ok {
		return text + "; at speed from " + quantity.Text(v, c.on.system)
	}
	return text + "; the limits tell no least velocity"
}

// coverSorts are the orders of the table.
var coverSorts = []string{"Worst first", "Slowest first", "By place", "By sort"}

const (
	sortWorst = iota
	sortSlow
	sortPlace
	sortKind
)

// coverFilters are what the table can be narrowed to.
var coverFilters = []string{"All", "Not swept at speed", "Too slow", "Standing", "Not reached", "Velocity unknown", "Swept"}

// coverPanel is the table of what everything gets of every medium.
type coverPanel struct {
	on        *Window
	root      fyne.CanvasObject
	medium    *pickList
	media     []model.Medium // of the entries of medium
	filter    *pickList
	sort      *pickList
	search    *searchEntry
	onDrawing *toggle
	sum       *widget.Label
	list      *keyList
	rows      []flowLine
	empty     *widget.Label
	make      *button
	body      *fyne.Container
	shows     *ranWash
	quietly   bool
}

func newCoverPanel(on *Window) *coverPanel {
	p := &coverPanel{on: on}
	changed := func(string) {
		if !p.quietly {
			on.guard("show the coverage", p.chosen)
		}
	}
	p.quietly = true
	p.medium = newPickList(on, []string{"Worst of all"}, changed)
	p.medium.SetSelectedIndex(0)
	p.media = []model.Medium{""}
	p.filter = newPickList(on, coverFilters, changed)
	p.filter.SetSelectedIndex(1)
	p.sort = newPickList(on, coverSorts, changed)
	p.sort.SetSelectedIndex(0)
	p.quietly = false
	p.search = newSearchEntry("Tag")
	p.search.OnChanged = changed
	p.search.onKey = on.function
	p.search.onEscape = func() { on.focusBoard() }
	p.search.onDown = func() { on.focus(p.list) }
	p.onDrawing = newToggle(on, theme.VisibilityIcon(), "On the drawing", false, func(bool) { on.do(on.actions.wash.coverShow) })
	p.sum = widget.NewLabel("")
	p.sum.Truncation = fyne.TextTruncateEllipsis
	p.list = newLineList(on, func() []flowLine { return p.rows })
	copyCover := newButton(on, "Copy", theme.ContentCopyIcon(), func() { on.do(on.actions.wash.copyCover) })
	var save *button
	save = newButton(on, "", theme.DownloadIcon(), func() { on.popActions(save, on.actions.wash.exports[5:]) })
	caution := quiet(washCaution)
	caution.Importance = widget.WarningImportance
	caution.Truncation = fyne.TextTruncateEllipsis
	p.empty = widget.NewLabel("")
	p.empty.Wrapping = fyne.TextWrapWord
	p.empty.Alignment = fyne.TextAlignCenter
	p.make = newButton(on, "Go to the steps", theme.NavigateNextIcon(), func() { on.do(on.actions.gotoSteps) })
	bar := container.NewBorder(nil, nil,
		container.NewHBox(p.onDrawing, withLayout(fixedWidth(140), p.medium), withLayout(fixedWidth(170), p.filter), withLayout(fixedWidth(140), p.sort)),
		container.NewHBox(copyCover, save), p.search)
	table := container.NewBorder(container.NewVBox(bar, p.sum), caution, nil, nil, p.list)
	p.body = container.NewStack(table, container.NewVBox(p.empty, container.NewCenter(p.make)))
	p.root = p.body
	return p
}

func (p *coverPanel) again() {
	p.shows = nil
	p.refresh()
}

// chosen shows what was chosen.
func (p *coverPanel) chosen() {
	if i := p.medium.SelectedIndex(); i >= 0 && i < len(p.media) {
		p.on.covering.medium = p.media[i]
	}
	p.shows = nil
	p.refresh()
	p.on.covering.refresh()
}

// refresh tells what was run last, or why there is nothing.
func (p *coverPanel) refresh() {
	if p == nil {
		return
	}
	w := p.on
	trouble := w.washTrouble()
	if trouble != "" {
		p.shows = nil
		p.empty.SetText(trouble)
		if _, some := w.washing.name(); some {
			p.make.Hide()
		} else {
			p.make.Show()
		}
		p.body.Objects[0].Hide()
		p.body.Objects[1].Show()
		return
	}
	p.body.Objects[0].Show()
	p.body.Objects[1].Hide()
	if p.shows == w.washing.ran {
		return
	}
	p.shows = w.washing.ran
	p.choices()
	p.rows = w.coverLines(p.shows)
	p.sum.SetText(p.sumWords())
	p.list.Refresh()
	p.list.ScrollToTop()
}

// choices offers the media of the programme.
func (p *coverPanel) choices() {
	p.media = append([]model.Medium{""}, p.shows.cover.Media...)
	words := []string{"Worst of all"}
	for _, m := range p.shows.cover.Media {
		words = append(words, sentence(plainWords(string(m))))
	}
	p.quietly = true
	if !slices.Equal(words, p.medium.Options) {
		p.medium.SetOptions(words)
	}
	at := max(slices.Index(p.media, p.on.covering.medium), 0)
	p.on.covering.medium = p.media[at]
	if p.medium.SelectedIndex() != at {
		p.medium.SetSelectedIndex(at)
	}
	p.quietly = false
}

func (p *coverPanel) sumWords() string {
	var words []string
	for _, t := range p.shows.cover.Totals {
		text := fmt.Sprintf("%d %s", t.Rows, t.State)
		if t.Length > 0 {
			text += " (" + quantity.Text(t.Length, p.on.system) + " of tube)"
		}
		words = append(words, text)
	}
	text := "Nothing is promised: no step of the programme cleans anything. Say in the tab Steps what each step cleans."
	if len(words) > 0 {
		text = strings.Join(words, ", ") + "."
	}
	if v, ok := p.on.leastVelocity().Get(); ok {
		text += " At speed: " + quantity.Text(v, p.on.system) + " and above, limits " + p.on.profile().Name + "."
	} else {
		text += " The limits tell no least velocity: none is called swept at speed."
	}
	return text
}

// coverLines tells the rows that are chosen, in the order that is chosen, after what
// had to be left out.
func (w *Window) coverLines(r *ranWash) []flowLine {
	p := w.coverPanel
	var out []flowLine
	if len(r.cover.Left) > 0 {
		out = append(out, flowLine{head: true, name: "Left out", text: "steps that clean and could not be counted"})
		for _, l := range r.cover.Left {
			line := flowLine{icon: iconFix, text: sentence(l.Why), run: func() { w.showStep(l.Step) }}
			if s := w.circuit().Step(l.Step); s != nil {
				line.name = stepName(s)
			}
			out = append(out, line)
		}
	}
	rows := p.kept(r)
	cells := []string{"Sort", "Washed for", "Worst"}
	media := r.cover.Media
	if most := mostFlowCells - len(cells); len(media) > most {
		media = media[:most]
	}
	for _, m := range media {
		cells = append(cells, sentence(plainWords(string(m))))
	}
	out = append(out, flowLine{head: true, name: "Place", cells: cells})
	for _, i := range rows {
		row := &r.cover.Rows[i]
		line := flowLine{name: w.coverPlace(r, row), run: func() { w.gotoCover(row) }}
		var washed []string
		for _, id := range row.Objects {
			washed = append(washed, nameOf(w.circuit().Record(id), w.cat))
		}
		line.cells = []string{r.sortWords(row), strings.Join(washed, ", "), row.Worst.String()}
		line.full = line.name + ", " + r.sortWords(row) + ": "
		for k, c := range row.Cells {
			if k > 0 {
				line.full += "; "
			}
			line.full += plainWords(string(c.Medium)) + " " + w.coverCell(c)
			if s := w.circuit().Step(c.Step); s != nil {
				line.full += " in " + stepName(s)
			}
		}
		for _, m := range media {
			text := "–"
			for _, c := range row.Cells {
				if c.Medium == m {
					text = w.coverCell(c)
				}
			}
			line.cells = append(line.cells, text)
		}
		if row.Worst > coverage.Unknown {
			line.icon = iconFix
		} else if row.Worst == coverage.Unknown {
			line.icon = iconOpen
		}
		out = append(out, line)
	}
	if len(rows) == 0 {
		text := "Nothing is in this choice."
		switch {
		case len(r.cover.Rows) == 0:
			text = "" // nothing is promised, as the sum above says; so nothing is met either
		case p.filter.SelectedIndex() == 1 && p.search.Text == "":
			text = "All that is promised is swept at speed."
		}
		out = append(out, flowLine{text: text})
	}
	return out
}

// coverCell tells what it gets of one medium.
func (w *Window) coverCell(c coverage.Cell) string {
	text := c.State.String()
	if v, ok := c.Velocity.Get(); ok {
		text += " " + quantity.Text(v, w.system)
	}
	return text
}

func (r *ranWash) sortWords(row *coverage.Row) string {
	switch row.Sort {
	case coverage.Seat:
		return "valve seat"
	case coverage.Spray:
		return "spray device"
	case coverage.Stretch:
		if r.plant.Edges[row.Edge].Run == "" {
			return "way inside"
		}
	}
	return string(row.Sort)
}

// coverPlace names the place of a row.
func (w *Window) coverPlace(r *ranWash, row *coverage.Row) string {
	if row.Sort == coverage.Vessel || row.Sort == coverage.Spray {
		return sentence(w.names().Name(row.At.Element))
	}
	return sentence(w.names().Where(row.At))
}

func (w *Window) gotoCover(row *coverage.Row) {
	w.gotoPlace(row.At)
}

// kept gives the indexes of the rows that are chosen, in their order.
func (p *coverPanel) kept(r *ranWash) []int {
	medium := p.on.covering.medium
	wanted := strings.ToLower(strings.TrimSpace(p.search.Text))
	var out []int
	names := make([]string, len(r.cover.Rows))
	for i := range r.cover.Rows {
		row := &r.cover.Rows[i]
		s := scene.CoverState(row, medium)
		keep := s != coverage.None
		switch p.filter.SelectedIndex() {
		case 1:
			keep = s > coverage.Swept
		case 2:
			keep = s == coverage.Slow
		case 3:
			keep = s == coverage.Standing
		case 4:
			keep = s == coverage.Missed
		case 5:
			keep = s == coverage.Unknown
		case 6:
			keep = s == coverage.Swept
		}
		if !keep {
			continue
		}
		names[i] = p.on.coverPlace(r, row)
		if wanted == "" || strings.Contains(strings.ToLower(names[i]), wanted) {
			out = append(out, i)
		}
	}
	slices.SortStableFunc(out, func(i, j int) int {
		a, b := &r.cover.Rows[i], &r.cover.Rows[j]
		place := cmp.Compare(names[i], names[j])
		switch p.sort.SelectedIndex() {
		case sortWorst:
			return cmp.Or(cmp.Compare(scene.CoverState(b, medium), scene.CoverState(a, medium)), place)
		case sortSlow:
			return cmp.Or(cmp.Compare(slowest(a, medium), slowest(b, medium)), place)
		case sortKind:
			return cmp.Or(cmp.Compare(a.Sort, b.Sort), place)
		}
		return place
	})
	return out
}

// slowest gives the least velocity that a row has; what has none comes last.
func slowest(row *coverage.Row, medium model.Medium) quantity.Velocity {
	const none = 1e9
	least := quantity.Velocity(none)
	for _, c := range row.Cells {
		if medium == "" || c.Medium == medium {
			least = min(least, c.Velocity.Or(none))
		}
	}
	return least
}

// coverRecords gives the table of coverage as it is written: velocities in m/s.
func (w *Window) coverRecords(r *ranWash) [][]string {
	head := []string{"what", "place", "washed_for", "worst"}
	for _, m := range r.cover.Media {
		head = append(head, string(m), string(m)+"_velocity_ms")
	}
	out := [][]string{head}
	for i := range r.cover.Rows {
		row := &r.cover.Rows[i]
		var washed []string
		for _, id := range row.Objects {
			washed = append(washed, nameOf(w.circuit().Record(id), w.cat))
		}
		rec := []string{r.sortWords(row), w.coverPlace(r, row), strings.Join(washed, ", "), row.Worst.String()}
		for _, m := range r.cover.Media {
			state, velocity := "", ""
			for _, c := range row.Cells {
				if c.Medium == m {
					state, velocity = c.State.String(), exactOpt(c.Velocity)
				}
			}
			rec = append(rec, state, velocity)
		}
		out = append(out, rec)
	}
	return out
}

// exportCover writes the drawing of coverage on white paper, with its key.
func (w *Window) exportCover(kind string) {
	w.washing.with(func() {
		r := w.washing.ran
		if !r.ok() {
			w.tellDialog("Nothing was exported", w.washTrouble())
			return
		}
		w.exportNamed("Export the drawing of coverage", " coverage", kind, func(out io.Writer) error {
			p := draw.Circuit(w.circuit(), w.cat, scene.Cover(r.plant, r.cover, w.covering.medium))
			draw.Key(p, w.covering.told(), scene.CoverKey())
			draw.Caption(p, w.circuit(), nil, w.system)
			if kind == ".svg" {
				return draw.WriteSVG(out, p, draw.Light)
			}
			return draw.WritePNG(out, p, draw.Light, exportDots)
		})
	})
}
