package sheet

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"rinsewright/canvas/draw"
	"rinsewright/model"
)

const (
	connectorHigh = 3.8
	connectorText = 1.7
	connectorTail = 2.0
	connectorTip  = 1.9
	connectorStep = 4.4 // between neighbours
)

// onward tells on which page, and where, a line goes on.
func (b *book) onward(n int, e exit) (page int, at model.Point, ok bool) {
	if e.target != nil {
		for j := range b.pages {
			if j != n && !b.pages[j].whole && b.pages[j].list == nil && within(b.pages[j].window, *e.target) {
				return j, e.at, true
			}
		}
	}
	cur := e.at.Add(model.Point{X: 0.01 * e.out.X, Y: 0.01 * e.out.Y})
	for _, next := range e.beyond {
		best, least := -1, math.Inf(1)
		var entry model.Point
		for j := range b.pages {
			if b.pages[j].whole || b.pages[j].list != nil {
				continue
			}
			if a, _, meets := cutLine(cur, next, b.pages[j].window); meets {
				if far := math.Hypot(a.X-cur.X, a.Y-cur.Y); far < least {
					best, least, entry = j, far, a
				}
			}
		}
		if best >= 0 {
			return best, entry, true
		}
		cur = next
	}
	for j := range b.pages {
		if b.pages[j].whole && j != n {
			return j, e.at, true
		}
	}
	return 0, model.Point{}, false
}

// connectors sets a sign at each place where a run leaves the window of a page:
// on which sheet it goes on, in which zone, and what the run or its next part is
// called. The sign points the way that the liquid takes where that is known.
func (b *book) connectors(to *draw.Picture, n int) {
	p := &b.pages[n]
	bySide := map[model.Point][]exit{}
	for _, e := range p.exits {
		bySide[e.out] = append(bySide[e.out], e)
	}
	for _, out := range []model.Point{{X: -1}, {X: 1}, {Y: -1}, {Y: 1}} {
		list := bySide[out]
		along := func(q model.Point) float64 { return math.Abs(out.X)*q.Y + math.Abs(out.Y)*q.X }
		slices.SortStableFunc(list, func(x, y exit) int {
			return cmp.Or(cmp.Compare(along(x.at), along(y.at)), cmp.Compare(x.run, y.run))
		})
		last := math.Inf(-1)
		for _, e := range list {
			q := p.transfer.Point(e.at)
			v := max(along(q), last+connectorStep)
			last = v
			b.connector(to, n, e, q, v-along(q))
		}
	}
}

// connector sets one sign; aside is how far it stands from its line.
func (b *book) connector(to *draw.Picture, n int, e exit, q model.Point, aside float64) {
	d := e.out
	side := model.Point{X: math.Abs(d.Y), Y: math.Abs(d.X)}
	at := func(out, across float64) model.Point {
		return model.Point{X: q.X + d.X*out + side.X*(across+aside), Y: q.Y + d.Y*out + side.Y*(across+aside)}
	}
	sense := b.sense(e)
	text := b.connectorWords(n, e, sense)
	size := connectorText
	long := draw.TextWidth(text, size) + 2*connectorTip + 1
	if most := aroundPart - connectorTail - 1; long > most {
		size *= (most - 2*connectorTip - 1) / (long - 2*connectorTip - 1)
		long = most
	}
	style := e.style
	style.Width *= b.pages[n].scale
	style.Dash = nil
	tail := []model.Point{q, at(connectorTail, 0)}
	if aside != 0 {
		tail = []model.Point{q, {X: q.X + d.X*0.5, Y: q.Y + d.Y*0.5}, at(connectorTail-0.4, 0), at(connectorTail, 0)}
	}
	to.Add(draw.LayerRun, e.run, draw.Path{Segments: draw.Polyline(tail), Style: style})
	const h = connectorHigh / 2
	near, far := connectorTail, connectorTail+long
	var ring []model.Point
	switch sense {
	case 1: // away
		ring = []model.Point{at(near, -h), at(far-connectorTip, -h), at(far, 0), at(far-connectorTip, h), at(near, h)}
	case -1: // towards this sheet
		ring = []model.Point{at(near, 0), at(near+connectorTip, -h), at(far, -h), at(far, h), at(near+connectorTip, h)}
	default:
		ring = []model.Point{at(near, -h), at(far, -h), at(far, h), at(near, h)}
	}
	to.Add(draw.LayerRun, e.run, draw.Path{Segments: append(draw.Polyline(ring), draw.Close()), Style: draw.Style{Stroke: draw.Ink, Width: thinLine, Fill: draw.Paper}})
	turn := model.Turn(0)
	if d.Y != 0 {
		turn = 3 // read from the right
	}
	to.Add(draw.LayerLabel, e.run, draw.Text{At: at((near+far)/2, 0), String: text, Height: size, Turn: turn, Role: draw.Ink})
}

// sense tells whether liquid leaves the window (1) or comes in (-1) at an exit; 0
// if it is not known or stands.
func (b *book) sense(e exit) int {
	run := b.circuit.Run(e.run)
	if run == nil {
		return 0
	}
	way := draw.Direction(b.circuit, b.cat, run)
	if b.opt.Flow != nil {
		way = 0
		switch b.opt.Flow[e.run] {
		case draw.Forward:
			way = 1
		case draw.Backward:
			way = -1
		}
	}
	if !e.leaving {
		way = -way
	}
	return way
}

func (b *book) connectorWords(n int, e exit, sense int) string {
	words := map[int]string{1: "to sheet ", -1: "from sheet ", 0: "sheet "}[sense]
	switch j, at, ok := b.onward(n, e); {
	case !ok:
		words = "goes on, on no sheet"
	case j == n:
		words = map[int]string{1: "to zone ", -1: "from zone ", 0: "zone "}[sense] + b.paper.zone(b.pages[j].transfer.Point(at))
	default:
		words += fmt.Sprintf("%d, zone %s", j+1, b.paper.zone(b.pages[j].transfer.Point(at)))
	}
	if name := b.nameBeyond(e); name != "" {
		words += ", " + name
	}
	return words
}

// nameBeyond gives the tag of a run, or that of the part that it leads to beyond
// the exit.
func (b *book) nameBeyond(e exit) string {
	run := b.circuit.Run(e.run)
	if run == nil {
		return ""
	}
	if run.Tag != "" {
		return run.Tag
	}
	end := run.From
	if e.leaving {
		end = run.To
	}
	part := b.circuit.Part(end.Part)
	if part == nil {
		return ""
	}
	if tag := part.Meta().Tag; tag != "" {
		return tag
	}
	if k := b.cat.Kind(part.Meta().Kind); k != nil {
		return k.Title
	}
	return ""
}
