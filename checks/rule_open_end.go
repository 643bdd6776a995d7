package checks

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

var ruleOpenEnd = &Rule{
	Name: "open-end",
	Doc: Doc{
		Title:    "Open end",
		Why:      "An end with nothing on it leaks, or is a dead leg that nobody has drawn yet.",
		How:      "Every port that its kind requires carries a run, and every run ends on a port that is there. A part that no run joins to anything is told by not-connected.",
		Blind:    "Ports that may stay free, such as spare nozzles of a tank.",
		Remedy:   "Lead the run to a port, or close the end with a cap.",
		Cites:    []Citation{commonPractice},
		Severity: Fix,
	},
	Run: runOpenEnd,
}

func runOpenEnd(p *Pass) {
	for _, run := range p.Circuit.Runs() {
		for _, end := range [2]model.End{run.From, run.To} {
			part := p.Circuit.Part(end.Part)
			kind := p.Kind(part)
			switch {
			case end.Loose():
				p.Report(Finding{At: model.PlaceOf(run.ID), Message: Say("%v has an end on nothing", p.Name(run.ID)), Fixes: p.capRun(run)})
			case part == nil:
				p.Report(Finding{At: model.PlaceOf(run.ID), Message: Say("%v ends on part %v, which is not in the circuit", p.Name(run.ID), end.Part)})
			case kind != nil && !hasPort(kind, end.Port):
				p.Report(Finding{At: model.PlaceOf(run.ID), Message: Say("%v ends on port %q of %v, which has no such port", p.Name(run.ID), end.Port, p.Name(end.Part))})
			}
		}
	}
	ends, plant := rollOf.Of(p.Snapshot).ends, p.Plant()
	for i, part := range p.Circuit.Parts() {
		kind := p.Kind(part)
		if kind == nil {
			p.NotAssessed(model.PlaceOf(part.RecordID()), missingKey(part, "kind"))
			continue
		}
		first := plant.FirstNode(i)
		for k, port := range kind.Ports {
			if port.Required && !(kind.Class == part.Class() && ends[first+k] > 0) && !p.loose(part.RecordID()) {
				at := model.PlaceOfPort(part.RecordID(), port.Name)
				p.Report(Finding{At: at, Message: Say("nothing is joined to %v", p.Where(at)), Fixes: p.capPort(part, kind, port)})
			}
		}
	}
}

func hasPort(k *catalogue.Kind, name string) bool {
	_, ok := k.Port(name)
	return ok
}

// capRun closes a loose end of a run with a cap.
func (p *Pass) capRun(run *model.Run) []Remedy {
	kind := p.kindWith(model.ClassFitting, catalogue.TraitCap)
	if kind == nil || len(kind.Ports) == 0 {
		return nil
	}
	for _, end := range []model.End{run.From, run.To} {
		if k := p.Kind(p.Circuit.Part(end.Part)); !end.Loose() && (k == nil || !hasPort(k, end.Port)) {
			return nil // the other end is open too
		}
	}
	after := model.Clone(run)
	var changes []model.Change
	for _, end := range []*model.End{&after.From, &after.To} {
		if !end.Loose() {
			continue
		}
		var at model.Point
		if end.At != nil {
			at = *end.At
		}
		part, err := kind.New(model.NewID("p"), at)
		if err != nil {
			return nil
		}
		if f, ok := part.(*model.Fitting); ok {
			f.Size = run.Size
		}
		*end = model.End{Part: part.RecordID(), Port: kind.Ports[0].Name}
		changes = append(changes, model.Adding(part))
	}
	return []Remedy{{Message: "close the end with a cap",
		Edit: model.Edit{Label: "cap an end", Changes: append(changes, model.Replacing(run, after))}}}
}

// capPort puts a cap on a free port of a fitting or valve. A pump or an
// instrument wants a run, not a cap.
func (p *Pass) capPort(part model.Part, kind *catalogue.Kind, port catalogue.Port) []Remedy {
	capKind := p.kindWith(model.ClassFitting, catalogue.TraitCap)
	if capKind == nil || len(capKind.Ports) == 0 || port.Service != "process" || part.Class() != model.ClassFitting && part.Class() != model.ClassValve {
		return nil
	}
	at, way := port.PortAt(part.Meta())
	closed, err := capKind.New(model.NewID("p"), at.Add(model.Point{X: 10 * way.X, Y: 10 * way.Y}))
	if err != nil {
		return nil
	}
	size, known := port.SizeOf(part)
	if f, ok := closed.(*model.Fitting); ok && known {
		f.Size = quantity.Some(size)
	}
	join := faceRun(model.End{Part: part.RecordID(), Port: port.Name}, model.End{Part: closed.RecordID(), Port: capKind.Ports[0].Name})
	return []Remedy{{Message: "close it with a cap",
		Edit: model.Edit{Label: "cap " + p.Name(part.RecordID()), Changes: []model.Change{model.Adding(closed), model.Adding(join)}}}}
}

// faceRun joins two ports face to face.
func faceRun(from, to model.End) *model.Run {
	zero := quantity.Some(quantity.Length(0))
	return &model.Run{ID: model.NewID("r"), From: from, To: to, Stretches: []model.Stretch{{Length: zero, Rise: zero}}}
}
