package window

import (
	"context"
	"math"
	"sync"
	"time"

	"fyne.io/fyne/v2"

	"rinsewright/canvas/draw"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
)

// lens is a state of the circuit that one of the tabs of upkeep shows on the drawing
// in place of that of the step.
type lens struct {
	owner string // the title of the tab
	opt   draw.Options
	signs []draw.Sign
	title string
	keys  []draw.KeyEntry
	scale float64 // of the signs on the picture
}

// showLens shows a lens on the drawing; nil: the step again. A play and the coverage
// end.
func (w *Window) showLens(l *lens) {
	b := w.board
	if l == nil {
		if b.lens != nil {
			b.showMoment(nil)
			b.refreshOverlay()
		}
		return
	}
	w.player.end("")
	w.covering.hide()
	b.showMoment(&l.opt)
	b.lens, b.picture = l, nil
	b.repaint()
	w.lensChanged()
}

// signHalf is half the least width of a sign on the screen, in fyne's units.
const signHalf = 7.5

// scaleOfSigns gives by how much signs are larger than on paper so that their numbers
// can be read at a zoom; in steps, so that not every turn of the wheel draws anew.
func scaleOfSigns(zoom float64) float64 {
	return min(max(math.Ceil(2*signHalf/(draw.SignSize*zoom))/2, 1), 5)
}

// signsOff says whether the signs of the picture have the size of another zoom.
func (b *board) signsOff() bool {
	return b.lens != nil && len(b.lens.signs) > 0 && b.lens.scale != scaleOfSigns(b.view.Zoom)
}

// putSigns sets the signs of the lens on the picture.
func (b *board) putSigns() {
	if b.lens != nil && len(b.lens.signs) > 0 {
		b.lens.scale = scaleOfSigns(b.view.Zoom)
		draw.Signs(b.picture, b.lens.signs, b.lens.scale)
	}
}

// lensOf says whether the drawing shows what a tab found.
func (w *Window) lensOf(owner string) bool { return w.board.lens != nil && w.board.lens.owner == owner }

// lensChanged brings the buttons up to date that put a lens on the drawing.
func (w *Window) lensChanged() {
	if w.upkeep == nil {
		return
	}
	w.upkeep.trace.onDrawing.set(w.lensOf(traceTitle))
	w.upkeep.isolate.onDrawing.set(w.lensOf(isolateTitle))
}

// upkeep is the side of the one who plans work on the plant: its tabs, and what they
// share.
type upkeep struct {
	on      *Window
	trace   *tracePanel
	isolate *isolatePanel
	whatIf  *whatIfPanel
	service *servicePanel
	tab     map[string]int // where the tabs are
	built   plantCache
	one     sync.Mutex // held while something is worked out: one at a time
}

// alone waits until nothing else is worked out; not ok if the work is not wanted any
// more. done lets the next begin.
func (u *upkeep) alone(ctx context.Context) (done func(), ok bool) {
	u.one.Lock()
	if ctx.Err() != nil {
		u.one.Unlock()
		return nil, false
	}
	return u.one.Unlock, true
}

// plantCache keeps the network of the circuit that was asked for last. It is used
// beside the user, by one at a time.
type plantCache struct {
	mu      sync.Mutex
	circuit *model.Circuit
	plant   *network.Plant
	heights *network.Heights
}

// of gives the network of a circuit and its heights.
func (k *plantCache) of(c *model.Circuit, cat *catalogue.Catalogue) (*network.Plant, *network.Heights) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.circuit != c {
		p := network.Build(c, cat)
		k.circuit, k.plant, k.heights = c, p, p.Heights()
	}
	return k.plant, k.heights
}

// newUpkeep makes the tabs and puts them behind the others.
func newUpkeep(on *Window) *upkeep {
	u := &upkeep{on: on, tab: map[string]int{}}
	u.trace, u.isolate = newTracePanel(on), newIsolatePanel(on)
	u.whatIf, u.service = newWhatIfPanel(on), newServicePanel(on)
	return u
}

// addTabs puts the tabs behind the others.
func (u *upkeep) addTabs(t *tabs) {
	add := func(title string, p upkeepPanel) {
		u.tab[title] = len(t.titles)
		t.add(title, p.body())
	}
	add(traceTitle, u.trace)
	add(isolateTitle, u.isolate)
	add(whatIfTitle, u.whatIf)
	add(serviceTitle, u.service)
}

// seen says whether a tab is to be seen, or what it found is on the drawing.
func (u *upkeep) seen(title string) bool {
	w := u.on
	return !w.panes.hidden[paneBottom] && w.tabs.at == u.tab[title] || w.lensOf(title)
}

// looked works out what is to be seen now and was not worked out for the present
// state.
func (u *upkeep) looked() {
	if u == nil || u.on.panes == nil {
		return
	}
	for _, p := range u.panels() {
		p.want(0)
	}
}

// changed drops what is of an older state: the circuit, the selection or the step
// shown have changed.
func (u *upkeep) changed(reset bool) {
	if u == nil || u.on.panes == nil {
		return
	}
	if reset {
		u.trace.from, u.trace.to = "", ""
		u.isolate.forget()
		u.whatIf.failures = nil
	}
	for _, p := range u.panels() {
		p.want(settleFlow)
	}
}

// again shows all anew: units or look have changed.
func (u *upkeep) again() {
	if u == nil {
		return
	}
	for _, p := range u.panels() {
		p.again()
	}
}

// upkeepPanel is what the tabs have in common.
type upkeepPanel interface {
	want(wait time.Duration) // works out what is missing, if it is to be seen
	again()                  // shows anew what was worked out
	body() fyne.CanvasObject
}

func (u *upkeep) panels() []upkeepPanel {
	return []upkeepPanel{u.trace, u.isolate, u.whatIf, u.service}
}
