package window

import (
	"bytes"
	"image"
	"io"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/plot"
	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/quantity"
)

// flowPanel tells the solved flow of the step shown, draws its plots and answers
// the questions of a design.
type flowPanel struct {
	on      *Window
	root    fyne.CanvasObject
	lines   *fyne.Container // what was found
	assumed *fyne.Container // on what it stands
	kind    *pickList
	raster  *canvas.Raster
	saves   *fyne.Container
	pumps   []model.ID // of the entries of kind, after the plots of the way
	chart   plot.Chart
	why     string // there is no plot
	quietly bool
	design  *designForm
}

// plots that need no pump, in the order of the list.
var wayPlots = []string{"Pressure along the way", "Heads along the way"}

func newFlowPanel(on *Window) *flowPanel {
	p := &flowPanel{on: on, lines: container.NewVBox(), assumed: container.NewVBox()}
	p.kind = newPickList(on, wayPlots, func(string) {
		if !p.quietly {
			p.plot()
		}
	})
	p.quietly = true
	p.kind.SetSelectedIndex(0)
	p.quietly = false
	p.raster = canvas.NewRaster(p.paint)
	p.raster.ScaleMode = canvas.ImageScalePixels
	png := newButton(on, "PNG…", theme.DownloadIcon(), func() { p.export(".png") })
	svg := newButton(on, "SVG…", theme.DownloadIcon(), func() { p.export(".svg") })
	p.saves = container.NewHBox(png, svg)
	p.design = newDesignForm(on)
	head := container.NewBorder(nil, nil, nil, p.saves, p.kind)
	left := container.NewVScroll(container.NewVBox(p.lines, widget.NewSeparator(), p.design.root, widget.NewSeparator(), p.assumed))
	p.root = container.New(shares{0.42, 0.58}, left, container.NewBorder(head, nil, nil, nil, p.raster))
	return p
}

func (p *flowPanel) again() { p.refresh() }

// refresh tells what was solved last.
func (p *flowPanel) refresh() {
	if p == nil || p.root == nil {
		return
	}
	p.lines.Objects, p.assumed.Objects = nil, nil
	p.tell()
	p.lines.Refresh()
	p.assumed.Refresh()
	p.choices()
	p.design.refresh()
	p.plot()
}

func (p *flowPanel) row(name, text string) { p.lines.Add(flowRow(name, text)) }

func flowRow(name, text string) fyne.CanvasObject {
	v := widget.NewLabel(text)
	v.Wrapping = fyne.TextWrapWord
	return container.New(shares{0.22, 0.78}, quiet(name), v)
}

func (p *flowPanel) say(text string) {
	l := widget.NewLabel(text)
	l.Wrapping = fyne.TextWrapWord
	p.lines.Add(l)
}

func (p *flowPanel) tell() {
	w, s := p.on, p.on.solution
	switch {
	case w.shownStep() == nil:
		p.say("Choose a step above: its flow is solved and told here.")
		return
	case w.unsolved != nil:
		p.say("The flow could not be solved: " + w.unsolved.Error())
		return
	case s == nil && !w.lines.found():
		_, full, _ := w.lines.trouble()
		if full == "" {
			full = "A step that drains has no flow from a source to a destination."
		}
		p.say(full)
		return
	case s == nil:
		p.say("Solving…")
		return
	}
	names := &checks.Snapshot{Circuit: w.circuit(), Catalogue: w.cat}
	supply := quantity.OptText(s.Supply.Flow, w.system)
	if asked, ok := s.Supply.Asked.Get(); ok {
		supply += " of " + quantity.Text(asked, w.system) + " asked"
	}
	if short, ok := s.Supply.Short.Get(); ok {
		supply += "; falls short by " + quantity.Text(short, w.system)
	}
	p.row("Supply", supply)
	for _, pump := range s.Pumps {
		text := "stopped"
		if pump.Running {
			text = ""
			for i, line := range pumpLines {
				if i > 0 {
					text += ", "
				}
				text += line.short + " " + line.text(pump, w.system)
			}
		}
		p.row(names.Name(pump.Pump), text)
	}
	for _, x := range s.Sprays {
		p.row(names.Name(x.Spray), quantity.OptText(x.Flow, w.system)+" at "+quantity.OptText(x.Pressure, w.system))
	}
	for _, v := range s.Vessels {
		p.row(names.Name(v.Vessel), w.vesselWords(v))
	}
	for _, split := range s.Splits {
		text := "the flow divides:"
		for i, b := range split.Branches {
			if i > 0 {
				text += ","
			}
			text += " " + quantity.Number(100*float64(b.Share)) + " %"
		}
		p.row(names.Name(s.Plant.Nodes[split.Node].Part), text)
	}
	for _, f := range s.Failures {
		p.row("Not solved", sentence(f.Text))
	}
	for _, m := range s.Missing {
		id := m.Record
		text := sentence(names.PropertyLabel(m.Record, m.Key) + " of " + names.Name(m.Record))
		p.lines.Add(container.New(shares{0.22, 0.78}, quiet("Missing"), newButton(w, text, theme.NavigateNextIcon(), func() { w.doc.Select(id) })))
	}
	for _, a := range s.Assumptions {
		of := a.What
		if a.Record != "" {
			of += " of " + names.Name(a.Record)
		}
		p.assumed.Add(flowRow("Assumed", sentence(of)+": "+a.Value+" ("+a.Basis+")"))
	}
	caution := widget.NewLabel(flowCaution)
	caution.Wrapping = fyne.TextWrapWord
	caution.Importance = widget.WarningImportance
	p.lines.Add(caution)
}

