package checks

import (
	"rinsewright/model"
	"rinsewright/model/network"
)

var ruleNeverSwept = &Rule{
	Name: "never-swept",
	Doc: Doc{
		Title: "Wetted but never swept",
		Why:   "What the cleaning liquid wets but never flows through keeps its soil for the whole programme, and hands it on.",
		How: "Over all cleaning steps: runs, spray devices and objects that the liquid reaches in some step and that no flow passes in any. " +
			"A run within a dead leg that is short enough everywhere is left out.",
		Blind:    "Velocity (see slow-run), and parts that no liquid reaches at all.",
		Remedy:   "Add a step whose line-up leads through it, or take it out.",
		Cites:    []Citation{commonPractice},
		Severity: Stop,
		Limits:   []string{"dead-leg-ratio"},
	},
	Run: runNeverSwept,
}

func runNeverSwept(p *Pass) {
	plant := p.Plant()
	n := len(plant.Edges)
	wet, swept, inShort, inLong := make([]bool, n), make([]bool, n), make([]bool, n), make([]bool, n)
	for _, step := range p.Circuit.Steps() {
		if cleans, _ := cleaningStep(step); !cleans {
			continue
		}
		r := Route.Of(p.Snapshot, step)
		if !r.Found {
			continue
		}
		for e := range n {
			wet[e] = wet[e] || r.Wet[e]
			swept[e] = swept[e] || r.InFlow[e]
		}
		for _, leg := range Legs.Of(p.Snapshot, step) {
			in := inLong
			if p.shortLeg(leg) {
				in = inShort
			}
			for _, e := range leg.Edges {
				in[e] = true
			}
		}
	}
	judge := func(id model.ID, edges []int) {
		var places []int
		for _, e := range edges {
			if swept[e] {
				return
			}
			if wet[e] && (inLong[e] || !inShort[e]) {
				places = append(places, e)
			}
		}
		if len(places) > 0 {
			p.Report(Finding{At: model.PlaceOf(id), Places: EdgePlaces(plant, places),
				Message: Say("cleaning liquid reaches %v, but no flow passes it in any step", p.Name(id))})
		}
	}
	for _, run := range p.runEdges() {
		if !run.face && wet[run.first] && !swept[run.first] {
			judge(run.ID, plant.RunEdges(run.ID))
		}
	}
	for _, class := range []model.Class{model.ClassSpray, model.ClassObject, model.ClassExchanger, model.ClassPump} {
		for _, part := range p.ofClass(class) {
			judge(part.RecordID(), plant.PartEdges(part.RecordID()))
		}
	}
}

// shortLeg says whether a dead leg is within the limit. One of unknown length
// is told by dead-leg, not here.
func (p *Pass) shortLeg(leg network.Leg) bool {
	length, known := leg.Length.Get()
	bore, alsoKnown := leg.Bore.Get()
	if !known || !alsoKnown {
		return true
	}
	return !above(float64(length), p.Limit("dead-leg-ratio").Is()*float64(bore))
}
