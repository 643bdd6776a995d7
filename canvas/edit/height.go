package edit

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

// standing is the share of rise to length above which a stretch stands upright:
// raising one of its ends makes it longer, not steeper.
const standing = 0.98

// sameHeight is the difference in m within which two heights are one.
const sameHeight = 1e-6

// RaiseParts raises parts by a height in m, with all that is joined to them face
// to face. The elevations of those that have one change; at gives those of the
// others where they are derived, and they are written down. A run that leaves
// what is raised for something that stays takes the difference up: its upright
// stretch next to the raised end becomes longer or shorter, or else its stretch
// there becomes steeper. A run with an unknown rise stays as it is.
func (d *Drawing) RaiseParts(ids []model.ID, by quantity.Length, at func(model.ID) quantity.Opt[quantity.Length]) (model.Edit, error) {
	if by == 0 {
		return model.Edit{}, nil
	}
	raised := d.rigid(ids)
	if len(raised) == 0 {
		return model.Edit{}, errors.New("there is no part to be raised")
	}
	f := d.draft()
	in := map[model.ID]bool{}
	known := false
	for _, id := range raised {
		in[id] = true
		next := model.Clone(d.circuit.Part(id))
		m := next.Meta()
		z := m.Elevation
		if !z.Known() && at != nil {
			z = at(id)
		}
		if h, ok := z.Get(); ok {
			known = true
			m.Elevation = quantity.Some(h + by)
		}
		f.put(next)
	}
	if !known {
		return model.Edit{}, fmt.Errorf("the height of %s is not known: enter its elevation", d.names(raised[:1]))
	}
	for _, id := range raised {
		for _, r := range d.circuit.RunsAt(id) {
			from, to := in[r.From.Part], in[r.To.Part]
			if from == to || !r.Rise().Known() {
				continue
			}
			next := model.Clone(f.run(r.ID))
			if to {
				raiseEnd(next.Stretches, len(next.Stretches)-1, -1, by)
			} else {
				raiseEnd(next.Stretches, 0, 1, -by)
			}
			f.put(next)
		}
	}
	return f.edit(raising(by) + d.names(ids)), nil
}

func raising(by quantity.Length) string {
	if by < 0 {
		return "lower "
	}
	return "raise "
}

// rigid gives parts with all that is joined to them by runs of no length, in the
// order of the ids.
func (d *Drawing) rigid(ids []model.ID) []model.ID {
	var out []model.ID
	in := map[model.ID]bool{}
	add := func(id model.ID) {
		if !in[id] && d.circuit.Part(id) != nil {
			in[id] = true
			out = append(out, id)
		}
	}
	for _, id := range ids {
		add(id)
	}
	for i := 0; i < len(out); i++ {
		for _, r := range d.circuit.RunsAt(out[i]) {
			if noLength(r) {
				for _, e := range []model.End{r.From, r.To} {
					add(e.Part)
				}
			}
		}
	}
	return out
}

// raiseEnd lets the stretches of a run rise by so much more in all. It takes the
// first upright one counted from an end, else the one at the end.
func raiseEnd(s []model.Stretch, end, step int, by quantity.Length) {
	if len(s) == 0 {
		return
	}
	take := end
	for i := end; i >= 0 && i < len(s); i += step {
		if upright(s[i]) {
			take = i
			break
		}
	}
	raiseStretch(&s[take], by)
}

func upright(s model.Stretch) bool {
	length, ok1 := s.Length.Get()
	rise, ok2 := s.Rise.Get()
	return ok1 && ok2 && length > 0 && math.Abs(float64(rise)) > standing*float64(length)
}

// raiseStretch changes the rise of a stretch. An upright one keeps standing; no
// stretch becomes shorter than it rises.
func raiseStretch(s *model.Stretch, by quantity.Length) {
	rise, _ := s.Rise.Get()
	length, known := s.Length.Get()
	was := upright(*s)
	next := rise + by
	s.Rise = quantity.Some(next)
	if !known {
		return
	}
	high := quantity.Length(math.Abs(float64(next)))
	if was {
		length += high - quantity.Length(math.Abs(float64(rise)))
	}
	s.Length = quantity.Some(max(length, high, 0))
}

// RaiseJoint raises the point behind the stretch of a number of a run (from 0)
// by a height in m. The stretches before and behind it take the difference up, so
// that the ends of the run stay where they are. It is an error at the ends of a
// run and where the rises of the two stretches are not known.
func (d *Drawing) RaiseJoint(run model.ID, stretch int, by quantity.Length) (model.Edit, error) {
	r := d.circuit.Run(run)
	switch {
	case r == nil:
		return model.Edit{}, fmt.Errorf("there is no run %s", run)
	case stretch < 0 || stretch+1 >= len(r.Stretches):
		return model.Edit{}, fmt.Errorf("%s has no point between two stretches there", d.name(r))
	case !r.Stretches[stretch].Rise.Known() || !r.Stretches[stretch+1].Rise.Known():
		return model.Edit{}, fmt.Errorf("%s: the rises of the stretches are not known", d.name(r))
	}
	if math.Abs(float64(by)) < sameHeight {
		return model.Edit{}, nil
	}
	f := d.draft()
	next := model.Clone(r)
	raiseStretch(&next.Stretches[stretch], by)
	raiseStretch(&next.Stretches[stretch+1], -by)
	f.put(next)
	return f.edit(raising(by) + "a point of " + d.name(r)), nil
}

// FallEvenly lets the stretches of runs that do not stand upright fall alike, from
// the higher end to the lower, between the same ends. Runs whose rises are not
// all known, or that have a single stretch, stay as they are.
func (d *Drawing) FallEvenly(runs []model.ID) model.Edit {
	f := d.draft()
	for _, id := range runs {
		r := d.circuit.Run(id)
		if r == nil || !r.Rise().Known() || !r.Length().Known() || len(r.Stretches) < 2 {
			continue
		}
		next := model.Clone(r)
		var length, rise quantity.Length
		for _, s := range next.Stretches {
			if !upright(s) {
				length += s.Length.Or(0)
				rise += s.Rise.Or(0)
			}
		}
		if length <= 0 || math.Abs(float64(rise)) > float64(length) {
			continue
		}
		share := rise / length
		for i, s := range next.Stretches {
			if !upright(s) {
				next.Stretches[i].Rise = quantity.Some(share * s.Length.Or(0))
			}
		}
		f.put(next)
	}
	return f.edit("let " + d.names(slices.Clone(runs)) + " fall evenly")
}
