package checks

import (
	"math"
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/flow"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

var ruleSprayStarved = &Rule{
	Name: "spray-starved",
	Doc: Doc{
		Title: "Spray device with too little flow, or outside its pressure",
		Why:   "The film that runs down the wall breaks up and leaves dry streaks; under too high a pressure the jets turn to mist.",
		How: "In each cleaning step the solved flows of the spray devices of a vessel are added up and held against its circumference times the wetting figure: of a device that turns, of a jet head, or of a fixed one, which may be lower where the vessel is told to have no agitator. " +
			"The solved pressure before each device must lie between the least and most that its maker tells.",
		Blind:    "Shadows, coverage, and vessels that lie: the figure is for upright ones.",
		Remedy:   "Raise the flow, choose a device that fits, or wash with one vessel at a time.",
		Cites:    []Citation{commonPractice, {Source: "Clean-In-Place for Biopharmaceutical Processes", Clause: "chapter on spray cleaning", Standing: StandingRead}, {Source: "ASME BPE", Clause: "flow of spray devices", Standing: StandingMemory}},
		Severity: Fix,
		Merge:    AnyStep,
		Limits:   []string{"spray-wetting", "spray-wetting-plain", "spray-wetting-turning", "spray-wetting-jet"},
	},
	Run: runSprayStarved,
}

func runSprayStarved(p *Pass) {
	sol := p.flowing()
	if sol == nil {
		return
	}
	byVessel := map[model.ID][]flow.Spray{}
	var vessels []model.ID
	for _, spray := range sol.Sprays {
		if !p.Route().InFlow[spray.Edge] {
			continue
		}
		p.sprayPressure(sol, spray)
		vessel := spray.Vessel
		if vessel == "" {
			vessel = p.sprayedBy(spray.Spray)
		}
		if vessel == "" || !p.isCleaned(vessel) {
			continue
		}
		if byVessel[vessel] == nil {
			vessels = append(vessels, vessel)
		}
		byVessel[vessel] = append(byVessel[vessel], spray)
	}
	for _, id := range vessels {
		p.sprayFlow(sol, id, byVessel[id])
	}
}

// sprayedBy gives the vessel that a spray device opens into, or nothing.
func (p *Pass) sprayedBy(spray model.ID) model.ID {
	for _, part := range p.ofClass(model.ClassVessel) {
		for _, s := range spraysOf(p.Snapshot, part.RecordID()) {
			if s.ID == spray {
				return part.RecordID()
			}
		}
	}
	return ""
}

// isCleaned says whether the step of the pass cleans a vessel: it says so, or it
// names nothing.
func (p *Pass) isCleaned(vessel model.ID) bool {
	return len(p.Step.Cleans) == 0 || slices.Contains(p.Step.Cleans, vessel)
}

// sprayPressure holds the pressure of one device against its range.
func (p *Pass) sprayPressure(sol *flow.Solution, spray flow.Spray) {
	part, ok := p.Circuit.Part(spray.Spray).(*model.Spray)
	if !ok {
		return
	}
	at := model.PlaceOf(part.ID)
	is, known := spray.Pressure.Get()
	if !known {
		p.unsolved(at, sol)
		return
	}
	var missing []network.Missing
	least, leastTold := part.LeastPressure.Get()
	most, mostTold := part.MostPressure.Get()
	if !leastTold {
		missing = append(missing, missingKey(part, "least_pressure_bar"))
	}
	if !mostTold {
		missing = append(missing, missingKey(part, "most_pressure_bar"))
	}
	switch {
	case leastTold && below(float64(is), float64(least)):
		p.Report(Finding{At: at, Measured: Of(is), Limit: Of(least), Source: byComputation,
			Message: p.orShort(Say("%v gets %v, less than the %v that it needs", p.Name(part.ID), Of(is), Of(least)))})
	case mostTold && above(float64(is), float64(most)):
		p.Report(Finding{At: at, Measured: Of(is), Limit: Of(most), Source: byComputation,
			Message: Say("%v gets %v, more than the %v that it stands without misting", p.Name(part.ID), Of(is), Of(most))})
	default:
		p.NotAssessed(at, missing...)
	}
}

// sprayFlow holds what the devices of a vessel bring against its circumference.
func (p *Pass) sprayFlow(sol *flow.Solution, id model.ID, sprays []flow.Spray) {
	vessel, ok := p.Circuit.Part(id).(*model.Vessel)
	if !ok {
		return
	}
	at := model.PlaceOf(id)
	d, known := vessel.Diameter.Get()
	if !known {
		p.NotAssessed(at, missingKey(vessel, "diameter_m"))
		return
	}
	var sum quantity.Flow
	places := []model.Place{at}
	for _, s := range sprays {
		q, known := s.Flow.Get()
		if !known {
			p.unsolved(at, sol)
			return
		}
		sum += q
		places = append(places, model.PlaceOf(s.Spray))
	}
	name := p.wettingOf(vessel, sprays)
	round := math.Pi * float64(d)
	if is := float64(sum) / round; below(is, p.Limit(name).Is()) {
		p.Report(Finding{At: at, Places: places, Measured: Wetting(is), LimitName: name,
			Message: p.orShort(Say("%v is sprayed with %v, %v of its circumference, less than %v: %v are needed", p.Name(id), Of(sum), Wetting(is), p.Limit(name).Value,
				Of(quantity.Flow(round*p.Limit(name).Is()))))})
	}
}

// wettingOf names the figure that a vessel's devices have to meet: the greatest of
// the sorts of device.
func (p *Pass) wettingOf(vessel *model.Vessel, sprays []flow.Spray) string {
	best := ""
	for _, s := range sprays {
		name := "spray-wetting"
		part := p.Circuit.Part(s.Spray)
		agitated, told := vessel.Agitated.Get()
		switch {
		case p.Has(part, catalogue.TraitJets):
			name = "spray-wetting-jet"
		case p.Has(part, catalogue.TraitTurns):
			name = "spray-wetting-turning"
		case told && !agitated:
			name = "spray-wetting-plain"
		}
		if best == "" || p.Limit(name).Is() > p.Limit(best).Is() {
			best = name
		}
	}
	return best
}
