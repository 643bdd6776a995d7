package checks

import (
	"rinsewright/model"
	"rinsewright/model/network"
)

var ruleChemicalsMeet = &Rule{
	Name: "chemicals-meet",
	Doc: Doc{
		Title: "Two chemicals meet without a rinse between",
		Why:   "Acid on alkali boils up; acid on chlorine gives chlorine gas; either spends both.",
		How: "Through each programme in order: after a step with alkali, acid or disinfectant, a step with another of them may only come after a rinse with water, " +
			"and that rinse must flow through every run that both chemicals flow through.",
		Blind:    "Whether the rinse is long enough, and chemicals that meet in a drain or a tank.",
		Remedy:   "Put a rinse between the two, over the whole route.",
		Cites:    []Citation{foodSanitation, {Source: "OSHA accident report", Clause: "acid and hypochlorite in one sewer", Standing: StandingRead}},
		Severity: Stop,
	},
	Run: runChemicalsMeet,
}

func runChemicalsMeet(p *Pass) {
	for _, steps := range p.programmes() {
		var last *model.Step
		var rinses []*model.Step // since last
		for _, step := range steps {
			if !moves(step) {
				continue
			}
			medium, known := step.Medium.Get()
			switch {
			case !known:
				if last != nil {
					p.NotAssessed(model.PlaceOf(step.ID), missingKey(step, "medium"))
				}
			case water(medium):
				rinses = append(rinses, step)
			case chemical(medium):
				if last != nil && last.Medium != step.Medium {
					p.judgeMeeting(last, step, rinses)
				}
				last, rinses = step, nil
			}
		}
	}
}

func (p *Pass) judgeMeeting(first, second *model.Step, rinses []*model.Step) {
	at := model.PlaceOf(second.ID)
	places := []model.Place{at, model.PlaceOf(first.ID)}
	a, b := string(first.Medium.Or("")), string(second.Medium.Or(""))
	if len(rinses) == 0 {
		p.Report(Finding{At: at, Places: places,
			Message: Say("the %v of %v meets the %v of %v: no rinse is between them", b, p.Name(second.ID), a, p.Name(first.ID))})
		return
	}
	plant := p.Plant()
	one, two := Route.Of(p.Snapshot, first), Route.Of(p.Snapshot, second)
	var routes []*network.Route
	for _, rinse := range rinses {
		routes = append(routes, Route.Of(p.Snapshot, rinse))
	}
	var missed []int
	for _, run := range p.runEdges() {
		e := run.first
		if !one.InFlow[e] || !two.InFlow[e] || run.face {
			continue
		}
		rinsed := false
		for _, r := range routes {
			rinsed = rinsed || r.InFlow[e]
		}
		if !rinsed {
			missed = append(missed, e)
		}
	}
	if len(missed) == 0 {
		return
	}
	where := EdgePlaces(plant, missed)
	p.Report(Finding{At: at, Places: append(places, where...), Way: where,
		Message: Say("the %v of %v meets the %v of %v in %v%v, which no rinse between them reaches", b, p.Name(second.ID), a, p.Name(first.ID), p.Name(where[0].Element), others(len(where)-1))})
}
