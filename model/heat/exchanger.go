package heat

import (
	"math"
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/fluid"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
	"rinsewright/model/thermal"
)

// find lists the heaters and coolers whose liquid side the flow passes, in the order of
// the way.
func (w *work) find() {
	for _, part := range w.p.Circuit.Parts() {
		x, ok := part.(*model.Exchanger)
		kind := w.p.Catalogue.Kind(part.Meta().Kind)
		if !ok || kind == nil {
			continue
		}
		for _, e := range w.p.PartEdges(x.ID) {
			if w.p.Edges[e].Path != 0 || !w.sol.Route.InFlow[e] {
				continue
			}
			y := Exchanger{Exchanger: x.ID, Edge: e, Cools: !Heats(kind), Asked: w.out.Asked,
				Flow: size(w.sol.Edges[e].Flow), Duty: x.Duty, Area: x.Area, Coefficient: x.Coefficient}
			y.Electric = !y.Cools && !kind.Has(catalogue.TraitSteamHeated)
			w.out.Exchangers = append(w.out.Exchangers, y)
		}
	}
	place := func(x Exchanger) int {
		if i := slices.Index(w.sol.Route.Ways, x.Edge); i >= 0 {
			return i
		}
		return len(w.p.Edges)
	}
	slices.SortStableFunc(w.out.Exchangers, func(a, b Exchanger) int { return place(a) - place(b) })
	for i := range w.out.Exchangers {
		x := &w.out.Exchangers[i]
		w.exchangerAt[x.Edge] = x
		record := w.p.Circuit.Part(x.Exchanger).(*model.Exchanger)
		kind := w.p.Catalogue.Kind(record.Kind)
		supply := SupplyOf(w.p, x.Exchanger, servicePort(kind))
		switch {
		case x.Cools:
			x.Cooling = &Cooling{}
			if supply != nil {
				x.Cooling = &Cooling{Supply: supply.ID, Inlet: supply.Temperature, Flow: supply.Most}
			}
		case !x.Electric:
			x.Steam = w.steam(supply)
			fallthrough
		default:
			w.able[x.Exchanger] = CapabilityOf(w.p, record, w.opt.Atmosphere)
		}
	}
}

func size(q Opt[Flow]) Opt[Flow] {
	if v, known := q.Get(); known && v < 0 {
		return Some(-v)
	}
	return q
}

// steam tells what a supply gives, as saturated steam.
func (w *work) steam(supply *model.Terminal) *Steam {
	s := &Steam{}
	if supply == nil {
		return s
	}
	s.Supply, s.Gauge = supply.ID, supply.Pressure
	gauge, told := supply.Pressure.Get()
	if !told {
		w.need("steam", network.Missing{Record: supply.ID, Key: "pressure_bar"})
		return s
	}
	s.Absolute = Some(gauge + w.opt.Atmosphere)
	sat, err := fluid.SaturatedAt(gauge + w.opt.Atmosphere)
	if err != nil {
		w.failOnce(model.PlaceOf(supply.ID), err)
		return s
	}
	s.Saturation = Some(sat.Temperature)
	return s
}

// pass sizes and rates the exchangers for one pass of the liquid as it comes at the
// start.
func (w *work) pass() {
	start, known := w.out.Start.Get()
	if !known || w.density == 0 {
		return
	}
	cold := w.spread(float64(start))
	for i := range w.out.Exchangers {
		x := &w.out.Exchangers[i]
		if in := cold[w.first[x.Edge]]; !math.IsNaN(in) {
			x.Inlet = Some(Temperature(in))
			w.judge(x)
		}
	}
}

// judge works out one exchanger whose inlet is known.
func (w *work) judge(x *Exchanger) {
	in := x.Inlet.Or(0)
	to, told := x.Asked.Get()
	q, flows := x.Flow.Get()
	if !told || !flows || q <= 0 {
		return
	}
	const same = 1e-6 // K
	if x.Cools && in-to < same || !x.Cools && to-in < same {
		x.Idle, x.Needed, x.Reaches = true, Some(Power(0)), Some(in)
		return
	}
	liquid := w.liquid
	liquid.Temperature = in
	need, err := thermal.HeatingOf(liquid, q, to)
	if err != nil {
		w.failOnce(model.PlaceOf(x.Exchanger), err)
		return
	}
	needed := math.Abs(float64(need.Power))
	x.Needed = Some(Power(needed))
	stream := thermal.Stream{Mass: need.Mass, HeatCapacity: need.HeatCapacity, Inlet: in}
	if x.Cools {
		w.cool(x, stream, needed)
		return
	}
	can := w.able[x.Exchanger]
	w.need("what the heater gives", can.Missing...)
	if x.Steam != nil {
		w.bySteam(x, stream, to)
	}
	passed := needed
	if gives, err := can.To(stream); err == nil && len(can.Missing) == 0 {
		x.Gives = Some(Power(gives))
		passed = math.Min(needed, gives)
		x.Reaches = Some(in + Temperature(passed/float64(need.Capacity())))
		if rate, err := can.Rate(in, to); err == nil && !math.IsInf(float64(rate), 1) {
			x.OnceThrough = Some(Flow(float64(rate) / float64(need.Capacity()) * float64(q)))
		}
	}
	if s := x.Steam; s != nil {
		s.Flow = steamFlow(passed, s)
		s.Condensate = s.Flow
	}
}

