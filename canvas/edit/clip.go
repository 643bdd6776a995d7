package edit

import (
	"rinsewright/canvas/place"
	"rinsewright/model"
)

// Clip is what was copied: parts, and the runs that lie wholly among them. It
// shares nothing with a circuit that could change and fits into any document.
type Clip struct {
	parts []model.Part
	runs  []*model.Run
}

// Empty says whether there is nothing in it.
func (c Clip) Empty() bool { return len(c.parts)+len(c.runs) == 0 }

// Copy takes a copy of parts and of the runs among them: those of the ids that
// end on no other part, and those with both ends on the parts.
func (d *Drawing) Copy(ids []model.ID) Clip {
	chosen := map[model.ID]bool{}
	for _, id := range ids {
		chosen[id] = true
	}
	var clip Clip
	for _, p := range d.circuit.Parts() {
		if chosen[p.RecordID()] {
			clip.parts = append(clip.parts, p)
		}
	}
	for _, r := range d.circuit.Runs() {
		goes := func(e model.End) bool { return e.Loose() || chosen[e.Part] }
		whole := chosen[r.From.Part] || chosen[r.To.Part] || chosen[r.ID]
		if goes(r.From) && goes(r.To) && whole {
			clip.runs = append(clip.runs, r)
		}
	}
	return clip
}

// clipBounds gives the smallest rectangle around the parts and loose points of a
// clip.
func (d *Drawing) clipBounds(c Clip) place.Rect {
	var all place.Rect
	for _, p := range c.parts {
		all = all.Union(d.Box(p))
	}
	var points []model.Point
	for _, r := range c.runs {
		points = append(points, r.Bends...)
		for _, e := range []model.End{r.From, r.To} {
			if e.Loose() && e.At != nil {
				points = append(points, *e.At)
			}
		}
	}
	return all.Union(place.Around(points))
}

// Paste adds a copy of a clip, moved by a distance. Its records get new ids, and
// tags that are taken the next free ones.
func (d *Drawing) Paste(c Clip, by model.Point) model.Edit {
	return d.paste(c, by, "paste ")
}

// PasteAt adds a copy of a clip with its middle at a place, on the grid.
func (d *Drawing) PasteAt(c Clip, at model.Point) model.Edit {
	return d.Paste(c, Snapped(at.Sub(d.clipBounds(c).Centre())))
}

// Duplicate adds copies of parts and the runs among them, moved by a distance.
func (d *Drawing) Duplicate(ids []model.ID, by model.Point) model.Edit {
	return d.paste(d.Copy(ids), by, "duplicate ")
}

func (d *Drawing) paste(c Clip, by model.Point, verb string) model.Edit {
	f := d.draft()
	f.pasteInto(c, by)
	if n := len(c.parts); n != 1 {
		what := counted(n, "part")
		if n == 0 {
			what = counted(len(c.runs), "run")
		}
		return f.edit(verb + what)
	}
	return f.edit(verb + d.name(c.parts[0]))
}

// pasteInto adds a copy of a clip to a draft and gives the new ids by the old ones
// of the parts.
func (f *draft) pasteInto(c Clip, by model.Point) map[model.ID]model.ID {
	ids := map[model.ID]model.ID{}
	for _, p := range c.parts {
		next := model.Clone(p)
		m := next.Meta()
		m.ID = f.newID("p")
		ids[p.RecordID()] = m.ID
		m.At = m.At.Add(by)
		m.Tag = f.freeTag(m.Tag)
		f.put(next)
	}
	for _, r := range c.runs {
		next := model.Clone(r)
		next.ID = f.newID("r")
		next.Tag = f.freeTag(next.Tag)
		for i, b := range next.Bends {
			next.Bends[i] = b.Add(by)
		}
		next.From, next.To = pastedEnd(r.From, ids, by), pastedEnd(r.To, ids, by)
		f.put(next)
	}
	return ids
}

func pastedEnd(e model.End, ids map[model.ID]model.ID, by model.Point) model.End {
	if e.Loose() {
		return shiftedEnd(e, func(p model.Point) model.Point { return p.Add(by) })
	}
	e.Part = ids[e.Part]
	return e
}
