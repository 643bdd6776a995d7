package sizing

import (
	"errors"

	"rinsewright/model/hydraulic"
	. "rinsewright/model/quantity"
)

// lossOf gives the head lost on a length of the common tube and in the station at a
// flow.
func (s *sizer) lossOf(key, label string, o Object, length, station, flow term) term {
	return s.line(result{key: key, of: o.Name, label: label, in: []term{length, s.assume("fittings-share"), flow, s.bore, s.assume("roughness"), station},
		formula: "(length + tube of the station) × (1 + share of fittings) × head lost a length, by the Darcy equation and Colebrook's friction, water at 20 °C",
		basis:   Basis{Source: "Darcy and Weisbach; Colebrook", Standing: StandingMemory}},
		func(x []float64) (Value, error) {
			return Of(Length((x[0] + x[5]) * (1 + x[1]) * float64(s.state(Bore(x[3]), Flow(x[2])).Gradient))), nil
		})
}

// pressureOf gives what an object needs at its inlet.
func (s *sizer) pressureOf(i int, o Object) term {
	r := result{key: "pressure", of: o.Name, label: "Pressure at its inlet"}
	switch {
	case o.Pressure.Known():
		r.formula, r.basis = "as told", Basis{Standing: StandingTold}
		r.in = []term{told("pressure", o.Name, o.Pressure)}
		return s.line(r, func(x []float64) (Value, error) { return Of(Pressure(x[0])), nil })
	case o.Sort == VesselSort:
		r.formula = "usual pressure of its spray device"
		t := term{label: "pressure of the spray device", missing: []string{"spray device of " + o.Name}}
		if d, ok := o.Device.Get(); ok {
			t = s.assume("pressure-" + string(d))
			r.basis = t.basis
		}
		r.in = []term{t}
		return s.line(r, func(x []float64) (Value, error) { return Of(Pressure(x[0])), nil })
	}
	r.formula = "friction on the way through it at the flow needed, water at 20 °C"
	r.in = []term{told("length", o.Name, o.Length), s.boreOf(o), s.flow[i], s.assume("roughness")}
	return s.line(r, func(x []float64) (Value, error) {
		g := float64(s.state(Bore(x[1]), Flow(x[2])).Gradient)
		return Of(Pressure(x[0] * g * waterCold().Density * hydraulic.StandardGravity)), nil
	})
}

// supplyPump tells flow, head and power of the supply pump.
func (s *sizer) supplyPump() {
	s.section = "Supply pump"
	weight := waterCold().Density * hydraulic.StandardGravity
	var heads []term
	for i, o := range s.p.Objects {
		loss := s.lossOf("supply-loss", "Head lost on the way to it", o, told("length of supply", o.Name, o.Supply), s.assume("station-supply"), s.flow[i])
		need := s.pressureOf(i, o)
		heads = append(heads, s.line(result{key: "head", of: o.Name, label: "Head that it asks for",
			formula: "rise + (1 + margin) × (head lost + (pressure at the inlet + heater + strainer + valves) / ρg)",
			in:      []term{told("rise", o.Name, o.Rise), loss, need, s.assume("heater-drop"), s.assume("strainer-drop"), s.assume("head-margin"), s.assume("valves-drop")}},
			func(x []float64) (Value, error) {
				return Of(Length(x[0] + (1+x[5])*(x[1]+(x[2]+x[3]+x[4]+x[6])/weight))), nil
			}))
	}
	s.pumpFlow = s.line(result{key: "pump-flow", label: "Rated flow", formula: "flow of the station × (1 + margin)", in: []term{s.station, s.assume("supply-margin")}},
		func(x []float64) (Value, error) { return Of(Flow(x[0] * (1 + x[1]))), nil })
	s.pumpHead = s.most(result{key: "pump-head", label: "Rated head", formula: "the largest head that an object asks for", in: heads})
	s.shaft, s.motor = s.powers("pump", s.pumpFlow, s.pumpHead, s.assume("pump-efficiency"))
}

// powers adds shaft power and motor of a pump.
func (s *sizer) powers(key string, flow, head, efficiency term) (shaft, motor term) {
	weight := waterCold().Density * hydraulic.StandardGravity
	shaft = s.line(result{key: key + "-shaft", label: "Shaft power", formula: "ρg × flow × head / efficiency", in: []term{flow, head, efficiency}},
		func(x []float64) (Value, error) { return Of(ShaftPower(weight * x[0] * x[1] / x[2])), nil })
	motor = s.line(result{key: key + "-motor", label: "Motor", formula: "the next standard motor over shaft power × (1 + margin)", in: []term{shaft, s.assume("motor-margin")},
		basis: Basis{Source: "IEC 60072-1", Clause: "rated outputs", Standing: StandingMemory}},
		func(x []float64) (Value, error) { return motorOver(x[0] * (1 + x[1])) })
	return shaft, motor
}

// motors are the rated outputs in kW.
var motors = []float64{0.18, 0.25, 0.37, 0.55, 0.75, 1.1, 1.5, 2.2, 3, 4, 5.5, 7.5, 11, 15, 18.5, 22, 30, 37, 45, 55, 75}

func motorOver(w float64) (Value, error) {
	for _, m := range motors {
		if m*1000 >= w*(1-slack) {
			return Of(ShaftPower(m * 1000)), nil
		}
	}
	return Value{}, errors.New("it would be larger than 75 kW; wash less at a time")
}

// returnPump tells flow, head and power of the return pump.
func (s *sizer) returnPump() {
	s.section = "Return pump"
	weight := waterCold().Density * hydraulic.StandardGravity
	s.backFlow = s.line(result{key: "return-flow", label: "Rated flow", formula: "flow of the station × (1 + margin)", in: []term{s.station, s.assume("return-margin")}},
		func(x []float64) (Value, error) { return Of(Flow(x[0] * (1 + x[1]))), nil })
	var losses []term
	for _, o := range s.p.Objects {
		losses = append(losses, s.lossOf("return-loss", "Head lost on the way back", o, told("length of return", o.Name, o.Return), s.assume("station-return"), s.backFlow))
	}
	worst := s.most(result{key: "return-loss", label: "Largest head lost on the way back", formula: "the largest of the objects", in: losses})
	s.backHead = s.line(result{key: "return-head", label: "Rated head", formula: "rise to the tanks + (1 + margin) × (largest head lost + valves / ρg)",
		in: []term{s.assume("return-rise"), worst, s.assume("head-margin"), s.assume("valves-drop")}},
		func(x []float64) (Value, error) { return Of(Length(x[0] + (1+x[2])*(x[1]+x[3]/weight))), nil })
	s.backShaft, s.backMotor = s.powers("return", s.backFlow, s.backHead, s.assume("return-efficiency"))
}
