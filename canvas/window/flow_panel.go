package window

import (
	"fmt"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/canvas/plot"
	"rinsewright/model"
	"rinsewright/model/heat"
	"rinsewright/model/quantity"
)

// flowPanel tells the solved flow of the step shown, draws its plots and leads to
// the questions of a design.
type flowPanel struct {
	on      *Window
	root    fyne.CanvasObject
	sum     *widget.Label // the supply in a sentence, or why there is nothing
	lead    *button       // to the place that sum tells of
	leadTo  model.Place
	list    *keyList // what was found, and on what it stands
	rows    []flowLine
	pump    *pickList // whose curve is plotted
	way     *pickList // what is plotted along the way
	pumps   []model.ID
	curve   *plotView
	along   *plotView
	quietly bool
	design  *designForm
	heat    *heat.State // of the solution that was found last
}

// wayPlots are what can be plotted along the way from source to destination.
var wayPlots = []string{"Pressure along the way", "Heads along the way"}

func newFlowPanel(on *Window) *flowPanel {
	p := &flowPanel{on: on}
	p.sum = widget.NewLabel("")
	p.sum.Wrapping = fyne.TextWrapWord
	p.lead = newButton(on, "Go there", theme.NavigateNextIcon(), func() { on.guard("go to a place", func() { on.gotoPlace(p.leadTo) }) })
	p.lead.Hide()
	ask := newButton(on, "What would be needed…", theme.QuestionIcon(), func() { on.do(on.actions.design) })
	p.list = newKeyList(on, func() int { return len(p.rows) }, func() fyne.CanvasObject { return newFlowRow(on) },
		func(i widget.ListItemID, o fyne.CanvasObject) {
			if i < len(p.rows) {
				o.(*flowRow).set(p.rows[i])
			}
		})
	p.list.HideSeparators = true
	p.list.OnSelected = func(i widget.ListItemID) {
		p.list.UnselectAll()
		if i < len(p.rows) && p.rows[i].run != nil {
			on.guard("go to a place", p.rows[i].run)
		}
	}
	caution := quiet(flowCaution)
	caution.Importance = widget.WarningImportance
	caution.Truncation = fyne.TextTruncateEllipsis

	changed := func(string) {
		if !p.quietly {
			p.plot()
		}
	}
	p.pump, p.way = newPickList(on, nil, changed), newPickList(on, wayPlots, changed)
	p.pump.PlaceHolder = "No pump runs"
	p.quietly = true
	p.way.SetSelectedIndex(0)
	p.quietly = false
	p.curve, p.along = newPlotView(on), newPlotView(on)
	p.curve.onHover, p.along.onHover = p.hoverCurve, p.hoverWay
	p.along.onTap = func() {
		if at := on.board.pointed; at != (model.Place{}) {
			on.gotoPlace(at)
		}
	}
	p.design = newDesignForm(on)

	head := container.NewBorder(nil, nil, nil, container.NewHBox(p.lead, ask), p.sum)
	left := container.NewBorder(head, caution, nil, nil, p.list)
	under := func(choice *pickList, v *plotView, name string) fyne.CanvasObject {
		return container.NewBorder(container.NewBorder(nil, nil, nil, v.save(name), choice), nil, nil, nil, v)
	}
	plots := withLayout(halves{}, under(p.pump, p.curve, "pump"), under(p.way, p.along, "way"))
	p.root = newBeside(left, plots, 0.45).box
	return p
}

func (p *flowPanel) again() { p.refresh() }

// refresh tells what was solved last. While the flow of the same step is solved
// anew what was told of it stays.
func (p *flowPanel) refresh() {
	if p == nil {
		return
	}
	w := p.on
	if w.solving.busy && w.drawn != nil {
		return
	}
	p.rows = w.flowLines()
	p.tell()
	p.list.Refresh()
	p.choices()
	p.design.refresh()
	p.plot()
}

// tell writes the sentence above the list.
func (p *flowPanel) tell() {
	text, at := p.on.flowSentence()
	p.sum.SetText(text)
	if p.leadTo = at; at != (model.Place{}) {
		p.lead.Show()
	} else {
		p.lead.Hide()
	}
}

// choices offers the pumps that run.
func (p *flowPanel) choices() {
	var names []string
	p.pumps = nil
	if s := p.on.solution; s != nil {
		for _, pump := range s.Pumps {
			if pump.Running {
				p.pumps = append(p.pumps, pump.Pump)
				names = append(names, "Pump "+nameOf(p.on.circuit().Record(pump.Pump), p.on.cat))
			}
		}
	}
	was := p.pump.Selected
	p.quietly = true
	p.pump.SetOptions(names)
	p.pump.ClearSelected()
	for i, n := range names {
		if n == was || i == 0 {
			p.pump.SetSelectedIndex(i)
		}
	}
	p.quietly = false
}

