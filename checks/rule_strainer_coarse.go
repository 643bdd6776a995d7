package checks

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

var ruleStrainerCoarse = &Rule{
	Name: "strainer-coarse",
	Doc: Doc{
		Title:    "Strainer too coarse for the spray device behind it",
		Why:      "What passes the mesh plugs the holes of the spray device, which are 1.6 to 2.4 mm wide, or jams the gear of one that turns.",
		How:      "In each cleaning step whose flow passes a spray device, the finest strainer in the whole flow of the supply must have a mesh of at most the limit.",
		Blind:    "The holes of the device itself; strainers in one branch only. No strainer at all is told by spray-unprotected.",
		Remedy:   "Fit a finer mesh.",
		Cites:    []Citation{commonPractice},
		Severity: Fix,
		Merge:    AnyStep,
		Limits:   []string{"strainer-mesh-most"},
	},
	Run: runStrainerCoarse,
}

func runStrainerCoarse(p *Pass) {
	r, plant := p.Route(), p.Plant()
	if cleans, _ := cleaningStep(p.Step); !cleans || !r.Found {
		return
	}
	var spray model.Part
	for _, part := range p.ofClass(model.ClassSpray) {
		if passes(plant, part.RecordID(), r.InFlow) {
			spray = part
			break
		}
	}
	if spray == nil {
		return
	}
	supply := Sides.Of(p.Snapshot, p.Step).supply.in
	var finest *model.Fitting
	for _, part := range p.ofTrait(catalogue.TraitStrainer) {
		f, ok := part.(*model.Fitting)
		if !ok || supply == nil || !passes(plant, f.ID, supply) || !passes(plant, f.ID, r.Whole) {
			continue
		}
		if !f.Mesh.Known() {
			p.NotAssessed(model.PlaceOf(f.ID), missingKey(f, "mesh_mm"))
			return
		}
		if finest == nil || f.Mesh.Or(0) < finest.Mesh.Or(0) {
			finest = f
		}
	}
	most := p.Limit("strainer-mesh-most")
	if finest == nil || !above(float64(finest.Mesh.Or(0)), most.Is()) {
		return
	}
	at := model.PlaceOf(finest.ID)
	p.Report(Finding{At: at, Places: []model.Place{at, model.PlaceOf(spray.RecordID())}, Measured: Of(finest.Mesh.Or(0)), LimitName: "strainer-mesh-most",
		Message: Say("%v before %v has a mesh of %v, coarser than %v", p.Name(finest.ID), p.Name(spray.RecordID()), Of(finest.Mesh.Or(0)), most.Value)})
}
