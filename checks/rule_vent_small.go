package checks

import (
	"math"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

var ruleVentSmall = &Rule{
	Name: "vent-small",
	Doc: Doc{
		Title: "Vent too small for its vessel",
		Why:   "A tank that fills faster than its air can leave comes under pressure; one that empties faster than air comes in is sucked in.",
		How: "With every valve in its normal position, the vents and vacuum breakers that are open to a vessel are added up, each with the narrowest bore on its way. " +
			"Of a storing tank the bore of one opening of that area is compared with the widest tube that fills it times the limit, of a vessel that is cleaned with its outlet times the limit.",
		Blind:    "Filters and flame arresters in the vent, its length, and how fast a pump fills or empties: see vessel-can-collapse for cooling.",
		Remedy:   "Take a wider vent.",
		Cites:    []Citation{handbook27, commonPractice},
		Severity: Fix,
		Limits:   []string{"vent-over-fill", "vent-over-outlet"},
	},
	Run: runVentSmall,
}

func runVentSmall(p *Pass) {
	for _, part := range p.ofClass(model.ClassVessel) {
		vessel := part.(*model.Vessel)
		at := model.PlaceOf(vessel.ID)
		stores := p.Has(vessel, catalogue.TraitStorage)
		b := p.breathes(vessel, atRest.Of(p.Snapshot).Open)
		if !b.free {
			if stores && len(b.missing) == 0 {
				p.Report(Finding{At: at, Message: Say("%v has no vent", p.Name(vessel.ID))})
			}
			if stores {
				p.NotAssessed(at, b.missing...)
			}
			continue // a closed vessel is judged by vessel-can-collapse
		}
		over, name, what := p.Catalogue.Bore(vessel, "size"), "vent-over-outlet", "outlet"
		missing := b.missing
		if stores {
			fill, lacks := p.filledBy(vessel)
			over, name, what = fill, "vent-over-fill", "fill line"
			missing = append(missing, lacks...)
			if !fill.Known() && len(lacks) == 0 {
				continue // nothing fills it
			}
		} else if !over.Known() {
			missing = append(missing, missingKey(vessel, "size"))
		}
		if len(missing) > 0 {
			p.NotAssessed(at, missing...)
			continue
		}
		wide := over.Or(0)
		need := quantity.Bore(p.Limit(name).Is()) * wide
		if !below(float64(b.bore()), float64(need)) {
			continue
		}
		f := Finding{At: at, Measured: Of(b.bore()), Limit: Of(need), LimitName: name,
			Message: Say("the vent of %v has a bore of %v; for its %v of %v it needs %v", p.Name(vessel.ID), Of(b.bore()), what, Of(wide), Of(need))}
		for _, id := range b.by {
			f.Places = append(f.Places, model.PlaceOf(id))
		}
		if len(b.by) == 0 {
			if tube, ok := p.tubeFrom(vessel.VentSize.Or(""), need); ok {
				after := model.Clone(vessel)
				after.VentSize = quantity.Some(tube)
				f.Fixes = []Remedy{{Message: "make the vent " + string(tube), Edit: model.Edit{Label: "vent of " + p.Name(vessel.ID), Changes: []model.Change{model.Replacing(vessel, after)}}}}
			}
		}
		p.Report(f)
	}
}

// tubeFrom gives the smallest tube of the series of a size whose bore is enough.
func (s *Snapshot) tubeFrom(size model.TubeSize, need quantity.Bore) (model.TubeSize, bool) {
	for _, t := range s.Catalogue.Series(size) {
		if !below(float64(t.Inside()), float64(need)) {
			return t.Size, true
		}
	}
	return "", false
}

// boreOf gives the bore of a round opening.
func boreOf(a quantity.Area) quantity.Bore { return quantity.Bore(math.Sqrt(4 * float64(a) / math.Pi)) }
