package route

import (
	"cmp"
	"math"
	"slices"

	"rinsewright/canvas/place"
	"rinsewright/model"
)

// stop is an end of a leg: a port, a loose end or a bend that the user placed.
type stop struct {
	at    model.Point
	faces model.Point // zero unless it is a port
	lead  model.Point // where the line is free to turn: at, or beyond the stub of a port
	box   int32       // of the part in the index, or -1
}

func (r *Router) stopOf(e place.End) stop {
	s := stop{at: e.At, faces: e.Faces, lead: e.At, box: -1}
	if e.Part == nil {
		return s
	}
	if i, ok := r.number[e.Part.RecordID()]; ok && !r.index.boxes[i].Empty() {
		s.box = i
	}
	if e.Faces == (model.Point{}) {
		return s
	}
	length := stub
	if s.box >= 0 {
		// A port inside its symbol's box leads out of the box first.
		b := r.index.boxes[s.box]
		var out float64
		switch {
		case e.Faces.X > 0:
			out = b.Max.X - e.At.X
		case e.Faces.X < 0:
			out = e.At.X - b.Min.X
		case e.Faces.Y > 0:
			out = b.Max.Y - e.At.Y
		default:
			out = e.At.Y - b.Min.Y
		}
		if out > same && b.Contains(e.At) {
			length = max(length, out+raster)
		}
	}
	s.lead = model.Point{X: e.At.X + length*e.Faces.X, Y: e.At.Y + length*e.Faces.Y}
	return s
}

// leg is the search for the ways between two stops.
type leg struct {
	r      *Router
	a, b   stop
	xs, ys []float64 // where it may turn
	tried  []tried
	seen   place.Rect // all that the result depends on
	met    []int32    // boxes that the best way goes through
}

type tried struct {
	way
	cost  float64 // without the boxes, until checked
	exact bool
}

// facing gives the way straight across, or in one jog, between two ports that
// look at each other with less than two stubs between them.
func (l *leg) facing() (way, bool) {
	var w way
	fa, fb := l.a.faces, l.b.faces
	if fa == (model.Point{}) || fa.X != -fb.X || fa.Y != -fb.Y {
		return w, false
	}
	d := l.b.at.Sub(l.a.at)
	along := d.X*fa.X + d.Y*fa.Y
	across := math.Abs(d.X*fa.Y) + math.Abs(d.Y*fa.X)
	switch {
	case across < same && along > -same:
		w.add(l.a.at)
		w.add(l.b.at)
		if w.n == 1 { // face to face
			w.p[1], w.n = l.b.at, 2
		}
		return w, true
	case along > same && along < 2*stub:
		w.add(l.a.at)
		half := model.Point{X: l.a.at.X + fa.X*along/2, Y: l.a.at.Y + fa.Y*along/2}
		w.add(half)
		if fa.X != 0 {
			w.add(model.Point{X: half.X, Y: l.b.at.Y})
		} else {
			w.add(model.Point{X: l.b.at.X, Y: half.Y})
		}
		w.add(l.b.at)
		return w, true
	}
	return w, false
}

// places fills in where a way may turn: half way, at the ends, and beside the
// boxes of both parts.
func (l *leg) places() {
	p, q := l.a.lead, l.b.lead
	l.xs = append(l.xs[:0], snap((p.X+q.X)/2), p.X, q.X)
	l.ys = append(l.ys[:0], snap((p.Y+q.Y)/2), p.Y, q.Y)
	// At a free place a corner there comes before a jog half way.
	switch (model.Point{}) {
	case l.b.faces:
		l.xs[0], l.xs[2] = l.xs[2], l.xs[0]
		l.ys[0], l.ys[2] = l.ys[2], l.ys[0]
	case l.a.faces:
		l.xs[0], l.xs[1] = l.xs[1], l.xs[0]
		l.ys[0], l.ys[1] = l.ys[1], l.ys[0]
	}
	for _, box := range []int32{l.a.box, l.b.box} {
		if box >= 0 {
			l.beside(box)
		}
	}
}

func (l *leg) beside(box int32) {
	b := l.r.index.boxes[box]
	l.xs = append(l.xs, snapDown(b.Min.X-margin), snapUp(b.Max.X+margin))
	l.ys = append(l.ys, snapDown(b.Min.Y-margin), snapUp(b.Max.Y+margin))
}

func snap(v float64) float64     { return math.Round(v/raster) * raster }
func snapDown(v float64) float64 { return math.Floor(v/raster+same) * raster }
func snapUp(v float64) float64   { return math.Ceil(v/raster-same) * raster }

// try adds the way over the given turns; each must be level with or upright
// over the one before.
func (l *leg) try(turns ...model.Point) {
	var w way
	w.add(l.a.at)
	w.add(l.a.lead)
	for _, t := range turns {
		w.add(t)
	}
	w.add(l.b.lead)
	w.add(l.b.at)
	if w.n < 2 {
		w.p[w.n] = l.b.at
		w.n = 2
	}
	l.tried = append(l.tried, tried{way: w, cost: w.cost()})
}

// simple tries the ways with at most two turns of their own: straight, one
// corner, a jog, a loop round.
func (l *leg) simple() {
	p, q := l.a.lead, l.b.lead
	for i := range max(len(l.xs), len(l.ys)) {
		if i < len(l.xs) {
			l.try(model.Point{X: l.xs[i], Y: p.Y}, model.Point{X: l.xs[i], Y: q.Y})
		}
		if i < len(l.ys) {
			l.try(model.Point{X: p.X, Y: l.ys[i]}, model.Point{X: q.X, Y: l.ys[i]})
		}
	}
}

