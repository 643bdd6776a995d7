package checks

import "rinsewright/model"

var ruleDeviationUnmatched = &Rule{
	Name: "deviation-unmatched",
	Doc: Doc{
		Title:    "A deviation accepts what is not found any more",
		Why:      "An acceptance that is left behind when the circuit changes may one day cover a fault that nobody has looked at.",
		How:      "Looks, for each deviation of the circuit, for the finding of its id among those of its rule in this run.",
		Blind:    "Deviations of rules that were not asked for, that failed, or that could not assess the place for want of data.",
		Remedy:   "Withdraw the deviation, or accept the finding anew where it is now.",
		Cites:    []Citation{{Standing: StandingPractice}},
		Severity: Note,
	},
	Run:   runDeviationUnmatched,
	Audit: true,
}

func runDeviationUnmatched(p *Pass) {
	for _, j := range p.Deviations() {
		if j.State == DeviationUnmatched {
			p.reportDeviation(j, Say("accepted by %v on %v, but %v", orNobody(p, j), orNoDay(p, j), j.Why))
		}
	}
}

// reportDeviation reports a deviation, with its withdrawal as the remedy.
func (p *Pass) reportDeviation(j Judgement, message Text) {
	d := p.Circuit.Deviation(j.Deviation)
	at := model.PlaceOf(d.ID)
	places := []model.Place{at}
	for _, place := range d.Places {
		if p.Circuit.Record(place.Element) != nil {
			places = append(places, place)
		}
	}
	p.Report(Finding{At: at, Places: places, Message: message,
		Fixes: []Remedy{{Message: "withdraw the deviation",
			Edit: model.Edit{Label: "withdraw the " + p.Name(d.ID), Changes: []model.Change{model.Removing(d)}}}}})
}

func orNobody(p *Pass, j Judgement) string {
	if by := p.Circuit.Deviation(j.Deviation).By; by != "" {
		return by
	}
	return "nobody named"
}

func orNoDay(p *Pass, j Judgement) string {
	if day := p.Circuit.Deviation(j.Deviation).Date; day != "" {
		return string(day)
	}
	return "a day not told"
}
