package sizing

import (
	"errors"
	"fmt"
	"math"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/fluid"
	"rinsewright/model/hydraulic"
	. "rinsewright/model/quantity"
)

var wettingSource = Basis{Source: "Clean-In-Place for Biopharmaceutical Processes", Clause: "chapter on spray cleaning: flow by the circumference", Standing: StandingRead}

// flows tells what each object needs and what the station must give.
func (s *sizer) flows() {
	s.section = "Flow"
	for _, o := range s.p.Objects {
		s.flow = append(s.flow, s.flowOf(o))
	}
	s.station = s.most(result{key: "station-flow", label: "Flow of the station", formula: "the largest of the flows that the objects need, one being washed at a time",
		in: s.flow, basis: Basis{Source: "Handbook of Hygiene Control in the Food Industry", Clause: "chapter 27: rated for the most demanding circuit", Standing: StandingRead}})
}

func (s *sizer) flowOf(o Object) term {
	r := result{key: "flow", of: o.Name, label: "Flow needed"}
	switch o.Sort {
	case VesselSort:
		if o.Rated.Known() {
			r.formula, r.basis = "rated flow of its spray devices", Basis{Standing: StandingTold}
			r.in = []term{told("rated flow", o.Name, o.Rated)}
			return s.line(r, func(x []float64) (Value, error) { return Of(Flow(x[0])), nil })
		}
		r.formula, r.basis = "π × inside diameter × flow on the circumference", wettingSource
		wetting := term{label: "flow on the circumference", missing: []string{"spray device of " + o.Name}}
		if d, ok := o.Device.Get(); ok {
			wetting = s.assume("wetting-" + string(d))
		}
		r.in = []term{told("diameter", o.Name, o.Diameter), wetting}
		return s.line(r, func(x []float64) (Value, error) { return Of(Flow(math.Pi * x[0] * x[1])), nil })
	case LineSort:
		r.formula = "area of its bore × least velocity"
		r.in = []term{s.boreOf(o), s.assume("velocity-least")}
		return s.line(r, func(x []float64) (Value, error) { return Of(Flow(catalogue.BoreArea(Bore(x[0])) * x[1])), nil })
	case MachineSort:
		r.formula, r.basis = "flow that its maker demands", Basis{Standing: StandingTold}
		r.in = []term{told("flow needed", o.Name, o.Needs)}
		return s.line(r, func(x []float64) (Value, error) { return Of(Flow(x[0])), nil })
	}
	return s.line(r, func([]float64) (Value, error) { return Value{}, fmt.Errorf("%q is no sort of object", o.Sort) })
}

// boreOf gives the bore of a line or machine, from its tube or as it was told.
func (s *sizer) boreOf(o Object) term {
	if size, ok := o.Size.Get(); ok {
		if t, found := s.cat.Tube(size); found {
			return term{label: "bore of " + string(size), value: Of(t.Inside()), basis: Basis{Source: t.Source, Standing: ""}}
		}
	}
	return told("bore", o.Name, o.Bore)
}

// waterCold is water at 20 °C, of which friction is taken: colder than a wash, so the
// loss is on the safe side.
func waterCold() hydraulic.Fluid {
	w, err := fluid.Water(Celsius(20))
	if err != nil {
		panic("sizing: water at 20 °C: " + err.Error()) // within the range of the formulation
	}
	return hydraulic.Fluid{Density: float64(w.Density()), Viscosity: float64(w.Viscosity())}
}

func (s *sizer) state(bore Bore, q Flow) hydraulic.PipeState {
	return hydraulic.Pipe{Bore: bore, Roughness: Length(s.si("roughness"))}.At(q, waterCold())
}

// TubeRow is one size of a table of tubes for a flow.
type TubeRow struct {
	Tube     catalogue.Tube
	Velocity Velocity
	Gradient Ratio // head lost on the length
	Fits     bool
	Why      string // it does not fit
}

// Tubes gives the table of the series for a flow: the velocity in each size and
// whether it keeps to the assumed limits.
func (p *Project) Tubes(cat *catalogue.Catalogue, q Flow) []TubeRow {
	c := &calc{p: p, cat: cat, given: map[string]Assumption{}}
	for _, a := range p.Assumptions {
		c.given[a.Key] = a
	}
	for _, t := range cat.Tubes() {
		if t.Series == p.Series {
			c.tubes = cat.Series(t.Size)
			break
		}
	}
	return (&sizer{calc: c}).table(q)
}

// slack is the share by which a velocity may miss its limit by rounding.
const slack = 1e-9

