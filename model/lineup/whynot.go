package lineup

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/network"
)

// failure is what stood in the way of the cheapest line-up that came to nothing.
type failure struct {
	key  float64
	text string
	at   model.Place
}

func (s *search) fail(key float64, text string, at model.ID) {
	if s.last.text == "" || key < s.last.key {
		s.last = failure{key, text, model.PlaceOf(at)}
	}
}

// clashes notes a valve that a walk needs in two positions.
func (s *search) clashes(n need, key float64) {
	if s.last.text == "" || key < s.last.key {
		v := s.valves[n.valve]
		s.fail(key, "one line-up would need "+s.name(v.id)+" in two positions at once; another valve, or a way that does not pass it twice, is needed", v.id)
	}
}

// doubles notes a point that a walk comes to twice.
func (s *search) doubles(node int32, key float64) {
	if s.last.text == "" || key < s.last.key {
		n := &s.p.Nodes[s.links.nodes[node]]
		id := n.Part
		if id == "" {
			id = n.Run
		}
		s.fail(key, "the way there and the way back would both lead through "+s.name(id)+"; a way of its own is needed for one of them", id)
	}
}

// reaches notes something that would get wet and must not.
func (s *search) reaches(edge int, by int32, key float64) {
	if s.last.text != "" && key >= s.last.key {
		return
	}
	b := s.bars[s.bar[edge]]
	text := "liquid would reach " + s.name(b.id) + ", which " + b.why + ": "
	if by < 0 {
		s.fail(key, text+"no valve lies between; one is needed", b.id)
		return
	}
	id := s.valves[by].id
	s.fail(key, text+"no position of "+s.name(id)+" keeps it away that leaves the way open; a further valve is needed", id)
}

func (s *search) missing() Proposal {
	switch {
	case s.last.text == "" && s.work > budget:
		return Proposal{Missing: "no line-up was found within the work allowed"}
	case s.last.text == "" && len(s.ask.Through) == 0:
		return Proposal{Missing: "every way from " + s.name(s.ask.Source) + " to " + s.name(s.ask.Destination) + " lets liquid into something that is to stay dry"}
	case s.last.text == "":
		text := "no single way leads from " + s.name(s.ask.Source) + " through " + names(s.p, s.ask.Through)
		if s.ask.Ordered && len(s.ask.Through) > 1 {
			text += ", in this order,"
		}
		return Proposal{Missing: text + " to " + s.name(s.ask.Destination) + ": one-way parts or the order stand against it", At: model.PlaceOf(s.ask.Through[0])}
	}
	return Proposal{Missing: s.last.text, At: s.last.at}
}

// noEnds tells why there is no source or destination; nil if there are both.
func (f *field) noEnds() *Proposal {
	if f.source >= 0 && f.dest >= 0 && f.source != f.dest {
		return nil
	}
	r := f.p.Route(f.p.LineUp(f.step))
	return &Proposal{Missing: r.Why, At: r.At}
}

// edgesOf gives the edges with which something asked for is passed.
func (f *field) edgesOf(through int8) []int {
	var out []int
	for e, h := range f.hit {
		if h == through {
			out = append(out, e)
		}
	}
	return out
}

// obstacle says what bars an edge for all ways: a part that must stay dry, a valve
// that is kept or left alone, an inlet without a spray device; empty if nothing does.
func (f *field) obstacle(e int) (model.ID, string) {
	id := f.p.Edges[e].Part
	switch v := f.gate[e]; {
	case f.bar[e] >= 0:
		b := f.bars[f.bar[e]]
		return b.id, f.name(b.id) + ", which " + b.why
	case f.shut[e] && v >= 0:
		return id, f.name(id) + ", which is to be left alone"
	case f.shut[e] && slices.Contains(f.ask.May, id):
		return id, f.name(id) + ", through which no way is to lead"
	case f.shut[e]:
		return id, "an inlet of " + f.name(id) + " that has no spray device"
	case v >= 0 && f.mask[e]&f.start[v] == 0:
		return id, f.name(id) + ", which is kept " + f.valves[v].positions[f.choice(int(v), f.start[v])]
	}
	return "", ""
}

