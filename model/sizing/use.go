package sizing

import (
	"rinsewright/model"
	"rinsewright/model/fluid"
	. "rinsewright/model/quantity"
	"rinsewright/model/thermal"
)

// use tells what a wash, a day and a year take.
func (s *sizer) use() {
	s.section = "Use"
	kinds := []struct {
		key, label string
		of         func(i int, o Object) term
	}{
		{"water", "Water", s.waterOf},
		{"heat", "Heat", s.heatOf},
		{"steam", "Steam", s.steamOf},
		{"electricity", "Electricity", s.electricityOf},
		{"alkali", "Alkali concentrate", func(i int, o Object) term { return s.concentrateOf(i, o, model.Alkali) }},
		{"acid", "Acid concentrate", func(i int, o Object) term { return s.concentrateOf(i, o, model.Acid) }},
	}
	for _, k := range kinds {
		if (k.key == "alkali" || k.key == "acid") && !s.sends(model.Medium(k.key)) {
			continue
		}
		var days []term
		for i, o := range s.p.Objects {
			wash := k.of(i, o)
			days = append(days, s.line(result{key: k.key + "-day-of", of: o.Name, label: k.label + " a day", formula: "of a wash × washes a day",
				in: []term{wash, perDay(o)}}, func(x []float64) (Value, error) {
				v := wash.value
				v.si = x[0] * x[1]
				return v, nil
			}))
		}
		day := s.sum(result{key: k.key + "-day", label: k.label + " a day", formula: "sum over the objects", in: days})
		s.line(result{key: k.key + "-year", label: k.label + " a year", formula: "of a day × days a year", in: []term{day, s.assume("days")}},
			func(x []float64) (Value, error) {
				v := day.value
				v.si = x[0] * x[1]
				return v, nil
			})
	}
}

func perDay(o Object) term {
	n, ok := o.PerDay.Get()
	if !ok {
		return term{label: "washes a day", missing: []string{"washes a day of " + o.Name}}
	}
	return term{label: "washes a day", value: In(n, "perday"), basis: Basis{Standing: StandingTold}}
}

// sends says whether the programme sends a solution of a medium.
func (s *sizer) sends(m model.Medium) bool {
	for _, f := range s.phases {
		if f.medium == m {
			return true
		}
	}
	return false
}

// minutes adds up the time of some phases; unknown if one has none.
func (s *sizer) minutes(label string, takes func(phase) bool) term {
	t := term{label: label, basis: Basis{Source: "ready programme " + s.p.Programme}}
	var sum Duration
	for _, f := range s.phases {
		if !takes(f) {
			continue
		}
		d, ok := f.time.Get()
		if !ok {
			t.missing = append(t.missing, "time of "+f.name)
		}
		sum += d
	}
	if len(t.missing) == 0 {
		t.value = Of(sum)
	}
	return t
}

// fresh says whether a phase takes fresh water that is not kept.
func (s *sizer) fresh(f phase) bool {
	switch {
	case f.round || f.chemical():
		return false
	case f.medium == model.Recovered || f.or == model.Recovered:
		return s.tanks < 4 // a tank for recovered water gives the first rinse
	}
	return f.medium == model.Water
}

func (s *sizer) waterOf(i int, o Object) term {
	formula := "flow × time of the rinses with fresh water"
	if s.tanks == 4 {
		formula += "; the first rinse is recovered water"
	}
	return s.line(result{key: "water-wash", of: o.Name, label: "Water a wash", formula: formula, in: []term{s.flow[i], s.minutes("time of rinses", s.fresh)}},
		func(x []float64) (Value, error) { return In(x[0]*x[1], "m3"), nil })
}

