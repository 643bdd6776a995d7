package trace

import (
	"cmp"
	"slices"

	"rinsewright/model"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// State is what a step does with something.
type State string

const (
	Flows  State = "flows"  // liquid flows through it
	Stands State = "stands" // liquid stands in it
	Dry    State = "dry"    // the step does not reach it
	Open   State = "no route"
)

// Use is what one step does with a part or a run.
type Use struct {
	Step        model.ID
	State       State
	Runs        bool // it is a pump that runs in the step
	Medium      Opt[model.Medium]
	Temperature Opt[Temperature]
	Whole       bool       // the whole flow passes it
	Washes      []model.ID // what the step washes, where it flows through this
}

// Uses tells what each step does with a part or a run, in the order of the steps.
func Uses(p *network.Plant, id model.ID) []Use {
	edges := slices.Concat(p.PartEdges(id), p.RunEdges(id))
	var out []Use
	for _, s := range p.Circuit.Steps() {
		r := p.Route(p.LineUp(s))
		u := Use{Step: s.ID, State: Dry, Runs: slices.Contains(s.Running, id), Medium: s.Medium, Temperature: s.Temperature}
		switch {
		case !r.Found:
			u.State = Open
		case s.Source == id || s.Destination == id || slices.ContainsFunc(edges, func(e int) bool { return r.InFlow[e] }):
			u.State = Flows
			u.Whole = slices.ContainsFunc(edges, func(e int) bool { return r.Whole[e] })
			u.Washes = s.Cleans
		case slices.ContainsFunc(edges, func(e int) bool { return r.Wet[e] }) || wet(p, r, id):
			u.State = Stands
		}
		out = append(out, u)
	}
	return out
}

// wet says whether liquid reaches a port of a part, such as the shut seat of a
// valve.
func wet(p *network.Plant, r *network.Route, id model.ID) bool {
	return slices.ContainsFunc(p.PartNodes(id), func(n int) bool {
		return slices.ContainsFunc(p.IncidentEdges(n), func(e int) bool { return r.Wet[e] })
	})
}

// Shared lists the vessels and objects that are washed through a part or a run,
// in order of id.
func Shared(uses []Use) []model.ID {
	var out []model.ID
	for _, u := range uses {
		out = append(out, u.Washes...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// Way is one way from a part to another in a step.
type Way struct {
	Edges  []int
	Length Opt[Length]
	Least  Length
	Volume Opt[Volume]
}

// Ways lists how liquid gets from one part to another: in a step over what it
// opens, with no step over every valve as it could be opened. No way passes a point twice, nor an end of
// the circuit. At most limit ways are listed, the shortest of those first; more
// says that there are others.
func Ways(p *network.Plant, step *model.Step, from, to model.ID, limit int) (ways []Way, more bool) {
	open := make([]bool, len(p.Edges))
	if step == nil {
		for e := range open {
			open[e] = !p.Dry(e)
		}
	} else {
		copy(open, p.LineUp(step).Open)
	}
	best := map[string]bool{}
	for _, a := range leaves(p, from) {
		for _, b := range leaves(p, to) {
			list, rest := p.Graph().SimplePaths(open, a, b, limit)
			more = more || rest
			for _, edges := range list {
				w := Way{Edges: trimmed(p, edges, from, to)}
				key := keyOf(w.Edges)
				if best[key] || len(w.Edges) == 0 || through(p, w.Edges, from, to) {
					continue
				}
				best[key] = true
				w.measure(p)
				ways = append(ways, w)
			}
		}
	}
	slices.SortStableFunc(ways, func(a, b Way) int {
		return cmp.Or(cmp.Compare(a.Least, b.Least), slices.Compare(a.Edges, b.Edges))
	})
	if len(ways) > limit {
		ways, more = ways[:limit], true
	}
	return ways, more
}

// leaves gives the ports of a part, or its inside where it is a vessel.
func leaves(p *network.Plant, id model.ID) []int {
	if run := p.RunEdges(id); len(run) > 0 {
		return []int{p.Edges[run[0]].From, p.Edges[run[len(run)-1]].To}
	}
	var out []int
	for _, n := range p.PartNodes(id) {
		for _, e := range p.IncidentEdges(n) {
			if p.Edges[e].Run != "" {
				out = append(out, n)
				break
			}
		}
	}
	return out
}

// trimmed cuts off what lies within the two parts themselves.
func trimmed(p *network.Plant, edges []int, from, to model.ID) []int {
	own := func(e int) bool {
		x := p.Edges[e]
		return x.Part != "" && (x.Part == from || x.Part == to) || x.Run != "" && (x.Run == from || x.Run == to)
	}
	for len(edges) > 0 && own(edges[0]) {
		edges = edges[1:]
	}
	for len(edges) > 0 && own(edges[len(edges)-1]) {
		edges = edges[:len(edges)-1]
	}
	return edges
}

// through says whether a way passes one of its two parts once more in between.
func through(p *network.Plant, edges []int, from, to model.ID) bool {
	return slices.ContainsFunc(edges, func(e int) bool { return p.Edges[e].Part == from || p.Edges[e].Part == to })
}

func keyOf(edges []int) string {
	b := make([]byte, 0, 4*len(edges))
	for _, e := range edges {
		b = append(b, byte(e), byte(e>>8), byte(e>>16), byte(e>>24))
	}
	return string(b)
}

func (w *Way) measure(p *network.Plant) {
	var volume Volume
	length, held := true, true
	for _, e := range w.Edges {
		l, ok := p.Edges[e].Length.Get()
		length = length && ok
		w.Least += l
		v, ok := p.Edges[e].Volume.Get()
		held = held && ok
		volume += v
	}
	if length {
		w.Length = Some(w.Least)
	}
	if held {
		w.Volume = Some(volume)
	}
}

// Through names the parts on a way, by tag where they have one, in its order.
func (w *Way) Through(p *network.Plant) []string {
	out := []string{}
	last := model.ID("")
	for _, e := range w.Edges {
		id := p.Edges[e].Part
		if id == "" || id == last {
			continue
		}
		last = id
		name := string(id)
		if tag := p.Circuit.Part(id).Meta().Tag; tag != "" {
			name = tag
		}
		out = append(out, name)
	}
	return out
}
