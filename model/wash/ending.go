package wash

import (
	"math"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// endings are what a step waits for, and when its time began to count. The step is
// over when all of them are met at once.
type endings struct {
	c      *circulation
	r      *Step
	list   []*ending
	timer  model.TimerFrom
	hold   float64 // s after the step began, when the timer started; NaN: not yet
	length float64 // s that count from there; NaN: no time is told
	volume float64 // m³; NaN: not asked
	sends  float64 // m³/s
	limit  float64 // s after which the step ends in any case
}

// ending is one condition.
type ending struct {
	Ending
	met   func(t float64) bool
	short func() Words // what is lacking
}

// endings lists what the step waits for. A preparing step that tells no longest time
// takes its time for that.
func (c *circulation) endings(r *Step, list []place, w *watch, prepare *preparation) (*endings, *failure) {
	s, st := c.s, c.step
	e := &endings{c: c, r: r, hold: math.NaN(), length: math.NaN(), volume: math.NaN(), limit: math.Inf(1)}
	for k := range c.nodes {
		e.sends += c.nodes[k].source
	}
	length, timed := st.Time.Get()
	longest, bounded := st.Longest.Get()
	if !bounded {
		longest = s.opt.Longest
	}
	if e.timer = st.TimerFrom.Or(""); e.timer == "" {
		e.timer = model.TimerStart
		if s.opt.Hold && prepare == nil && c.heated() {
			e.timer = model.TimerWarm
		}
	}
	if f := e.waits(w); f != nil {
		return nil, f
	}
	asMost := prepare != nil && timed && !bounded && !st.TimerFrom.Known()
	if timed && !asMost {
		e.time(float64(length), w)
	}
	e.conductivity(list)
	e.temperature(list)
	e.sent()
	switch {
	case asMost:
		e.limit = float64(length)
	case bounded, prepare != nil, e.timer != model.TimerStart, len(e.list) > 1, !timed:
		e.limit = float64(longest)
	}
	return e, nil
}

// warm and strong say what the timer waits for.
func warm(t model.TimerFrom) bool { return t == model.TimerWarm || t == model.TimerWarmStrong }

func strong(t model.TimerFrom) bool { return t == model.TimerStrong || t == model.TimerWarmStrong }

// waits tells the watch to look at what the timer waits for.
func (e *endings) waits(w *watch) *failure {
	st := e.c.step
	lacks := func(key, what string) *failure {
		return &failure{why: "the timer waits for the return's " + what + ", and the step tells none",
			at: model.Place{Element: st.ID, Key: key}, missing: []network.Missing{{Record: st.ID, Key: key}}}
	}
	if warm(e.timer) {
		k, told := stepTemperature(st)
		if !told {
			return lacks("temperature_C", "temperature")
		}
		w.set = k
	}
	if strong(e.timer) && (w.chemical < 0 || !(w.strength > 0)) {
		return lacks("strength_pct", "strength")
	}
	return nil
}

// started says whether the timer may start.
func (e *endings) started() bool {
	return (!warm(e.timer) || e.r.ReachedHeat.Known()) && (!strong(e.timer) || e.r.ReachedStrength.Known())
}

func (e *endings) time(length float64, w *watch) {
	e.length = length
	if e.timer == model.TimerStart {
		e.hold = 0
		e.r.Hold = Some(Duration(0))
	}
	e.list = append(e.list, &ending{Ending: Ending{Key: "time_min"},
		met: func(t float64) bool { return t >= e.hold+e.length-1e-9 },
		short: func() Words {
			var what []Words
			if warm(e.timer) && !e.r.ReachedHeat.Known() {
				what = append(what, Say("the return did not come within %v of %v", Difference(w.margin), Celsius(w.set)))
			}
			if strong(e.timer) && !e.r.ReachedStrength.Known() {
				what = append(what, Say("the return did not come to %v of its strength", Strength(reachedShare)))
			}
			if len(what) == 0 {
				return Say("its time was not over")
			}
			return joinWords(what, " and ")
		}})
}

// at gives the instrument of a trait, else the last point, which is then an assumption.
func (e *endings) at(list []place, trait, what string) (place, bool) {
	if p, ok := e.c.sensor(list, trait); ok {
		return p, true
	}
	if len(list) == 0 {
		return place{}, false
	}
	p := e.c.lastPoint(list)
	e.c.s.assume(what+" at which "+e.c.step.Name+" ends", "that at "+e.c.s.name(p.at.Element), "no instrument for it stands behind what is cleaned", e.c.step.ID, "")
	return p, true
}

func (e *endings) conductivity(list []place) {
	c := e.c
	end, asked := c.step.EndConductivity.Get()
	if !asked {
		return
	}
	x := &ending{Ending: Ending{Key: "end_conductivity_mScm"}, met: func(float64) bool { return false },
		short: func() Words { return Say("nothing on the way tells its conductivity") }}
	e.list = append(e.list, x)
	p, ok := e.at(list, catalogue.TraitConductivity, "conductivity")
	if !ok {
		return
	}
	x.Place = p.at
	rises := chemicalIn(c.step) >= 0
	c.s.assume("conductivity at which steps end", "corrected to 25 °C by what the chemical needs", "as a meter that is set for the chemical; one with a single coefficient is off by some 3 %", "", "")
	now := func() Opt[Conductivity] {
		a, _ := c.at(p.spot)
		return c.s.reads(a, rises)
	}
	x.met = func(float64) bool {
		k, known := now().Get()
		return known && (rises && k >= preparedShare*end || !rises && k <= end)
	}
	x.short = func() Words {
		k, known := now().Get()
		if !known {
			return Say("the return's conductivity is not known")
		}
		text := Say("the return's conductivity is %v, its end is %v", k, end)
		if own := c.s.water.Or(tapWater); !rises && own > end {
			text = Say("%v, and the water itself has %v", text, own)
		}
		return text
	}
}

// temperature: the return is to rise to its end or to fall to it, see rises.
func (e *endings) temperature(list []place) {
	c := e.c
	end, asked := c.step.EndTemperature.Get()
	if !asked {
		return
	}
	x := &ending{Ending: Ending{Key: "end_temperature_C"}, met: func(float64) bool { return false },
		short: func() Words { return Say("nothing on the way tells its temperature") }}
	e.list = append(e.list, x)
	p, ok := e.at(list, catalogue.TraitTemperature, "temperature")
	if !ok {
		return
	}
	x.Place = p.at
	now := func() float64 {
		a, _ := c.at(p.spot)
		return a.celsius()
	}
	rises := c.rises(now(), end.Celsius())
	x.met = func(float64) bool {
		k := now()
		return rises && k >= end.Celsius() || !rises && k <= end.Celsius()
	}
	x.short = func() Words {
		return Say("the return has %v, its end is %v", Celsius(now()), end)
	}
}

// rises says whether a temperature in °C comes to its end from below: as what is there
// at the start and what the step sends lie on its two sides. Where they lie on one, the
// step's own temperature decides, else what it sends.
func (c *circulation) rises(now, end float64) bool {
	asked, told := stepTemperature(c.step)
	sent := *c.step
	sent.Temperature = Opt[Temperature]{}
	sends, _ := stepTemperature(c.s.complete(&sent))
	if told && len(c.heaters) > 0 {
		sends = max(sends, asked)
	}
	switch {
	case now < end && sends >= end:
		return true
	case now > end && sends <= end:
		return false
	case told:
		return asked >= end
	}
	return sends >= end
}

func (e *endings) sent() {
	v, asked := e.c.step.EndVolume.Get()
	if !asked {
		return
	}
	e.volume = float64(v)
	e.list = append(e.list, &ending{Ending: Ending{Key: "end_volume_L"},
		met:   func(float64) bool { return float64(e.r.Use.Drawn) >= e.volume*(1-1e-9) },
		short: func() Words { return Say("its volume was not sent") }})
}

// next gives how long the next step of time may be, after t seconds.
func (e *endings) next(t float64) float64 {
	dt := min(e.c.dt, e.limit-t)
	if left := e.hold + e.length - t; left > 1e-9 {
		dt = min(dt, left)
	}
	if left := e.volume - float64(e.r.Use.Drawn); left > 1e-12 && e.sends > 0 {
		dt = min(dt, left/e.sends*(1+1e-12))
	}
	return dt
}

// look starts the timer and says whether all is met after t seconds.
func (e *endings) look(t float64) bool {
	if math.IsNaN(e.hold) && !math.IsNaN(e.length) && e.started() {
		e.hold = t
		e.r.Hold = Some(Duration(t))
	}
	all := true
	for _, x := range e.list {
		switch {
		case !x.met(t):
			x.Met, all = Opt[Duration]{}, false
		case !x.Met.Known():
			x.Met = Some(Duration(t))
		}
	}
	return all
}

// finish puts the conditions into the record and gives what was not met.
func (e *endings) finish() Words {
	var short []Words
	for _, x := range e.list {
		e.r.Endings = append(e.r.Endings, x.Ending)
		if !x.Met.Known() {
			short = append(short, x.short())
		}
	}
	return joinWords(short, "; ")
}

func joinWords(list []Words, by string) Words {
	var all Words
	for i, w := range list {
		if i == 0 {
			all = w
			continue
		}
		all = Say("%v%s%v", all, by, w)
	}
	return all
}
