package edit

import (
	"errors"
	"fmt"
	"slices"

	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

// Joint is where a run begins or ends: on a port (Part and Port), on another run
// (Run: a tee comes at the place of its line nearest to At, or, where its loose
// end is, the two runs become one), or loose at At.
type Joint struct {
	Part model.ID
	Port string
	Run  model.ID
	At   model.Point
}

// OnPort is the joint at a port of a part.
func OnPort(part model.ID, port string) Joint { return Joint{Part: part, Port: port} }

// OnRun is the joint at a place of another run.
func OnRun(run model.ID, at model.Point) Joint { return Joint{Run: run, At: at} }

// LooseAt is a loose end.
func LooseAt(at model.Point) Joint { return Joint{At: at} }

// ErrPortTaken says that a port has its run already.
var ErrPortTaken = errors.New("already has a run")

// end gives the end of a run that a joint stands for while it is being drawn:
// on another run it hangs loose.
func (j Joint) end() model.End {
	if j.Part != "" {
		return model.End{Part: j.Part, Port: j.Port}
	}
	at := j.At
	return model.End{At: &at}
}

// Connect draws a run from one joint to another over bends, and makes the tees
// that it needs. Its size is that of the port it begins on, or else of the port
// or the run at its other end, or unknown. A run drawn from an inlet to an
// outlet is turned round, so that it goes the way of the liquid.
func (d *Drawing) Connect(from, to Joint, bends []model.Point) (model.Edit, error) {
	f := d.draft()
	r := &model.Run{ID: f.newID("r"), Bends: slices.Clone(bends)}
	if err := f.connect(r, from, to); err != nil {
		return model.Edit{}, err
	}
	return f.edit(f.connectLabel(from, to)), nil
}

func (f *draft) connectLabel(from, to Joint) string {
	name := func(j Joint) string {
		if id := j.Part + j.Run; id != "" {
			return f.name(f.circuit.Record(id))
		}
		return ""
	}
	a, b := name(from), name(to)
	switch {
	case a != "" && b != "":
		return "connect " + a + " to " + b
	case a+b != "":
		return "draw a run at " + a + b
	}
	return "draw a run"
}

// connect resolves the joints of a new run and puts it.
func (f *draft) connect(r *model.Run, from, to Joint) error {
	if from == to || from.Run == "" && to.Run == "" && from.Part == "" && to.Part == "" && len(r.Bends) == 0 && samePlace(from.At, to.At) {
		return errors.New("a run needs two different ends")
	}
	if from.Run != "" && from.Run == to.Run && distance(from.At, to.At) < leastBypass {
		return errors.New("the two ends lie too close together on one run")
	}
	// The branch of a tee points to where its run goes on.
	firstStop, lastStop := f.placeOf(to), f.placeOf(from)
	if len(r.Bends) > 0 {
		firstStop, lastStop = r.Bends[0], r.Bends[len(r.Bends)-1]
	}
	a, sizeA, extendA, err := f.resolve(from, firstStop)
	if err != nil {
		return err
	}
	b, sizeB, extendB, err := f.resolve(f.moved(to), lastStop)
	if err != nil {
		return err
	}
	if extendA != "" && extendA == extendB {
		return errors.New("a run cannot be joined to itself")
	}
	if why := f.Misfit(a, b); why != "" {
		return errors.New(why)
	}
	r.From, r.To = a, b
	if !r.Size.Known() {
		r.Size = sizeA
	}
	if !r.Size.Known() {
		r.Size = sizeB
	}
	if f.role(r.From) == "in" && f.role(r.To) != "in" || f.role(r.To) == "out" && f.role(r.From) != "out" {
		r = reversed(r)
		extendA, extendB = extendB, extendA
	}
	f.put(r)
	f.sizeBranch(r.From, r.Size)
	f.sizeBranch(r.To, r.Size)
	if extendA != "" {
		if r, err = f.joinLoose(extendA, r, true); err != nil {
			return err
		}
	}
	if extendB != "" {
		if _, err = f.joinLoose(extendB, r, false); err != nil {
			return err
		}
	}
	return nil
}

// leastBypass is how far apart in mm two tees must be that one run joins.
const leastBypass = 10

// placeOf gives where a joint lies.
func (f *draft) placeOf(j Joint) model.Point {
	if j.Part == "" {
		return j.At
	}
	e, _ := place.EndOf(f.circuit, f.cat, j.end())
	return e.At
}

// role gives in, out or any for an end of a run; any for what is not a port.
func (f *draft) role(e model.End) string {
	if p := f.part(e.Part); p != nil {
		if k := f.kindOf(p); k != nil {
			if port, ok := k.Port(e.Port); ok {
				return port.Role
			}
		}
	}
	return "any"
}

// moved gives the joint as it is after the other end has split the same run.
func (f *draft) moved(j Joint) Joint {
	old := f.circuit.Run(j.Run)
	if j.Run == "" || old == nil || f.run(j.Run) == old {
		return j
	}
	best := f.distanceTo(f.run(j.Run), j.At)
	for _, id := range f.order {
		r := f.run(id)
		if r == nil || f.circuit.Record(id) != nil {
			continue
		}
		if d := f.distanceTo(r, j.At); d < best-near {
			best, j.Run = d, id
		}
	}
	return j
}

func (f *draft) distanceTo(r *model.Run, at model.Point) float64 {
	_, _, dist := place.Nearest(f.after().Line(r), at)
	return dist
}

// resolve gives the end of a run for a joint, making a tee if it is on a run.
// It tells the size there, and the run to extend if it is at a loose end.
func (f *draft) resolve(j Joint, toward model.Point) (e model.End, size quantity.Opt[model.TubeSize], extend model.ID, err error) {
	switch {
	case j.Part != "":
		size, err = f.checkPort(j)
		return j.end(), size, "", err
	case j.Run == "":
		return j.end(), size, "", nil
	}
	r := f.run(j.Run)
	if r == nil {
		return e, size, "", fmt.Errorf("there is no run %s", j.Run)
	}
	for _, end := range []model.End{r.From, r.To} {
		if end.Loose() && end.At != nil && samePlace(*end.At, j.At) {
			return LooseAt(j.At).end(), r.Size, r.ID, nil
		}
	}
	tee, err := f.teeKind()
	if err != nil {
		return e, size, "", err
	}
	p, _, err := f.insert(tee, f.nextTag(tee.Prefix), r, j.At, &toward)
	if err != nil {
		return e, size, "", err
	}
	branch, err := branchOf(tee)
	return model.End{Part: p.RecordID(), Port: branch.Name}, r.Size, "", err
}

// checkPort refuses a port that is not there or has its run, and gives its size.
func (f *draft) checkPort(j Joint) (size quantity.Opt[model.TubeSize], err error) {
	p := f.part(j.Part)
	if p == nil {
		return size, fmt.Errorf("there is no part %s", j.Part)
	}
	k := f.kindOf(p)
	if k == nil {
		return size, fmt.Errorf("%s is of a kind that the catalogue does not have", f.name(p))
	}
	port, ok := k.Port(j.Port)
	if !ok {
		return size, fmt.Errorf("%s has no port %s", f.name(p), j.Port)
	}
	if f.portTaken(j.Part, j.Port) {
		return size, fmt.Errorf("port %s of %s %w", PortTitle(port), f.name(p), ErrPortTaken)
	}
	return sizeOf(p, port), nil
}

// PortTitle gives what a port is called.
func PortTitle(p catalogue.Port) string {
	if p.Title != "" {
		return p.Title
	}
	return p.Name
}

// teeKind gives the kind that is put where a run ends on another.
func (d *Drawing) teeKind() (*catalogue.Kind, error) {
	if k := d.cat.Kind("tee"); k != nil && InLine(k) {
		return k, nil
	}
	for _, k := range d.cat.Kinds() {
		if k.Has(catalogue.TraitTee) && InLine(k) {
			return k, nil
		}
	}
	return nil, errors.New("the catalogue has no tee")
}

// sizeBranch gives the branch of a tee that this edit makes the size of the run
// on it.
func (f *draft) sizeBranch(e model.End, size quantity.Opt[model.TubeSize]) {
	p := f.part(e.Part)
	if p == nil || f.circuit.Record(e.Part) != nil {
		return
	}
	if port, ok := f.kindOf(p).Port(e.Port); ok {
		f.put(withSize(p, port, size))
	}
}

// joinLoose joins run r to the loose end of another run at the same place.
// atFrom tells which end of r it is. It gives the joined run, which keeps the
// other's id.
func (f *draft) joinLoose(other model.ID, r *model.Run, atFrom bool) (*model.Run, error) {
	o := f.run(other)
	at := r.To.At
	if atFrom {
		at = r.From.At
	}
	oFrom := o.From.Loose() && o.From.At != nil && samePlace(*o.From.At, *at)
	if o.Size.Known() && r.Size.Known() && o.Size != r.Size {
		return nil, fmt.Errorf("%s is %s and %s is %s: a reducer belongs between them", f.name(o), o.Size.Or(""), f.name(r), r.Size.Or(""))
	}
	// Bring both into line so that the first ends where the second begins.
	first, second := o, r
	if !atFrom {
		first, second = r, o
	}
	if atFrom == oFrom {
		o = reversed(o)
		if atFrom {
			first = o
		} else {
			second = o
		}
	}
	joined := f.joined(first, second, o)
	joined.Bends = append(append(slices.Clone(first.Bends), *at), second.Bends...)
	f.remove(r.ID)
	f.put(joined)
	f.dropUselessBends(joined.ID)
	return f.run(joined.ID), nil
}

// joined gives one run for two of which the first ends where the second begins.
// It keeps the id, tag, note and medium of keep.
func (f *draft) joined(first, second, keep *model.Run) *model.Run {
	out := model.Clone(keep)
	if !out.Size.Known() {
		out.Size = first.Size
	}
	if !out.Size.Known() {
		out.Size = second.Size
	}
	out.From, out.To = first.From, second.To
	out.Bends = append(slices.Clone(first.Bends), second.Bends...)
	out.Stretches = joinStretches(first.Stretches, second.Stretches)
	out.Elbows = addedElbows(first.Elbows, second.Elbows)
	return out
}

// dropUselessBends takes the bends off a run that its line follows without.
func (f *draft) dropUselessBends(run model.ID) {
	r := f.run(run)
	if len(r.Bends) == 0 {
		return
	}
	plain := model.Clone(r)
	plain.Bends = nil
	if sameLine(f.after().Line(plain), f.after().Line(r)) {
		f.put(plain)
	}
}

// Reconnect takes one end of a run (its From if from is true) to another joint.
func (d *Drawing) Reconnect(run model.ID, from bool, to Joint) (model.Edit, error) {
	r := d.circuit.Run(run)
	if r == nil {
		return model.Edit{}, fmt.Errorf("there is no run %s", run)
	}
	if to.Run == run {
		return model.Edit{}, errors.New("a run cannot be joined to itself")
	}
	end, other := r.To, r.From
	if from {
		end, other = r.From, r.To
	}
	if to.Part != "" && to.end() == end {
		return model.Edit{}, nil
	}
	f := d.draft()
	toward := to.At
	if e, ok := place.EndOf(d.circuit, d.cat, other); ok {
		toward = e.At
	}
	e, size, extend, err := f.resolve(to, toward)
	if err != nil {
		return model.Edit{}, err
	}
	if why := d.Misfit(other, e); why != "" {
		return model.Edit{}, errors.New(why)
	}
	next := model.Clone(r)
	if from {
		next.From = e
	} else {
		next.To = e
	}
	if !next.Size.Known() {
		next.Size = size
	}
	f.put(next)
	f.sizeBranch(e, next.Size)
	if extend != "" {
		if _, err := f.joinLoose(extend, next, from); err != nil {
			return model.Edit{}, err
		}
	}
	if to.Part == "" && to.Run == "" {
		return f.edit("move the end of " + d.name(r)), nil
	}
	return f.edit("reconnect " + d.name(r)), nil
}
