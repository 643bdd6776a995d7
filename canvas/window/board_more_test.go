package window

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"rinsewright/canvas/draw"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// typeKind types the name of a kind into the field at the pointer and takes the
// first.
func (b *bench) typeKind(name string) {
	b.t.Helper()
	b.focusBoard()
	b.board.TypedRune('i')
	e, ok := b.win.Canvas().Focused().(*searchEntry)
	if !ok || !b.overlayOpen() {
		b.t.Fatal("no field opens at the pointer")
	}
	if e.Text != "" {
		b.t.Errorf("the field begins with %q", e.Text)
	}
	e.SetText(name)
	e.OnSubmitted(name)
	if b.overlayOpen() {
		b.t.Error("the field stays open")
	}
}

// A tank, a pump behind it and a valve in the run between them, all by the keys.
func TestDrawByKeys(t *testing.T) {
	b := newBench(t)
	b.typeKind("alkali tank")
	b.typeKind("centrifugal pump")
	c := b.circuit()
	if len(c.Parts()) != 2 || len(c.Runs()) != 1 {
		t.Fatalf("%d parts, %d runs", len(c.Parts()), len(c.Runs()))
	}
	run := c.Runs()[0]
	if from, to := c.Part(run.From.Part), c.Part(run.To.Part); from.Class() != model.ClassVessel || to.Class() != model.ClassPump || run.From.Port != "outlet" {
		t.Errorf("run from %s to %s", run.From.Part, run.To.Part)
	}
	b.doc.Select(run.ID)
	b.typeKind("butterfly")
	c = b.circuit()
	if len(c.Parts()) != 3 || len(c.Runs()) != 2 {
		t.Fatalf("with the valve %d parts, %d runs", len(c.Parts()), len(c.Runs()))
	}
	if got := b.selectedRecords(); len(got) != 1 || got[0].(model.Part).Class() != model.ClassValve {
		t.Errorf("selected %v", got)
	}
	for b.doc.Undo() {
	}
	if len(b.circuit().Parts()) != 0 {
		t.Error("undo leaves parts")
	}
	// Escape opens nothing else and places nothing.
	b.board.TypedRune('i')
	b.win.Canvas().Focused().(*searchEntry).TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if b.overlayOpen() || len(b.circuit().Parts()) != 0 {
		t.Error("Escape does not end it")
	}
}

func TestLayersOfTheBoard(t *testing.T) {
	b := newBench(t)
	b.station()
	count := func(layer draw.Layer) int {
		n := 0
		for _, it := range b.board.draw().Items {
			if _, ok := it.Figure.(draw.Text); ok && it.Layer == layer {
				n++
			}
		}
		return n
	}
	tags, labels := count(draw.LayerTag), count(draw.LayerLabel)
	b.do(b.actions.onBoard.layers[0])
	if got := count(draw.LayerTag); got >= tags || tags == 0 {
		t.Errorf("%d tags, %d before they were hidden", got, tags)
	}
	b.do(b.actions.onBoard.layers[0])
	if got := count(draw.LayerTag); got != tags {
		t.Errorf("%d tags when shown again, %d before", got, tags)
	}
	b.board.turnLayer(layerHeights)
	if got := count(draw.LayerLabel); got <= labels {
		t.Errorf("no heights: %d labels, %d before", got, labels)
	}
	if got := b.app.Preferences().StringList(prefLayers); len(got) != 1 || got[0] != string(layerHeights) {
		t.Errorf("kept %v", got)
	}
}

func TestLabelByHand(t *testing.T) {
	b := newBench(t)
	pump := b.bring("centrifugal-pump", model.Point{X: 80, Y: 60})
	var box draw.Item
	for _, it := range b.board.draw().Items {
		if it.Layer == draw.LayerTag && it.Record == pump.RecordID() {
			box = it
		}
	}
	from := box.Bounds.Centre()
	to := from.Add(model.Point{X: 20, Y: 12})
	b.drag(from, to)
	label := b.circuit().Part(pump.RecordID()).Meta().Label
	if label == nil {
		t.Fatal("the tag was not moved")
	}
	if at := pump.Meta().At.Add(*label); math.Hypot(at.X-to.X, at.Y-to.Y) > 1 {
		t.Errorf("the tag went to %v, the hand to %v", at, to)
	}
	b.do(b.actions.onBoard.freeLabels)
	if b.circuit().Part(pump.RecordID()).Meta().Label != nil {
		t.Error("the tag does not find its own place again")
	}
}

func TestOverviewMap(t *testing.T) {
	b := newBench(t)
	b.station()
	b.board.fit()
	if b.board.map_.Visible() {
		t.Error("the map is shown while all is in view")
	}
	b.board.setView(b.board.view.zoomed(4, fyne.NewPos(100, 100)))
	if !b.board.map_.Visible() {
		t.Fatal("no map while most is out of view")
	}
	whole := b.board.draw().Bounds
	b.board.map_.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(overviewWide/2, overviewHigh/2)}, Button: desktop.MouseButtonPrimary})
	mid := b.board.view.shown(b.board.Size()).Centre()
	if c := whole.Centre(); math.Hypot(mid.X-c.X, mid.Y-c.Y) > 0.05*whole.Width() {
		t.Errorf("a click in the middle of the map leads to %v, the middle is %v", mid, c)
	}
	b.do(b.actions.onBoard.overview)
	if b.board.map_.Visible() {
		t.Error("the map is not folded away")
	}
}

