package checks

import (
	"rinsewright/model"
	"rinsewright/model/quantity"
	"rinsewright/model/vessel"
)

var ruleVesselCanCollapse = &Rule{
	Name: "vessel-can-collapse",
	Doc: Doc{
		Title: "Vessel that can be sucked in",
		Why:   "Cold liquid sprayed into a hot vessel condenses the vapour in it within seconds. Without air a tank that stands no vacuum folds up.",
		How: "Through each programme in order, for each vessel that is washed: a step colder than one before it. The absolute pressure that the sealed vessel would reach is worked out from saturated air of the hot step cooled to the cold one (ideal gas, IAPWS-IF97). " +
			"With a vent or vacuum breaker that is free in the cold step, the air drawn in is that of the whole volume cooling at the rate of the limit, and the vacuum is what this air loses in the opening (discharge 0.6), with the setting of the breaker. " +
			"Either is compared with the vacuum that the vessel is rated for; where nobody told it, with the limit.",
		Blind:    "Filters, ice and covers on the vent; rates of cooling above the limit; storing tanks filled slowly with cold liquid. A rating counts only where the maker's calculation and the local code bear it out.",
		Remedy:   "Keep a vent or vacuum breaker of the size needed open in every step, or rinse warm first so that the vessel cools in stages.",
		Cites:    []Citation{byComputation, commonPractice},
		Severity: Stop,
		Limits:   []string{"vacuum-unrated", "cooling-rate"},
	},
	Run: runVesselCanCollapse,
}

// cooling is a vessel that gets hot in one step and cold in a later one.
type cooling struct {
	vessel    *model.Vessel
	hot, cold *model.Step
	from, to  quantity.Temperature
}

func runVesselCanCollapse(p *Pass) {
	for _, steps := range p.programmes() {
		for _, part := range p.ofClass(model.ClassVessel) {
			p.judgeCooling(p.worstCooling(part.(*model.Vessel), steps))
		}
	}
}

// worstCooling gives the step of a programme that cools a vessel most below the
// hottest step before it; no vessel where none does.
func (p *Pass) worstCooling(v *model.Vessel, steps []*model.Step) cooling {
	var worst cooling
	var hottest *model.Step
	var unknown *model.Step // a chemical step without a temperature may be hot
	for _, step := range steps {
		if !p.washes(step, v) {
			continue
		}
		t, known := step.Temperature.Get()
		if !known {
			if step.Medium.Or("") == model.Air || step.Purpose.Or("") == model.Drain {
				continue
			}
			unknown = step
			continue
		}
		if hottest != nil {
			if from := hottest.Temperature.Or(0); t < from && (worst.vessel == nil || from-t > worst.from-worst.to) {
				worst = cooling{v, hottest, step, from, t}
			}
		}
		if hottest == nil || t > hottest.Temperature.Or(0) {
			hottest = step
		}
	}
	if unknown != nil && worst.vessel == nil {
		p.NotAssessed(model.PlaceOf(v.ID), missingKey(unknown, "temperature_C"))
	}
	return worst
}

// washes says whether the liquid of a step comes into a vessel that is not the
// tank it is drawn from or sent to.
func (p *Pass) washes(step *model.Step, v *model.Vessel) bool {
	if !moves(step) || step.Source == v.ID || step.Destination == v.ID {
		return false
	}
	r := Route.Of(p.Snapshot, step)
	return r.Found && passes(p.Plant(), v.ID, r.InFlow)
}

func (p *Pass) judgeCooling(c cooling) {
	if c.vessel == nil {
		return
	}
	at := model.PlaceOf(c.vessel.ID)
	left, err := sealedPressure(c.from, c.to)
	if err != nil {
		p.notAssessedFor(at, err.Error())
		return
	}
	bears, rated := c.vessel.RatedVacuum.Get()
	words := Say("is rated for %v below the air", Of(bears))
	limit := ""
	if !rated {
		bears, limit = quantity.Pressure(p.Limit("vacuum-unrated").Is()), "vacuum-unrated"
		words = Say("is taken to bear %v below the air, as no rating is told", Of(bears))
	}
	vacuum := atmosphere - left
	if !above(float64(vacuum), float64(bears)) {
		return // stands it even when sealed
	}
	f := Finding{At: at, Places: []model.Place{at, model.PlaceOf(c.hot.ID), model.PlaceOf(c.cold.ID)}, Steps: []model.ID{c.cold.ID},
		Limit: Of(bears), LimitName: limit}
	b := p.breathes(c.vessel, lineUps.Of(p.Snapshot).of[c.cold].Open)
	if !b.free {
		if len(b.missing) > 0 {
			p.NotAssessed(at, b.missing...)
			return
		}
		f.Measured = Of(vacuum)
		f.Message = Say("%v has no free vent in %v: from %v to %v the sealed vessel comes to %v absolute, %v below the air; it %v",
			p.Name(c.vessel.ID), p.Name(c.cold.ID), Of(c.from), Of(c.to), Of(left), Of(vacuum), words)
		p.Report(f)
		return
	}
	body, keys, err := vessel.Of(c.vessel)
	missing := b.missing
	for _, key := range keys {
		missing = append(missing, missingKey(c.vessel, key))
	}
	if err != nil || len(missing) > 0 {
		if err != nil {
			missing = append(missing, missingKey(c.vessel, "height_m"))
		}
		p.NotAssessed(at, missing...)
		return
	}
	drawn, err := airDrawn(body.Total(), c.from, p.Limit("cooling-rate").Is(), c.to)
	if err != nil {
		p.notAssessedFor(at, err.Error())
		return
	}
	loses := min(suction(drawn, b.area)+p.breakerOpensAt(b.by), vacuum)
	if !above(float64(loses), float64(bears)) {
		return
	}
	for _, id := range b.by {
		f.Places = append(f.Places, model.PlaceOf(id))
	}
	f.Measured = Of(loses)
	f.Message = Say("%v cools from %v to %v in %v: at %v the %v of air that it draws through a bore of %v leave %v below the air (%v absolute if the vent is shut); it %v",
		p.Name(c.vessel.ID), Of(c.from), Of(c.to), p.Name(c.cold.ID), p.Limit("cooling-rate").Value, Of(drawn), Of(b.bore()), Of(loses), Of(left), words)
	p.Report(f)
}

// breakerOpensAt gives the vacuum at which the first of some vents opens: none for
// an open one, the setting of a breaker. A breaker without a setting is taken to
// open at once.
func (p *Pass) breakerOpensAt(ids []model.ID) quantity.Pressure {
	var least quantity.Pressure
	for i, id := range ids {
		var set quantity.Pressure
		if v, ok := p.Circuit.Part(id).(*model.Valve); ok {
			set = magnitude(v.SetPressure.Or(0))
		}
		if i == 0 || set < least {
			least = set
		}
	}
	return least
}