// noWay tells what is in the way when no positions of the valves lead from source
// to destination.
func (f *field) noWay(open []bool) Proposal {
	text := "no way leads from " + f.name(f.ask.Source) + " to " + f.name(f.ask.Destination)
	if what, at := f.nearest(open, []int{f.source}, f.dest); what != "" {
		return Proposal{Missing: text + " but through " + what, At: at}
	}
	r := f.p.Route(f.everythingOpen(f.step))
	return Proposal{Missing: r.Why, At: r.At}
}

// passesBy tells why no way from source to destination passes something.
func (f *field) passesBy(i int, open []bool) Proposal {
	id := f.ask.Through[i]
	edges := f.edgesOf(int8(i))
	text := "no way from " + f.name(f.ask.Source) + " to " + f.name(f.ask.Destination) + " passes " + f.name(id)
	there, back := -1, -1
	reached := f.g.Reach(open, []int{f.source}, 1, nil)
	leads := f.g.Reach(open, []int{f.dest}, 2, nil)
	for _, e := range edges {
		for _, n := range [2]int{f.p.Edges[e].From, f.p.Edges[e].To} {
			if reached[n] {
				there = n
			}
			if leads[n] {
				back = n
			}
		}
	}
	ends := func(from []int, to int, says string) Proposal {
		if what, at := f.nearest(open, from, to); what != "" {
			return Proposal{Missing: text + ": " + says + " only through " + what, At: at}
		}
		return Proposal{Missing: text + ": nothing joins them; " + says + " not at all", At: model.PlaceOf(id)}
	}
	e := f.p.Edges[edges[0]]
	switch {
	case there < 0:
		return ends([]int{f.source}, e.From, "liquid gets there")
	case back < 0:
		return ends([]int{e.To}, f.dest, "liquid gets away from it")
	}
	return Proposal{Missing: text + ": it hangs on a single line, by which liquid would have to come and go; a way out of its own is needed", At: model.PlaceOf(id)}
}

// nearest names the first thing that bars the way which has the fewest of them;
// empty if there is no way at all.
func (f *field) nearest(open []bool, from []int, to int) (string, model.Place) {
	type hop struct{ edge, node int32 }
	via := make([]hop, len(f.p.Nodes))
	seen := make([]bool, len(f.p.Nodes))
	type seed struct {
		node int32
		by   hop
	}
	var now, later []seed
	for _, n := range from {
		now = append(now, seed{int32(n), hop{-1, -1}})
	}
	for len(now) > 0 {
		for i := 0; i < len(now); i++ {
			u := now[i].node
			if seen[u] {
				continue
			}
			seen[u], via[u] = true, now[i].by
			for _, a := range f.g.Incident(int(u)) {
				e := int(a.Edge)
				d := f.g.Edge(e)
				if seen[a.Node] || d.OneWay && d.U != int(u) {
					continue
				}
				next := seed{a.Node, hop{a.Edge, u}}
				if open[e] {
					now = append(now, next)
				} else if what, _ := f.obstacle(e); what != "" {
					later = append(later, next)
				}
			}
		}
		now, later = later, nil
	}
	if !seen[to] {
		return "", model.Place{}
	}
	text, at := "", model.Place{}
	for n := int32(to); via[n].edge >= 0; n = via[n].node {
		if e := int(via[n].edge); !open[e] {
			id, what := f.obstacle(e)
			text, at = what, model.PlaceOf(id)
		}
	}
	return text, at
}

// everythingOpen is a line-up in which every valve lets liquid through all its
// ways.
func (f *field) everythingOpen(step *model.Step) *network.LineUp {
	l := f.p.LineUp(step)
	for e := range l.Open {
		l.Open[e] = f.base[e] || f.gate[e] >= 0
	}
	return l
}