func TestRulerSteps(t *testing.T) {
	for zoom := 0.05; zoom < 80; zoom *= 1.3 {
		step := rulerStep(zoom)
		lead := step / math.Pow(10, math.Floor(math.Log10(step)+1e-9))
		if apart := step * zoom; apart < 70-1e-9 || apart > 180 {
			t.Errorf("zoom %v: numbers stand %v apart", zoom, apart)
		}
		if r := math.Round(lead); math.Abs(lead-r) > 1e-9 || r != 1 && r != 2 && r != 5 && r != 10 {
			t.Errorf("zoom %v: step %v", zoom, step)
		}
	}
}

func TestMenuByKey(t *testing.T) {
	b := newBench(t)
	pump := b.bring("centrifugal-pump", model.Point{X: 80, Y: 60})
	b.doc.Select(pump.RecordID())
	if !b.boardKey(fyne.KeyF10, true) || !b.overlayOpen() {
		t.Fatal("no menu of what is selected")
	}
	b.win.Canvas().Overlays().Remove(b.win.Canvas().Overlays().Top())
	b.doc.Select()
	if !b.boardKey("Menu", false) || !b.overlayOpen() {
		t.Error("no menu of the board")
	}
}

func TestHeightView(t *testing.T) {
	b := newBench(t)
	b.station()
	b.gotoHeights()
	p := b.heights
	if p.shown == nil || p.why != "" || len(p.shown.Stops) < 20 {
		t.Fatalf("the way of the step is not shown: %q", p.why)
	}
	// A part in the middle is raised by keys, by typing and by dragging.
	stop := -1
	for i := len(p.shown.Stops) / 3; i < len(p.shown.Stops); i++ {
		n := p.shown.Plant.Nodes[p.shown.Stops[i].Node]
		if n.Part != "" && b.circuit().Part(n.Part).Meta().Elevation.Known() && p.shown.Stops[i].Height.Known() {
			stop = i
			break
		}
	}
	p.pick = stop
	id := p.shown.Plant.Nodes[p.shown.Stops[stop].Node].Part
	height := func() float64 { return float64(b.circuit().Part(id).Meta().Elevation.Or(0)) }
	start := height()
	p.view.TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp})
	if got := height(); math.Abs(got-start-heightStep) > 1e-9 {
		t.Errorf("a key raised it from %v to %v", start, got)
	}
	if p.place().part != id {
		t.Error("another point is picked after the edit")
	}
	z := float64(p.shown.Stops[p.pick].Height.Or(0))
	if err := p.typed("5 m"); err != nil {
		t.Error(err)
	}
	if got := height(); math.Abs(got-(start+heightStep)-(5-z)) > 1e-6 {
		t.Errorf("typed 5 m: it is at %v, the point was at %v", got, z)
	}
	if p.typed("high") == nil {
		t.Error("words are taken for a height")
	}
	v := p.view
	at, ok := v.shown().At(p.pick)
	if !ok {
		t.Fatal("the point is not drawn")
	}
	from := fyne.NewPos(float32(at.X*plotZoom), float32(at.Y*plotZoom))
	before := height()
	v.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: from}, Button: desktop.MouseButtonPrimary})
	v.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: from.AddXY(0, -20)}})
	if height() != before || v.preview == nil {
		t.Error("a drag should be shown before it is done")
	}
	v.MouseUp(nil)
	if got := height(); got <= before {
		t.Errorf("dragged upwards it went from %v to %v", before, got)
	}
	for b.doc.Undo() {
	}
	if got := height(); got != start {
		t.Errorf("undone it is at %v, it was at %v", got, start)
	}
}

func TestOwnKindsInTheStore(t *testing.T) {
	b := newBench(t)
	folder := filepath.Join(t.TempDir(), "kinds")
	b.own.folder = folder
	b.writeExampleKind()
	b.dismiss()
	if _, err := os.Stat(filepath.Join(folder, exampleKind)); err != nil {
		t.Fatal(err)
	}
	cat, wrong := catalogue.Builtin().WithOwn(os.DirFS(folder))
	if len(wrong) != 0 || len(cat.Kinds()) != len(catalogue.Builtin().Kinds())+1 {
		t.Errorf("the example: %v", wrong)
	}
	b.own.wrong = []*catalogue.KindError{{File: "mine.json", Line: 3, Column: 7, Kind: "x", Message: "what is wrong"}}
	b.tellKinds()
	if text := b.dialogText(); !strings.Contains(text, "mine.json:3:7") || !strings.Contains(text, folder) {
		t.Errorf("the window tells %q", text)
	}
}
