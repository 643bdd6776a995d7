package checks

import "rinsewright/model"

var ruleNotConnected = &Rule{
	Name: "not-connected",
	Doc: Doc{
		Title:    "Part that nothing joins to the circuit",
		Why:      "What is not joined is neither fed nor drained nor checked.",
		How:      "Parts joined by runs form groups. Every group but the largest is reported once, at its first part. Frames and boxes are no parts of the plant.",
		Blind:    "Which of two groups is the one that was meant.",
		Remedy:   "Draw the run that joins it, or take it out.",
		Cites:    []Citation{commonPractice},
		Severity: Fix,
	},
	Run: runNotConnected,
}

func runNotConnected(p *Pass) {
	group := map[model.ID]int{}
	var members [][]model.ID
	for _, part := range p.Circuit.Parts() {
		id := part.RecordID()
		if _, done := group[id]; done || part.Class() == model.ClassFrame {
			continue
		}
		n := len(members)
		group[id] = n
		all := []model.ID{id}
		for i := 0; i < len(all); i++ {
			for _, run := range p.Circuit.RunsAt(all[i]) {
				for _, end := range []model.End{run.From, run.To} {
					other := p.Circuit.Part(end.Part)
					if other == nil || other.Class() == model.ClassFrame {
						continue
					}
					if _, done := group[end.Part]; !done {
						group[end.Part] = n
						all = append(all, end.Part)
					}
				}
			}
		}
		members = append(members, all)
	}
	largest := 0
	for i, all := range members {
		if len(all) > len(members[largest]) {
			largest = i
		}
	}
	for i, all := range members {
		if i == largest {
			continue
		}
		var places []model.Place
		for _, id := range all {
			places = append(places, model.PlaceOf(id))
		}
		p.Report(Finding{At: places[0], Places: places, Measured: Number(float64(len(all))),
			Message: Say("%v%v: no run joins this to the rest of the circuit", p.Name(all[0]), others(len(all)-1))})
	}
}
