package checks

import (
	"math"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

var ruleHeightsDisagree = &Rule{
	Name: "heights-disagree",
	Doc: Doc{
		Title:    "Rises that do not add up",
		Why:      "If a run and its ends tell different heights, fall, draining and pump head are worked out from a plant that cannot be built.",
		How:      "The rises of a run's stretches are added and compared with the height difference of its ends.",
		Blind:    "Heights that are wrong but agree. Runs whose ends have no height are not assessed by the rules that need it.",
		Remedy:   "Measure again; correct the rise or the elevation.",
		Cites:    []Citation{commonPractice},
		Severity: Fix,
		Limits:   []string{"height-tolerance"},
	},
	Run: runHeightsDisagree,
}

func runHeightsDisagree(p *Pass) {
	for _, d := range Heights.Of(p.Snapshot).Disagree {
		off := d.Told - d.Needed
		if !above(math.Abs(float64(off)), p.Limit("height-tolerance").Is()) {
			continue
		}
		run := p.Circuit.Run(d.Run)
		p.Report(Finding{At: model.PlaceOf(d.Run), LimitName: "height-tolerance",
			Measured: Of(quantity.Length(math.Abs(float64(off)))).Difference(),
			Message: Say("the stretches of %v rise %v, its ends differ by %v: %v apart", p.Name(d.Run),
				Of(d.Told), Of(d.Needed), Of(quantity.Length(math.Abs(float64(off))))),
			Fixes: setRise(run, d.Needed)})
	}
}

// setRise lets the one stretch of a run rise as its ends demand, where the
// stretch is long enough.
func setRise(run *model.Run, needed quantity.Length) []Remedy {
	if run == nil || len(run.Stretches) != 1 || math.Abs(float64(needed)) > float64(run.Stretches[0].Length.Or(0)) {
		return nil
	}
	after := model.Clone(run)
	after.Stretches[0].Rise = quantity.Some(needed)
	return []Remedy{{Message: "let the stretch rise as its ends demand",
		Edit: model.Edit{Label: "correct a rise", Changes: []model.Change{model.Replacing(run, after)}}}}
}