// heatOf tells the heat of a wash: for what the circuit holds, which comes back cold
// from the rinse before, and for what is lost on the way round.
func (s *sizer) heatOf(i int, o Object) term {
	in := []term{s.rounds[i], s.flow[i], s.assume("cold"), s.assume("warm-steel"), s.assume("pass-loss")}
	for _, f := range s.phases {
		if f.round && f.temperature.Known() {
			in = append(in, s.minutes("time of "+lowerFirst(f.name), func(g phase) bool { return g.name == f.name && g.purpose == f.purpose }))
		}
	}
	return s.line(result{key: "heat-wash", of: o.Name, label: "Heat a wash", in: in,
		formula: "for each warm step: density × hold-up of the circuit × heat capacity × rise × (1 + steel) + density × flow × heat capacity × cooling on the way round × time"},
		func(x []float64) (Value, error) {
			sum, k := 0.0, 5
			for _, f := range s.phases {
				to, ok := f.temperature.Get()
				if !f.round || !ok {
					continue
				}
				time := x[k]
				k++
				rise := float64(to) - x[2]
				if rise <= 0 {
					continue
				}
				c, err := thermal.Content{Liquid: f.liquid(Temperature(x[2])), Volume: Volume(x[0])}.Capacity(to)
				if err != nil {
					return Value{}, err
				}
				h, err := thermal.HeatingOf(f.liquid(to-Temperature(min(x[4], rise))), Flow(x[1]), to)
				if err != nil {
					return Value{}, err
				}
				sum += float64(c)*rise*(1+x[3]) + float64(h.Power)*time
			}
			return In(sum, "kWh"), nil
		})
}

func (s *sizer) steamOf(i int, o Object) term {
	heat := s.lineOf("heat-wash", o.Name)
	return s.line(result{key: "steam-wash", of: o.Name, label: "Steam a wash", formula: "heat / heat of condensing", in: []term{heat, s.assume("steam-pressure")}},
		func(x []float64) (Value, error) {
			if x[0] == 0 {
				return Of(Kilograms(0)), nil
			}
			m, err := thermal.SteamFlow(Power(x[0]), Pressure(x[1])+fluid.Atmosphere, Opt[Temperature]{}) // in one second
			return Of(Kilograms(float64(m))), err
		})
}

// lineOf gives a line that stands already as a term.
func (s *sizer) lineOf(key, of string) term {
	l, ok := s.sheet.Line(key, of)
	if !ok {
		panic("sizing: there is no line " + key)
	}
	t := term{label: lowerFirst(l.Label), value: l.Value, missing: l.Missing}
	if !l.Value.Known() && len(t.missing) == 0 {
		t.missing = []string{t.label + " (" + l.Why + ")"}
	}
	return t
}

func (s *sizer) electricityOf(_ int, o Object) term {
	all := s.minutes("time of all steps", func(phase) bool { return true })
	return s.line(result{key: "electricity-wash", of: o.Name, label: "Electricity a wash", formula: "(shaft power of both pumps) / efficiency of motor with converter × time; at rated duty, so on the high side",
		in: []term{s.shaft, s.backShaft, s.assume("motor-efficiency"), all}},
		func(x []float64) (Value, error) { return In((x[0]+x[1])/x[2]*x[3], "kWh"), nil })
}

// concentrateOf tells what a wash takes of a concentrate: with reuse what is lost,
// without it the whole tank.
func (s *sizer) concentrateOf(i int, o Object, m model.Medium) term {
	var f phase
	for _, g := range s.phases {
		if g.medium == m {
			f = g
		}
	}
	key := string(m)
	strength := term{label: "strength", value: Maybe(f.strength), basis: Basis{Source: "ready programme " + s.p.Programme}}
	stock := s.assume("concentrate-" + key)
	mass := func(volume, w, stock float64) (Value, error) {
		l := fluid.Liquid{Medium: f.agent, Strength: Strength(w), Temperature: Celsius(20)}
		d, err := l.Density()
		return Of(Kilograms(volume * float64(d) * w / stock)), err
	}
	r := result{key: key + "-wash", of: o.Name, label: upperFirst(key) + " concentrate a wash"}
	if s.tanks == 1 || !f.round {
		r.formula = "working volume of the tank × density × strength / strength of the concentrate; the solution is used once"
		r.in = []term{s.volume, strength, stock}
		return s.line(r, func(x []float64) (Value, error) { return mass(x[0], x[1], x[2]) })
	}
	r.formula = "hold-up of its circuit × share lost × density × strength / strength of the concentrate"
	r.in = []term{s.rounds[i], s.assume("solution-lost"), strength, stock}
	return s.line(r, func(x []float64) (Value, error) { return mass(x[0]*x[1], x[2], x[3]) })
}

func upperFirst(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return string(s[0]-'a'+'A') + s[1:]
}
