package draw

import "rinsewright/model"

const (
	valueHeight = 2.0 // mm of capitals
	leastValued = 3.0 // mm of straight piece that has a value beside it
	valueTries  = 12  // pieces of a line that are tried, longest first
	longValued  = 60  // mm of straight piece that has the value of its line again if it stands far off
	valueApart  = 110 // mm between the values of a line
)

// values writes what runs have as their value beside them. Runs that follow one
// another and have the same have it once, and again where they are long. A value
// for which no free room is found is left out rather than written over something.
func (d *drawing) values() {
	if len(d.opt.Values) == 0 {
		return
	}
	lines := d.joined(func(a, b *drawnRun) bool { return d.opt.Values[a.run.ID] == d.opt.Values[b.run.ID] })
	for i := range lines {
		l := &lines[i]
		text := d.opt.Values[d.run[l.runs[0]].run.ID]
		if text == "" {
			continue
		}
		width := TextWidth(text, valueHeight)
		var placed []model.Point
		for j, p := range l.pieces {
			if j == valueTries || p.length < leastValued || len(placed) > 0 && p.length < longValued {
				break
			}
			// Read from farther off than sizes: they were asked for.
			t := Text{String: text, Height: valueHeight, Role: Accent, Rank: RankMachine}
			if t, covered := d.beside(p, t, width); covered == 0 && !near(placed, t.At, valueApart) {
				d.pic.Add(LayerLabel, d.run[p.run].run.ID, t)
				d.room.add(t.capitals(width))
				placed = append(placed, t.At)
			}
		}
	}
}

// Remark writes sentences beneath a picture, such as what the values beside its
// runs are. It comes before [Caption].
func Remark(p *Picture, sentences ...string) {
	s := under(p)
	for _, text := range sentences {
		s.text(text, sheetText)
		s.gap(3)
	}
}
