package checks

import (
	"math"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

var ruleSmallTee = &Rule{
	Name: "small-tee",
	Doc: Doc{
		Title:    "Small equal tee that is a dead leg by itself",
		Why:      "The branch of a standard tee does not shrink with its tube: in small sizes it is a dead leg even with the valve right on it.",
		How:      "The branch of an equal tee up to the limit in outside diameter: its length from the inner wall of the main over its bore. Where the length is not told, the published ratio of full-size tees stands: 12.0 at 1/4 in, 6.88 at 3/8 in, 5.58 at 1/2 in.",
		Blind:    "Whether flow passes the branch. Lines that no cleaning step reaches, where others are reached. Larger tees; they are judged as dead legs where no flow passes.",
		Remedy:   "Use a tee with a short outlet or a block valve.",
		Cites:    []Citation{{Source: "a secondary text on full-size tees after ASME BPE", Standing: StandingRead}},
		Severity: Note,
		Limits:   []string{"small-tee-outside", "dead-leg-ratio"},
	},
	Run: runSmallTee,
}

// publishedTeeRatio gives the length of the branch of a full-size standard tee
// over its bore, by the outside diameter of the tube. Read in a secondary text
// on tees after ASME BPE.
func publishedTeeRatio(outside quantity.Bore) (ratio float64, known bool) {
	for _, row := range []struct{ inch, ratio float64 }{{1.0 / 4, 12.0}, {3.0 / 8, 6.88}, {1.0 / 2, 5.58}} {
		if math.Abs(float64(outside)-row.inch*0.0254) < 1e-5 {
			return row.ratio, true
		}
	}
	return 0, false
}

func runSmallTee(p *Pass) {
	cleaned := p.cleanedEdges()
	for _, part := range p.ofTrait(catalogue.TraitTee) {
		tee, ok := part.(*model.Fitting)
		if !ok || cleaned != nil && !passes(p.Plant(), tee.ID, cleaned) {
			continue
		}
		at := model.PlaceOf(tee.ID)
		size, known := tee.Size.Get()
		tube, inTable := p.Catalogue.Tube(size)
		if !known || !inTable {
			p.NotAssessed(at, missingKey(tee, "size"))
			continue
		}
		if above(float64(tube.Outside), p.Limit("small-tee-outside").Is()) {
			continue
		}
		if branch, told := tee.SecondSize.Get(); !told {
			p.NotAssessed(at, missingKey(tee, "second_size"))
			continue
		} else if branch != size {
			continue
		}
		p.judgeSmallTee(tee, tube)
	}
}

// cleanedEdges tells, by edge, what liquid reaches in the cleaning steps; nil while
// no cleaning step has a route.
func (p *Pass) cleanedEdges() []bool {
	var routes []*network.Route
	for _, step := range p.Circuit.Steps() {
		if cleans, _ := cleaningStep(step); !cleans {
			continue
		}
		if r := Route.Of(p.Snapshot, step); r.Found {
			routes = append(routes, r)
		}
	}
	if len(routes) == 0 {
		return nil
	}
	return p.Plant().Wetted(routes)
}

func (p *Pass) judgeSmallTee(tee *model.Fitting, tube catalogue.Tube) {
	at, limit := model.PlaceOf(tee.ID), p.Limit("dead-leg-ratio")
	says := "its branch is"
	ratio, known := 0.0, false
	if stub, told := tee.Stub.Get(); told {
		ratio, known = float64(stub)/float64(tube.Inside()), true
	} else if !p.Has(tee, traitShortOutlet) {
		ratio, known = publishedTeeRatio(tube.Outside)
		says = "the branch of a full-size standard tee is"
	}
	if !known {
		p.NotAssessed(at, missingKey(tee, "stub_mm"))
		return
	}
	if !above(ratio, limit.Is()) {
		return
	}
	var fixes []Remedy
	if kind := p.kindWith(model.ClassFitting, catalogue.TraitTee, traitShortOutlet); kind != nil {
		after := model.Clone(tee)
		after.Kind = kind.Name
		after.Stub = quantity.Some(quantity.Bore(limit.Is() * float64(tube.Inside())))
		fixes = []Remedy{remedy(Say("swap for a tee with an outlet of at most %v", Of(after.Stub.Or(0))),
			model.Edit{Label: "short outlet at " + p.Name(tee.ID), Changes: []model.Change{model.Replacing(tee, after)}})}
	}
	p.Report(Finding{At: at, Measured: Diameters(ratio), LimitName: "dead-leg-ratio", Fixes: fixes,
		Message: Say("%v of %v: %v %v long, longer than %v", p.Name(tee.ID), tube.Size, says, Diameters(ratio), limit.Value)})
}
