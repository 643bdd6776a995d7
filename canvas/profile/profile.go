package profile

import (
	"math"
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// State is what is known of the plant whose way is shown.
type State struct {
	Plant     *network.Plant
	Heights   *network.Heights
	Draining  *network.Draining // nil: not looked at
	Venting   *network.Venting  // nil: not looked at
	LeastFall float64           // of a line towards its drain, m a m; 0: no limit is shown
}

// Stop is a node on the way.
type Stop struct {
	Node     int
	Distance float64 // m from the begin, as on a plan: what stands upright takes none; a nominal one where lengths are unknown
	Height   Opt[Length]
}

// Verdict says how a stretch falls.
type Verdict int

const (
	FallUnknown Verdict = iota // heights or lengths are missing, or nothing says which way it drains
	FallRight                  // it falls towards its drain by the limit or more
	FallLittle                 // it falls by less
	FallAgainst                // it falls away from its drain
	FallUpright                // it stands upright: no fall is asked of it
)

// Leg is an edge of the way, between two stops.
type Leg struct {
	Edge     int
	Run      model.ID // of a stretch
	Part     model.ID // of a path in a part
	Stretch  int
	Fall     Opt[Strength] // of a stretch towards its drain; a share: 0.01 is 1 %
	Verdict  Verdict
	Nominal  bool        // its length is not known
	Level    Opt[Length] // to which liquid stands in it after draining; unknown: none stays
	Undrains bool        // no way leads out of it at all
	AirDown  Opt[Length] // down to which air stands in it after filling
}

// Sign is what a mark tells of.
type Sign int

const (
	SignPart   Sign = iota // a part on the way
	SignDrain              // a drain hangs there
	SignVent               // a vent hangs there
	SignPool               // liquid stays; its lowest point
	SignPocket             // air stays; its highest point
	SignSill               // the point over which liquid would have to pass
)

// Mark is something at a stop.
type Mark struct {
	Sign   Sign
	Stop   int
	Part   model.ID    // of a part, a drain or a vent
	Volume Opt[Volume] // of a pool or a pocket
}

// Profile is a way seen from the side.
type Profile struct {
	State
	Stops []Stop // one more than legs
	Legs  []Leg
	Marks []Mark
}

// What an unknown length is drawn as, m.
const (
	nominalStretch = 1.0
	nominalPath    = 0.1
)

// uprightShare is the share of rise to length above which a stretch counts as
// standing, as in [network.Plant.Draining].
const uprightShare = 0.98

// Of looks at a way from the side. The edges of way follow each other from the
// node start, which belongs to the first of them. An empty way has an empty
// profile.
func Of(s State, way []int, start int) *Profile {
	p := &Profile{State: s}
	if len(way) == 0 {
		return p
	}
	slopes := map[int]float64{}
	if s.Draining != nil {
		for _, x := range s.Draining.Slopes {
			slopes[x.Edge] = x.Fall
		}
	}
	node, far := start, 0.0
	p.stop(node, far)
	for _, e := range way {
		edge := &s.Plant.Edges[e]
		leg := Leg{Edge: e, Run: edge.Run, Part: edge.Part, Stretch: edge.Stretch}
		length, known := edge.Length.Get()
		if !known {
			leg.Nominal = true
			length = nominalPath
			if edge.Part == "" {
				length = nominalStretch
			}
		}
		next := s.Plant.Other(e, node)
		far += p.onPlan(edge, node, next, float64(length), known)
		p.stop(next, far)
		leg.Verdict = FallUnknown
		if edge.Part == "" && known && length > 0 {
			p.fall(&leg, slopes, node, next, float64(length))
		}
		p.Legs = append(p.Legs, leg)
		node = next
	}
	p.pools()
	p.pockets()
	p.parts()
	p.branches()
	slices.SortStableFunc(p.Marks, func(a, b Mark) int { return a.Stop - b.Stop })
	return p
}

// onPlan gives how far an edge goes as seen from above, m.
func (p *Profile) onPlan(edge *network.Edge, from, to int, length float64, known bool) float64 {
	a, okA := p.Heights.Of[from].Get()
	b, okB := p.Heights.Of[to].Get()
	if edge.Part != "" || !known || !okA || !okB {
		return length
	}
	rise := float64(b - a)
	return math.Sqrt(max(length*length-rise*rise, 0))
}

func (p *Profile) stop(node int, far float64) {
	p.Stops = append(p.Stops, Stop{Node: node, Distance: far, Height: p.Heights.Of[node]})
}

// fall judges a stretch: as draining sees it.
func (p *Profile) fall(leg *Leg, slopes map[int]float64, from, to int, length float64) {
	a, okA := p.Heights.Of[from].Get()
	b, okB := p.Heights.Of[to].Get()
	if okA && okB && math.Abs(float64(b-a)) > uprightShare*length {
		leg.Verdict = FallUpright
		return
	}
	fall, ok := slopes[leg.Edge]
	if !ok {
		return
	}
	leg.Fall = Some(Strength(fall))
	const near = 1e-9
	switch {
	case fall < -near:
		leg.Verdict = FallAgainst
	case p.LeastFall > 0 && fall < p.LeastFall-near:
		leg.Verdict = FallLittle
	default:
		leg.Verdict = FallRight
	}
}

// nearestStop gives the first stop at a node, or -1.
func (p *Profile) nearestStop(node int) int {
	return slices.IndexFunc(p.Stops, func(s Stop) bool { return s.Node == node })
}

func (p *Profile) pools() {
	if p.Draining == nil {
		return
	}
	for _, pool := range p.Draining.Pools {
		some := false
		for i := range p.Legs {
			if slices.Contains(pool.Edges, p.Legs[i].Edge) {
				p.Legs[i].Level, p.Legs[i].Undrains = pool.Level, pool.NoDrain
				some = true
			}
		}
		if !some {
			continue
		}
		if at := p.nearestStop(pool.Lowest); at >= 0 {
			p.Marks = append(p.Marks, Mark{Sign: SignPool, Stop: at, Volume: pool.Volume})
		} else if at := p.extreme(pool.Edges, -1); at >= 0 {
			p.Marks = append(p.Marks, Mark{Sign: SignPool, Stop: at, Volume: pool.Volume})
		}
		if at := p.nearestStop(pool.Over); pool.Over >= 0 && at >= 0 {
			p.Marks = append(p.Marks, Mark{Sign: SignSill, Stop: at})
		}
	}
}

func (p *Profile) pockets() {
	if p.Venting == nil {
		return
	}
	for _, k := range p.Venting.Pockets {
		some := false
		for i := range p.Legs {
			if slices.Contains(k.Edges, p.Legs[i].Edge) {
				p.Legs[i].AirDown = k.Level
				some = true
			}
		}
		if !some {
			continue
		}
		at := p.nearestStop(k.Highest)
		if at < 0 {
			at = p.extreme(k.Edges, 1)
		}
		if at >= 0 {
			p.Marks = append(p.Marks, Mark{Sign: SignPocket, Stop: at, Volume: k.Volume})
		}
	}
}

// extreme gives the stop at edges of a pool that lies lowest (-1) or highest (1).
func (p *Profile) extreme(edges []int, sign float64) int {
	best, at := math.Inf(-1), -1
	for i := range p.Legs {
		if !slices.Contains(edges, p.Legs[i].Edge) {
			continue
		}
		for _, s := range []int{i, i + 1} {
			if z, ok := p.Stops[s].Height.Get(); ok && sign*float64(z) > best {
				best, at = sign*float64(z), s
			}
		}
	}
	return at
}

// parts marks every part on the way once, in its middle.
func (p *Profile) parts() {
	for i := 0; i < len(p.Legs); i++ {
		id := p.Legs[i].Part
		if id == "" {
			continue
		}
		last := i
		for last+1 < len(p.Legs) && p.Legs[last+1].Part == id {
			last++
		}
		p.Marks = append(p.Marks, Mark{Sign: SignPart, Stop: i + (last+1-i)/2, Part: id})
		i = last
	}
	ends := []int{0, len(p.Stops) - 1}
	for _, s := range ends {
		part := p.Plant.PartOfNode(p.Stops[s].Node)
		if part == nil {
			continue
		}
		id := part.RecordID()
		if !slices.ContainsFunc(p.Marks, func(m Mark) bool { return m.Part == id }) {
			p.Marks = append(p.Marks, Mark{Sign: SignPart, Stop: s, Part: id})
		}
	}
}

// mostBranch is how many edges a branch to a drain or a vent may have to be shown.
const mostBranch = 16

// branches marks where drains and vents hang on the way.
func (p *Profile) branches() {
	on := map[int]bool{}
	for _, l := range p.Legs {
		on[l.Edge] = true
	}
	told := map[model.ID]bool{}
	for s := range p.Stops {
		p.branch(s, on, told)
	}
}

// branch follows what hangs on a stop beside the way.
func (p *Profile) branch(stop int, on map[int]bool, told map[model.ID]bool) {
	type step struct{ node, far int }
	seen := map[int]bool{p.Stops[stop].Node: true}
	queue := []step{{p.Stops[stop].Node, 0}}
	for i := 0; i < len(queue); i++ {
		if queue[i].far == mostBranch {
			continue
		}
		for _, e := range p.Plant.IncidentEdges(queue[i].node) {
			n := p.Plant.Other(e, queue[i].node)
			if on[e] || seen[n] || p.nearestStop(n) >= 0 {
				continue
			}
			seen[n] = true
			if p.told(n, stop, told) || p.Plant.Edges[e].Path == -1 {
				continue // a vessel is no part of a branch
			}
			queue = append(queue, step{n, queue[i].far + 1})
		}
	}
}

// told marks a drain or a vent at a node, and says whether there is one.
func (p *Profile) told(node, stop int, told map[model.ID]bool) bool {
	kind, part := p.Plant.KindOfNode(node), p.Plant.PartOfNode(node)
	if kind == nil || part == nil {
		return false
	}
	sign := SignDrain
	switch {
	case kind.Has(catalogue.TraitVent):
		sign = SignVent
	case !kind.Has(catalogue.TraitSewer):
		return false
	}
	if id := part.RecordID(); !told[id] {
		told[id] = true
		p.Marks = append(p.Marks, Mark{Sign: sign, Stop: stop, Part: id})
	}
	return true
}
