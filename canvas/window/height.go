package window

import (
	"io"
	"reflect"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/profile"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

const heightTitle = "Heights"

// heightPanel is the height view: the way of the step shown, or of the runs that
// are selected, from the side. Points are dragged, or typed, to another height.
type heightPanel struct {
	on    *Window
	tab   int
	root  fyne.CanvasObject
	view  *heightView
	told  *widget.Label
	field *fieldEntry
	even  *button
	key   heightKey
	shown *profile.Profile
	why   string // there is nothing to show
	pick  int    // stop that is picked, or -1
	name  string // of the way, for a file
}

// heightKey is what a profile depends on.
type heightKey struct {
	plant *network.Plant
	step  model.ID
	limit float64
	runs  string
}

func newHeightPanel(on *Window) *heightPanel {
	p := &heightPanel{on: on, pick: -1, told: quiet("")}
	p.told.Truncation = fyne.TextTruncateEllipsis
	p.view = newHeightView(p)
	p.field = newFieldEntry(p.typed)
	p.field.SetPlaceHolder("Height")
	p.field.Disable()
	p.even = newButton(on, "Fall evenly", nil, func() { on.try(on.drawing().FallEvenly(p.runs()), nil) })
	p.even.Disable()
	var save *button
	save = newButton(on, "", theme.DownloadIcon(), func() {
		m := fyne.NewMenu("")
		for _, kind := range []string{".png", ".svg", ".pdf"} {
			m.Items = append(m.Items, fyne.NewMenuItem("Export the height view as "+heightKind(kind)+"…", func() {
				on.fromMenu(&action{label: "Export the height view", run: func() { p.export(kind) }})
			}))
		}
		at := fyne.CurrentApp().Driver().AbsolutePositionForObject(save)
		widget.ShowPopUpMenuAtPosition(m, on.win.Canvas(), at.AddXY(0, save.Size().Height))
	})
	room := container.NewGridWrap(fyne.NewSize(110, p.field.MinSize().Height), p.field)
	p.root = container.NewBorder(container.NewBorder(nil, nil, nil, container.NewHBox(room, p.even, save), p.told), nil, nil, nil, p.view)
	return p
}

func heightKind(ending string) string {
	if ending == ".pdf" {
		return "PDF"
	}
	return kindName(ending)
}

// addTab puts the tab behind the others.
func (p *heightPanel) addTab(t *tabs) {
	p.tab = len(t.titles)
	t.add(heightTitle, p.root)
}

// looked works the profile out if it is to be seen and is not of the present
// state.
func (p *heightPanel) looked() {
	if p == nil || p.on.panes == nil || p.on.tabs.at != p.tab || p.on.panes.hidden[paneBottom] {
		return
	}
	w := p.on
	key := heightKey{plant: w.lines.plant, step: w.stepID, limit: p.leastFall()}
	runs := p.runs()
	for _, id := range runs {
		key.runs += string(id) + " "
	}
	if key == p.key && p.shown != nil {
		p.follow()
		return
	}
	at := p.place()
	p.key = key
	p.shown, p.why = w.heightProfile(w.lines.plant, runs, p.leastFall(), true)
	p.restore(at)
	p.tell(runs)
	p.view.refresh()
}

// again shows all anew: units or look have changed.
func (p *heightPanel) again() {
	if p == nil {
		return
	}
	p.key = heightKey{}
	p.looked()
}

// runs gives the runs whose way is asked for: those selected; none for the way of
// the step.
func (p *heightPanel) runs() []model.ID {
	var out []model.ID
	for _, id := range p.on.doc.Selection() {
		if p.on.circuit().Run(id) != nil {
			out = append(out, id)
		}
	}
	return out
}

// leastFall gives the limit for the fall of lines, m a m; 0 if the limits have none.
func (p *heightPanel) leastFall() float64 {
	l, ok := p.on.profile().Limit("fall-least")
	if !ok {
		return 0
	}
	return l.Value.SI()
}

func (p *heightPanel) tell(runs []model.ID) {
	w := p.on
	what := "Select runs, or show a step, to see their way from the side."
	p.name = "heights"
	switch {
	case len(runs) > 0:
		what = plural(len(runs), "run") + " selected"
		if len(runs) == 1 {
			what = nameOf(w.circuit().Record(runs[0]), w.cat)
		}
	case w.shownStep() != nil:
		what = "Way of " + w.shownStep().Name
		p.name = "heights of " + w.shownStep().Name
	}
	if p.why == "" && p.shown != nil {
		stays, air := 0, 0
		for _, m := range p.shown.Marks {
			switch m.Sign {
			case profile.SignPool:
				stays++
			case profile.SignPocket:
				air++
			}
		}
		what += ": liquid stays in " + plural(stays, "place") + ", air in " + plural(air, "place") + " unless the flow sweeps it. Drag a point up or down, or type its height."
	}
	p.told.SetText(what)
	if len(runs) > 0 {
		p.even.Enable()
	} else {
		p.even.Disable()
	}
}

// heightProfile looks at the way of some runs, or of the step shown, from the
// side; why says what is missing. Only with the whole is worked out what stays in
// it: that takes a while in a large plant.
func (w *Window) heightProfile(plant *network.Plant, runs []model.ID, least float64, whole bool) (p *profile.Profile, why string) {
	var way []int
	start := 0
	step := w.shownStep()
	switch {
	case len(runs) > 0:
		way, start = profile.Chain(plant, runs)
	case step == nil:
		return nil, "Show a step, or select runs, to see their way from the side."
	default:
		route := plant.Route(plant.LineUp(step))
		if !route.Found {
			return nil, "The step has no route: " + route.Why + "."
		}
		way, start = route.Ways, route.LineUp.Source
	}
	s := profile.State{Plant: plant, Heights: plant.Heights(), LeastFall: least}
	if whole {
		s.Draining, s.Venting = w.stays(plant, s.Heights)
	}
	p = profile.Of(s, way, start)
	if !slices.ContainsFunc(p.Stops, func(x profile.Stop) bool { return x.Height.Known() }) {
		return nil, "No height on this way is known: enter the elevation of a part and the rises of the runs."
	}
	return p, ""
}

// stays gives what stays behind and where air is trapped, as the checks see it: of
// what the steps wet, through the steps that drain, or with every valve open if
// there are none.
func (w *Window) stays(plant *network.Plant, h *network.Heights) (*network.Draining, *network.Venting) {
	wetted := make([]bool, len(plant.Edges))
	var drains, fills []*network.LineUp
	for _, step := range plant.Circuit.Steps() {
		l := plant.LineUp(step)
		if step.Purpose.Or("") == model.Drain {
			drains = append(drains, l)
			continue
		}
		fills = append(fills, l)
		for e, wet := range plant.Route(l).Wet {
			wetted[e] = wetted[e] || wet
		}
	}
	all := plant.LineUp(nil)
	all.Open = slices.Clone(all.Open)
	for e := range all.Open {
		all.Open[e] = true
	}
	if len(drains) == 0 {
		drains = []*network.LineUp{all}
	}
	if len(fills) == 0 {
		fills = []*network.LineUp{all}
		for e := range wetted {
			wetted[e] = !plant.Dry(e)
		}
	}
	for _, part := range plant.Circuit.Parts() {
		if k := w.cat.Kind(part.Meta().Kind); k != nil && k.Has(catalogue.TraitStorage) {
			for _, e := range plant.PartEdges(part.RecordID()) {
				wetted[e] = false // its liquid is meant to stay
			}
		}
	}
	d := plant.Draining(h, wetted, drains)
	d.Pools = slices.DeleteFunc(d.Pools, func(pool network.Pool) bool { return w.ofStorage(plant, pool) })
	return d, plant.Venting(h, wetted, fills)
}

// ofStorage says whether a body of liquid stands on the nozzle of a storing tank,
// whose own liquid holds it back.
func (w *Window) ofStorage(plant *network.Plant, pool network.Pool) bool {
	for _, e := range pool.Edges {
		for _, n := range [2]int{plant.Edges[e].From, plant.Edges[e].To} {
			if k := plant.KindOfNode(n); k != nil && k.Has(catalogue.TraitStorage) {
				return true
			}
		}
	}
	return false
}

// heightPlace names a stop for as long as the circuit's records last.
type heightPlace struct {
	part  model.ID
	point string
	run   model.ID
	joint int
}

func (p *heightPanel) place() heightPlace {
	if p.shown == nil || p.pick < 0 || p.pick >= len(p.shown.Stops) {
		return heightPlace{}
	}
	return placeOfNode(p.shown.Plant.Nodes[p.shown.Stops[p.pick].Node])
}

func placeOfNode(n network.Node) heightPlace {
	if n.Part != "" {
		return heightPlace{part: n.Part, point: n.Point}
	}
	return heightPlace{run: n.Run, joint: n.Joint}
}

// restore picks the stop again that was picked before.
func (p *heightPanel) restore(at heightPlace) {
	p.pick = -1
	if p.shown == nil || at == (heightPlace{}) {
		p.follow()
		return
	}
	for i, s := range p.shown.Stops {
		if placeOfNode(p.shown.Plant.Nodes[s.Node]) == at {
			p.pick = i
			break
		}
	}
	p.showField()
}

// follow picks the first stop of the part that is selected on the board.
func (p *heightPanel) follow() {
	if p.shown == nil {
		p.showField()
		return
	}
	if id := p.on.onlySelected(); id != "" && p.on.circuit().Part(id) != nil && p.place().part != id {
		for i, s := range p.shown.Stops {
			if p.shown.Plant.Nodes[s.Node].Part == id {
				p.pick = i
				p.view.refresh()
				break
			}
		}
	}
	p.showField()
}

// showField shows the height of the stop that is picked.
func (p *heightPanel) showField() {
	if p.shown == nil || p.pick < 0 {
		p.field.setShown("")
		p.field.Disable()
		return
	}
	p.field.Enable()
	text := ""
	if z, ok := p.shown.Stops[p.pick].Height.Get(); ok {
		u := quantity.DisplayUnit[quantity.Length](p.on.system)
		text = quantity.Number(u.FromSI(float64(z))) + " " + u.Name
	}
	p.field.setShown(text)
}

// typed takes a stop to a height that was typed.
func (p *heightPanel) typed(text string) error {
	if p.shown == nil || p.pick < 0 {
		return nil
	}
	x, err := quantity.Parse(text, reflect.TypeFor[quantity.Length](), p.on.system)
	if err != nil {
		return err
	}
	z, ok := p.shown.Stops[p.pick].Height.Get()
	if !ok {
		return nil
	}
	e, err := p.raise(p.pick, quantity.Length(x)-z)
	return p.on.tried(e, err)
}

// raise gives the edit that raises a stop: a part, or a point of a run.
func (p *heightPanel) raise(stop int, by quantity.Length) (model.Edit, error) {
	at := placeOfNode(p.shown.Plant.Nodes[p.shown.Stops[stop].Node])
	if at.part == "" {
		return p.on.drawing().RaiseJoint(at.run, at.joint-1, by)
	}
	return p.on.drawing().RaiseParts([]model.ID{at.part}, by, p.derived)
}

// derived gives the height of a part that has none of its own: that of a port
// which lies at the height of the part.
func (p *heightPanel) derived(id model.ID) (z quantity.Opt[quantity.Length]) {
	part := p.on.circuit().Part(id)
	kind := p.on.cat.Kind(part.Meta().Kind)
	if kind == nil {
		return z
	}
	for _, port := range kind.Ports {
		if n, ok := p.shown.Plant.PortNode(id, port.Name); ok && port.Height == nil && p.shown.Heights.Of[n].Known() {
			return p.shown.Heights.Of[n]
		}
	}
	return z
}

// Size of an exported height view, mm: an A4 sheet lying down, less its margins.
const heightWide, heightHigh = 267, 140

func (p *heightPanel) export(kind string) {
	if p.shown == nil || p.why != "" {
		p.on.tellHint(p.why)
		return
	}
	v := profile.View{Of: p.shown, Title: p.told.Text, System: p.on.system, Width: heightWide, Height: heightHigh}
	v.Title = p.title()
	pic := v.Picture()
	p.on.exportNamed("Export the height view", " "+p.name, kind, func(out io.Writer) error {
		switch kind {
		case ".svg":
			return draw.WriteSVG(out, pic, draw.Light)
		case ".pdf":
			return draw.WritePDF(out, pic, draw.Light)
		}
		return draw.WritePNG(out, pic, draw.Light, exportDots)
	})
}

// title heads the picture.
func (p *heightPanel) title() string {
	if s := p.on.shownStep(); len(p.runs()) == 0 && s != nil {
		return "From the side: " + s.Name
	}
	return "From the side"
}

// gotoHeights brings the height view to the front.
func (w *Window) gotoHeights() {
	w.tabs.pick(w.heights.tab)
	w.focus(w.heights.view)
}
