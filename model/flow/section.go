package flow

import (
	"math"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/hydraulic"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// section is a part of the network between ends and vessels, solved by itself.
type section struct {
	chains  []*chain
	links   []link
	taps    []*tap
	drivers []*driver
	driven  []int // by driver: its link
	tees    []tee
	missing []network.Missing
	broken  bool // a told number cannot be

	net    hydraulic.Network
	node   map[int]int // index in net by node of the plant or mouth
	solver *hydraulic.Solver
	last   *hydraulic.Result
	solved bool
	partly map[int]filled // by edge: where liquid runs part-full
	off    float64        // m, by which losses that depend on the flow had not settled
}

// link is one link of a section's network: a row of pieces of one bore, a pump, or
// the way from a liquid's surface to the outlet.
type link struct {
	chain         *chain
	first, number int // of the chain's pieces
	length, bore  float64
	loss          float64  // in use, m/(m³/s)²
	tees          [2]share // of the tees at its beginning and end
	driver        *driver
	tap           *tap
	oneWay        bool
	kept          bool // passes a flow whatever it takes
}

// share is what a tee takes of a link that begins or ends at it: S·q|q| less a gain.
type share struct {
	square float64 // m/(m³/s)²
	gain   float64 // m
}

// at gives the head in m that is lost along the link at a flow.
func (x share) at(q float64) float64 { return x.square*q*math.Abs(q) - x.gain }

// resists says whether the link's loss follows from its pieces.
func (l *link) resists() bool { return l.driver == nil && l.tap == nil && !l.kept }

// tap joins the liquid in a vessel or supply to the outlet it is drawn from. It
// lets pass what comes, or keeps a flow.
type tap struct {
	end     *end
	link    int
	surface int // index in net of the liquid's surface
	outlet  int
	keeps   bool
	flow    float64 // m³/s that it keeps
	level   float64 // m above the plant's zero
}

// looseBore is the bore by which the loss of a row without any bore is counted, m;
// the loss itself does not depend on it.
const looseBore = 0.05

// divide gathers the chains that hang together, without crossing an end, into
// sections.
func (w *work) divide(chains []*chain) {
	parent := make([]int32, len(w.p.Nodes)+len(w.mouths))
	for i := range parent {
		parent[i] = int32(i)
	}
	var root func(int) int
	root = func(n int) int {
		for int(parent[n]) != n {
			parent[n] = parent[parent[n]]
			n = int(parent[n])
		}
		return n
	}
	for _, c := range chains {
		if c.from != c.to && !w.holds(c.from) && !w.holds(c.to) {
			a, b := root(c.from), root(c.to)
			parent[max(a, b)] = int32(min(a, b))
		}
	}
	of := map[int]*section{}
	for _, c := range chains {
		if c.from == c.to {
			continue
		}
		key := c.from
		if w.holds(key) {
			key = c.to
		}
		var s *section
		if w.holds(key) {
			s = w.newSection()
		} else if s = of[root(key)]; s == nil {
			s = w.newSection()
			of[root(key)] = s
		}
		s.chains = append(s.chains, c)
		c.section = s
	}
}

func (w *work) newSection() *section {
	s := &section{node: map[int]int{}}
	w.sections = append(w.sections, s)
	return s
}

// holds says whether the head of a node is fixed in itself.
func (w *work) holds(n int) bool {
	if n >= len(w.p.Nodes) {
		return true
	}
	x := w.ends[n]
	return x != nil && x.kind == endFixed
}

// build makes the network of a section.
func (w *work) build(s *section) {
	for _, c := range s.chains {
		a, b := w.nodeIn(s, c.from), w.nodeIn(s, c.to)
		for i := range c.pieces {
			s.missing = append(s.missing, c.pieces[i].missing...)
			s.broken = s.broken || c.pieces[i].broken
		}
		if c.pump {
			w.addPump(s, c, a, b)
			continue
		}
		w.addRow(s, c, a, b)
	}
	if len(s.missing) == 0 {
		w.addTees(s)
	}
	s.missing = sortMissing(s.missing)
}

// nodeIn gives the index of a node in the section's network, made where needed.
func (w *work) nodeIn(s *section, n int) int {
	if i, ok := s.node[n]; ok {
		return i
	}
	i := len(s.net.Nodes)
	s.node[n] = i
	if n >= len(w.p.Nodes) {
		m := &w.mouths[n-len(w.p.Nodes)]
		s.missing = append(s.missing, m.missing...)
		s.net.Nodes = append(s.net.Nodes, hydraulic.Node{Name: w.name(m.vessel), Elevation: Length(m.level), Fixed: true, Level: Length(m.level), Gas: m.gas})
		return i
	}
	node := hydraulic.Node{Name: w.nodeName(n), Elevation: w.h.Of[n].Or(0)}
	x := w.ends[n]
	if x != nil {
		s.missing = append(s.missing, x.missing...)
		s.broken = s.broken || x.broken
	}
	if x != nil && x.kind == endFixed {
		node.Fixed, node.Level, node.Gas = true, Length(x.level), x.gas
	}
	s.net.Nodes = append(s.net.Nodes, node)
	if x != nil && x.kind != endFixed {
		w.addTap(s, x, i)
	}
	return i
}

func (w *work) nodeName(n int) string {
	node := &w.p.Nodes[n]
	if node.Part != "" {
		return w.name(node.Part)
	}
	return w.name(node.Run)
}

func (w *work) addTap(s *section, x *end, outlet int) {
	t := &tap{end: x, outlet: outlet, surface: len(s.net.Nodes), link: len(s.links), level: x.level}
	name := w.name(x.record)
	s.net.Nodes = append(s.net.Nodes, hydraulic.Node{Name: name, Elevation: Length(x.level), Fixed: true, Level: Length(x.level), Gas: x.gas})
	s.net.Links = append(s.net.Links, hydraulic.Link{Name: name, From: t.surface, To: outlet, Law: openTap})
	s.links = append(s.links, link{tap: t})
	s.taps = append(s.taps, t)
}

var openTap = hydraulic.Loss{Bore: looseBore}

func (w *work) addPump(s *section, c *chain, a, b int) {
	pump := w.p.PartOfEdge(c.pieces[0].edge).(*model.Pump)
	d, missing := w.drives(pump, c.pieces[0].edge)
	s.missing = append(s.missing, missing...)
	if len(missing) > 0 || !d.gives() {
		s.broken = s.broken || len(missing) == 0
		return
	}
	d.order, d.whole = int(w.order[d.edge]), w.route.Whole[d.edge]
	c.links = []int{len(s.links)}
	s.driven = append(s.driven, len(s.links))
	s.drivers = append(s.drivers, d)
	s.net.Links = append(s.net.Links, hydraulic.Link{Name: w.name(pump.ID), From: a, To: b, Law: d.law()})
	s.links = append(s.links, link{chain: c, number: 1, driver: d})
}

// addRow adds the links of a row of pieces: one for each bore on the way. A piece
// without length goes with the tube before it.
func (w *work) addRow(s *section, c *chain, a, b int) {
	spray := false
	for i := range c.pieces {
		spray = spray || c.pieces[i].spray
	}
	if spray {
		w.noteSpray(c)
	}
	way := int8(0)
	var rows []link
	row := link{chain: c}
	for i := range c.pieces {
		pc := &c.pieces[i]
		if !spray { // a spray device's figures hold all that is lost in it
			pc.fixed += pc.exit
		}
		if pc.length > 0 && row.length > 0 && pc.bore != row.bore {
			rows = append(rows, row)
			row = link{chain: c, first: i}
		}
		row.number++
		if pc.length > 0 {
			row.length += pc.length
			row.bore = pc.bore
		}
		if pc.oneWay {
			row.oneWay = true
			now := int8(1)
			if !c.forward[i] {
				now = -1
			}
			if way == -now {
				return // two one-way parts against each other: nothing passes
			}
			way = now
		}
	}
	rows = append(rows, row)
	if way < 0 { // one-way links point along their way
		from, to := a, b
		for i := range rows {
			rows[i].first = len(c.pieces) - rows[i].first - rows[i].number
		}
		c.turned()
		a, b = to, from
		for i, j := 0, len(rows)-1; i < j; i, j = i+1, j-1 {
			rows[i], rows[j] = rows[j], rows[i]
		}
	}
	at := a
	for i := range rows {
		to := b
		if i < len(rows)-1 {
			to = len(s.net.Nodes)
			s.net.Nodes = append(s.net.Nodes, hydraulic.Node{Name: w.linkName(c, &rows[i]), Elevation: s.net.Nodes[at].Elevation})
		}
		if rows[i].bore == 0 {
			rows[i].bore = looseBore
		}
		c.links = append(c.links, len(s.links))
		s.links = append(s.links, rows[i])
		s.net.Links = append(s.net.Links, hydraulic.Link{Name: w.linkName(c, &rows[i]), From: at, To: to, OneWay: rows[i].oneWay})
		at = to
	}
}

// noteSpray notes which vessel the spray devices of a row spray into.
func (w *work) noteSpray(c *chain) {
	for _, n := range [2]int{c.from, c.to} {
		if n < len(w.p.Nodes) {
			continue
		}
		for i := range c.pieces {
			if c.pieces[i].spray {
				w.sprayed[c.pieces[i].edge] = w.mouths[n-len(w.p.Nodes)].vessel
			}
		}
	}
}

func (w *work) linkName(c *chain, r *link) string {
	edge := &w.p.Edges[c.pieces[r.first].edge]
	if edge.Part != "" {
		return w.name(edge.Part)
	}
	return w.name(edge.Run)
}

// addTees finds the tees of which all three legs flow.
func (w *work) addTees(s *section) {
	legs := map[int][]leg{}
	var at []int
	add := func(n int, l leg) {
		if n >= len(w.p.Nodes) || w.p.Nodes[n].Role != catalogue.RoleTee {
			return
		}
		if legs[n] == nil {
			at = append(at, n)
		}
		legs[n] = append(legs[n], l)
	}
	for _, c := range s.chains {
		if len(c.links) == 0 || c.pump {
			continue
		}
		first, last := c.pieces[0].edge, c.pieces[len(c.pieces)-1].edge
		add(c.from, leg{link: c.links[0], away: true, branch: w.p.Edges[first].Branch, bore: w.boreNear(first)})
		add(c.to, leg{link: c.links[len(c.links)-1], branch: w.p.Edges[last].Branch, bore: w.boreNear(last)})
	}
	for _, n := range at {
		if len(legs[n]) != 3 || !w.p.KindOfNode(n).Has(catalogue.TraitTee) {
			continue
		}
		if t, ok := newTee(n, legs[n]); ok {
			s.tees = append(s.tees, t)
		}
	}
}
