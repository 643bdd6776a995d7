package wash

import (
	"fmt"
	"math"
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	. "rinsewright/model/quantity"
	"rinsewright/model/thermal"
)

// wall is the steel of a length of tube.
type wall struct {
	volume   float64 // m³ of liquid beside it
	capacity float64 // J/K
	film     float64 // W/K to the liquid while it flows
	loss     float64 // W/K to the air
	celsius  float64
}

// viscosity is the kinematic one of the step's liquid, m²/s; of water at 20 °C where
// it is not known.
func (c *circulation) viscosity() float64 {
	if c.sol != nil {
		if x, ok := c.sol.Properties.Get(); ok {
			return float64(x.Viscosity) / float64(x.Density)
		}
	}
	return 1.0034e-6
}

// spread is dispersion times the square of the area of an edge, m⁶/s.
func (c *circulation) spread(e int) float64 {
	edge := &c.s.p.Edges[e]
	d, ok := edge.Bore.Get()
	if !ok || d <= 0 {
		return 0
	}
	area := catalogue.BoreArea(d)
	v := math.Abs(c.q[e]) / area
	return Dispersion(d, Velocity(v), v*float64(d)/c.viscosity()) * area * area
}

// wallsOf gives the steel of a run's stretch, made once; film and loss are those of
// this step.
func (c *circulation) wallsOf(e int) []wall {
	s := c.s
	edge := &s.p.Edges[e]
	run := s.p.Circuit.Run(edge.Run)
	if run == nil {
		return nil
	}
	tube, ok := s.p.Catalogue.Tube(run.Size.Or(""))
	if !ok {
		return nil
	}
	length := float64(edge.Length.Or(0))
	if s.walls[e] == nil {
		n := int(math.Ceil(length / wallLength))
		od, t := float64(tube.Outside), float64(tube.Wall)
		steel := math.Pi * (od - t) * t * length * steelDensity * steelHeat
		s.walls[e] = make([]wall, n)
		for k := range s.walls[e] {
			s.walls[e][k] = wall{volume: float64(edge.Volume.Or(0)) / float64(n), capacity: steel / float64(n), celsius: s.air}
		}
	}
	if len(s.walls[e]) == 0 {
		return nil
	}
	part := length / float64(len(s.walls[e]))
	d := float64(tube.Inside())
	film := c.film(d, math.Abs(c.q[e])) * math.Pi * d * part
	loss := c.loss(tube, run) * part
	for k := range s.walls[e] {
		s.walls[e][k].film, s.walls[e][k].loss = film, loss
	}
	return s.walls[e]
}

const wallLength = 1.0 // m of tube that share one temperature of the steel

// film is the coefficient of heat transfer in a tube, W/(m²·K): Dittus and Boelter,
// Nu = 0.023 Re^0.8 Pr^0.4 (from memory), with the conductivity of water at 50 °C.
func (c *circulation) film(d, q float64) float64 {
	nu := c.viscosity()
	re := max(q/(math.Pi/4*d*d)*d/nu, 2300)
	const conducts, density = 0.64, 990
	pr := nu * density * waterHeat / conducts
	return 0.023 * math.Pow(re, 0.8) * math.Pow(pr, 0.4) * conducts / d
}

// loss is the loss of a metre of a run's tube in W/K, at the temperature of the step
// but at least 10 K above the air. A run that tells no insulation is bare.
func (c *circulation) loss(t catalogue.Tube, run *model.Run) float64 {
	k, _ := stepTemperature(c.step)
	return c.s.lossOf(thermal.Tube{Outside: t.Outside, Insulation: Length(run.Insulation.Or(0))}, k)
}

// lossOf is the loss of a metre of tube in W/K at a temperature in °C.
func (s *sim) lossOf(t thermal.Tube, celsius float64) float64 {
	t.Emissivity = s.opt.Emissivity
	if t.Insulation > 0 {
		t.Conductivity, t.Emissivity = lagging, jacket
		s.lagged()
	}
	hot := s.hotSide(celsius)
	l, err := t.Loss(hot, s.opt.Air)
	if err != nil {
		return 0
	}
	return float64(l.Conductance(1, hot, s.opt.Air))
}

// lossOfWall is the loss of an area of upright wall in W/K at a temperature in °C.
func (s *sim) lossOfWall(w thermal.Wall, area, celsius float64) float64 {
	w.Emissivity = s.opt.Emissivity
	if w.Insulation > 0 {
		w.Conductivity, w.Emissivity = lagging, jacket
		s.lagged()
	}
	hot := s.hotSide(celsius)
	l, err := w.Loss(hot, s.opt.Air)
	if err != nil {
		return 0
	}
	return float64(l.Conductance(Area(area), hot, s.opt.Air))
}

