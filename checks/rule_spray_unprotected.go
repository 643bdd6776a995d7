package checks

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/graph"
	"rinsewright/model/quantity"
)

var ruleSprayUnprotected = &Rule{
	Name: "spray-unprotected",
	Doc: Doc{
		Title:    "Spray device without a strainer before it",
		Why:      "The holes of a spray ball are 1.6 to 2.4 mm wide; what plugs one of them leaves a strip of the wall uncleaned, and nobody sees it.",
		How:      "In each cleaning step whose flow passes a spray device, every way to it from the source passes a strainer.",
		Blind:    "The mesh of the strainer, and whether anybody empties it.",
		Remedy:   "Fit a strainer before the spray device.",
		Cites:    []Citation{commonPractice},
		Severity: Fix,
		Merge:    AnyStep,
	},
	Run: runSprayUnprotected,
}

func runSprayUnprotected(p *Pass) {
	if !p.sweeps() {
		return
	}
	r, plant := p.Route(), p.Plant()
	if !r.Found {
		return
	}
	var sprays []*model.Spray
	for _, part := range p.ofClass(model.ClassSpray) {
		if passes(plant, part.RecordID(), r.InFlow) {
			sprays = append(sprays, part.(*model.Spray))
		}
	}
	if len(sprays) == 0 {
		return
	}
	open := append([]bool(nil), r.InFlow...)
	for _, part := range p.ofTrait(catalogue.TraitStrainer) {
		for _, e := range plant.PartEdges(part.RecordID()) {
			open[e] = false
		}
	}
	reached := plant.Graph().Reach(open, []int{r.LineUp.Source}, graph.Downstream, nil)
	for _, spray := range sprays {
		inlet := plant.Edges[plant.PartEdges(spray.ID)[0]].From
		if reached[inlet] {
			p.Report(Finding{At: model.PlaceOf(spray.ID), Fixes: p.strainerBefore(spray, plant.Nodes[inlet].Point),
				Message: Say("no strainer stands before %v on the way from %v", p.Name(spray.ID), p.Name(p.Step.Source))})
		}
	}
}

// strainerBefore puts a strainer between a spray device and the run on it.
func (p *Pass) strainerBefore(spray *model.Spray, inlet string) []Remedy {
	kind := p.kindWith(model.ClassFitting, catalogue.TraitStrainer)
	if kind == nil || p.endsAt(spray.ID, inlet) != 1 || p.Step.Source == spray.ID {
		return nil
	}
	in, out := "", ""
	for _, port := range kind.Ports {
		switch port.Role {
		case "in":
			in = port.Name
		case "out":
			out = port.Name
		}
	}
	for _, run := range p.Circuit.RunsAt(spray.ID) {
		after := model.Clone(run)
		end := &after.To
		if run.From.Part == spray.ID && run.From.Port == inlet {
			end = &after.From
		}
		if end.Part != spray.ID || end.Port != inlet || in == "" || out == "" {
			continue
		}
		part, err := kind.New(model.NewID("p"), spray.At.Add(model.Point{Y: -15}))
		if err != nil {
			return nil
		}
		if f, ok := part.(*model.Fitting); ok {
			f.Size = spray.Size
			if !f.Size.Known() {
				f.Size = run.Size
			}
			f.Mesh = quantity.Opt[quantity.Bore]{}
		}
		*end = model.End{Part: part.RecordID(), Port: in}
		face := faceRun(model.End{Part: part.RecordID(), Port: out}, model.End{Part: spray.ID, Port: inlet})
		return []Remedy{{Message: "fit a strainer before it", Edit: model.Edit{Label: "strainer before " + p.Name(spray.ID),
			Changes: []model.Change{model.Adding(part), model.Replacing(run, after), model.Adding(face)}}}}
	}
	return nil
}
