package edit

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// Replaceable lists the kinds that all of some parts can be replaced by, in the
// order of the catalogue, without the one that they all are; see
// [Drawing.ReplaceKinds].
func (d *Drawing) Replaceable(parts ...model.ID) []*catalogue.Kind {
	var out []*catalogue.Kind
	for _, k := range d.cat.Kinds() {
		can, same := len(parts) > 0, true
		for _, id := range parts {
			p := d.circuit.Part(id)
			if p == nil {
				return nil
			}
			if p.Meta().Kind == k.Name {
				continue
			}
			same = false
			if _, err := d.portsFor(p, k); err != nil {
				can = false
				break
			}
		}
		if can && !same {
			out = append(out, k)
		}
	}
	return out
}

// ReplaceKind makes a part one of another kind, with its tag, place and all
// properties that the new kind has too. The new kind is of the same class, or
// stands in a line, or has one port, as the old one does. Runs stay on the ports
// of the same name, or else on the port of the same place in the line; it is an
// error if a run would be left without a port.
func (d *Drawing) ReplaceKind(part model.ID, kind string) (model.Edit, error) {
	return d.ReplaceKinds([]model.ID{part}, kind)
}

// ReplaceKinds is [Drawing.ReplaceKind] for several parts: all of them, or none
// if one cannot be replaced. Parts that are of the kind already stay as they are.
func (d *Drawing) ReplaceKinds(parts []model.ID, kind string) (model.Edit, error) {
	k, err := d.kindNamed(kind)
	if err != nil {
		return model.Edit{}, err
	}
	f := d.draft()
	for _, id := range parts {
		p := d.circuit.Part(id)
		if p == nil {
			return model.Edit{}, fmt.Errorf("there is no part %s", id)
		}
		if p.Meta().Kind == k.Name {
			continue
		}
		if err := f.replace(p, k); err != nil {
			return model.Edit{}, err
		}
	}
	if len(parts) == 1 {
		return f.edit(fmt.Sprintf("make %s a %s", d.names(parts), lowerFirst(k.Title))), nil
	}
	return f.edit(fmt.Sprintf("make %s of kind %s", d.names(parts), lowerFirst(k.Title))), nil
}

func (f *draft) replace(p model.Part, k *catalogue.Kind) error {
	ports, err := f.portsFor(p, k)
	if err != nil {
		return err
	}
	next, err := f.converted(p, k)
	if err != nil {
		return err
	}
	if old := f.kindOf(p); old != nil && old.Prefix != k.Prefix && strings.HasPrefix(p.Meta().Tag, old.Prefix+"-") {
		next.Meta().Tag = f.nextTag(k.Prefix)
	}
	f.put(next)
	part := p.RecordID()
	for _, r := range f.runsAt(part) { // a run between two replaced parts has changed at one end already
		run := model.Clone(r)
		if r.From.Part == part {
			run.From.Port = ports[r.From.Port]
		}
		if r.To.Part == part {
			run.To.Port = ports[r.To.Port]
		}
		f.put(run)
	}
	f.fitSteps(part, k)
	return nil
}

// portsFor gives for each used port of a part the port of another kind that
// takes its place.
func (d *Drawing) portsFor(p model.Part, k *catalogue.Kind) (map[string]string, error) {
	old := d.kindOf(p)
	alike := p.Class() == k.Class || old != nil && (InLine(old) && InLine(k) || len(old.Ports) == 1 && len(k.Ports) == 1)
	if !alike {
		return nil, fmt.Errorf("a %s cannot stand in the place of %s", lowerFirst(k.Title), d.name(p))
	}
	out := map[string]string{}
	taken := map[string]bool{}
	var used []string
	for _, r := range d.circuit.RunsAt(p.RecordID()) {
		for _, e := range []model.End{r.From, r.To} {
			if e.Part == p.RecordID() {
				used = append(used, e.Port)
			}
		}
	}
	for _, port := range used {
		if hasPort(k, port) {
			out[port], taken[port] = port, true
		}
	}
	for _, port := range used {
		if _, ok := out[port]; ok {
			continue
		}
		other, ok := counterpart(old, k, port)
		if !ok || taken[other] {
			return nil, fmt.Errorf("a %s has no port for the run on port %s of %s", lowerFirst(k.Title), port, d.name(p))
		}
		out[port], taken[other] = other, true
	}
	return out, nil
}

// counterpart gives the port that stands in the same place in a line.
func counterpart(old, next *catalogue.Kind, port string) (string, bool) {
	if old == nil {
		return "", false
	}
	inOld, outOld, ok1 := through(old)
	inNext, outNext, ok2 := through(next)
	switch {
	case ok1 && ok2 && port == inOld.Name:
		return inNext.Name, true
	case ok1 && ok2 && port == outOld.Name:
		return outNext.Name, true
	case len(next.Ports) == 1 && len(old.Ports) == 1:
		return next.Ports[0].Name, true
	}
	return "", false
}

// converted gives a part of another kind with what the old one shares with it.
func (d *Drawing) converted(p model.Part, k *catalogue.Kind) (model.Part, error) {
	m := p.Meta()
	next, err := k.New(m.ID, m.At)
	if err != nil {
		return nil, err
	}
	start := model.Clone(next)
	from, to := reflect.ValueOf(p).Elem(), reflect.ValueOf(next).Elem()
	for i := range from.NumField() {
		field := from.Type().Field(i)
		if other, ok := to.Type().FieldByName(field.Name); ok && other.Type == field.Type && !from.Field(i).IsZero() {
			to.FieldByIndex(other.Index).Set(from.Field(i))
		}
	}
	next.Meta().Kind = k.Name
	if v, ok := next.(*model.Valve); ok {
		if normal, known := v.Normal.Get(); known && !slices.Contains(k.Positions, normal) {
			v.Normal = start.(*model.Valve).Normal
		}
	}
	return next, nil
}

// fitSteps keeps what the steps say of a replaced part only as far as its new
// kind can do it.
func (f *draft) fitSteps(part model.ID, k *catalogue.Kind) {
	for _, step := range f.circuit.Steps() {
		s, _ := f.record(step.ID).(*model.Step)
		if s == nil {
			continue
		}
		next := model.Clone(s)
		if pos, ok := s.Positions[part]; ok && !slices.Contains(k.Positions, pos) {
			delete(next.Positions, part)
			if len(next.Positions) == 0 {
				next.Positions = nil
			}
		}
		if k.Class != model.ClassPump {
			next.Running = listed(next.Running, part, false)
		}
		f.put(next)
	}
}