// choices offers the plots that there are.
func (p *flowPanel) choices() {
	options := append([]string(nil), wayPlots...)
	p.pumps = nil
	if s := p.on.solution; s != nil {
		for _, pump := range s.Pumps {
			if pump.Running {
				p.pumps = append(p.pumps, pump.Pump)
				options = append(options, "Pump "+nameOf(p.on.circuit().Record(pump.Pump), p.on.cat))
			}
		}
	}
	was := p.kind.Selected
	p.quietly = true
	p.kind.Options = options
	p.kind.SetSelected(was)
	if p.kind.SelectedIndex() < 0 {
		p.kind.SetSelectedIndex(0)
	}
	p.kind.Refresh()
	p.quietly = false
}

// plot draws what is chosen anew.
func (p *flowPanel) plot() {
	p.chart, p.why = plot.Chart{}, ""
	w := p.on
	s := w.solution
	switch i := p.kind.SelectedIndex(); {
	case s == nil:
		p.why = "Nothing is solved yet."
	case i == 0:
		p.chart = plot.Pressure(s, wayPlots[0], w.system)
	case i == 1:
		p.chart = plot.Heads(s, wayPlots[1], w.system)
	case i-len(wayPlots) < len(p.pumps):
		id := p.pumps[i-len(wayPlots)]
		c, err := plot.Pump(s, id, nameOf(w.circuit().Record(id), w.cat), w.system)
		if err != nil {
			p.why = sentence(err.Error())
		}
		p.chart = c
	}
	if p.why == "" {
		p.saves.Show()
	} else {
		p.saves.Hide()
	}
	p.raster.Refresh()
}

// plotZoom is the pixels of a millimetre of a plot at scale 1: its lettering is
// then about as large as that of the window.
const plotZoom = 3.9

func (p *flowPanel) picture(width, height float64) *draw.Picture {
	if p.why != "" {
		pic := &draw.Picture{}
		pic.Add(draw.LayerSheet, "", draw.Text{At: model.Point{X: width / 2, Y: height / 2}, String: p.why, Height: 2.3, Role: draw.Ink})
		return pic
	}
	return p.chart.Picture(width, height)
}

func (p *flowPanel) paint(w, h int) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, max(w, 1), max(h, 1)))
	zoom := plotZoom
	if size := p.raster.Size(); size.Width > 0 {
		zoom *= float64(w) / float64(size.Width)
	}
	draw.NewScreen().Draw(img, p.picture(float64(w)/zoom, float64(h)/zoom), palette(darkNow()), draw.View{Zoom: zoom})
	return img
}

// Size of an exported plot, mm.
const plotWide, plotHigh = 180, 110

func (p *flowPanel) export(kind string) {
	pic := p.picture(plotWide, plotHigh)
	p.on.export("Export the plot", kind, func(out io.Writer) error {
		var b bytes.Buffer
		var err error
		if kind == ".svg" {
			err = draw.WriteSVG(&b, pic, draw.Light)
		} else {
			err = draw.WritePNG(&b, pic, draw.Light, exportDots)
		}
		if err != nil {
			return err
		}
		_, err = out.Write(b.Bytes())
		return err
	})
}

// flowCaution stands where pressures of hot and chemical steps are told.
const flowCaution = "Computed, not measured: an aid for qualified people. Hot caustic, acid and steam under pressure injure; verify on site, follow local codes and supplier data."
