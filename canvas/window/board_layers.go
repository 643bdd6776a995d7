package window

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/edit"
	"rinsewright/model"
	"rinsewright/model/quantity"
)

// layer is one sort of information on the board that can be switched.
type layer string

const (
	layerTags    layer = "tags"
	layerSizes   layer = "sizes"
	layerMedia   layer = "media"
	layerLetters layer = "letters"
	layerArrows  layer = "arrows"
	layerHeights layer = "heights" // shown only when asked for
)

// Keys under which the board's own look is kept.
const (
	prefLayers   = "board-hidden" // layers that are not as at first
	prefRulers   = "board-rulers"
	prefOverview = "board-overview-folded"
)

var layerNames = []struct {
	of   layer
	name string
}{
	{layerTags, "Tags of parts"}, {layerSizes, "Tags and sizes of runs"}, {layerMedia, "Letters of media"},
	{layerLetters, "Letters of instruments"}, {layerArrows, "Arrows of flow"}, {layerHeights, "Heights of parts"},
}

// shows says whether a layer is to be seen.
func (b *board) showsLayer(l layer) bool {
	return slices.Contains(b.turned, l) == (l == layerHeights)
}

// turnLayer shows a layer, or hides it.
func (b *board) turnLayer(l layer) {
	if i := slices.Index(b.turned, l); i >= 0 {
		b.turned = slices.Delete(b.turned, i, i+1)
	} else {
		b.turned = append(b.turned, l)
	}
	var names []string
	for _, t := range b.turned {
		names = append(names, string(t))
	}
	b.on.app.Preferences().SetStringList(prefLayers, names)
	b.picture = nil
	b.repaint()
	b.on.refreshMenu()
}

// readLayers takes what was switched the last time.
func (b *board) readLayers() {
	p := b.on.app.Preferences()
	for _, name := range p.StringList(prefLayers) {
		for _, l := range layerNames {
			if string(l.of) == name && !slices.Contains(b.turned, l.of) {
				b.turned = append(b.turned, l.of)
			}
		}
	}
	b.rulers = p.Bool(prefRulers)
	b.map_.folded = p.Bool(prefOverview)
}

// layered hides what is switched off from a picture's options.
func (b *board) layered(opt draw.Options) draw.Options {
	opt.HideTags = opt.HideTags || !b.showsLayer(layerTags)
	opt.HideSizes = opt.HideSizes || !b.showsLayer(layerSizes)
	opt.HideMedia = opt.HideMedia || !b.showsLayer(layerMedia)
	opt.HideLetters = opt.HideLetters || !b.showsLayer(layerLetters)
	opt.HideArrows = opt.HideArrows || !b.showsLayer(layerArrows)
	if b.showsLayer(layerHeights) {
		opt.Heights = b.heightTexts()
	}
	return opt
}

// heightTexts gives the heights of parts above the plant's zero, told or derived;
// of parts whose height is not known a question mark.
func (b *board) heightTexts() map[model.ID]string {
	plant := b.on.lines.plant
	at := plant.Heights()
	unit := quantity.DisplayUnit[quantity.Length](b.on.system)
	out := make(map[model.ID]string, len(b.on.circuit().Parts()))
	for _, p := range b.on.circuit().Parts() {
		id := p.RecordID()
		kind := b.on.cat.Kind(p.Meta().Kind)
		if p.Class() == model.ClassFrame || kind == nil || len(kind.Ports) == 0 {
			continue
		}
		z, known := p.Meta().Elevation.Get()
		if !known {
			// That of its lowest port.
			for _, n := range plant.PartNodes(id) {
				if h, ok := at.Of[n].Get(); ok && (!known || h < z) {
					z, known = h, true
				}
			}
		}
		out[id] = "?"
		if known {
			out[id] = fmt.Sprintf("%+.2f %s", unit.FromSI(float64(z)), unit.Name)
		}
	}
	return out
}

// boardActions are what can be asked of the board beside the editor's commands.
type boardActions struct {
	layers                       []*action
	rulers, overview             *action
	insert, menuHere, freeLabels *action
	heights, ownKinds            *action
}

func (w *Window) boardActions() boardActions {
	var a boardActions
	for _, l := range layerNames {
		a.layers = append(a.layers, &action{label: l.name + " on the board", short: l.name,
			checked: func() bool { return w.board != nil && w.board.showsLayer(l.of) }, run: func() { w.board.turnLayer(l.of) }})
	}
	a.rulers = &action{label: "Rulers", key: "Shift+G", checked: func() bool { return w.board != nil && w.board.rulers }, run: func() {
		w.board.rulers = !w.board.rulers
		w.app.Preferences().SetBool(prefRulers, w.board.rulers)
		w.board.repaint()
		w.refreshMenu()
	}}
	a.overview = &action{label: "Overview map", key: "O", checked: func() bool { return w.board != nil && !w.board.map_.folded }, run: func() {
		m := w.board.map_
		m.folded = !m.folded
		w.app.Preferences().SetBool(prefOverview, m.folded)
		w.board.repaint()
		w.refreshMenu()
	}}
	a.insert = &action{label: "Insert a part by its name…", key: "I", run: w.quickInsert}
	a.menuHere = &action{label: "Menu of what is selected", key: "Shift+F10", run: w.menuOfSelected}
	a.freeLabels = w.command("free-labels", nil)
	a.heights = &action{label: "Go to the heights", short: "Heights", shortcut: ctrl(fyne.KeyH), run: w.gotoHeights}
	a.ownKinds = &action{label: "Own kinds of parts…", run: w.tellKinds}
	return a
}

// boardKey does what a plain key of the board's own stands for, and says whether
// it stands for something.
func (w *Window) boardKey(name fyne.KeyName, shift bool) bool {
	a := w.actions.onBoard
	switch {
	case name == fyne.KeyInsert:
		w.do(a.insert)
	case name == fyne.KeyO && !shift:
		w.do(a.overview)
	case name == fyne.KeyG && shift:
		w.do(a.rulers)
	case name == fyne.KeyF10 && shift, name == "Menu":
		w.do(a.menuHere)
	default:
		return false
	}
	return true
}

// boardRune does what a letter of the board's own stands for. Those that open a
// field come this way: by key they would be typed into it.
func (w *Window) boardRune(r rune) {
	if r == 'i' {
		w.do(w.actions.onBoard.insert)
	}
}

// labelAt gives the tag or label at a place of the drawing that can be moved by
// hand: not one that stands in its own symbol, or tells a value.
func (b *board) labelAt(at model.Point) (edit.LabelPlace, bool) {
	for i := range b.draw().Items {
		it := &b.picture.Items[i]
		if it.Layer != draw.LayerTag && it.Layer != draw.LayerLabel || !it.Bounds.Contains(at) {
			continue
		}
		t, ok := it.Figure.(draw.Text)
		if !ok || t.Role != draw.Ink || b.moment != nil {
			continue
		}
		switch r := b.on.circuit().Record(it.Record).(type) {
		case model.Part:
			if it.Layer == draw.LayerTag && !b.on.drawing().Box(r).Holds(it.Bounds) {
				return edit.LabelPlace{ID: it.Record, Box: it.Bounds}, true
			}
		case *model.Run:
			return edit.LabelPlace{ID: it.Record, Box: it.Bounds}, true
		}
	}
	return edit.LabelPlace{}, false
}
