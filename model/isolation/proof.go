package isolation

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/network"
)

// Proven walks the plant from every source and says whether none reaches the
// work, whatever the valves do that the plan does not shut. It shares no search
// with the one that made the plan.
func (pl *Plan) Proven(p *network.Plant, ask Ask) bool {
	f, err := newField(p, ask)
	if err != nil || !pl.Found {
		return false
	}
	shut := map[int]bool{}
	for _, b := range pl.Barriers {
		for _, e := range f.shutIn(b.Valve, b.Position) {
			shut[e] = true
		}
	}
	leaves := make(map[int][][2]int) // by node: edge and far end
	for e := range f.walls {
		x := f.g.Edge(e)
		leaves[x.U] = append(leaves[x.U], [2]int{e, x.V})
		if !x.OneWay {
			leaves[x.V] = append(leaves[x.V], [2]int{e, x.U})
		}
	}
	reached := map[int]bool{}
	var front []int
	for i, s := range f.sources {
		if !slices.Contains(pl.Empty, s.Part) {
			front = append(front, f.sourceNode(i))
		}
	}
	for len(front) > 0 {
		n := front[len(front)-1]
		front = front[:len(front)-1]
		if reached[n] {
			continue
		}
		reached[n] = true
		for _, way := range leaves[n] {
			if !shut[way[0]] {
				front = append(front, way[1])
			}
		}
	}
	for _, n := range f.work {
		if reached[n] {
			return false
		}
	}
	return len(pl.Barriers) > 0 || len(f.sources) == 0 || f.apart(pl.Empty)
}

// apart says whether nothing that is a source, save what is emptied, is joined to
// the work at all.
func (f *field) apart(emptied []model.ID) bool {
	for _, s := range f.joined() {
		if !slices.Contains(emptied, s.Part) {
			return false
		}
	}
	return true
}