// winding tries the ways with three turns of their own.
func (l *leg) winding() {
	p, q := l.a.lead, l.b.lead
	for _, x := range l.xs {
		for _, y := range l.ys {
			l.try(model.Point{X: x, Y: p.Y}, model.Point{X: x, Y: y}, model.Point{X: q.X, Y: y})
			l.try(model.Point{X: p.X, Y: y}, model.Point{X: x, Y: y}, model.Point{X: x, Y: q.Y})
		}
	}
}

// check makes the cost of a way exact by counting the boxes it goes through. It
// gives up, and leaves the cost at limit or above, once the way is as dear as
// that.
func (l *leg) check(t *tried, limit float64) {
	if t.exact {
		return
	}
	t.exact = true
	l.seen = l.seen.Union(t.bounds().Grown(clearance))
	l.meets(t, func(int32) bool {
		t.cost += throughCost
		return t.cost < limit
	})
}

// meets calls hit with every box that a way goes through, once for each piece
// that does, until hit gives false. The stubs of the two ports may lie in the
// boxes of their own parts.
func (l *leg) meets(t *tried, hit func(box int32) bool) {
	more := true
	look := func(a, b model.Point, skipA, skipB int32) {
		if !more {
			return
		}
		l.r.index.through(place.Spanned(a, b), func(box int32) bool {
			more = box == skipA || box == skipB || hit(box)
			return more
		})
	}
	for i := 1; i < t.n; i++ {
		a, b := t.p[i-1], t.p[i]
		skipA, skipB := int32(-1), int32(-1)
		if i == 1 {
			skipA = l.a.box
			if l.a.lead != l.a.at && t.n > 2 && pastLead(a, b, l.a.lead) {
				look(l.a.lead, b, -1, l.skipLast(t, i))
				b = l.a.lead
			}
		}
		if i == t.n-1 {
			skipB = l.b.box
			if l.b.lead != l.b.at && t.n > 2 && pastLead(b, a, l.b.lead) {
				look(l.b.lead, a, l.skipFirst(i), -1)
				a = l.b.lead
			}
		}
		look(a, b, skipA, skipB)
	}
}

func (l *leg) skipFirst(i int) int32 {
	if i == 1 {
		return l.a.box
	}
	return -1
}

func (l *leg) skipLast(t *tried, i int) int32 {
	if i == t.n-1 {
		return l.b.box
	}
	return -1
}

// pastLead says whether the piece from a to b goes on beyond lead.
func pastLead(a, b, lead model.Point) bool {
	return math.Abs(b.X-a.X)+math.Abs(b.Y-a.Y) > math.Abs(lead.X-a.X)+math.Abs(lead.Y-a.Y)+same
}

// best gives the cheapest of the tried ways by number; of equal ones the first
// tried. Boxes make a way dearer only, so most ways need no check; after so many
// checks it is content with the cheapest of those checked.
func (l *leg) best(checks int) int {
	known := -1
	for i := range l.tried {
		if l.tried[i].exact && (known < 0 || l.tried[i].cost < l.tried[known].cost-same) {
			known = i
		}
	}
	for {
		b := 0
		for i := range l.tried {
			if l.tried[i].cost < l.tried[b].cost-same {
				b = i
			}
		}
		if l.tried[b].exact {
			return b
		}
		if checks--; checks < 0 && known >= 0 {
			return known
		}
		limit := math.Inf(1)
		if known >= 0 {
			limit = l.tried[known].cost
		}
		l.check(&l.tried[b], limit)
		if known < 0 || l.tried[b].cost < l.tried[known].cost-same {
			known = b
		}
	}
}

// clean says whether a way meets no box and never turns back.
func (t *tried) clean() bool { return t.cost < t.way.cost()+same && t.reversals == 0 }

// search leaves in tried the ways between the two stops and gives the number of
// the best.
func (l *leg) search() int {
	l.tried = l.tried[:0]
	if w, ok := l.facing(); ok {
		l.tried = append(l.tried, tried{way: w, cost: w.cost()})
		l.check(&l.tried[0], math.Inf(1))
		if l.tried[0].clean() || math.Abs(l.b.at.X-l.a.at.X)+math.Abs(l.b.at.Y-l.a.at.Y) < stub {
			return 0 // nothing else fits between
		}
	}
	l.places()
	l.simple()
	b := l.best(fewChecks)
	if l.tried[b].clean() {
		return b
	}
	l.winding()
	if b = l.best(someChecks); l.tried[b].clean() {
		return b
	}
	obstacles := l.obstacles(&l.tried[b])
	if len(obstacles) == 0 {
		return b
	}
	for _, box := range obstacles {
		l.seen = l.seen.Union(l.r.index.boxes[box])
		l.beside(box)
	}
	l.simple()
	l.winding()
	return l.best(someChecks)
}

// How many ways a search looks at closely. More find a better line through a
// crowd, at the cost of time.
const (
	fewChecks  = 20
	someChecks = 40
)

// mostObstacles is how many boxes a line tries to go round.
const mostObstacles = 3

// obstacles gives a few of the boxes that a way goes through. Which ones depends
// on their places alone, not on the order in which the index holds them.
func (l *leg) obstacles(t *tried) []int32 {
	l.met = l.met[:0]
	l.meets(t, func(box int32) bool {
		if !slices.Contains(l.met, box) {
			l.met = append(l.met, box)
		}
		return true
	})
	boxes := l.r.index.boxes
	slices.SortFunc(l.met, func(i, j int32) int {
		a, b := boxes[i], boxes[j]
		return cmp.Or(cmp.Compare(a.Min.X, b.Min.X), cmp.Compare(a.Min.Y, b.Min.Y),
			cmp.Compare(a.Max.X, b.Max.X), cmp.Compare(a.Max.Y, b.Max.Y))
	})
	return l.met[:min(len(l.met), mostObstacles)]
}
