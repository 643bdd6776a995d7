package window

import (
	"io"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/plot"
	"rinsewright/model"
)

// trendGrid shows the trends that are chosen, as many beside each other as suits the
// room.
type trendGrid struct {
	on     *Window
	root   fyne.CanvasObject
	views  []*trendView
	picks  []*toggle
	places *button
	hidden []string // places whose curves are not shown
	asked  bool     // the places were chosen; else all but supply and return are hidden
	box    *fyne.Container
	layout *trendLayout
	scroll *container.Scroll
}

// usualTrends are shown until others are chosen.
var usualTrends = []plot.Trend{plot.Temperature, plot.Conductivity}

func newTrendGrid(on *Window) *trendGrid {
	g := &trendGrid{on: on, layout: &trendLayout{}}
	g.box = container.New(g.layout)
	g.scroll = container.NewVScroll(g.box)
	g.layout.scroll = g.scroll
	chosen := on.app.Preferences().StringList(prefTrends)
	head := container.NewHBox()
	for _, of := range plot.Trends() {
		v := newTrendView(on, of)
		shown := slices.Contains(usualTrends, of)
		if len(chosen) > 0 {
			shown = slices.Contains(chosen, string(of))
		}
		t := newToggle(on, nil, of.Title(), shown, func(bool) { g.chosen() })
		g.views, g.picks = append(g.views, v), append(g.picks, t)
		g.box.Add(v)
		head.Add(t)
		if !shown {
			v.Hide()
		}
	}
	g.places = newButton(on, "Where…", nil, g.choosePlaces)
	save := newButton(on, "", theme.DownloadIcon(), func() { on.popActions(g.places, on.actions.trends) })
	head.Add(g.places)
	head.Add(save)
	g.root = container.NewBorder(container.NewHScroll(head), nil, nil, nil, g.scroll)
	return g
}

// prefTrends keeps which trends are shown.
const prefTrends = "trends"

// chosen shows the trends whose buttons are lit.
func (g *trendGrid) chosen() {
	var names []string
	for i, t := range g.picks {
		if t.lit {
			g.views[i].Show()
			names = append(names, string(g.views[i].of))
		} else {
			g.views[i].Hide()
		}
	}
	if len(names) == 0 {
		names = []string{"none"}
	}
	g.on.app.Preferences().SetStringList(prefTrends, names)
	g.scroll.Refresh()
	g.layout.Layout(g.box.Objects, g.box.Size())
	g.on.trendCursor()
	g.on.refreshMenu()
}

// turn shows a trend or puts it away.
func (g *trendGrid) turn(of plot.Trend) {
	for i, v := range g.views {
		if v.of == of {
			g.picks[i].set(!g.picks[i].lit)
			g.chosen()
		}
	}
}

func (g *trendGrid) lit(of plot.Trend) bool {
	for i, v := range g.views {
		if v.of == of {
			return g.picks[i].lit
		}
	}
	return false
}

// choosePlaces offers the places whose curves can be shown.
func (g *trendGrid) choosePlaces() {
	r := g.on.washing.ran
	if !r.ok() {
		return
	}
	var list []*action
	shown := g.shownPlaces()
	for _, name := range plot.TrendPlaces(r.record) {
		list = append(list, &action{label: name, checked: func() bool { return slices.Contains(shown, name) }, run: func() { g.turnPlace(name) }})
	}
	g.on.popActions(g.places, list)
}

// shownPlaces lists the places whose curves are shown.
func (g *trendGrid) shownPlaces() []string {
	r := g.on.washing.ran
	if !r.ok() {
		return nil
	}
	var out []string
	for _, name := range plot.TrendPlaces(r.record) {
		usual := name == plot.Supply || name == plot.Return
		if !g.asked && usual || g.asked && !slices.Contains(g.hidden, name) {
			out = append(out, name)
		}
	}
	return out
}

func (g *trendGrid) turnPlace(name string) {
	if !g.asked {
		g.asked = true
		for _, p := range plot.TrendPlaces(g.on.washing.ran.record) {
			if p != plot.Supply && p != plot.Return {
				g.hidden = append(g.hidden, p)
			}
		}
	}
	if i := slices.Index(g.hidden, name); i >= 0 {
		g.hidden = slices.Delete(g.hidden, i, i+1)
	} else {
		g.hidden = append(g.hidden, name)
	}
	g.refresh()
}

func (g *trendGrid) options() plot.TrendOptions {
	return plot.TrendOptions{Places: g.shownPlaces(), System: g.on.system, Name: func(id model.ID) string { return nameOf(g.on.circuit().Record(id), g.on.cat) }}
}

