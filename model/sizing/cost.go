package sizing

import (
	"fmt"
	"slices"

	"rinsewright/model"
	"rinsewright/model/group"
	. "rinsewright/model/quantity"
)

// billed are the keys of the prices that an estimate takes.
var billed = []string{"tank-each", "tank-volume", "heater-each", "heater-area", "steam-valve", "instrument", "level-instrument",
	"pump-each", "pump-power", "valve", "steam-fitting", "tube", "frame", "panel"}

// GroupFor names the ready group of a station of some tanks.
func GroupFor(tanks int) string {
	return [...]string{"station-one-tank", "station-two-tanks", "station-three-tanks", "station-four-tanks"}[min(max(tanks, 1), 4)-1]
}

// count is how many of what is priced a ready group holds.
func count(g *group.Group) map[string]float64 {
	n := map[string]float64{"frame": 1, "panel": 1}
	for _, p := range g.Circuit.Parts() {
		kind := p.Meta().Kind
		switch p.Class() {
		case model.ClassVessel:
			n["tank-each"]++
		case model.ClassPump:
			n["pump-each"]++
		case model.ClassExchanger:
			n["heater-each"]++
		case model.ClassInstrument:
			if slices.Contains([]string{"level-high-switch", "level-low-switch", "level-transmitter"}, kind) {
				n["level-instrument"]++
			} else {
				n["instrument"]++
			}
		case model.ClassValve:
			switch kind {
			case "steam-control-valve":
				n["steam-valve"]++
			case "check-valve", "globe-valve", "relief-valve", "vacuum-relief-valve", "sampling-valve":
				n["steam-fitting"]++
			default:
				n["valve"]++
			}
		case model.ClassFitting:
			if kind == "steam-trap" || kind == "strainer" {
				n["steam-fitting"]++
			}
		}
	}
	for _, r := range g.Circuit.Runs() {
		n["tube"] += float64(r.Length().Or(0))
	}
	return n
}

// cost estimates the cost by group from quantities and unit prices.
func (s *sizer) cost() {
	s.section = "Cost"
	g := group.Named(GroupFor(s.tanks))
	n := count(g)
	times := func(label string, x float64, unit string) term {
		return term{label: label, value: In(x, unit), basis: Basis{Source: "ready group " + g.Title}}
	}
	amount := func(key string) []term {
		switch key {
		case "tank-volume":
			return []term{s.volume, times("tanks", n["tank-each"], "each")}
		case "heater-area":
			return []term{s.area}
		case "pump-power":
			return []term{s.motor, s.backMotor}
		case "tube":
			out := []term{{label: "tube of the station", value: Of(Length(n["tube"])), basis: Basis{Source: "ready group " + g.Title}}}
			for _, o := range s.p.Objects {
				out = append(out, told("length of supply", o.Name, o.Supply), told("length of return", o.Name, o.Return))
			}
			return out
		}
		return []term{times("number", n[key], "each")}
	}
	quantityOf := func(key string, x []float64) float64 {
		switch key {
		case "tank-volume":
			return x[0] * x[1]
		case "pump-power":
			return (x[0] + x[1]) / 1000
		case "tube":
			sum := 0.0
			for _, l := range x {
				sum += l
			}
			return sum
		}
		return x[0]
	}
	groups := []string{}
	byGroup := map[string][]term{}
	for _, i := range s.p.Prices.Items {
		unit := "price a " + i.Unit
		if i.Unit == "each" {
			unit = "price each"
		}
		price := term{label: unit, value: In(i.Price, "money"), basis: Basis{Standing: s.p.Prices.Standing}}
		if d, ok := defaultPrice(i.Key); ok && d != i.Price {
			price.basis = Basis{Standing: StandingTold}
		}
		in := amount(i.Key)
		t := s.line(result{key: "cost-" + i.Key, label: i.Label, formula: "quantity × price", in: append(in, price)},
			func(x []float64) (Value, error) {
				return In(quantityOf(i.Key, x[:len(x)-1])*x[len(x)-1], "money"), nil
			})
		if len(byGroup[i.Group]) == 0 {
			groups = append(groups, i.Group)
		}
		byGroup[i.Group] = append(byGroup[i.Group], t)
	}
	var sums []term
	for _, name := range groups {
		sums = append(sums, s.sum(result{key: "cost-of", of: name, label: name, formula: "sum", in: byGroup[name]}))
	}
	total := s.sum(result{key: "cost-total", label: "Cost of the station", formula: "sum of the groups", in: sums})
	for i, name := range groups {
		s.line(result{key: "share", of: name, label: "Share of the cost", formula: "cost of the group / cost of the station", in: []term{sums[i], total}},
			func(x []float64) (Value, error) {
				if x[1] <= 0 {
					return Value{}, fmt.Errorf("the prices are all zero")
				}
				return Of(Strength(x[0] / x[1])), nil
			})
		if b, ok := s.p.Prices.band(name); ok {
			s.why(fmt.Sprintf("usual: %s to %s %% (%s)", Number(b.Least), Number(b.Most), b.Standing))
		}
	}
}

func defaultPrice(key string) (float64, bool) {
	for _, i := range defaultPrices().Items {
		if i.Key == key {
			return i.Price, true
		}
	}
	return 0, false
}
