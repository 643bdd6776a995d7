package edit

import (
	"errors"
	"fmt"
	"math"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

// Pose is how a part lies on the drawing.
type Pose struct {
	At       model.Point
	Turn     model.Turn
	Mirrored bool
}

// through gives the two ports by which a part of a kind stands in a line: the
// first two, in the order of the kind, that face opposite ways on one axis. ok
// is false for kinds that stand in no line.
func through(k *catalogue.Kind) (in, out catalogue.Port, ok bool) {
	switch k.Class {
	case model.ClassVessel, model.ClassSpray, model.ClassTerminal, model.ClassFrame:
		return in, out, false
	}
	item := new(model.Item)
	for i, a := range k.Ports {
		atA, wayA := a.PortAt(item)
		for _, b := range k.Ports[i+1:] {
			atB, wayB := b.PortAt(item)
			apart := atB.Sub(atA)
			if wayA != scaled(wayB, -1) || math.Abs(apart.X*wayB.Y-apart.Y*wayB.X) > near || dot(apart, wayB) <= 0 {
				continue
			}
			if a.Role == "out" || b.Role == "in" {
				a, b = b, a
			}
			return a, b, true
		}
	}
	return in, out, false
}

// InLine says whether a part of the kind can stand in a run.
func InLine(k *catalogue.Kind) bool {
	if k == nil {
		return false
	}
	_, _, ok := through(k)
	return ok
}

// fit tells how a part must lie to stand in a line at a place, with its port in
// towards the start of the line. With toward, a tee's branch points as much as
// can be to that point.
func fit(k *catalogue.Kind, line []model.Point, at model.Point, toward *model.Point) (pose Pose, in, out catalogue.Port, s spot, err error) {
	in, out, ok := through(k)
	if !ok {
		return pose, in, out, s, fmt.Errorf("a %s cannot stand in a run", lowerFirst(k.Title))
	}
	if len(line) < 2 {
		return pose, in, out, s, errors.New("the run has no line on the drawing")
	}
	s = spotOn(line, Snapped(at))
	a, b := line[s.piece], line[s.piece+1]
	way := direction(a, b)
	best := math.Inf(-1)
	for _, swapped := range []bool{false, true} {
		if swapped && !eitherWay(k, in, out) {
			continue
		}
		i, o := in, out
		if swapped {
			i, o = out, in
		}
		for _, mirrored := range []bool{false, true} {
			for turn := model.Turn(0); turn < 4; turn++ {
				lie := Pose{Turn: turn, Mirrored: mirrored}
				_, faces := o.PortAt(&model.Item{Turn: turn, Mirrored: mirrored})
				if faces != way {
					continue
				}
				if score := lie.score(k, i, o, s.at, toward); score > best+near {
					best = score
					pose, in, out = lie, i, o
				}
			}
		}
	}
	pose.At = pose.centred(in, out, a, b, s.at)
	return pose, in, out, s, nil
}

// eitherWay says whether liquid may as well pass a part the other way: not where
// its ports differ, as those of a reducer or a divert valve do.
func eitherWay(k *catalogue.Kind, in, out catalogue.Port) bool {
	return in.Role == "any" && out.Role == "any" && in.Size == out.Size && healable(k)
}

// score rates a pose: towards the wanted side first, then plain, then upright.
func (p Pose) score(k *catalogue.Kind, in, out catalogue.Port, at model.Point, toward *model.Point) float64 {
	score := 0.0
	if toward != nil {
		for _, port := range k.Ports {
			if port.Name == in.Name || port.Name == out.Name {
				continue
			}
			_, faces := port.PortAt(&model.Item{Turn: p.Turn, Mirrored: p.Mirrored})
			score += 10 * sign(dot(faces, toward.Sub(at)))
			break
		}
	}
	if p.Mirrored {
		score -= 0.5
	}
	if in.At[0] > out.At[0] {
		score -= 0.25
	}
	// What stands up on a symbol (an actuator, a balloon) stays up or points left.
	up := model.Turned(model.Point{Y: -1}, p.Turn, p.Mirrored)
	if up.Y > 0 || up.X > 0 {
		score -= 2
	}
	return score
}

func sign(v float64) float64 {
	switch {
	case v > near:
		return 1
	case v < -near:
		return -1
	}
	return 0
}

// direction gives the unit vector of a level or upright piece from a to b; to
// the right for a piece of no length.
func direction(a, b model.Point) model.Point {
	d := b.Sub(a)
	switch {
	case math.Abs(d.X) >= math.Abs(d.Y) && d.X < 0:
		return model.Point{X: -1}
	case math.Abs(d.Y) > math.Abs(d.X):
		return model.Point{Y: math.Copysign(1, d.Y)}
	}
	return model.Point{X: 1}
}

// centred gives where the reference point of a part must be so that its two
// ports lie on the piece from a to b, as near to at as the piece allows.
func (p Pose) centred(in, out catalogue.Port, a, b, at model.Point) model.Point {
	item := &model.Item{Turn: p.Turn, Mirrored: p.Mirrored}
	atIn, way := in.PortAt(item)
	atOut, _ := out.PortAt(item)
	way = scaled(way, -1) // along the line
	// In distances along the piece, the reference point must be between low and high.
	low, high := -dot(atIn, way), distance(a, b)-dot(atOut, way)
	along := dot(at.Sub(a), way)
	if low <= high {
		along = min(max(along, low), high)
	} else {
		along = (low + high) / 2
	}
	across := atIn.Sub(scaled(way, dot(atIn, way)))
	return a.Add(scaled(way, along)).Sub(across)
}

// withSize gives the part with the tube size of a port set; the part itself if
// the size is unknown or the port has none.
func withSize(p model.Part, port catalogue.Port, size quantity.Opt[model.TubeSize]) model.Part {
	v, known := size.Get()
	prop, ok := model.FindProperty(p, port.Size)
	if !known || port.Size == "" || !ok {
		return p
	}
	r, err := prop.WithText(p, string(v), quantity.Metric)
	if err != nil {
		return p // not a size: the catalogue refuses such a kind
	}
	return r.(model.Part)
}

// sizeOf gives the tube size of a part's port.
func sizeOf(p model.Part, port catalogue.Port) quantity.Opt[model.TubeSize] {
	if size, ok := port.SizeOf(p); ok && size != "" {
		return quantity.Some(size)
	}
	return quantity.Opt[model.TubeSize]{}
}

// height gives the elevation of one end of a run; unknown for a loose end.
func (f *draft) height(e model.End) quantity.Opt[quantity.Length] {
	p := f.part(e.Part)
	if p == nil {
		return quantity.Opt[quantity.Length]{}
	}
	k := f.kindOf(p)
	if k == nil {
		return quantity.Opt[quantity.Length]{}
	}
	port, ok := k.Port(e.Port)
	if !ok {
		return quantity.Opt[quantity.Length]{}
	}
	return added(p.Meta().Elevation, port.Height.Of(p), 1)
}

// added gives a + sign·b, unknown if either is.
func added(a, b quantity.Opt[quantity.Length], sign quantity.Length) quantity.Opt[quantity.Length] {
	x, okx := a.Get()
	y, oky := b.Get()
	if !okx || !oky {
		return quantity.Opt[quantity.Length]{}
	}
	return quantity.Some(x + sign*y)
}

// insert puts a new part of a kind into a run: the run is split in two at the
// place nearest to at. The first piece keeps the run's id. It gives the part.
func (f *draft) insert(k *catalogue.Kind, tag string, run *model.Run, at model.Point, toward *model.Point) (model.Part, *model.Run, error) {
	line := f.after().Line(run)
	pose, in, out, s, err := fit(k, line, at, toward)
	if err != nil {
		return nil, nil, err
	}
	p, err := k.New(f.newID("p"), pose.At)
	if err != nil {
		return nil, nil, err
	}
	p = withSize(p, in, run.Size)
	if !k.Has(catalogue.TraitReducer) {
		p = withSize(p, out, run.Size)
	}
	m := p.Meta()
	m.Tag, m.Turn, m.Mirrored = tag, pose.Turn, pose.Mirrored

	first, second := model.Clone(run), model.Clone(run)
	second.ID, second.Tag = f.newID("r"), ""
	first.To = model.End{Part: m.ID, Port: in.Name}
	second.From = model.End{Part: m.ID, Port: out.Name}
	n := bendsBefore(line, run.Bends, s)
	first.Bends, second.Bends = cutBends(run.Bends, n, s.at)
	first.Stretches, second.Stretches = splitStretches(run.Stretches, s.part)
	first.Elbows, second.Elbows = splitElbows(run, line, s)
	m.Elevation = f.elevationIn(p, in, out, run, first, second, s.part)

	f.put(p)
	f.put(first)
	f.put(second)
	inAt, _ := in.PortAt(m)
	outAt, _ := out.PortAt(m)
	if place := spotOn(line, inAt); samePlace(place.at, inAt) {
		f.keepLine(first.ID, append(append([]model.Point(nil), line[:place.piece+1]...), inAt))
	}
	if place := spotOn(line, outAt); samePlace(place.at, outAt) {
		f.keepLine(second.ID, append([]model.Point{outAt}, line[place.piece+1:]...))
	}
	return p, f.run(second.ID), nil
}

// cutBends shares the bends out at n; one that lies where the part comes goes.
func cutBends(bends []model.Point, n int, at model.Point) (first, second []model.Point) {
	for i, b := range bends {
		switch {
		case samePlace(b, at):
		case i < n:
			first = append(first, b)
		default:
			second = append(second, b)
		}
	}
	return first, second
}

// elevationIn gives the elevation that a part gets in a run, from the height of
// an end and the rises up to the part; unknown if neither end tells it. A run
// without stretches is one straight stretch between its ends.
func (f *draft) elevationIn(p model.Part, in, out catalogue.Port, run, first, second *model.Run, share float64) quantity.Opt[quantity.Length] {
	from, to := f.height(run.From), f.height(run.To)
	if e := added(added(from, first.Rise(), 1), in.Height.Of(p), -1); e.Known() {
		return e
	}
	if e := added(added(to, second.Rise(), -1), out.Height.Of(p), -1); e.Known() {
		return e
	}
	a, oka := from.Get()
	b, okb := to.Get()
	if len(run.Stretches) == 0 && oka && okb {
		return added(quantity.Some(a+(b-a)*quantity.Length(share)), in.Height.Of(p), -1)
	}
	return p.Meta().Elevation
}

// keepLine sees to it that a run of the draft follows a line on the drawing,
// with no more bends than it needs for that.
func (f *draft) keepLine(run model.ID, line []model.Point) {
	r := f.run(run)
	if !rightAngled(line) || sameLine(f.after().Line(r), line) {
		return
	}
	next := model.Clone(r)
	next.Bends = nil
	if !sameLine(f.after().Line(next), line) {
		next.Bends = corners(line)
	}
	f.put(next)
}
