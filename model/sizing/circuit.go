package sizing

import (
	"slices"
	"strings"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// Objects gives what is to be cleaned on a drawing: its vessels that are no tanks of
// the station, and its machines, in order of their tags. Lengths and heights are read
// from the first step that washes an object, where there is one; what the drawing does
// not tell is left unknown.
func Objects(c *model.Circuit, cat *catalogue.Catalogue) []Object {
	plant := network.Build(c, cat)
	r := &reading{c: c, cat: cat, plant: plant, heights: plant.Heights()}
	var out []Object
	for _, p := range c.Parts() {
		var o Object
		switch p := p.(type) {
		case *model.Vessel:
			if k := cat.Kind(p.Kind); k == nil || k.Has(catalogue.TraitStorage) {
				continue
			}
			o = r.vessel(p)
		case *model.Object:
			o = machine(p)
		default:
			continue
		}
		o.Part, o.Name = p.RecordID(), p.Meta().Tag
		if o.Name == "" {
			o.Name = string(p.RecordID())
		}
		r.way(&o)
		out = append(out, o)
	}
	slices.SortStableFunc(out, func(a, b Object) int { return strings.Compare(a.Name, b.Name) })
	for i := range out {
		for n := 2; slices.ContainsFunc(out[:i], func(o Object) bool { return o.Name == out[i].Name }); n++ {
			out[i].Name = strings.TrimRight(out[i].Name, " ") + " " + string(rune('0'+n%10))
		}
	}
	return out
}

type reading struct {
	c       *model.Circuit
	cat     *catalogue.Catalogue
	plant   *network.Plant
	heights *network.Heights
}

var deviceOf = map[string]Device{"spray-ball": Static, "rotary-spray-head": Rotary, "rotary-jet-head": Jet}

func (r *reading) vessel(v *model.Vessel) Object {
	o := Object{Sort: VesselSort, Diameter: v.Diameter, Height: v.Height, Bottom: v.Bottom}
	var rated Flow
	told, n := true, 0
	for _, run := range r.c.RunsAt(v.ID) {
		for _, e := range []model.End{run.From, run.To} {
			s, ok := r.c.Part(e.Part).(*model.Spray)
			if !ok || e.Port != "out" {
				continue
			}
			n++
			q, known := s.RatedFlow.Get()
			rated += q
			told = told && known
			if d, ok := deviceOf[s.Kind]; ok {
				o.Device = Some(d)
			}
			if p, known := s.RatedPressure.Get(); known && float64(p) > float64(o.Pressure.Or(0)) {
				o.Pressure = Some(p)
			}
		}
	}
	if n > 0 && told {
		o.Rated = Some(rated)
	}
	return o
}

func machine(p *model.Object) Object {
	o := Object{Sort: MachineSort, Needs: p.NeedsFlow, Length: p.Length, HoldUp: p.HoldUp, Bore: p.LargestBore}
	if p.SmallestBore.Known() {
		o.Bore = p.SmallestBore // friction is that of the narrowest
	}
	return o
}

// way reads the lengths to and from an object and its height over the pump from the
// first step that washes it.
func (r *reading) way(o *Object) {
	for _, step := range r.c.Steps() {
		if !slices.Contains(step.Cleans, o.Part) || step.Source == "" || step.Destination == "" {
			continue
		}
		route := r.plant.Route(r.plant.LineUp(step))
		if !route.Found {
			continue
		}
		if r.along(o, step, route) {
			return
		}
	}
}

// along walks the way from the source; what lies behind the supply pump counts as
// supply, what lies behind the object as return.
func (r *reading) along(o *Object, step *model.Step, route *network.Route) bool {
	var length [2]Length
	known := [2]bool{true, true}
	var pump, top Opt[Length]
	part, passed := 0, false
	for _, e := range route.Ways {
		edge := r.plant.Edges[e]
		if edge.Part == o.Part {
			part, passed = 1, true
		}
		if p, ok := r.c.Part(edge.Part).(*model.Pump); ok && !pump.Known() && !passed && slices.Contains(step.Running, p.ID) {
			pump = r.heights.Of[edge.From]
			length[0], known[0] = 0, true
		}
		if edge.Run != "" {
			l, ok := edge.Length.Get()
			known[part] = known[part] && ok
			length[part] += l
		}
		if !passed {
			for _, n := range []int{edge.From, edge.To} {
				if h, ok := r.heights.Of[n].Get(); ok && float64(h) > float64(top.Or(-1e9)) {
					top = Some(h)
				}
			}
		}
	}
	if !passed {
		return false
	}
	if known[0] {
		o.Supply = Some(length[0])
	}
	if known[1] {
		o.Return = Some(length[1])
	}
	if h, ok := top.Get(); ok && pump.Known() {
		o.Rise = Some(h - pump.Or(0))
	}
	return true
}
