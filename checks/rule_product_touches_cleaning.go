package checks

import "rinsewright/model"

var ruleProductTouchesCleaning = &Rule{
	Name: "product-touches-cleaning",
	Doc: Doc{
		Title: "Product and cleaning liquid kept apart by one seat",
		Why:   "When that seat leaks, caustic or acid gets into food and nobody sees it.",
		How: "In each step that sends a cleaning medium, what lies behind the closed seats that the liquid stands against is looked up: product supplies and outlets, vessels that hold product and are not cleaned in the step, runs that carry product. " +
			"A closed mix-proof valve and a swing bend that is taken away keep them apart; so do two valves with a drained space between. One seat, a check valve, or two seats with no open drain between do not. " +
			"In a production step, likewise, chemicals behind one seat.",
		Blind:    "Product inside objects; three and more seats in a row; what the rules of a country demand of raw and heated product.",
		Remedy:   "Use a mix-proof double-seat valve, two valves with a drained space between, or a swing bend.",
		Cites:    []Citation{{Source: "FDA milk memoranda on PMO 15p(B)", Clause: "M-b series", Standing: StandingRead}, {Source: "PMO and EHEDG Doc 20", Standing: StandingMemory}},
		Severity: Stop,
		Merge:    AnyStep,
	},
	Run: runProductTouchesCleaning,
}

func runProductTouchesCleaning(p *Pass) {
	production := p.Step.Purpose.Or("") == model.Production || p.Step.Medium.Or("") == model.Product
	if !production && !p.sweeps() {
		return
	}
	b := Boundaries.Of(p.Snapshot, p.Step)
	told := map[model.ID]bool{}
	for _, x := range b.list {
		bad := x.medium == model.Product
		if production {
			bad = chemical(x.medium) && x.second == ""
		}
		if x.safe || !bad || told[x.part] {
			continue
		}
		told[x.part] = true
		liquid := string(p.Step.Medium.Or("cleaning liquid"))
		between := Say("one closed seat of %v", p.Name(x.part))
		places := []model.Place{model.PlaceOf(x.part), model.PlaceOf(x.behind)}
		switch {
		case x.second != "":
			between = Say("%v and %v, and no open drain is between them,", p.Name(x.part), p.Name(x.second))
			places = append(places, model.PlaceOf(x.second))
		case x.oneWay:
			between = Say("%v, which is no positive shut-off,", p.Name(x.part))
		}
		p.Report(Finding{At: model.PlaceOf(x.part), Places: places,
			Message: Say("only %v keeps the %v of %v from the %v", between, liquid, p.Name(p.Step.ID), p.heldBehind(x))})
	}
	if production {
		return
	}
	for _, id := range b.parts {
		if !told[id] {
			p.NotAssessed(model.PlaceOf(id), b.unknown[id]...)
		}
	}
}

// heldBehind tells what lies behind a boundary: "product of T-3", or, where a run
// holds it, "product between V-1 and V-2".
func (p *Pass) heldBehind(x boundary) string {
	run := p.Circuit.Run(x.behind)
	if run == nil || run.Tag != "" {
		return string(x.medium) + " of " + p.Name(x.behind)
	}
	far := run.From
	for _, end := range []model.End{run.From, run.To} {
		part := p.Circuit.Part(end.Part)
		if part != nil && end.Part != x.part && part.Class() != model.ClassFitting {
			far = end // rather a valve or vessel than the tee before it
			break
		}
		if far.Part == x.part {
			far = end
		}
	}
	return string(x.medium) + " between " + p.endName(far, model.End{Part: x.part}) + " and " + p.Name(x.part)
}
