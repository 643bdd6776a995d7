package checks

import "rinsewright/model"

var ruleNeverSwept = &Rule{
	Name: "never-swept",
	Doc: Doc{
		Title: "Wetted but never swept",
		Why:   "What the cleaning liquid wets but never flows through keeps its soil for the whole programme, and hands it on.",
		How: "Over all cleaning steps: objects, machines and spray devices that the liquid reaches in some step and that no flow passes in any, " +
			"and whatever a step says it cleans and no flow passes in any step that says so. Tubes and valves beside the flow are dead legs and told by dead-leg; " +
			"what is wet only because a line-up leaks to a sewer is told by open-to-two.",
		Blind:    "Velocity (see slow-run), and parts that no liquid reaches at all.",
		Remedy:   "Add a step whose line-up leads through it, or take it out.",
		Cites:    []Citation{commonPractice},
		Severity: Stop,
	},
	Run: runNeverSwept,
}

func runNeverSwept(p *Pass) {
	plant := p.Plant()
	n := len(plant.Edges)
	wet, swept := make([]bool, n), make([]bool, n)
	promised := map[model.ID]bool{} // whether it is kept
	var order []model.ID
	for _, step := range p.Circuit.Steps() {
		r := Route.Of(p.Snapshot, step)
		if cleans, _ := cleaningStep(step); !cleans || !r.Found {
			continue
		}
		leaks := make([]bool, n)
		for _, leg := range Legs.Of(p.Snapshot, step) {
			for _, e := range leg.Edges {
				leaks[e] = leaks[e] || p.runsOut(leg)
			}
		}
		for e := range n {
			swept[e] = swept[e] || r.InFlow[e]
			wet[e] = wet[e] || r.Wet[e] && !leaks[e]
		}
		for _, id := range step.Cleans {
			if _, known := promised[id]; !known {
				order = append(order, id)
			}
			promised[id] = promised[id] || passes(plant, id, r.InFlow)
		}
	}
	for _, id := range order {
		if part := p.Circuit.Part(id); part != nil && !promised[id] {
			p.Report(Finding{At: model.PlaceOf(id), Message: Say("%v is to be cleaned, but no flow passes it in any step that says so", p.Name(id))})
		}
	}
	for _, class := range []model.Class{model.ClassSpray, model.ClassObject, model.ClassExchanger, model.ClassPump} {
		for _, part := range p.ofClass(class) {
			id := part.RecordID()
			if kept, named := promised[id]; named && !kept {
				continue // told above
			}
			if passes(plant, id, wet) && !passes(plant, id, swept) {
				p.Report(Finding{At: model.PlaceOf(id), Message: Say("cleaning liquid reaches %v, but no flow passes it in any step", p.Name(id))})
			}
		}
	}
}
