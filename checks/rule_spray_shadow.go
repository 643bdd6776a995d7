package checks

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

var ruleSprayShadow = &Rule{
	Name: "spray-shadow",
	Doc: Doc{
		Title:    "One spray device in a vessel with an agitator or baffles",
		Why:      "Blades, shaft and baffles cast shadows: what lies behind them as seen from the device gets no liquid.",
		How:      "A vessel that a step cleans, told to have an agitator or baffles or drawn with an agitator, has at least as many spray devices as the limit.",
		Blind:    "Where devices and baffles stand; an agitator that runs during the wash helps. Only a trial with a dye shows the shadow.",
		Remedy:   "Mount a second spray device on the other side, and run the agitator during the wash.",
		Cites:    []Citation{{Source: "Clean-In-Place for Biopharmaceutical Processes", Clause: "chapter on spray cleaning", Standing: StandingRead}},
		Severity: Note,
		Limits:   []string{"sprays-with-shadow"},
	},
	Run: runSprayShadow,
}

func runSprayShadow(p *Pass) {
	need := p.Limit("sprays-with-shadow")
	for _, part := range p.ofClass(model.ClassVessel) {
		v := part.(*model.Vessel)
		sprays := spraysOf(p.Snapshot, v.ID)
		if !p.cleanedBySome(v.ID) || len(sprays) == 0 || float64(len(sprays)) >= need.Is() {
			continue // no device at all is told by spray-missing
		}
		at := model.PlaceOf(v.ID)
		agitators := p.attached(v.ID, catalogue.TraitAgitator)
		what := ""
		switch {
		case v.Agitated.Or(false) || len(agitators) > 0:
			what = "an agitator"
			if v.Baffled.Or(false) {
				what = "an agitator and baffles"
			}
		case v.Baffled.Or(false):
			what = "baffles"
		default:
			for _, key := range []string{"agitated", "baffled"} {
				if prop, ok := model.FindProperty(v, key); ok && p.hasProperty(v, key) {
					if _, known := prop.Value(v); !known {
						p.NotAssessed(at, missingKey(v, key))
						break
					}
				}
			}
			continue
		}
		places := []model.Place{at, model.PlaceOf(sprays[0].ID)}
		for _, id := range agitators {
			places = append(places, model.PlaceOf(id))
		}
		p.Report(Finding{At: at, Places: places, Measured: Number(float64(len(sprays))), LimitName: "sprays-with-shadow",
			Message: Say("%v has %v and %v spray device only, %v are needed", p.Name(v.ID), what, len(sprays), need.Value)})
	}
}

// cleanedBySome says whether a step names a part among what it cleans.
func (s *Snapshot) cleanedBySome(id model.ID) bool {
	for _, step := range s.Circuit.Steps() {
		if cleans, _ := cleaningStep(step); !cleans {
			continue
		}
		for _, c := range step.Cleans {
			if c == id {
				return true
			}
		}
	}
	return false
}
