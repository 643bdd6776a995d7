package flow

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/hydraulic"
)

// chain is a row of live edges without a branch: the same flow passes all of them.
type chain struct {
	from, to int // nodes; beyond those of the plant for mouths of inlets
	pieces   []piece
	forward  []bool // by piece: the edge's From comes first
	pump     bool   // one running pump
	section  *section
	links    []int // of the section, in order; none where nothing can pass
}

// at gives an end of a live edge: a plant node, or the mouth that stands for it.
func (w *work) at(e, n int) int {
	if m, ok := w.inlets[e]; ok && w.isVessel(n) {
		return m
	}
	return n
}

// turned gives the chain the other way round.
func (c *chain) turned() *chain {
	c.from, c.to = c.to, c.from
	slices.Reverse(c.pieces)
	slices.Reverse(c.forward)
	for i := range c.forward {
		c.forward[i] = !c.forward[i]
	}
	return c
}

// chains lays the live edges out in rows between junctions: ends, forks, pumps and
// valves that stand alone.
func (w *work) chains() []*chain {
	p := w.p
	degree := make([]int32, len(p.Nodes))
	joint := make([]bool, len(p.Nodes)) // a junction whatever its degree
	for e, on := range w.live {
		if !on {
			continue
		}
		edge := &p.Edges[e]
		alone := w.lone[e] || w.isRunningPump(e)
		for _, n := range [2]int{edge.From, edge.To} {
			degree[n]++
			joint[n] = joint[n] || alone
		}
	}
	for n := range w.ends {
		joint[n] = true
	}
	for e := range w.inlets {
		joint[w.inside(e)] = true
	}
	seen := make([]bool, len(p.Edges))
	count := 0
	for _, on := range w.live {
		if on {
			count++
		}
	}
	rows := rows{make([]piece, 0, count), make([]bool, 0, count)}
	var out []*chain
	for n := range p.Nodes {
		if degree[n] == 0 || !joint[n] && degree[n] == 2 {
			continue
		}
		for _, a := range p.Graph().Incident(n) {
			if w.live[a.Edge] && !seen[a.Edge] {
				c := w.walk(n, int(a.Edge), degree, joint, seen, &rows)
				if c.pump && !c.forward[0] {
					c.turned()
				}
				w.passTees(c)
				out = append(out, c)
			}
		}
	}
	return out
}

func (w *work) inside(inlet int) int {
	e := &w.p.Edges[inlet]
	if w.isVessel(e.From) {
		return e.From
	}
	return e.To
}

// rows are the pieces of all chains, one chain after the other: a live edge is in
// one of them.
type rows struct {
	pieces  []piece
	forward []bool
}

// since gives what was laid down from a place on.
func (r *rows) since(at int) ([]piece, []bool) {
	n := len(r.pieces)
	return r.pieces[at:n:n], r.forward[at:n:n]
}

func (w *work) walk(n, e int, degree []int32, joint, seen []bool, rows *rows) *chain {
	c := &chain{from: w.at(e, n)}
	first := len(rows.pieces)
	defer func() { c.pieces, c.forward = rows.since(first) }()
	for {
		seen[e] = true
		pc := w.resist(e)
		next := w.p.Other(e, n)
		c.pump = pc.pump
		rows.pieces = append(rows.pieces, pc)
		rows.forward = append(rows.forward, w.p.Edges[e].From == n)
		if joint[next] || degree[next] != 2 {
			c.to = w.at(e, next)
			return c
		}
		n = next
		for _, a := range w.p.Graph().Incident(n) {
			if w.live[a.Edge] && !seen[a.Edge] {
				e = int(a.Edge)
				break
			}
		}
		if seen[e] { // a ring that hangs on nothing
			c.to = w.at(e, n)
			return c
		}
	}
}

func (w *work) isRunningPump(e int) bool {
	pump, ok := w.p.PartOfEdge(e).(*model.Pump)
	return ok && w.running[pump.ID]
}

// passTees adds the loss of tees of which two legs flow.
func (w *work) passTees(c *chain) {
	for i := 1; i < len(c.pieces); i++ {
		a, b := &w.p.Edges[c.pieces[i-1].edge], &w.p.Edges[c.pieces[i].edge]
		if a.Part == "" || a.Part != b.Part {
			continue
		}
		if !w.kindOf(c.pieces[i].edge).Has(catalogue.TraitTee) {
			continue
		}
		switch {
		case a.Branch:
			w.lossOn(&c.pieces[i-1], hydraulic.TeeBranch, a.Part, "second_size")
		case b.Branch:
			w.lossOn(&c.pieces[i], hydraulic.TeeBranch, a.Part, "second_size")
		default:
			w.lossOn(&c.pieces[i], hydraulic.TeeRun, a.Part, "size")
		}
	}
}