// refresh draws the trends of what was run last.
func (g *trendGrid) refresh() {
	r := g.on.washing.ran
	if !r.ok() {
		return
	}
	for _, v := range g.views {
		v.show(plot.TrendChart(r.record, v.of, g.options()))
	}
	g.on.trendCursor()
}

// trendCursor moves the cursors to the time of the play.
func (w *Window) trendCursor() {
	if w.washPanel == nil {
		return
	}
	for _, v := range w.washPanel.trends.views {
		if v.Visible() {
			v.setCursor(float64(w.player.at)/60, w.player.shown)
		} else {
			v.cursorShown = false
		}
	}
}

// charts gives the charts that are shown.
func (g *trendGrid) charts() []plot.Chart {
	var out []plot.Chart
	for i, v := range g.views {
		if g.picks[i].lit {
			out = append(out, plot.TrendChart(g.on.washing.ran.record, v.of, g.options()))
		}
	}
	return out
}

// exportTrends writes the trends that are shown as one picture on white paper.
func (w *Window) exportTrends(kind string) {
	w.washing.with(func() {
		r := w.washing.ran
		if !r.ok() {
			w.tellDialog("Nothing was exported", w.washTrouble())
			return
		}
		charts := w.washPanel.trends.charts()
		if len(charts) == 0 {
			w.tellDialog("Nothing was exported", "No trend is shown. Choose at least one in the tab Wash.")
			return
		}
		title := "Wash in time: " + programmeWords(r.programme) + ", " + w.circuit().Header().Name
		pic := plot.Stacked(charts, title, washCaution, plotWide, plotHigh*0.7)
		w.exportNamed("Export the trends", " trends", kind, func(out io.Writer) error {
			if kind == ".svg" {
				return draw.WriteSVG(out, pic, draw.Light)
			}
			return draw.WritePNG(out, pic, draw.Light, exportDots)
		})
	})
}

// programmeWords names a programme; steps without one are a programme as well.
func programmeWords(name string) string {
	if name == "" {
		return "steps without a programme"
	}
	return name
}

// popActions opens a menu of actions beneath a button.
func (w *Window) popActions(under *button, list []*action) {
	m := fyne.NewMenu("")
	for _, x := range list {
		if x == nil {
			m.Items = append(m.Items, fyne.NewMenuItemSeparator())
			continue
		}
		item := w.item(x)
		item.Action = func() { w.fromMenu(x) }
		m.Items = append(m.Items, item)
	}
	p := widget.NewPopUpMenu(m, w.win.Canvas())
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(under)
	p.ShowAtPosition(at.AddXY(0, under.Size().Height))
	p.ActivateNext()
}

// Least size of a trend that can be read.
const (
	trendWide = 215
	trendHigh = 118
)

// trendLayout lays what is visible out in rows and columns, each at least as large as
// can be read: what has no room is scrolled to. Sizes are whole units.
type trendLayout struct {
	scroll *container.Scroll
	width  float32 // when it was laid out last
}

// cells gives rows and columns for a width.
func (l *trendLayout) cells(objects []fyne.CanvasObject, width float32) (shown []fyne.CanvasObject, rows, columns int) {
	for _, o := range objects {
		if o.Visible() {
			shown = append(shown, o)
		}
	}
	n := len(shown)
	columns = min(max(int(width/trendWide), 1), max(n, 1))
	rows = (n + columns - 1) / columns
	if n > 0 {
		columns = (n + rows - 1) / rows // no empty place where fewer columns do
	}
	return shown, rows, columns
}

func (l *trendLayout) MinSize(objects []fyne.CanvasObject) fyne.Size {
	_, rows, _ := l.cells(objects, l.width)
	return fyne.NewSize(120, float32(rows)*trendHigh)
}

func (l *trendLayout) Layout(objects []fyne.CanvasObject, s fyne.Size) {
	const apart = 4
	before := l.MinSize(objects)
	l.width = s.Width
	if l.MinSize(objects) != before && l.scroll != nil {
		l.scroll.Refresh() // gives it the height that it needs at this width
		return
	}
	shown, rows, columns := l.cells(objects, s.Width)
	if len(shown) == 0 {
		return
	}
	w := float32(int((s.Width - apart*float32(columns-1)) / float32(columns)))
	h := float32(int((s.Height - apart*float32(rows-1)) / float32(rows)))
	for i, o := range shown {
		o.Move(fyne.NewPos(float32(i%columns)*(w+apart), float32(i/columns)*(h+apart)))
		o.Resize(fyne.NewSize(w, h))
	}
}