// choosePump plots the curve of a pump that runs.
func (p *flowPanel) choosePump(id model.ID) {
	for i := range p.pumps {
		if p.pumps[i] == id {
			p.pump.SetSelectedIndex(i)
		}
	}
}

// plot draws what is chosen anew.
func (p *flowPanel) plot() {
	w, s := p.on, p.on.solution
	none := "Nothing is solved yet."
	switch {
	case w.shownStep() == nil:
		none = "No step is shown."
	case !w.lines.found():
		none = "No way leads from source to destination."
	case s != nil && !s.Properties.Known():
		none = "The liquid of the step is not known."
	}
	if s == nil || !w.lines.found() || !s.Properties.Known() {
		p.curve.show(plot.Chart{}, none)
		p.along.show(plot.Chart{}, none)
		return
	}
	if i := p.pump.SelectedIndex(); i < 0 || i >= len(p.pumps) {
		p.curve.show(plot.Chart{}, "No pump runs in this step.")
	} else {
		name := nameOf(w.circuit().Record(p.pumps[i]), w.cat)
		c, err := plot.Pump(s, p.pumps[i], name, w.system)
		why := ""
		if err != nil {
			why = sentence(flowErrorWords(err, w.system))
		}
		p.curve.show(c, why)
	}
	if p.way.SelectedIndex() == 1 {
		p.along.show(toldOrNot(plot.Heads(s, wayPlots[1], w.system)))
	} else {
		p.along.show(toldOrNot(plot.Pressure(s, wayPlots[0], w.system)))
	}
}

// toldOrNot gives a chart, or in words that nothing of it is known.
func toldOrNot(c plot.Chart) (plot.Chart, string) {
	for _, q := range c.Lines[0].Points {
		if !math.IsNaN(q[0]) && !math.IsNaN(q[1]) {
			return c, ""
		}
	}
	return plot.Chart{}, "Nothing along the way is solved: see what is missing."
}

// hoverCurve tells flow and head under the pointer.
func (p *flowPanel) hoverCurve(x, y float64) *plot.Dot {
	q, h := quantity.DisplayUnit[quantity.Flow](p.on.system), quantity.DisplayUnit[quantity.Length](p.on.system)
	p.on.tellHint(fmt.Sprintf("%s %s, %s %s", quantity.Number(x), q.Name, quantity.Number(y), h.Name))
	return nil
}

// hoverWay marks the point of the way that is nearest to the pointer, on the plot
// and on the drawing.
func (p *flowPanel) hoverWay(x, _ float64) *plot.Dot {
	w, s := p.on, p.on.solution
	if s == nil {
		return nil
	}
	l := quantity.DisplayUnit[quantity.Length](w.system)
	best, least := -1, math.Inf(1)
	for i, pt := range s.Along {
		if d, ok := pt.Distance.Get(); ok {
			if off := math.Abs(l.FromSI(float64(d)) - x); off < least {
				best, least = i, off
			}
		}
	}
	if best < 0 {
		return nil
	}
	pt := s.Along[best]
	w.board.point(w.placeOfNode(pt.Node))
	d, _ := pt.Distance.Get()
	w.tellHint(fmt.Sprintf("%s: %s from the source, %s, head %s, height %s", w.nodeName(pt.Node), quantity.Text(d, w.system),
		quantity.OptText(pt.Pressure, w.system), quantity.OptText(pt.Head, w.system), quantity.OptText(pt.Elevation, w.system)))
	y, known := quantity.DisplayUnit[quantity.Pressure](w.system).FromSI(float64(pt.Pressure.Or(0))), pt.Pressure.Known()
	text := quantity.OptText(pt.Pressure, w.system)
	if p.way.SelectedIndex() == 1 {
		y, known, text = l.FromSI(float64(pt.Head.Or(0))), pt.Head.Known(), quantity.OptText(pt.Head, w.system)
	}
	if !known {
		return nil
	}
	return &plot.Dot{At: [2]float64{l.FromSI(float64(d)), y}, Text: text, Role: dotRole}
}

// flowCautionShort stands under what is told of one part.
const flowCautionShort = "Computed, not measured: verify on site."

// flowCaution stands where pressures are told.
const flowCaution = "Computed, not measured; pressure, steam and heat injure: verify on site."