// steamFlow gives the steam that passes a power.
func steamFlow(power float64, s *Steam) Opt[MassFlow] {
	abs, known := s.Absolute.Get()
	if !known {
		return Opt[MassFlow]{}
	}
	m, err := thermal.SteamFlow(Power(power), abs, Opt[Temperature]{})
	if err != nil {
		return Opt[MassFlow]{}
	}
	return Some(m)
}

// bySteam sizes the surface for what is needed.
func (w *work) bySteam(x *Exchanger, cold thermal.Stream, to Temperature) {
	if !x.Area.Known() {
		w.need("area beside what is needed", network.Missing{Record: x.Exchanger, Key: "area_m2"})
	}
	if !x.Coefficient.Known() {
		w.need("area that is needed", network.Missing{Record: x.Exchanger, Key: "coefficient_Wm2K"})
	}
	steam, known := x.Steam.Saturation.Get()
	if !known || steam <= to {
		return
	}
	if sized, err := thermal.SizeCondensing(steam, cold, to); err == nil {
		x.sized(sized, cold.Capacity())
	}
}

func (x *Exchanger) sized(s thermal.Exchange, least thermal.CapacityRate) {
	x.MeanDifference, x.Conductance, x.Effectiveness = Some(s.MeanDifference), Some(s.Conductance), Some(Ratio(s.Effectiveness))
	x.TransferUnits = Some(Ratio(float64(s.Conductance) / float64(least)))
	if u, told := x.Coefficient.Get(); told {
		if a, err := s.Area(u); err == nil {
			x.NeededArea = Some(a)
		}
	}
}

// cool sizes and rates a cooler, the water in counterflow.
func (w *work) cool(x *Exchanger, hot thermal.Stream, needed float64) {
	c := x.Cooling
	if c.Supply != "" && !c.Inlet.Known() {
		w.need("what the cooler takes", network.Missing{Record: c.Supply, Key: "temperature_C"})
	}
	if c.Supply != "" && !c.Flow.Known() {
		w.need("what the cooler takes", network.Missing{Record: c.Supply, Key: "flow_m3h"})
	}
	if water, ok := c.stream(); ok {
		if sized, err := thermal.Size(hot, water, Power(needed)); err == nil {
			x.sized(sized, min(hot.Capacity(), water.Capacity()))
			c.Outlet = Some(sized.ColdOutlet)
		}
	}
	takes, known := w.takes(x, hot)
	if !known {
		w.need("what the cooler takes", network.Missing{Record: x.Exchanger, Key: "duty_kW"})
		return
	}
	x.Gives = Some(Power(takes))
	x.Reaches = Some(hot.Inlet - Temperature(math.Min(needed, takes)/float64(hot.Capacity())))
}

// takes gives what a cooler takes from a stream at most: its duty, and what its surface
// passes to the water.
func (w *work) takes(x *Exchanger, hot thermal.Stream) (float64, bool) {
	most, known := math.Inf(1), false
	if d, told := x.Duty.Get(); told {
		most, known = float64(d), true
	}
	area, okA := x.Area.Get()
	u, okU := x.Coefficient.Get()
	if water, ok := x.Cooling.stream(); ok && okA && okU && area > 0 && u > 0 {
		if hot.Inlet <= water.Inlet {
			return 0, true
		}
		if r, err := thermal.Rate(hot, water, Conductance(float64(area)*float64(u))); err == nil {
			most, known = math.Min(most, float64(r.Power)), true
		}
	}
	return most, known
}

// stream gives the cooling water, where its temperature and flow are told.
func (c *Cooling) stream() (thermal.Stream, bool) {
	t, okT := c.Inlet.Get()
	q, okQ := c.Flow.Get()
	if !okT || !okQ || q <= 0 {
		return thermal.Stream{}, false
	}
	l := fluid.Liquid{Medium: fluid.PureWater, Temperature: t}
	p, err := l.Properties()
	if err != nil {
		return thermal.Stream{}, false
	}
	return thermal.Stream{Mass: thermal.MassFlow(float64(p.Density) * float64(q)), HeatCapacity: p.HeatCapacity, Inlet: t}, true
}
