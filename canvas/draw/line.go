package draw

import (
	"cmp"
	"slices"

	"rinsewright/canvas/place"
	"rinsewright/model"
)

// line is a chain of runs through parts that do not branch, alike in size, medium
// and tag: it is labelled once and has its arrows in common.
type line struct {
	runs   []int // in order of the circuit
	pieces []linePiece
}

// linePiece is one straight piece of a line.
type linePiece struct {
	run, piece int
	length     float64
}

// joint tells which runs end at a part on ports of one service.
type joint struct {
	part    model.ID
	service string
}

type ending struct {
	runs  [2]int32
	count int
}

// joined joins runs that are alike to lines, in order of their first run, the
// pieces of each from the longest to the shortest.
func (d *drawing) joined(alike func(a, b *drawnRun) bool) []line {
	root := make([]int32, len(d.run))
	for i := range root {
		root[i] = int32(i)
	}
	find := func(i int32) int32 {
		for root[i] != i {
			root[i] = root[root[i]]
			i = root[i]
		}
		return i
	}
	ends := make(map[joint]ending, len(d.run))
	order := make([]joint, 0, 2*len(d.run))
	for i := range d.run {
		for _, e := range []place.End{d.run[i].from, d.run[i].to} {
			if e.Part == nil || e.Port == nil || e.Part.Class() == model.ClassVessel {
				continue
			}
			key := joint{e.Part.RecordID(), e.Port.Service}
			at := ends[key]
			if at.count < 2 {
				at.runs[at.count] = int32(i)
			}
			at.count++
			ends[key] = at
			order = append(order, key)
		}
	}
	for _, key := range order {
		at := ends[key]
		if at.count != 2 || !alike(&d.run[at.runs[0]], &d.run[at.runs[1]]) {
			continue
		}
		a, b := find(at.runs[0]), find(at.runs[1])
		root[max(a, b)] = min(a, b)
	}
	var out []line
	at := make([]int32, len(d.run)) // by first run: the line, counted from 1
	for i := range d.run {
		r := find(int32(i))
		if at[r] == 0 {
			out = append(out, line{})
			at[r] = int32(len(out))
		}
		l := &out[at[r]-1]
		l.runs = append(l.runs, i)
		points := d.run[i].line
		for j := 1; j < len(points); j++ {
			_, length := place.Longest(points[j-1 : j+1])
			l.pieces = append(l.pieces, linePiece{i, j - 1, length})
		}
	}
	for i := range out {
		slices.SortStableFunc(out[i].pieces, func(a, b linePiece) int { return cmp.Compare(b.length, a.length) })
	}
	return out
}

// sameness is what runs of one line have in common.
type sameness struct{ tag, size, letters string }

func (d *drawing) sameness(r *model.Run) sameness {
	s := sameness{tag: r.Tag, size: d.sizeText(r)}
	if d.opt.HideSizes {
		s.tag, s.size = "", ""
	}
	if d.opt.HideMedia {
		return s
	}
	if _, ok := d.pieces(r); ok {
		return s // its letters change along it
	}
	if m, ok := d.medium(r); ok {
		s.letters = Letters(m)
	}
	return s
}