// hotSide keeps a temperature in °C at least 10 K above the air, where losses by free
// convection are nearly in proportion to the difference.
func (s *sim) hotSide(celsius float64) Temperature {
	return Celsius(min(max(celsius, s.air+10), 190))
}

func (s *sim) lagged() {
	s.assume("insulation", fmt.Sprintf("%g W/(m·K), under sheet of emissivity %g", lagging, jacket), practice+"; mineral wool", "", "")
}

// shell gives the steel of a vessel as one wall, or nil where its measures are not
// known. It loses heat to the air where its insulation is told.
func (s *sim) shell(t *tank) *wall {
	if w, ok := s.shells[t.id]; ok {
		return w
	}
	d, okD := t.vessel.Diameter.Get()
	h, okH := t.vessel.Height.Get()
	if !okD || !okH {
		return nil
	}
	// Shell over the whole height and two flat ends: a dished end adds about a tenth to
	// its own area and takes as much from the shell.
	area := math.Pi*float64(d)*float64(h) + math.Pi/2*float64(d*d)
	thick, told := t.vessel.Wall.Get()
	if !told {
		thick = Bore(s.opt.Wall)
		s.assumeOf("wall of "+s.name(t.id), Say("%v, %v", thick, Area(area)), practice, t.id, "wall_mm")
	}
	w := &wall{capacity: area * float64(thick) * steelDensity * steelHeat, film: area * filmTransfer, celsius: s.air}
	if lag, told := t.vessel.Insulation.Get(); told {
		w.loss = s.lossOfWall(thermal.Wall{Height: h, Insulation: Length(lag)}, area, s.hottest(t))
		s.assume("loss of "+s.name(t.id), "as of an upright wall of its height, over all of its surface", practice, t.id, "")
	} else {
		s.assume("loss of "+s.name(t.id), "none", "its insulation is not told", t.id, "insulation_mm")
	}
	s.shells[t.id] = w
	return w
}

// hottest is the greatest temperature that a tank is asked to have in the programme,
// °C, or what it holds.
func (s *sim) hottest(t *tank) float64 {
	most := s.air
	if k := t.holds.celsius(); k > most {
		most = k
	}
	for _, st := range s.steps {
		if k, ok := stepTemperature(st); ok && k > most && (st.Source == t.id || st.Destination == t.id || slices.Contains(st.Cleans, t.id)) {
			most = k
		}
	}
	return most
}

// stands lets tanks exchange heat with their steel, and all vessels lose it to the air,
// for a time dt in s. c is nil while nothing flows.
func (s *sim) stands(c *circulation, dt float64) {
	for _, t := range s.order {
		w := s.shells[t.id]
		if w == nil || dt <= 0 {
			continue
		}
		if c == nil || !c.passes(t.id) {
			share := 1.0
			if total := t.total(); !math.IsInf(total, 1) && total > 0 {
				share = min(1, t.holds[volume]/total)
			}
			w.meets(&t.holds, w.film*tankTransfer/filmTransfer*share*dt)
		}
		q := dt * w.loss * (w.celsius - s.air) / (1 + dt*w.loss/w.capacity)
		w.celsius -= q / w.capacity
		if q != 0 {
			s.lostNow(q)
		}
	}
}

// passes says whether the flow leads through a vessel.
func (c *circulation) passes(id model.ID) bool {
	for i := range c.elements {
		if b := c.elements[i].bowl; b != nil && b.id == id {
			return true
		}
	}
	return false
}

// meets passes heat between a wall and what it holds; k is film times time, J/K.
func (w *wall) meets(a *amount, k float64) {
	c := a.capacity()
	if c <= 1e-9 {
		return
	}
	q := k * (a[heat]/c - w.celsius) / (1 + k*(1/c+1/w.capacity))
	a[heat] -= q
	w.celsius += q / w.capacity
}

const (
	steelDensity = 7900 // kg/m³, EN 10088-1, from memory
	steelHeat    = 500  // J/(kg·K), EN 10088-1, from memory
	filmTransfer = 1000 // W/(m²·K) of a falling film; common practice, no source
	tankTransfer = 500  // W/(m²·K) of what stands or is stirred by its return; common practice, no source
	lagging      = 0.04 // W/(m·K) of mineral wool; common practice, no source
	jacket       = 0.25 // emissivity of its sheet; common practice, no source
)
