package checks

import (
	"rinsewright/model"
	"rinsewright/model/quantity"
)

var ruleRinseTooShort = &Rule{
	Name: "rinse-too-short",
	Doc: Doc{
		Title:    "Rinse that does not change the content of the circuit",
		Why:      "Front and mixing zone need more than one filling: a rinse that sends less leaves the chemical in the return, and the next step meets it.",
		How:      "In each rinse between and final rinse that is sent away, what is sent (its end volume, else flow times time) is compared with the volume of all that the flow passes and of the puddles of the solved flow, times the limit. A step that also ends by a told conductivity is longer where it must be and is left out.",
		Blind:    "Dead legs and films, which take much longer: run the programme in time.",
		Remedy:   "Rinse longer, or end by conductivity.",
		Cites:    []Citation{commonPractice},
		Severity: Fix,
		Merge:    AnyStep,
		Limits:   []string{"rinse-volumes"},
	},
	Run: runRinseTooShort,
}

func runRinseTooShort(p *Pass) {
	purpose := p.Step.Purpose.Or("")
	if purpose != model.RinseBetween && purpose != model.FinalRinse || p.Step.Source == p.Step.Destination || p.Step.EndConductivity.Known() || !p.Route().Found {
		return
	}
	at := model.PlaceOf(p.Step.ID)
	litres, missing := sent(p.Step)
	v := Volumes.Of(p.Snapshot, p.Step)
	need := quantity.Volume(float64(v.tube+v.puddles) * p.Limit("rinse-volumes").Is())
	switch {
	case len(missing) > 0:
		p.NotAssessed(at, missing...)
	case below(float64(litres), float64(need)):
		p.Report(Finding{At: at, Way: EdgePlaces(p.Plant(), p.Route().Ways), Measured: Of(litres), Limit: Of(need), LimitName: "rinse-volumes",
			Message: Say("%v sends %v through a circuit of %v; %v are needed", p.Name(p.Step.ID), Of(litres), Of(v.tube+v.puddles), Of(need))})
	default:
		p.NotAssessed(at, v.missing...)
	}
}