func (s *sizer) table(q Flow) []TubeRow {
	var out []TubeRow
	least, most, gradient := s.si("velocity-least"), s.si("velocity-most"), s.si("gradient-most")
	for _, t := range s.tubes {
		st := s.state(t.Inside(), q)
		r := TubeRow{Tube: t, Velocity: st.Velocity, Gradient: st.Gradient}
		switch {
		case float64(st.Velocity) < least*(1-slack):
			r.Why = "too slow"
		case float64(st.Velocity) > most*(1+slack):
			r.Why = "too fast"
		case float64(st.Gradient) > gradient*(1+slack):
			r.Why = "loses too much head"
		default:
			r.Fits = true
		}
		out = append(out, r)
	}
	return out
}

// widest gives the widest tube that keeps to the limits at a flow.
func (s *sizer) widest(q Flow) (catalogue.Tube, bool) {
	rows := s.table(q)
	for i := len(rows) - 1; i >= 0; i-- {
		if rows[i].Fits {
			return rows[i].Tube, true
		}
	}
	return catalogue.Tube{}, false
}

var errNoTube = errors.New("no tube of the series keeps to the velocities")

// tubeSizes chooses tubes: one for the branch of each object, and one for what they
// share.
func (s *sizer) tubeSizes() {
	s.section = "Tubes"
	limits := []term{s.assume("velocity-least"), s.assume("velocity-most")}
	least := term{}
	for i, o := range s.p.Objects {
		r := result{key: "tube", of: o.Name, label: "Tube", in: append([]term{s.flow[i]}, limits...),
			formula: "the widest of the series in which the flow needed runs at the least velocity or more, and at the highest or less"}
		if size, ok := o.Size.Get(); ok && o.Sort == LineSort {
			r.formula, r.basis = "the line's own", Basis{Standing: StandingTold}
			s.line(r, func([]float64) (Value, error) { return Word(string(size)), nil })
		} else {
			s.line(r, func(x []float64) (Value, error) {
				t, ok := s.widest(Flow(x[0]))
				if !ok {
					return Value{}, errNoTube
				}
				return Word(string(t.Size)), nil
			})
		}
		if l := s.sheet.Lines[len(s.sheet.Lines)-1]; l.Value.Known() {
			tube, _ := s.cat.Tube(model.TubeSize(l.Value.text))
			s.line(result{key: "tube-velocity", of: o.Name, label: "Velocity in it", formula: "flow needed / area of the bore",
				in: []term{s.flow[i], {label: "bore", value: Of(tube.Inside())}}},
				func(x []float64) (Value, error) { return Of(Velocity(x[0] / catalogue.BoreArea(Bore(x[1])))), nil })
		}
		if least.label == "" || !least.value.Known() || s.flow[i].value.Known() && s.flow[i].value.si < least.value.si {
			least = s.flow[i]
		}
	}
	s.commonTube(least)
}

// commonTube chooses the tube that the station and all lines to and from it have.
func (s *sizer) commonTube(least term) {
	least.label = "smallest flow needed"
	note := ""
	s.size = s.line(result{key: "station-tube", label: "Tube they share", in: []term{least, s.station, s.assume("velocity-least"), s.assume("velocity-most")},
		formula: "the widest of the series in which the smallest flow needed runs at the least velocity or more, and the largest at the highest or less",
		basis:   Basis{Source: "Handbook of Hygiene Control in the Food Industry", Clause: "chapter 27: ideally one bore in one circuit", Standing: StandingRead}},
		func(x []float64) (Value, error) {
			small, okSmall := s.widest(Flow(x[0]))
			if okSmall && float64(s.state(small.Inside(), Flow(x[1])).Velocity) <= s.si("velocity-most")*(1+slack) {
				s.tube = small
				return Word(string(small.Size)), nil
			}
			t, ok := s.widest(Flow(x[1]))
			if !ok {
				return Value{}, errNoTube
			}
			s.tube = t
			v := s.state(t.Inside(), Flow(x[0])).Velocity
			note = "the flows differ too much for one tube; the smallest would run at " + Text(v, Metric) + " in it: give that object more flow, or a line of its own"
			return Word(string(t.Size)), nil
		})
	if note != "" {
		s.why(note)
	}
	s.bore = term{label: "bore of it", missing: s.size.missing}
	if s.size.value.Known() {
		s.bore.value = Of(s.tube.Inside())
	}
	s.line(result{key: "station-velocity", label: "Highest velocity in it", formula: "flow / area of the bore", in: []term{s.station, s.bore}},
		func(x []float64) (Value, error) { return Of(Velocity(x[0] / catalogue.BoreArea(Bore(x[1])))), nil })
}
