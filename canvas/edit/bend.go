package edit

import (
	"fmt"
	"math"
	"slices"

	"rinsewright/model"
)

func (d *Drawing) bendable(run model.ID, bend int) (*model.Run, error) {
	r := d.circuit.Run(run)
	if r == nil {
		return nil, fmt.Errorf("there is no run %s", run)
	}
	if bend < 0 || bend > len(r.Bends) {
		return nil, fmt.Errorf("%s has no bend %d", d.name(r), bend+1)
	}
	return model.Clone(r), nil
}

// MoveBend moves a bend of a run, counted from 0, to a place.
func (d *Drawing) MoveBend(run model.ID, bend int, to model.Point) (model.Edit, error) {
	next, err := d.bendable(run, bend)
	if err != nil {
		return model.Edit{}, err
	}
	if bend == len(next.Bends) {
		return model.Edit{}, fmt.Errorf("%s has no bend %d", d.name(next), bend+1)
	}
	next.Bends[bend] = to
	return d.replacing(next, "move a bend of "+d.name(next)), nil
}

// AddBend makes a run bend at a place, between the bends that its line passes
// before and after the point nearest to it.
func (d *Drawing) AddBend(run model.ID, at model.Point) (model.Edit, error) {
	next, err := d.bendable(run, 0)
	if err != nil {
		return model.Edit{}, err
	}
	line := d.Line(d.circuit.Run(run))
	if len(line) == 0 {
		return model.Edit{}, fmt.Errorf("%s has no line on the drawing", d.name(next))
	}
	n := bendsBefore(line, next.Bends, spotOn(line, at))
	next.Bends = slices.Insert(next.Bends, n, at)
	return d.replacing(next, "bend "+d.name(next)), nil
}

// RemoveBend takes a bend off a run, counted from 0.
func (d *Drawing) RemoveBend(run model.ID, bend int) (model.Edit, error) {
	next, err := d.bendable(run, bend)
	if err != nil {
		return model.Edit{}, err
	}
	if bend == len(next.Bends) {
		return model.Edit{}, fmt.Errorf("%s has no bend %d", d.name(next), bend+1)
	}
	next.Bends = slices.Delete(next.Bends, bend, bend+1)
	if len(next.Bends) == 0 {
		next.Bends = nil
	}
	return d.replacing(next, "take a bend off "+d.name(next)), nil
}

// Straighten takes all bends off runs, so that they find their own way.
func (d *Drawing) Straighten(ids []model.ID) model.Edit {
	f := d.draft()
	for _, id := range ids {
		if r := d.circuit.Run(id); r != nil && len(r.Bends) > 0 {
			next := model.Clone(r)
			next.Bends = nil
			f.put(next)
		}
	}
	return f.edit("straighten " + d.names(ids))
}

// lead is how far in mm a run goes straight on from a port before it is slid
// aside.
const lead = 5.0

// SlidePiece moves one straight piece of a run's line (0 for the first) sideways
// by the part of by that is square to it. A piece at a port keeps a short lead
// there; a loose end moves along.
func (d *Drawing) SlidePiece(run model.ID, piece int, by model.Point) (model.Edit, error) {
	next, err := d.bendable(run, 0)
	if err != nil {
		return model.Edit{}, err
	}
	line := slices.Clone(d.Line(d.circuit.Run(run)))
	if piece < 0 || piece+1 >= len(line) {
		return model.Edit{}, fmt.Errorf("%s has no piece %d", d.name(next), piece+1)
	}
	a, b := line[piece], line[piece+1]
	way := direction(a, b)
	by = by.Sub(scaled(way, dot(by, way)))
	if math.Abs(by.X)+math.Abs(by.Y) < near {
		return model.Edit{}, nil
	}
	short := min(lead, distance(a, b)/3)
	var start, end []model.Point
	switch {
	case piece > 0:
		start = line[:piece]
	case next.From.Loose():
		next.From.At = pointTo(a.Add(by))
	default:
		start = []model.Point{a, a.Add(scaled(way, short))}
		a = start[1]
	}
	switch {
	case piece+2 < len(line):
		end = line[piece+2:]
	case next.To.Loose():
		next.To.At = pointTo(b.Add(by))
	default:
		end = []model.Point{b.Sub(scaled(way, short)), b}
		b = end[0]
	}
	moved := append(append(slices.Clone(start), a.Add(by), b.Add(by)), end...)
	next.Bends = corners(tidied(moved))
	f := d.draft()
	f.put(next)
	f.dropUselessBends(run)
	return f.edit("move a piece of " + d.name(next)), nil
}

func pointTo(p model.Point) *model.Point { return &p }

// tidied takes out of a line the pieces of no length.
func tidied(line []model.Point) []model.Point {
	out := line[:0:0]
	for _, p := range line {
		if len(out) == 0 || !samePlace(out[len(out)-1], p) {
			out = append(out, p)
		}
	}
	return out
}

func (d *Drawing) replacing(next model.Record, label string) model.Edit {
	f := d.draft()
	f.put(next)
	return f.edit(label)
}
