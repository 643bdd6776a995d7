package checks

import "rinsewright/model"

var rulePortShared = &Rule{
	Name: "port-shared",
	Doc: Doc{
		Title:    "Two runs on one port",
		Why:      "A port takes one tube; what is drawn is a tee that nobody has sized and whose branch nobody has looked at.",
		How:      "Run ends are counted at each port.",
		Blind:    "Which of the runs is the main and which the branch.",
		Remedy:   "Draw the tee.",
		Cites:    []Citation{commonPractice},
		Severity: Fix,
	},
	Run: runPortShared,
}

func runPortShared(p *Pass) {
	plant, parts := p.Plant(), p.Circuit.Parts()
	crowded := make([]bool, len(parts))
	for n, ends := range rollOf.Of(p.Snapshot).ends {
		if i := plant.PartAt(n); ends > 1 && i >= 0 {
			crowded[i] = true
		}
	}
	for i, part := range parts {
		if !crowded[i] {
			continue
		}
		id := part.RecordID()
		on := map[string][]model.Place{}
		var shared []string
		for _, run := range p.Circuit.RunsAt(id) {
			for _, end := range []model.End{run.From, run.To} {
				if end.Part != id {
					continue
				}
				on[end.Port] = append(on[end.Port], model.PlaceOf(run.ID))
				if len(on[end.Port]) == 2 {
					shared = append(shared, end.Port)
				}
			}
		}
		for _, port := range shared {
			at := model.PlaceOfPort(id, port)
			p.Report(Finding{At: at, Places: append([]model.Place{at}, on[port]...), Measured: Number(float64(len(on[port]))),
				Message: Say("%v run ends meet at %v", len(on[port]), p.Where(at))})
		}
	}
}

// endsAt counts the run ends at a port.
func (s *Snapshot) endsAt(id model.ID, port string) int {
	n := 0
	for _, run := range s.Circuit.RunsAt(id) {
		for _, end := range []model.End{run.From, run.To} {
			if end.Part == id && end.Port == port {
				n++
			}
		}
	}
	return n
}
