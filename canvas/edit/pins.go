package edit

import (
	"math"

	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/quantity"
)

// followPins lets the marks of reviewers follow what they are pinned to. A mark
// on a part stays on it while the part has its id, whatever kind it becomes. A
// mark on a run that is split or joined goes to the run that now passes its place
// on the drawing. A mark on what is deleted stays, with the place and the name
// that this had; undo brings both together again.
func (f *draft) followPins() {
	for _, m := range f.circuit.Marks() {
		if _, touched := f.now[m.Pin.On]; m.Pin.On == "" || !touched {
			continue
		}
		if pin := f.pinAfter(m.Pin); pin != m.Pin {
			if now, there := f.record(m.ID).(*model.Mark); there {
				next := model.Clone(now)
				next.Pin = pin
				f.put(next)
			}
		}
	}
}

// pinAfter gives where a pin on a touched record sits once the draft is done.
func (f *draft) pinAfter(pin model.Pin) model.Pin {
	was := f.circuit.Record(pin.On)
	gone := f.record(pin.On) == nil
	switch was := was.(type) {
	case model.Part:
		if gone {
			return lost(pin, was.Meta().At, f.name(was))
		}
	case *model.Run:
		if !gone && !f.runsComeOrGo() {
			return pin // moved or bent: the share of its line stays
		}
		at, ok := pointAlong(f.Line(was), float64(pin.Along.Or(0.5)))
		if !ok {
			return pin
		}
		if next, near := f.passing(pin, at); near || !gone {
			return next
		}
		return lost(pin, at, f.name(was))
	}
	return pin
}

// astray is how far in mm the line of a joined run may lie from a mark that goes
// over to it.
const astray = 4 * Grid

// passing puts a pin onto the run of the draft whose line is nearest to a place,
// the one that it is on before others. near is false if none is close by.
func (f *draft) passing(pin model.Pin, at model.Point) (next model.Pin, near bool) {
	best := math.Inf(1)
	try := func(id model.ID) {
		r := f.run(id)
		if r == nil {
			return
		}
		line := f.after().Line(r)
		if len(line) < 2 {
			return
		}
		if _, _, away := place.Nearest(line, at); away < best-1e-6 {
			best = away
			next = pin
			next.On, next.Along = id, quantity.Some(quantity.Strength(spotOn(line, at).part))
		}
	}
	next = pin
	try(pin.On)
	for _, id := range f.runs {
		try(id)
	}
	return next, best <= astray
}

// runsComeOrGo says whether the draft adds or deletes a run.
func (f *draft) runsComeOrGo() bool {
	for _, id := range f.runs {
		if (f.circuit.Run(id) == nil) != (f.run(id) == nil) {
			return true
		}
	}
	return false
}

// lost keeps the last known place of a pin.
func lost(pin model.Pin, at model.Point, was string) model.Pin {
	pin.At, pin.To, pin.Was = &at, nil, was
	return pin
}

// pointAlong gives the place at a share of a polyline's length; not ok if there
// is no line.
func pointAlong(line []model.Point, share float64) (at model.Point, ok bool) {
	if len(line) == 0 {
		return at, false
	}
	rest := share * lengthOf(line)
	for i := 1; i < len(line); i++ {
		l := distance(line[i-1], line[i])
		if rest <= l && l > 0 {
			return line[i-1].Add(scaled(line[i].Sub(line[i-1]), rest/l)), true
		}
		rest -= l
	}
	return line[len(line)-1], true
}

// PinPlace tells where a mark sits on the drawing: on its part, along its run, or
// where it was last; not ok for a mark on the circuit as a whole. For an area it
// is the middle.
func (d *Drawing) PinPlace(m *model.Mark) (at model.Point, ok bool) {
	switch r := d.circuit.Record(m.Pin.On).(type) {
	case model.Part:
		return d.Box(r).Centre(), true
	case *model.Run:
		return pointAlong(d.Line(r), float64(m.Pin.Along.Or(0.5)))
	}
	switch {
	case m.Pin.At == nil:
		return at, false
	case m.Pin.To == nil:
		return *m.Pin.At, true
	}
	return scaled(m.Pin.At.Add(*m.Pin.To), 0.5), true
}
