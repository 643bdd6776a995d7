package wash

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// Run runs the steps of one programme in order. h are the heights of the plant.
//
// What hinders a step stands in its record; the error is of a call that cannot be: no
// plant, no steps, a step that is not of the plant's circuit.
func Run(p *network.Plant, h *network.Heights, steps []*model.Step, opt Options) (*Record, error) {
	if p == nil || h == nil {
		return nil, errors.New("wash: no plant or no heights")
	}
	if len(steps) == 0 {
		return nil, errors.New("wash: the programme has no steps")
	}
	for i, st := range steps {
		if st == nil {
			return nil, fmt.Errorf("wash: step %d of the programme is nil", i+1)
		}
	}
	s := newSim(p, h, steps, opt)
	before := s.stored()
	for i := range steps {
		s.step(i)
		if s.stopped() {
			return nil, ErrStopped
		}
	}
	s.finish(before)
	return s.rec, nil
}

// stopped says whether the run is no longer wanted.
func (s *sim) stopped() bool { return s.opt.Stop != nil && s.opt.Stop() }

// sim is a programme while it runs.
type sim struct {
	p     *network.Plant
	h     *network.Heights
	steps []*model.Step
	opt   Options
	rec   *Record

	solver   flow.Solver
	held     [][]amount // by edge: what it holds, from its From to its To
	walls    [][]wall   // by edge
	tanks    map[model.ID]*tank
	order    []*tank // of tanks, as they were met
	shells   map[model.ID]*wall
	supplies map[supplied]joined // found by joinedTo

	nominal [len(chemicals)]float64 // least strength asked for, by chemical
	air     float64                 // °C
	every   float64                 // s
	clock   float64                 // s since the programme began
	assumed map[assumed]bool
	trends  map[trendKey]int // index in rec.Trends
	tankAt  map[model.ID]int // index in rec.Tanks
	entered amount           // over the programme
	left    amount
	lost    float64 // J to the air
	heated  float64 // J from heaters

	recovered   amount            // that came back to other tanks
	circulated  amount            // that came back to the tank it was drawn from
	freshDegree float64           // °C of fresh water
	water       Opt[Conductivity] // of the water itself
	tap         model.ID          // the supply that could tell it
}

type assumed struct {
	record    model.ID
	key, what string
}

type trendKey struct {
	place model.Place
	what  string
}

func newSim(p *network.Plant, h *network.Heights, steps []*model.Step, opt Options) *sim {
	opt = opt.withDefaults()
	s := &sim{
		p: p, h: h, steps: steps, opt: opt, rec: &Record{Steps: make([]Step, len(steps))},
		held: make([][]amount, len(p.Edges)), walls: make([][]wall, len(p.Edges)),
		tanks: map[model.ID]*tank{}, shells: map[model.ID]*wall{}, supplies: map[supplied]joined{}, assumed: map[assumed]bool{},
		trends: map[trendKey]int{}, tankAt: map[model.ID]int{}, air: opt.Air.Celsius(),
	}
	for _, st := range steps {
		if c := chemicalIn(st); c >= 0 && st.Strength.Or(0) > 0 {
			if x := &s.nominal[c-alkali]; *x == 0 || float64(st.Strength.Or(0)) < *x {
				*x = float64(st.Strength.Or(0))
			}
		}
	}
	for i := range s.nominal {
		if s.nominal[i] == 0 {
			s.nominal[i] = 0.005 // nobody asks for it; common practice, no source
		}
	}
	s.freshDegree = s.air
	for _, part := range p.Circuit.Parts() {
		if t, ok := part.(*model.Terminal); ok && t.Medium.Or("") == model.Water {
			if k, known := t.Temperature.Get(); known {
				s.freshDegree = k.Celsius()
				break
			}
		}
	}
	s.ownConductivity()
	s.every = s.interval()
	s.firstContent()
	s.stocked()
	s.general()
	s.rec.film = newFilm(s)
	return s
}

// interval is the time between points of trends: at most some 2000 of them.
func (s *sim) interval() float64 {
	if s.opt.Every > 0 {
		return float64(s.opt.Every)
	}
	total := 0.0
	for _, st := range s.steps {
		total += float64(st.Time.Or(0))
	}
	return max(2, total/2000)
}

// firstContent fills tubes and hold-ups before the first step.
func (s *sim) firstContent() {
	for e := range s.p.Edges {
		v := float64(s.p.Edges[e].Volume.Or(0))
		if v <= 0 || s.p.Dry(e) || s.p.Edges[e].Path < 0 {
			continue
		}
		a := airOf(v)
		switch s.opt.Start {
		case FullOfWater:
			a = waterOf(v, s.air)
		case FullOfProduct:
			a = s.liquid(v, model.Product, -1, 0, s.air)
		}
		s.held[e] = []amount{a}
	}
}

