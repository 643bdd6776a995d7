package wash

import (
	"math"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/fluid"
)

// heater is an exchanger that heats in this step.
type heater struct {
	id       model.ID
	set      float64 // °C
	duty     float64 // W, the most it gives; +Inf where only its surface limits it
	ua       float64 // W/K; +Inf where only its duty limits it
	steam    float64 // °C; +Inf for an electric one
	electric bool
	latent   float64 // J/kg of its steam; 0 unknown
	given    float64 // J in this step
}

// warm heats amounts that pass in a time dt in s:
//
//	q = min(C·(t_set − t), C·(1 − exp(−UA/C))·(t_steam − t), duty)
func (h *heater) warm(in []amount, dt float64) {
	total := 0.0
	for i := range in {
		total += in[i].capacity()
	}
	if total <= 1e-9 {
		return
	}
	effect := 1.0
	if !math.IsInf(h.ua, 1) {
		effect = -math.Expm1(-h.ua * dt / total)
	}
	left := h.duty * dt
	for i := range in {
		a := &in[i]
		c := a.capacity()
		if c <= 1e-9 {
			continue
		}
		t := a[heat] / c
		q := c * (h.set - t)
		if !math.IsInf(h.steam, 1) {
			q = min(q, c*effect*(h.steam-t))
		}
		q = min(q, left)
		if q > 0 {
			a[heat] += q
			left -= q
			h.given += q
		}
	}
}

// heater says how an exchanger heats in this step; nil where it does not.
func (c *circulation) heater(ex *model.Exchanger) *heater {
	set, asked := stepTemperature(c.step)
	kind := c.s.p.Catalogue.Kind(ex.Kind)
	if !asked || kind == nil {
		return nil
	}
	h := &heater{id: ex.ID, set: set, duty: math.Inf(1), ua: math.Inf(1), steam: math.Inf(1)}
	if d, ok := ex.Duty.Get(); ok {
		h.duty = float64(d)
	}
	if !kind.Has(catalogue.TraitSteamHeated) {
		if len(kind.Ports) > 2 {
			return nil // a second liquid side: a cooler
		}
		h.electric = true
		c.unlimited(h)
		return h
	}
	supply := c.steam(ex.ID)
	if supply == nil {
		return nil
	}
	area, okA := ex.Area.Get()
	u, okU := ex.Coefficient.Get()
	p, okP := supply.Pressure.Get()
	if okP {
		atm := c.s.opt.Flow.Atmosphere
		if !(atm > 0) {
			atm = fluid.Atmosphere
		}
		if sat, err := fluid.SaturatedAt(p + atm); err == nil {
			h.steam, h.latent = sat.Temperature.Celsius(), float64(sat.Latent())
			if okA && okU {
				h.ua = float64(area) * float64(u)
			}
		}
	} else {
		c.s.rec.Steps[c.i].Use.miss(supply.ID, "pressure_bar")
	}
	c.unlimited(h)
	return h
}

// unlimited notes a heater of which nothing tells how much it can give.
func (c *circulation) unlimited(h *heater) {
	if math.IsInf(h.duty, 1) && math.IsInf(h.ua, 1) {
		c.s.assume("power of "+c.s.name(h.id), "whatever the step's temperature needs", "neither duty nor surface and coefficient are told", h.id, "duty_kW")
		c.s.rec.Steps[c.i].Use.miss(h.id, "duty_kW")
	}
}

// steam finds the supply that open ways lead from to an exchanger's steam side.
func (c *circulation) steam(ex model.ID) *model.Terminal {
	p := c.s.p
	open := p.LineUp(c.step).Open
	if c.sol != nil && c.sol.Route != nil {
		open = c.sol.Route.LineUp.Open
	}
	seen := map[int]bool{}
	var queue []int
	kind := p.Catalogue.Kind(p.Circuit.Part(ex).Meta().Kind)
	for _, port := range kind.Ports {
		if port.Service != "steam" {
			continue
		}
		if n, ok := p.PortNode(ex, port.Name); ok {
			seen[n] = true
			queue = append(queue, n)
		}
	}
	for len(queue) > 0 {
		n := queue[0]
		queue = queue[1:]
		if t, ok := p.Circuit.Part(p.Nodes[n].Part).(*model.Terminal); ok && t.Medium.Or("") == model.Steam {
			return t
		}
		for _, a := range p.Graph().Incident(n) {
			if e := int(a.Edge); open[e] && p.Edges[e].Part != ex && !seen[int(a.Node)] {
				seen[int(a.Node)] = true
				queue = append(queue, int(a.Node))
			}
		}
	}
	return nil
}
