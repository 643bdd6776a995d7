package edit

import (
	"rinsewright/canvas/place"
	"rinsewright/model"
)

// HitKind is the sort of thing under a point.
type HitKind int

// The sorts, in the order in which they are looked for.
const (
	HitNothing HitKind = iota
	HitHandle          // bend or end of a selected run, or loose end of any
	HitPort            // free port
	HitPart
	HitRun
)

// Handles that are not bends.
const (
	FromHandle = -1
	ToHandle   = -2
)

// Hit is what lies under a point.
type Hit struct {
	Kind   HitKind
	ID     model.ID    // of the part or run
	Port   string      // of HitPort
	Handle int         // of HitHandle: number of the bend, or FromHandle or ToHandle
	Piece  int         // of HitRun: number of the piece of its line
	At     model.Point // the handle, port or nearest point of the line; the point asked for on a part
}

// Handle is a place by which a run is pulled.
type Handle struct {
	Run    model.ID
	Number int // of the bend, or FromHandle or ToHandle
	At     model.Point
}

// Handles gives the handles of a run: its bends and its two ends.
func (d *Drawing) Handles(r *model.Run) []Handle {
	var out []Handle
	for i, b := range r.Bends {
		out = append(out, Handle{r.ID, i, b})
	}
	for i, e := range []model.End{r.From, r.To} {
		if end, ok := place.EndOf(d.circuit, d.cat, e); ok {
			out = append(out, Handle{r.ID, FromHandle - i, end.At})
		}
	}
	return out
}

// Hit finds what is under a point, within a tolerance in mm, first of: a handle
// of a selected run, a free port, a selected part, the topmost part, a run. Small parts
// lie over large ones, so that what stands inside a vessel can be had; all lie
// over frames, which are hit on their border only. selected may be nil.
func (d *Drawing) Hit(at model.Point, tolerance float64, selected func(model.ID) bool) Hit {
	if selected == nil {
		selected = func(model.ID) bool { return false }
	}
	if h := d.hitHandle(at, tolerance, selected); h.Kind != HitNothing {
		return h
	}
	if h := d.grabPort(at, tolerance); h.Kind != HitNothing {
		return h
	}
	if h := d.hitPart(at, tolerance, selected); h.Kind != HitNothing {
		return h
	}
	return d.HitRun(at, tolerance)
}

func (d *Drawing) hitHandle(at model.Point, tolerance float64, selected func(model.ID) bool) Hit {
	best, hit := tolerance, Hit{}
	for _, r := range d.circuit.Runs() {
		chosen := selected(r.ID)
		if !chosen && !r.From.Loose() && !r.To.Loose() {
			continue
		}
		for _, h := range d.Handles(r) {
			loose := h.Number == FromHandle && r.From.Loose() || h.Number == ToHandle && r.To.Loose()
			if dist := distance(h.At, at); (chosen || loose) && dist <= best {
				best = dist
				hit = Hit{Kind: HitHandle, ID: r.ID, Handle: h.Number, At: h.At}
			}
		}
	}
	return hit
}

// HitPort finds the nearest free port within a tolerance.
func (d *Drawing) HitPort(at model.Point, tolerance float64) Hit {
	return d.nearestPort(at, tolerance, func(p model.Part, port place.Port) bool { return d.PortFree(p.RecordID(), port.Name) })
}

// portCatch is how much wider than other things a port is caught, as far as
// nothing else lies there.
const portCatch = 1.8

// grabPort finds the free port by which a run is drawn off.
func (d *Drawing) grabPort(at model.Point, tolerance float64) Hit {
	return d.portUnder(at, tolerance, d.HitPort)
}

// portUnder finds a port by find. Round about a part it is caught from farther
// away than anything else; inside a symbol it leaves room to take hold of the
// part itself, however small that is on the screen.
func (d *Drawing) portUnder(at model.Point, tolerance float64, find func(model.Point, float64) Hit) Hit {
	h := find(at, tolerance*portCatch)
	if h.Kind == HitNothing {
		return h
	}
	reach := tolerance * portCatch
	for i, e := range d.extentsOf() {
		p := d.circuit.Parts()[i]
		if p.Class() == model.ClassFrame || !inside(e.box, at, near) {
			continue
		}
		reach = min(reach, tolerance, min(e.box.Width(), e.box.Height())/4)
	}
	if distance(h.At, at) > reach {
		return Hit{}
	}
	return h
}

func (d *Drawing) hitPart(at model.Point, tolerance float64, selected func(model.ID) bool) Hit {
	var best candidate
	for i, e := range d.extentsOf() {
		away := e.box.Distance(at)
		if away > tolerance {
			continue
		}
		p := d.circuit.Parts()[i]
		frame := p.Class() == model.ClassFrame
		if frame && inside(e.box, at, tolerance) {
			continue
		}
		c := candidate{id: p.RecordID(), selected: selected(p.RecordID()), frame: frame, away: away, area: e.box.Width() * e.box.Height()}
		if best.id == "" || c.over(best) {
			best = c
		}
	}
	if best.id == "" {
		return Hit{}
	}
	return Hit{Kind: HitPart, ID: best.id, At: at}
}

// inside says whether p is well within r, away from its border.
func inside(r place.Rect, p model.Point, tolerance float64) bool {
	return p.X > r.Min.X+tolerance && p.X < r.Max.X-tolerance && p.Y > r.Min.Y+tolerance && p.Y < r.Max.Y-tolerance
}

// candidate is a part under a point.
type candidate struct {
	id       model.ID
	selected bool
	frame    bool
	away     float64
	area     float64
}

// over says whether c is to be taken rather than o, which comes before it in
// the order of drawing.
func (c candidate) over(o candidate) bool {
	switch {
	case c.selected != o.selected:
		return c.selected
	case c.frame != o.frame:
		return o.frame
	case (c.away == 0) != (o.away == 0):
		return c.away == 0
	}
	return c.area <= o.area
}

// HitRun finds the nearest run within a tolerance.
func (d *Drawing) HitRun(at model.Point, tolerance float64) Hit {
	best, hit := tolerance, Hit{}
	for i, line := range d.Lines() {
		if len(line) == 0 || !reaches(line, at, best) {
			continue
		}
		if piece, q, dist := place.Nearest(line, at); dist <= best {
			best = dist
			hit = Hit{Kind: HitRun, ID: d.circuit.Runs()[i].ID, Piece: piece, At: q}
		}
	}
	return hit
}

// reaches says whether a right-angled line comes within a distance of p, by its
// bounds: cheaper than the distance itself.
func reaches(line []model.Point, p model.Point, within float64) bool {
	left, right, above, below := true, true, true, true
	for _, q := range line {
		left = left && q.X < p.X-within
		right = right && q.X > p.X+within
		above = above && q.Y < p.Y-within
		below = below && q.Y > p.Y+within
	}
	return !(left || right || above || below)
}

// Within gives the parts and runs that lie wholly in a rectangle, in the order
// of the circuit.
func (d *Drawing) Within(r place.Rect) []model.ID {
	var out []model.ID
	for i, e := range d.extentsOf() {
		if r.Holds(e.box) {
			out = append(out, d.circuit.Parts()[i].RecordID())
		}
	}
	for i, line := range d.Lines() {
		if len(line) > 0 && r.Holds(place.Around(line)) {
			out = append(out, d.circuit.Runs()[i].ID)
		}
	}
	return out
}
