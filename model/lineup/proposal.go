package lineup

import (
	"fmt"
	"slices"
	"strings"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	. "rinsewright/model/quantity"
)

// positionAway is the position of a bend that is taken away.
const positionAway = "away"

// proposal tells all about a line-up.
func (f *field) proposal(w *whole) Proposal {
	x := Proposal{Found: true, Positions: w.route.LineUp.Positions, Moved: map[model.ID]string{}, Way: w.way, Route: w.route, Cost: w.cost, Proven: w.proven}
	for v, i := range w.at {
		d := &f.valves[v]
		if i != d.normal {
			x.Changed++
		}
		if i != d.normal || !d.told && f.touches(d.id, w) {
			x.Moved[d.id] = d.positions[i]
		}
	}
	known := true
	for _, e := range w.way {
		d := &f.p.Edges[e]
		l, ok := d.Length.Get()
		known = known && ok
		x.AtLeast += l
		if _, pump := f.p.Circuit.Part(d.Part).(*model.Pump); pump && !slices.Contains(x.Pumps, d.Part) {
			x.Pumps = append(x.Pumps, d.Part)
		}
	}
	if known {
		x.Length = Some(x.AtLeast)
	}
	for e := range f.p.Edges {
		if (w.route.Wet[e] || w.route.InFlow[e]) && !w.route.Whole[e] {
			x.Wet += f.p.Edges[e].Length.Or(0)
		}
	}
	x.Legs = f.p.DeadLegs(w.route)
	for _, l := range x.Legs {
		if f.atSeat(l.End, w) {
			x.AtSeats++
		}
	}
	x.Barriers = f.barriers(w)
	x.Why = f.why(&x)
	return x
}

// touches says whether a part has a wet edge.
func (f *field) touches(id model.ID, w *whole) bool {
	return slices.ContainsFunc(f.p.PartEdges(id), func(e int) bool { return w.route.Wet[e] || w.route.InFlow[e] })
}

// atSeat says whether a shut seat of a valve lies at a node.
func (f *field) atSeat(node int, w *whole) bool {
	for _, a := range f.g.Incident(node) {
		if v := f.gate[a.Edge]; v >= 0 && f.mask[a.Edge]>>w.at[v]&1 == 0 {
			return true
		}
	}
	return false
}

// barriers lists the shut seats that liquid stands at, one a valve.
func (f *field) barriers(w *whole) []Barrier {
	wet := make([]bool, len(f.p.Nodes))
	for e := range f.p.Edges {
		if w.route.Wet[e] || w.route.InFlow[e] {
			wet[f.p.Edges[e].From], wet[f.p.Edges[e].To] = true, true
		}
	}
	var out []Barrier
	for v := range f.valves {
		d := &f.valves[v]
		part := f.p.Circuit.Part(d.id)
		k := f.p.Catalogue.Kind(part.Meta().Kind)
		b := Barrier{Valve: d.id, Position: d.positions[w.at[v]], Double: k.Has(catalogue.TraitMixProof) || d.positions[w.at[v]] == positionAway}
		stands := false
		for _, e := range d.gates {
			if w.route.LineUp.Open[e] || f.p.Dry(e) {
				continue
			}
			from, to := f.p.Edges[e].From, f.p.Edges[e].To
			if wet[from] == wet[to] || f.p.Nodes[from].Role == catalogue.RoleAir || f.p.Nodes[to].Role == catalogue.RoleAir {
				continue
			}
			far := to
			if wet[to] {
				far = from
			}
			stands = true
			f.lookBehind(&b, far, wet, w)
		}
		if stands {
			out = append(out, b)
		}
	}
	return out
}

// lookBehind adds what is joined to a node by open ways.
func (f *field) lookBehind(b *Barrier, node int, wet []bool, w *whole) {
	seen := map[int]bool{node: true}
	queue := []int{node}
	for i := 0; i < len(queue); i++ {
		n := queue[i]
		if id := f.p.Nodes[n].Part; id != "" {
			part := f.p.Circuit.Part(id)
			switch part.Class() {
			case model.ClassVessel, model.ClassTerminal, model.ClassObject:
				if !slices.Contains(b.Behind, id) {
					b.Behind = append(b.Behind, id)
				}
				if m := holds(part); b.Medium == "" || m == model.Product {
					b.Medium = m
				}
				continue
			}
		}
		for _, a := range f.g.Incident(n) {
			if next := int(a.Node); w.route.LineUp.Open[a.Edge] && !f.p.Dry(int(a.Edge)) && !seen[next] && !wet[next] {
				seen[next] = true
				queue = append(queue, next)
			}
		}
	}
	slices.Sort(b.Behind)
}

// why puts a proposal into one sentence.
func (f *field) why(x *Proposal) string {
	var b strings.Builder
	length, about := float64(x.AtLeast), ""
	if !x.Length.Known() {
		about = "at least "
	}
	fmt.Fprintf(&b, "%s%s m of way, %s, %s", about, Number(round(length)), count(x.Changed, "valve moved", "valves moved"), count(len(x.Pumps), "pump", "pumps"))
	if len(x.Legs) > 0 {
		fmt.Fprintf(&b, ", %s of which %d at shut seats", count(len(x.Legs), "dead leg", "dead legs"), x.AtSeats)
	}
	var double, single []string
	for _, r := range x.Barriers {
		switch {
		case r.Medium != model.Product:
		case r.Double:
			double = append(double, f.name(r.Valve))
		default:
			single = append(single, f.name(r.Valve))
		}
	}
	if len(double) > 0 {
		b.WriteString("; product is kept apart by " + strings.Join(double, ", "))
	}
	if len(single) > 0 {
		b.WriteString("; only one seat keeps product away at " + strings.Join(single, ", "))
	}
	return b.String()
}

func round(x float64) float64 { return float64(int(x*10+0.5)) / 10 }

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
