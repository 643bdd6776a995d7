package checks

import "rinsewright/model"

var ruleNotConnected = &Rule{
	Name: "not-connected",
	Doc: Doc{
		Title:    "Part that nothing joins to the circuit",
		Why:      "What is not joined is neither fed nor drained nor checked.",
		How:      "Parts joined by runs form groups. Every group but the largest is reported once, at its most important part: a vessel before a pump, a pump before a fitting. Frames and boxes are no parts of the plant.",
		Blind:    "Which of two groups is the one that was meant.",
		Remedy:   "Draw the run that joins it, or take it out.",
		Cites:    []Citation{commonPractice},
		Severity: Fix,
	},
	Run: runNotConnected,
}

func runNotConnected(p *Pass) {
	g := groupsOf.Of(p.Snapshot)
	for i, all := range g.members {
		if i == g.largest {
			continue
		}
		first := all[0]
		for _, id := range all {
			if importance[p.Circuit.Part(id).Class()] > importance[p.Circuit.Part(first).Class()] {
				first = id
			}
		}
		places := []model.Place{model.PlaceOf(first)}
		for _, id := range all {
			if id != first {
				places = append(places, model.PlaceOf(id))
			}
		}
		p.Report(Finding{At: places[0], Places: places, Measured: Number(float64(len(all))),
			Message: Say("%v%v: no run joins this to the rest of the circuit", p.Name(first), others(len(all)-1))})
	}
}

// importance tells which of some parts to name for all.
var importance = map[model.Class]int{
	model.ClassVessel: 9, model.ClassObject: 8, model.ClassPump: 7, model.ClassExchanger: 6, model.ClassSpray: 5,
	model.ClassTerminal: 4, model.ClassValve: 3, model.ClassInstrument: 2, model.ClassFitting: 1,
}

// groups are the parts of the circuit that runs join, in order of their first
// part. Frames and boxes belong to none.
type groups struct {
	of      map[model.ID]int
	members [][]model.ID
	largest int // counts as the circuit; of equal ones the first
}

var groupsOf = NewFact("groups", func(s *Snapshot) *groups {
	plant, parts := Plant.Of(s), s.Circuit.Parts()
	first := make([]int32, len(parts)) // by part: one of its group, of the first part the part itself
	for i := range first {
		first[i] = int32(i)
	}
	root := func(i int32) int32 {
		for first[i] != i {
			first[i] = first[first[i]]
			i = first[i]
		}
		return i
	}
	for _, run := range s.runEdges() {
		edges := max(1, len(run.Stretches))
		a, b := plant.PartAt(plant.Edges[run.first].From), plant.PartAt(plant.Edges[run.first+edges-1].To)
		if a >= 0 && b >= 0 && parts[a].Class() != model.ClassFrame && parts[b].Class() != model.ClassFrame {
			x, y := root(int32(a)), root(int32(b))
			first[max(x, y)] = min(x, y)
		}
	}
	out := &groups{of: make(map[model.ID]int, len(parts))}
	number := make([]int, len(parts)) // by part that is first in its group
	for i, part := range parts {
		if part.Class() == model.ClassFrame {
			continue
		}
		r := root(int32(i))
		if r == int32(i) {
			number[i] = len(out.members)
			out.members = append(out.members, nil)
		}
		n := number[r]
		out.of[part.RecordID()] = n
		out.members[n] = append(out.members[n], part.RecordID())
	}
	for n, all := range out.members {
		if len(all) > len(out.members[out.largest]) {
			out.largest = n
		}
	}
	return out
})

// loose says whether not-connected reports a part alone: no run joins it to
// another.
func (s *Snapshot) loose(id model.ID) bool {
	g := groupsOf.Of(s)
	n, known := g.of[id]
	return known && n != g.largest && len(g.members[n]) == 1
}
