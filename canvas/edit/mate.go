package edit

import (
	"slices"

	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

// mate is a free port and what it can be joined to: a free port that faces it,
// or a loose end of a run.
type mate struct {
	part  model.ID
	port  catalogue.Port
	at    model.Point
	other Joint       // port, or run with its loose end At
	place model.Point // of the other
	held  model.ID    // run that the port is joined by now and that goes to the other; empty: none
}

// mates gives the joints within a tolerance between the free ports of some parts
// and the rest of the circuit, in the order of the ports.
func (d *Drawing) mates(parts []model.Part, tolerance float64) []mate {
	among := map[model.ID]bool{}
	for _, p := range parts {
		among[p.RecordID()] = true
	}
	if len(parts) > mostGuided {
		return nil
	}
	var out []mate
	for _, p := range parts {
		for _, port := range place.Ports(p, d.kindOf(p)) {
			m := mate{part: p.RecordID(), port: port.Port, at: port.Place}
			if d.circuit.Part(p.RecordID()) != nil && !d.PortFree(p.RecordID(), port.Name) {
				if m.held = d.heldBy(p, port.Name, among); m.held == "" {
					continue
				}
			}
			if d.mateOf(&m, p, port.Faces, among, tolerance) {
				out = append(out, m)
			}
		}
	}
	return out
}

// heldBy gives the run by which a part sits on another that is not moved with it:
// one of no length, or, of a part that belongs on a nozzle, one of which nothing
// is known. Put onto another port, the part takes that run along.
func (d *Drawing) heldBy(p model.Part, port string, among map[model.ID]bool) model.ID {
	for _, r := range d.circuit.RunsAt(p.RecordID()) {
		other := r.To
		if !endsOn(r.From, p.RecordID(), port) {
			if other = r.From; !endsOn(r.To, p.RecordID(), port) {
				continue
			}
		}
		if other.Loose() || among[other.Part] {
			return ""
		}
		_, mounts := Mounts(d.kindOf(p))
		if noLength(r) || mounts && len(r.Stretches) == 0 {
			return r.ID
		}
		return ""
	}
	return ""
}

// mateOf finds the nearest thing that a port of a part can be joined to.
func (d *Drawing) mateOf(m *mate, p model.Part, faces model.Point, among map[model.ID]bool, tolerance float64) bool {
	best, found := tolerance, false
	for _, b := range d.portsOf() {
		dist := distance(b.at, m.at)
		if dist > best || b.faces.Add(faces) != (model.Point{}) || among[b.part] || !d.PortFree(b.part, b.name) {
			continue
		}
		if d.misfit(p, m.port, b.of, *b.port) {
			continue
		}
		best, found = dist, true
		m.other, m.place = OnPort(b.part, b.name), b.at
	}
	if m.held != "" {
		return found
	}
	for _, r := range d.circuit.Runs() {
		if !r.From.Loose() && !r.To.Loose() || among[r.From.Part] || among[r.To.Part] {
			continue
		}
		for _, e := range []model.End{r.From, r.To} {
			if e.Loose() && e.At != nil && distance(*e.At, m.at) <= best {
				best, found = distance(*e.At, m.at), true
				m.other, m.place = OnRun(r.ID, *e.At), *e.At
			}
		}
	}
	return found
}

// join joins parts of the draft to what their free ports lie on: ports face to
// face by a run of no length, loose ends by ending on the port.
func (f *draft) join(parts []model.Part) {
	for _, m := range f.mates(parts, near) {
		if m.held != "" {
			if !f.portTaken(m.other.Part, m.other.Port) {
				f.takeAlong(m)
			}
			continue
		}
		if f.portTaken(m.part, m.port.Name) {
			continue
		}
		if m.other.Run != "" {
			f.endOn(m.other.Run, m.place, m)
			continue
		}
		if !f.portTaken(m.other.Part, m.other.Port) {
			f.faceToFace(m.other.end(), model.End{Part: m.part, Port: m.port.Name})
		}
	}
}

// takeAlong brings the other end of the run that holds a part to the port that
// the part now lies on.
func (f *draft) takeAlong(m mate) {
	next := model.Clone(f.run(m.held))
	if endsOn(next.From, m.part, m.port.Name) {
		next.To = m.other.end()
	} else {
		next.From = m.other.end()
	}
	next.Bends = nil
	next.Stretches = ofNoLength()
	f.put(next)
}

// noLength says whether a run joins two ports face to face.
func noLength(r *model.Run) bool {
	length, known := r.Length().Get()
	return known && length == 0
}

func ofNoLength() []model.Stretch {
	return []model.Stretch{{Length: quantity.Some(quantity.Length(0)), Rise: quantity.Some(quantity.Length(0))}}
}

// endOn takes the loose end of a run to a port.
func (f *draft) endOn(run model.ID, at model.Point, m mate) {
	next := model.Clone(f.run(run))
	end := model.End{Part: m.part, Port: m.port.Name}
	switch {
	case next.From.Loose() && next.From.At != nil && samePlace(*next.From.At, at):
		next.From = end
	case next.To.Loose() && next.To.At != nil && samePlace(*next.To.At, at):
		next.To = end
	default:
		return
	}
	f.put(next)
}

// faceToFace puts a run of no length between two ports. Where one of the parts
// is new and has no elevation, it gets the one that the other port gives it.
func (f *draft) faceToFace(from, to model.End) *model.Run {
	if f.role(from) == "in" && f.role(to) != "in" || f.role(to) == "out" && f.role(from) != "out" {
		from, to = to, from
	}
	r := &model.Run{ID: f.newID("r"), From: from, To: to, Stretches: ofNoLength()}
	r.Size = f.sizeAt(from)
	if !r.Size.Known() {
		r.Size = f.sizeAt(to)
	}
	f.put(r)
	f.sizeNew(from, r.Size)
	f.sizeNew(to, r.Size)
	f.levelNew(from, f.height(to))
	f.levelNew(to, f.height(from))
	return r
}

func (f *draft) sizeAt(e model.End) (size quantity.Opt[model.TubeSize]) {
	if p := f.part(e.Part); p != nil {
		if k := f.kindOf(p); k != nil {
			if port, ok := k.Port(e.Port); ok {
				return sizeOf(p, port)
			}
		}
	}
	return size
}

// levelNew gives a part that this edit adds the elevation at which its port is at
// a height, if it has none.
func (f *draft) levelNew(e model.End, height quantity.Opt[quantity.Length]) {
	p := f.part(e.Part)
	if p == nil || f.circuit.Record(e.Part) != nil || p.Meta().Elevation.Known() {
		return
	}
	port, ok := f.kindOf(p).Port(e.Port)
	if !ok {
		return
	}
	if at := added(height, port.Height.Of(p), -1); at.Known() {
		next := model.Clone(p)
		next.Meta().Elevation = at
		f.put(next)
	}
}

// sizeNew gives the port of a part that this edit adds a tube size, if it has
// none.
func (f *draft) sizeNew(e model.End, size quantity.Opt[model.TubeSize]) {
	if !f.sizeAt(e).Known() {
		f.sizeBranch(e, size)
	}
}

// MoveOnto is [Drawing.Move] for parts that are let go where they lie: free ports
// that then lie on other free ports facing them are joined face to face, and
// loose ends of runs are joined to the ports that they lie on.
func (d *Drawing) MoveOnto(ids []model.ID, by model.Point) model.Edit {
	if by == (model.Point{}) {
		return model.Edit{}
	}
	all := d.WithMounted(ids)
	f := d.shifted(all, func(p model.Point) model.Point { return p.Add(by) }, nil)
	f.join(f.partsOf(all))
	f.pullApart(all)
	return f.edit("move " + d.names(ids))
}

func (f *draft) partsOf(ids []model.ID) []model.Part {
	var out []model.Part
	for _, id := range ids {
		if p := f.part(id); p != nil && !slices.ContainsFunc(out, func(o model.Part) bool { return o == p }) {
			out = append(out, p)
			if len(out) > mostGuided {
				break
			}
		}
	}
	return out
}

// snapOnto gives how much further parts that are moved must go so that one of
// their free ports lies on one that faces it or on a loose end; not ok if there
// is none within the tolerance.
func (d *Drawing) snapOnto(parts []model.Part, tolerance float64) (further model.Point, ok bool) {
	best := tolerance
	for _, m := range d.mates(parts, tolerance) {
		if dist := distance(m.at, m.place); dist <= best {
			best, further, ok = dist, m.place.Sub(m.at), true
		}
	}
	return further, ok
}

// joinedAfter gives the first port that parts would be joined to if they were
// moved by a distance; nil for none.
func (d *Drawing) joinedAfter(ids []model.ID, by model.Point) *Hit {
	for _, m := range d.mates(d.displaced(ids, by), near) {
		if m.other.Part != "" {
			return &Hit{Kind: HitPort, ID: m.other.Part, Port: m.other.Port, At: m.place}
		}
	}
	return nil
}

// displaced gives copies of parts that lie elsewhere.
func (d *Drawing) displaced(ids []model.ID, by model.Point) []model.Part {
	out := d.draft().partsOf(ids)
	for i, p := range out {
		next := model.Clone(p)
		next.Meta().At = next.Meta().At.Add(by)
		out[i] = next
	}
	return out
}
