package edit

import (
	"rinsewright/model"
	"rinsewright/model/group"
	"rinsewright/model/quantity"
)

// clipOf gives a group as something to paste.
func clipOf(g *group.Group) Clip { return Clip{parts: g.Circuit.Parts(), runs: g.Circuit.Runs()} }

// GroupSize gives how wide and how high a group is on the drawing.
func (d *Drawing) GroupSize(g *group.Group) (wide, high float64) {
	b := d.clipBounds(clipOf(g))
	return b.Max.X - b.Min.X, b.Max.Y - b.Min.Y
}

// groupShift gives how far a group must go to have its middle at a place, on the
// grid.
func (d *Drawing) groupShift(g *group.Group, at model.Point) model.Point {
	return Snapped(at.Sub(d.clipBounds(clipOf(g)).Centre()))
}

// PlaceGroup adds a group with its middle at a place. Its records get new ids, and
// tags that are taken the next free ones. Free ends that lie on free ports or loose
// ends are joined to them; the whole group is then raised or lowered so that the
// first of them meets its port at the same height.
func (d *Drawing) PlaceGroup(g *group.Group, at model.Point) model.Edit {
	return d.placeGroup(g, d.groupShift(g, at))
}

func (d *Drawing) placeGroup(g *group.Group, by model.Point) model.Edit {
	f := d.draft()
	ids := f.pasteInto(clipOf(g), by)
	var ends []model.Part
	for _, id := range partsWithEnds(g) {
		ends = append(ends, f.part(ids[id]))
	}
	f.levelGroup(ends, ids)
	for i := range ends {
		ends[i] = f.part(ends[i].RecordID())
	}
	f.join(ends)
	return f.edit("place " + lowerFirst(g.Title))
}

// partsWithEnds gives the parts that the free ends of a group are on, each once.
func partsWithEnds(g *group.Group) []model.ID {
	var out []model.ID
	seen := map[model.ID]bool{}
	for _, e := range g.Free {
		if !seen[e.Part] {
			seen[e.Part] = true
			out = append(out, e.Part)
		}
	}
	return out
}

// levelGroup raises or lowers all that was placed so that the first port that
// meets another has its height. Nothing happens where a height is not known.
func (f *draft) levelGroup(ends []model.Part, ids map[model.ID]model.ID) {
	for _, m := range f.mates(ends, near) {
		if m.other.Part == "" {
			continue
		}
		there := f.height(model.End{Part: m.other.Part, Port: m.other.Port})
		here := f.height(model.End{Part: m.part, Port: m.port.Name})
		rise, known := added(there, here, -1).Get()
		if !known || rise == 0 {
			continue
		}
		for _, id := range f.order {
			p := f.part(id)
			if p == nil || f.circuit.Record(id) != nil || !p.Meta().Elevation.Known() {
				continue
			}
			next := model.Clone(p)
			next.Meta().Elevation = quantity.Some(p.Meta().Elevation.Or(0) + rise)
			f.put(next)
		}
		return
	}
}

// snapGroup gives where a group comes to lie that is held with its middle at a place:
// with a free end on a port or loose end near by, else on the grid.
func (d *Drawing) snapGroup(e *Editor, ev Event, g *group.Group) model.Point {
	by := e.snapped(ev, ev.At.Sub(d.clipBounds(clipOf(g)).Centre()))
	if ev.Modifiers.Alt {
		return by
	}
	var ends []model.Part
	for _, id := range partsWithEnds(g) {
		p := model.Clone(g.Circuit.Part(id))
		m := p.Meta()
		m.ID, m.At = ghostID+m.ID, m.At.Add(by)
		ends = append(ends, p)
	}
	if further, ok := d.snapOnto(ends, ev.Tolerance); ok {
		return by.Add(further)
	}
	return by
}

// UsePlaceGroup takes up the place tool with a group: the next click places it.
func (e *Editor) UsePlaceGroup(g *group.Group) { e.use(placeIdle{ghost: ghost{group: g}}) }

// DragPlaceGroup is [Editor.DragPlace] with a group.
func (e *Editor) DragPlaceGroup(g *group.Group) {
	e.use(placeDragging{ghost: ghost{group: g}, drag: true})
}

// GroupOf makes a group of what is selected: its parts and the runs among them.
func (d *Drawing) GroupOf(title string, ids []model.ID) (*group.Group, error) {
	chosen := d.Copy(ids)
	runs := chosen.runs
	among := map[model.ID]bool{}
	for _, r := range runs {
		among[r.ID] = true
	}
	for _, p := range chosen.parts {
		for _, r := range d.circuit.RunsAt(p.RecordID()) {
			if !among[r.ID] {
				among[r.ID] = true
				runs = append(runs, r) // it leads out: its port becomes a free end
			}
		}
	}
	return group.Of(title, chosen.parts, runs, d.cat)
}