// general lists what is assumed of the whole.
func (s *sim) general() {
	a := func(what, value, basis string) { s.assume(what, value, basis, "", "") }
	start := map[Start]string{Drained: "drained, full of air", FullOfWater: "full of water", FullOfProduct: "full of product"}
	a("circuit before the programme", start[s.opt.Start], "as asked for, or by default")
	s.assumeOf("air about the plant", Say("%v, still", s.opt.Air), practice, "", "")
	a("dispersion in tubes", "Wen and Fan, K = d·v·(3e7 Re^-2.1 + 1.35 Re^-0.125); laminar as at Re 2000", "from memory of Wen and Fan 1975; bends and valves neglected")
	a("hold-ups without a length", "mix at once", practice)
	a("thermal expansion of liquids", "neglected, 2.4 % from 20 to 75 °C", "IAPWS-IF97")
	a("heat capacity of liquids", "4.185 kJ/(kg·K) of their water", "IAPWS-IF97; solutes about 1 % less a per cent, common practice, no source")
	a("heat of dilution", "neglected", practice)
	a("steel that warms up", "runs, vessels on the way, tanks that tell their wall or insulation; not valves, pumps and exchangers", "7900 kg/m³, 500 J/(kg·K), EN 10088-1 from memory")
	a("loss of heat", fmt.Sprintf("of runs, bare where they tell no insulation, emissivity %g; of vessels that tell their insulation", s.opt.Emissivity), practice)
}

// assume notes an assumption; the same one stands once.
func (s *sim) assume(what, value, basis string, record model.ID, key string) {
	k := assumed{record, key, what}
	if !s.assumed[k] {
		s.assumed[k] = true
		s.rec.Assumptions = append(s.rec.Assumptions, flow.Assumption{What: what, Value: value, Basis: basis, Record: record, Key: key})
	}
}

// assumeOf notes an assumption whose value holds quantities.
func (s *sim) assumeOf(what string, value Words, basis string, record model.ID, key string) {
	k := assumed{record, key, what}
	if !s.assumed[k] {
		s.assumed[k] = true
		s.rec.Assumptions = append(s.rec.Assumptions, flow.Assume(value, flow.Assumption{What: what, Basis: basis, Record: record, Key: key}))
	}
}

func percent(x Strength) string { return fmt.Sprintf("%.3g %%", 100*float64(x)) }

// name gives the tag of a record, else its id.
func (s *sim) name(id model.ID) string {
	if p := s.p.Circuit.Part(id); p != nil && p.Meta().Tag != "" {
		return p.Meta().Tag
	}
	if r := s.p.Circuit.Run(id); r != nil && r.Tag != "" {
		return r.Tag
	}
	return string(id)
}

// stored adds up what the circuit holds, steel included; the heat of the steel is
// counted above the air, as warm as which it is when it is first met.
func (s *sim) stored() amount {
	var sum amount
	for e := range s.held {
		for i := range s.held[e] {
			sum.add(&s.held[e][i])
		}
		for _, w := range s.walls[e] {
			sum[heat] += w.capacity * (w.celsius - s.air)
		}
	}
	for _, t := range s.order {
		sum.add(&t.holds)
	}
	for _, w := range s.shells {
		sum[heat] += w.capacity * (w.celsius - s.air)
	}
	sum[volume] -= sum[air]
	return sum
}

// finish adds up.
func (s *sim) finish(before amount) {
	r := s.rec
	r.Total.Steam, r.Total.Electricity = Some(Mass(0)), Some(Energy(0))
	for i := range r.Steps {
		if st := &r.Steps[i]; st.Simulated {
			r.Cycle += st.Time
			r.Total.plus(&st.Use)
		}
	}
	after := s.stored()
	r.Balance.Volume = account(s.entered[volume]-s.entered[air], s.left[volume]-s.left[air], after[volume]-before[volume], before[volume])
	r.Balance.Mass = account(s.entered[mass], s.left[mass], after[mass]-before[mass], before[mass])
	r.Balance.Heat = account(s.entered[heat]+s.heated, s.left[heat]+s.lost, after[heat]-before[heat], before[heat])
	r.Balance.Solute = account(s.entered.solutes(), s.left.solutes(), after.solutes()-before.solutes(), before.solutes())
	r.Saved = Saved{s.back(&s.recovered), s.back(&s.circulated)}
	slices.SortFunc(r.Assumptions, func(a, b flow.Assumption) int {
		return cmp.Or(cmp.Compare(a.Record, b.Record), cmp.Compare(a.Key, b.Key), cmp.Compare(a.What, b.What))
	})
}

// back says what an amount that came back saves.
func (s *sim) back(a *amount) Back {
	b := Back{Volume: Volume(a[volume]), Heat: Energy(a[heat] - a.capacity()*s.freshDegree)}
	for _, m := range [...]model.Medium{model.Alkali, model.Acid, model.Disinfect} {
		kg := 0.0
		for i := range chemicalMedia {
			if chemicalMedia[i] == m {
				kg += a[alkali+i]
			}
		}
		if kg > 0 {
			b.Chemical = append(b.Chemical, Kept{m, Mass(kg)})
		}
	}
	return b
}

func account(in, out, stored, held float64) Account {
	a := Account{In: in, Out: out, Stored: stored}
	if most := max(math.Abs(in), math.Abs(out), math.Abs(stored), math.Abs(held)); most > 0 {
		a.Error = (in - out - stored) / most
	}
	return a
}

func sortMissing(list []network.Missing) {
	slices.SortFunc(list, func(a, b network.Missing) int {
		return cmp.Or(cmp.Compare(a.Record, b.Record), cmp.Compare(a.Key, b.Key))
	})
}
