package lineup

import (
	"slices"
	"strings"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// Switching is what has to be done by hand or by the control from step to step.
type Switching struct {
	Changes   []Change
	Conflicts []Conflict
}

// Change is what a step needs that was otherwise in the step before. Before the
// first step every valve stands in its normal position and no pump runs.
type Change struct {
	Step   *model.Step
	Moves  []Move     // in the order in which they are safe: what shuts first
	Stops  []model.ID // pumps, before any valve moves
	Starts []model.ID // pumps, after all valves have moved
}

// Move is one valve that goes from one position to another.
type Move struct {
	Valve    model.ID
	From, To string
	ByHand   bool // true only where it is told; a valve whose actuation nobody told is not marked
	Shuts    bool // it opens nothing that was shut
}

// Conflict is two supplies of different media that stand open to one line.
type Conflict struct {
	Step          *model.Step
	While         bool // only while it is being switched to this step, if valves open before others have shut
	First, Second model.ID
	Media         [2]model.Medium // of First and Second; empty where nobody told
	Valves        []model.ID      // open between them, in order
	FirstShut     []model.ID      // while switching: valves that must have shut ...
	ThenOpen      []model.ID      // ... before these open
}

// SwitchingList compares the line-ups of steps, in the order given. Storing vessels,
// vessels that no step of the list washes, and supplies count as supplies. A pump of
// positive displacement meters what passes it, and lets nothing through that would
// count as open.
func SwitchingList(p *network.Plant, steps []*model.Step) *Switching {
	out := &Switching{}
	m := newMixing(p, steps)
	before := p.LineUp(nil)
	var running []model.ID
	for i, step := range steps {
		now := p.LineUp(step)
		c := Change{Step: step, Moves: moves(p, before, now)}
		for _, id := range running {
			if !slices.Contains(step.Running, id) {
				c.Stops = append(c.Stops, id)
			}
		}
		for _, id := range step.Running {
			if !slices.Contains(running, id) {
				c.Starts = append(c.Starts, id)
			}
		}
		slices.Sort(c.Stops)
		slices.Sort(c.Starts)
		out.Changes = append(out.Changes, c)
		here := m.conflicts(step, now.Open)
		out.Conflicts = append(out.Conflicts, here...)
		if i > 0 {
			out.Conflicts = append(out.Conflicts, m.whileSwitching(step, before, now, here)...)
		}
		before, running = now, step.Running
	}
	return out
}

// moves lists the valves that stand otherwise, those first that only shut.
func moves(p *network.Plant, before, now *network.LineUp) []Move {
	var out []Move
	for _, part := range p.Circuit.Parts() {
		id := part.RecordID()
		from, to := before.Positions[id], now.Positions[id]
		if from == to {
			continue
		}
		v, _ := part.(*model.Valve)
		x := Move{Valve: id, From: from, To: to, ByHand: v != nil && v.Actuation.Or("") == model.Manual, Shuts: true}
		for _, e := range p.PartEdges(id) {
			if now.Open[e] && !before.Open[e] {
				x.Shuts = false
			}
		}
		out = append(out, x)
	}
	slices.SortStableFunc(out, func(a, b Move) int {
		switch {
		case a.Shuts == b.Shuts:
			return 0
		case a.Shuts:
			return -1
		}
		return 1
	})
	return out
}

// mixing looks for supplies that meet.
type mixing struct {
	p       *network.Plant
	sources []source
	holds   []bool // by edge: a pump that meters
	stop    []bool // by node
}

type source struct {
	id     model.ID
	medium model.Medium
	node   int
}

func newMixing(p *network.Plant, steps []*model.Step) *mixing {
	m := &mixing{p: p, holds: make([]bool, len(p.Edges)), stop: make([]bool, len(p.Nodes))}
	washed := map[model.ID]bool{}
	for _, s := range steps {
		for _, id := range s.Cleans {
			washed[id] = true
		}
	}
	for _, part := range p.Circuit.Parts() {
		id := part.RecordID()
		k := p.Catalogue.Kind(part.Meta().Kind)
		if k == nil {
			continue
		}
		switch part.Class() {
		case model.ClassVessel:
			if n, ok := p.PortNode(id, network.Draw); ok && !washed[id] {
				m.sources = append(m.sources, source{id, holds(part), n})
			}
		case model.ClassTerminal:
			if n := p.PartNodes(id); k.Has(catalogue.TraitSupply) && len(n) > 0 && !slices.ContainsFunc(p.PartEdges(id), p.Dry) {
				m.sources = append(m.sources, source{id, holds(part), n[len(n)-1]})
			}
		case model.ClassPump:
			for _, e := range p.PartEdges(id) {
				m.holds[e] = k.Has(catalogue.TraitDisplacement)
			}
		}
	}
	for n := range p.Nodes {
		m.stop[n] = p.Nodes[n].Role == catalogue.RoleVessel
	}
	return m
}

// conflicts finds the pairs of supplies that stand open to one line.
func (m *mixing) conflicts(step *model.Step, open []bool) []Conflict {
	from := make([]int32, len(m.p.Nodes)) // 1 + source that reached the node first
	via := make([]int32, len(m.p.Nodes))
	var out []Conflict
	met := map[[2]int32]bool{}
	var queue []int32
	for i, s := range m.sources {
		if from[s.node] == 0 {
			from[s.node], via[s.node] = int32(i)+1, -1
			queue = append(queue, int32(s.node))
		}
	}
	for k := 0; k < len(queue); k++ {
		u := queue[k]
		if m.stop[u] && via[u] >= 0 {
			continue // liquid has come to a vessel
		}
		for _, a := range m.p.Graph().Incident(int(u)) {
			e := int(a.Edge)
			d := m.p.Graph().Edge(e)
			if !open[e] || m.p.Dry(e) || m.holds[e] || m.p.Edges[e].Path < 0 || d.OneWay && d.U != int(u) {
				continue
			}
			switch {
			case from[a.Node] == 0:
				from[a.Node], via[a.Node] = from[u], a.Edge
				queue = append(queue, a.Node)
			case from[a.Node] != from[u] && (!m.stop[a.Node] || via[a.Node] < 0):
				x, y := from[u]-1, from[a.Node]-1
				one, two := m.sources[x], m.sources[y]
				pair := [2]int32{min(x, y), max(x, y)}
				if met[pair] || one.medium == two.medium && one.medium != "" {
					continue
				}
				met[pair] = true
				c := Conflict{Step: step, First: one.id, Second: two.id, Media: [2]model.Medium{one.medium, two.medium}}
				c.Valves = append(c.Valves, m.valves(via, u)...)
				slices.Reverse(c.Valves)
				c.add(m.valveOf(e))
				for _, id := range m.valves(via, a.Node) {
					c.add(id)
				}
				if c.Second < c.First {
					c.First, c.Second = c.Second, c.First
					c.Media[0], c.Media[1] = c.Media[1], c.Media[0]
					slices.Reverse(c.Valves)
				}
				out = append(out, c)
			}
		}
	}
	slices.SortFunc(out, func(a, b Conflict) int {
		return strings.Compare(string(a.First)+"\x00"+string(a.Second), string(b.First)+"\x00"+string(b.Second))
	})
	return out
}

func (c *Conflict) add(id model.ID) {
	if id != "" && !slices.Contains(c.Valves, id) {
		c.Valves = append(c.Valves, id)
	}
}

// valves gives the valves between a node and its source, nearest first.
func (m *mixing) valves(via []int32, n int32) []model.ID {
	var out []model.ID
	for via[n] >= 0 {
		if id := m.valveOf(int(via[n])); id != "" && !slices.Contains(out, id) {
			out = append(out, id)
		}
		n = int32(m.p.Other(int(via[n]), int(n)))
	}
	return out
}

// valveOf gives the valve that an edge leads through where it can be shut.
func (m *mixing) valveOf(e int) model.ID {
	d := &m.p.Edges[e]
	part := m.p.Circuit.Part(d.Part)
	if part == nil || d.Path < 0 {
		return ""
	}
	if k := m.p.Catalogue.Kind(part.Meta().Kind); len(k.Paths[d.Path].OpenIn) > 0 {
		return d.Part
	}
	return ""
}

// whileSwitching finds the supplies that would meet if valves opened before others
// have shut, save those that meet in the step itself or met in the one before.
func (m *mixing) whileSwitching(step *model.Step, before, now *network.LineUp, here []Conflict) []Conflict {
	both := make([]bool, len(now.Open))
	for e := range both {
		both[e] = now.Open[e] || before.Open[e]
	}
	known := slices.Concat(here, m.conflicts(step, before.Open))
	var out []Conflict
	for _, c := range m.conflicts(step, both) {
		if slices.ContainsFunc(known, func(k Conflict) bool { return k.First == c.First && k.Second == c.Second }) {
			continue
		}
		c.While = true
		var over []model.ID // both: a valve that turns from one way to another
		for _, id := range c.Valves {
			opens, shuts := false, false
			for _, e := range m.p.PartEdges(id) {
				opens = opens || now.Open[e] && !before.Open[e]
				shuts = shuts || before.Open[e] && !now.Open[e]
			}
			switch {
			case opens && shuts:
				over = append(over, id)
			case shuts:
				c.FirstShut = append(c.FirstShut, id)
			case opens:
				c.ThenOpen = append(c.ThenOpen, id)
			}
		}
		if len(c.FirstShut) > 0 { // then it is safe for the others to turn
			c.ThenOpen = append(over, c.ThenOpen...)
		} else {
			c.FirstShut = over
		}
		out = append(out, c)
	}
	return out
}

// Columns are the headings of [Switching.Rows].
var Columns = []string{"Programme", "Order", "Step", "Action", "Tag", "From", "To", "By hand"}

// Rows gives the list as a table under [Columns], for a file of separated values:
// one row an action, in the order in which they are to be done.
func (s *Switching) Rows(p *network.Plant) [][]string {
	var out [][]string
	for _, c := range s.Changes {
		row := func(action, tag, from, to string, byHand bool) {
			hand := ""
			if byHand {
				hand = "yes"
			}
			out = append(out, []string{c.Step.Programme, Number(float64(c.Step.Order)), c.Step.Name, action, tag, from, to, hand})
		}
		for _, id := range c.Stops {
			row("stop", name(p, id), "running", "stopped", false)
		}
		for _, x := range c.Moves {
			action := "switch"
			if x.Shuts {
				action = "shut"
			}
			row(action, name(p, x.Valve), x.From, x.To, x.ByHand)
		}
		for _, id := range c.Starts {
			row("start", name(p, id), "stopped", "running", false)
		}
	}
	return out
}

// Lines gives the list as text for operators: a heading a step, a line an action,
// and the conflicts below their step.
func (s *Switching) Lines(p *network.Plant) []string {
	var out []string
	for i, c := range s.Changes {
		out = append(out, Number(float64(c.Step.Order))+" "+c.Step.Name)
		for _, id := range c.Stops {
			out = append(out, "  stop "+name(p, id))
		}
		for _, x := range c.Moves {
			line := "  " + name(p, x.Valve) + ": " + x.From + " to " + x.To
			if x.ByHand {
				line += ", by hand"
			}
			out = append(out, line)
		}
		for _, id := range c.Starts {
			out = append(out, "  start "+name(p, id))
		}
		if len(c.Stops)+len(c.Moves)+len(c.Starts) == 0 {
			out = append(out, "  nothing changes")
		}
		for _, k := range s.Conflicts {
			if k.Step == s.Changes[i].Step {
				out = append(out, "  CAUTION: "+k.Text(p))
			}
		}
	}
	return out
}

// Text tells a conflict in a sentence.
func (c *Conflict) Text(p *network.Plant) string {
	what := func(i int, id model.ID) string {
		if c.Media[i] == "" {
			return name(p, id) + " (nobody told what it holds)"
		}
		return name(p, id) + " (" + string(c.Media[i]) + ")"
	}
	text := what(0, c.First) + " and " + what(1, c.Second) + " stand open to each other"
	if len(c.Valves) > 0 {
		text += " through " + names(p, c.Valves)
	}
	if c.While {
		text += " while switching"
		if len(c.FirstShut) > 0 && len(c.ThenOpen) > 0 {
			opens := " opens"
			if len(c.ThenOpen) > 1 {
				opens = " open"
			}
			text += ": " + names(p, c.FirstShut) + " must have shut before " + names(p, c.ThenOpen) + opens
		}
	}
	return text
}

func names(p *network.Plant, ids []model.ID) string {
	out := make([]string, len(ids))
	for i, id := range ids {
		out[i] = name(p, id)
	}
	return strings.Join(out, ", ")
}
