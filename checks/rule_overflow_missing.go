package checks

import (
	"rinsewright/model"
	"rinsewright/model/quantity"
)

var ruleOverflowMissing = &Rule{
	Name: "overflow-missing",
	Doc: Doc{
		Title: "Tank without an overflow, or with one too small",
		Why:   "When the level switch fails, caustic or acid leaves by the vent and the hatch, and the tank comes under pressure.",
		How: "Every tank that has an overflow nozzle and is open to air has an overflow: a run on that nozzle, or a size told for one that is not drawn. " +
			"Its bore is compared with the widest tube that fills the tank times the limit. Tanks told to be closed are left out.",
		Blind:    "Where the overflow ends: visibly, over a bund or a drain that takes it. Routine operation must not use it.",
		Remedy:   "Fit an overflow wider than the fill line, ending visibly.",
		Cites:    []Citation{handbook27},
		Severity: Fix,
		Limits:   []string{"overflow-over-fill"},
	},
	Run: runOverflowMissing,
}

func runOverflowMissing(p *Pass) {
	for _, part := range p.ofClass(model.ClassVessel) {
		vessel := part.(*model.Vessel)
		kind := p.Kind(vessel)
		if kind == nil {
			continue
		}
		port, has := kind.Port("overflow")
		if vented, known := vessel.Vented.Get(); !has || known && !vented {
			continue
		}
		at := model.PlaceOf(vessel.ID)
		fill, missing := p.filledBy(vessel)
		run := p.runOn(vessel.ID, port.Name)
		told := vessel.OverflowSize.Or("")
		if run == nil && told == "" {
			f := Finding{At: at, Message: Say("%v has no overflow", p.Name(vessel.ID))}
			if tube, ok := p.tubeFrom(vessel.InletSize.Or(""), quantity.Bore(p.Limit("overflow-over-fill").Is())*fill.Or(0)); ok && fill.Known() {
				f.Fixes = []Remedy{p.overflow(vessel, tube)}
			}
			p.Report(f)
			continue
		}
		var bore quantity.Opt[quantity.Bore]
		if run != nil {
			bore = p.Plant().Edges[p.Plant().RunEdges(run.ID)[0]].Bore
			if !bore.Known() {
				missing = append(missing, missingKey(run, "size"))
			}
		} else if tube, ok := p.Catalogue.Tube(told); ok {
			bore = quantity.Some(tube.Inside())
		} else {
			missing = append(missing, missingKey(vessel, "overflow_size"))
		}
		d, known := bore.Get()
		if !known || len(missing) > 0 {
			p.NotAssessed(at, missing...)
			continue
		}
		need := quantity.Bore(p.Limit("overflow-over-fill").Is()) * fill.Or(0)
		if !below(float64(d), float64(need)) {
			continue
		}
		f := Finding{At: at, Measured: Of(d), Limit: Of(need), LimitName: "overflow-over-fill",
			Message: Say("the overflow of %v has a bore of %v; for its fill line of %v it needs %v", p.Name(vessel.ID), Of(d), Of(fill.Or(0)), Of(need))}
		if tube, ok := p.tubeFrom(told, need); ok && run == nil {
			f.Fixes = []Remedy{p.overflow(vessel, tube)}
		}
		p.Report(f)
	}
}

// overflow gives a tank an overflow of a size.
func (p *Pass) overflow(vessel *model.Vessel, size model.TubeSize) Remedy {
	after := model.Clone(vessel)
	after.OverflowSize = quantity.Some(size)
	return Remedy{Message: "fit an overflow of " + string(size),
		Edit: model.Edit{Label: "overflow of " + p.Name(vessel.ID), Changes: []model.Change{model.Replacing(vessel, after)}}}
}

// runOn gives the first run on a port, or nil.
func (s *Snapshot) runOn(id model.ID, port string) *model.Run {
	for _, run := range s.Circuit.RunsAt(id) {
		if run.From.Part == id && run.From.Port == port || run.To.Part == id && run.To.Port == port {
			return run
		}
	}
	return nil
}
