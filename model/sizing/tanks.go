package sizing

import (
	"math"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	. "rinsewright/model/quantity"
	"rinsewright/model/vessel"
)

// tankVolumes tells what the circuits hold and how large the tanks must be.
func (s *sizer) tankVolumes() {
	s.section = "Tanks"
	for _, o := range s.p.Objects {
		s.held = append(s.held, s.holdUp(o))
	}
	for i, o := range s.p.Objects {
		s.rounds = append(s.rounds, s.round(i, o))
	}
	s.circuit = s.most(result{key: "circuit", label: "Largest hold-up of a circuit", formula: "the largest of the objects", in: s.rounds})
	s.volume = s.line(result{key: "tank-volume", label: "Working volume of each tank",
		formula: "the larger of factor × hold-up of the circuit and flow × minutes, on the next 100 L",
		in:      []term{s.circuit, s.assume("tank-factor"), s.station, s.assume("tank-minutes")}, basis: Basis{Standing: StandingPractice}},
		func(x []float64) (Value, error) {
			v := max(x[0]*x[1], x[2]*x[3])
			return Of(Volume(math.Ceil(v/0.1-slack) * 0.1)), nil
		})
	s.line(result{key: "tanks", label: "Tanks", formula: "as told, or one for water and one more each for alkali and acid that the programme sends round",
		in: []term{{label: "tanks", value: In(float64(s.tanks), "each")}}, basis: Basis{Standing: StandingPractice}},
		func(x []float64) (Value, error) { return In(x[0], "each"), nil })
}

// round gives what an object's whole circuit holds: the object, its lines and the
// station.
func (s *sizer) round(i int, o Object) term {
	return s.line(result{key: "round", of: o.Name, label: "Hold-up of its circuit", formula: "hold-up of the object with its lines + tube of the station × area of the bore + heater, strainer and pumps",
		in: []term{s.held[i], s.assume("station-supply"), s.assume("station-return"), s.bore, s.assume("heater-hold-up")}},
		func(x []float64) (Value, error) {
			return Of(Volume(x[0] + (x[1]+x[2])*catalogue.BoreArea(Bore(x[3])) + x[4])), nil
		})
}

// holdUp tells what an object and the lines to and from it hold in a wash.
func (s *sizer) holdUp(o Object) term {
	own := s.ownVolume(o)
	return s.line(result{key: "hold-up", of: o.Name, label: "Hold-up with its lines", formula: "(supply + return) × area of the bore + what it holds itself",
		in: []term{told("length of supply", o.Name, o.Supply), told("length of return", o.Name, o.Return), s.bore, own}},
		func(x []float64) (Value, error) {
			return Of(Volume((x[0]+x[1])*catalogue.BoreArea(Bore(x[2])) + x[3])), nil
		})
}

func (s *sizer) ownVolume(o Object) term {
	r := result{key: "own-volume", of: o.Name, label: "Volume in it"}
	switch {
	case o.Sort == VesselSort:
		r.label, r.formula = "Puddle in it", "volume of the bottom up to the depth of the puddle"
		bottom := term{label: "bottom", missing: []string{"bottom of " + o.Name}}
		shape, known := o.Bottom.Get()
		if known {
			bottom.value = Word(string(shape))
		}
		r.in = []term{told("diameter", o.Name, o.Diameter), bottom, s.assume("puddle")}
		return s.line(r, func(x []float64) (Value, error) {
			// The top does not matter for a puddle: a flat one far above stands in for it.
			b, err := vessel.New(shape, model.Flat, Length(x[0]), Length(2*x[0]+x[2]))
			if err != nil {
				return Value{}, err
			}
			return Of(b.At(Length(x[2]))), nil
		})
	case o.HoldUp.Known():
		r.formula, r.basis = "as told", Basis{Standing: StandingTold}
		r.in = []term{told("hold-up", o.Name, o.HoldUp)}
		return s.line(r, func(x []float64) (Value, error) { return Of(Volume(x[0])), nil })
	}
	r.formula = "length × area of its bore"
	r.in = []term{told("length", o.Name, o.Length), s.boreOf(o)}
	return s.line(r, func(x []float64) (Value, error) { return Of(Volume(x[0] * catalogue.BoreArea(Bore(x[1])))), nil })
}
