package lists

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/quantity"
)

// worst is the greatest of what a value is in the steps, with the step.
type worst[T ~float64] struct {
	value quantity.Opt[T]
	step  *model.Step
}

// most keeps the greater value; of two alike the first.
func (w *worst[T]) most(v quantity.Opt[T], step *model.Step) {
	x, ok := v.Get()
	if !ok {
		return
	}
	if old, ok := w.value.Get(); !ok || x > old {
		w.value, w.step = quantity.Some(x), step
	}
}

// least keeps the smaller value.
func (w *worst[T]) least(v quantity.Opt[T], step *model.Step) {
	x, ok := v.Get()
	if !ok {
		return
	}
	if old, ok := w.value.Get(); !ok || x < old {
		w.value, w.step = quantity.Some(x), step
	}
}

// solved is a step with what flows in it.
type solved struct {
	step *model.Step
	sol  *flow.Solution
}

// solutions solves the steps that move liquid from a source to a destination, and
// tells which were not solved.
func solutions(s *checks.Snapshot) (out []solved, remarks []string) {
	var not []string
	for _, step := range s.Circuit.Steps() {
		if step.Source == "" || step.Destination == "" {
			continue
		}
		sol := checks.Flows.Of(s, step)
		out = append(out, solved{step, sol})
		if !sol.Solved() {
			not = append(not, stepName(step))
		}
	}
	if len(not) > 0 {
		remarks = append(remarks, fmt.Sprintf("Not solved as a whole, so that values of these steps may be missing: %s.", strings.Join(not, "; ")))
	}
	return out, remarks
}

const gravity = 9.80665 // m/s², standard

// lines lists the runs with what flows in them. Each worst value stands with the
// step that it is of.
func lines(s *checks.Snapshot, system quantity.System) *Table {
	t := &Table{Columns: []Column{{"Line", ""}, {"From", ""}, {"To", ""}, {"Size", ""}, in[quantity.Bore]("Inside diameter", system),
		in[quantity.Length]("Length", system), {"Bends", ""}, in[quantity.Length]("Rise", system), in[quantity.Bore]("Insulation", system), in[quantity.Volume]("Volume", system), {"Media", ""},
		in[quantity.Flow]("Greatest flow", system), {"in step", ""}, in[quantity.Velocity]("Greatest velocity", system), {"in step", ""},
		in[quantity.Velocity]("Least velocity of a cleaning step", system), {"in step", ""},
		in[quantity.Pressure]("Greatest pressure drop", system), {"in step", ""}, in[quantity.Pressure]("Greatest pressure", system), {"in step", ""},
		in[quantity.Temperature]("Greatest temperature", system), {"in step", ""}, {"Note", ""}}}
	all, remarks := solutions(s)
	t.Remarks = append(remarks, "Velocities, pressures and drops are computed; pressures are gauge. An empty cell is not known, or the line does not flow.")
	plant := checks.Plant.Of(s)
	for _, r := range s.Circuit.Runs() {
		if !carries(s, r) {
			continue
		}
		var flows worst[quantity.Flow]
		var fast, slow worst[quantity.Velocity]
		var drop, pressure worst[quantity.Pressure]
		var hot worst[quantity.Temperature]
		var media []string
		medium := func(m quantity.Opt[model.Medium]) {
			if name := string(m.Or("")); name != "" && !has(media, name) {
				media = append(media, name)
			}
		}
		medium(r.Carries)
		edges := plant.RunEdges(r.ID)
		for _, x := range all {
			e := runIn(x.sol, edges)
			if !e.flows {
				continue
			}
			medium(x.step.Medium)
			flows.most(e.flow, x.step)
			fast.most(e.fast, x.step)
			slow.least(e.slow, x.step)
			drop.most(e.drop, x.step)
			pressure.most(e.pressure, x.step)
			hot.most(x.step.Temperature, x.step)
		}
		bore, volume := boreOf(s, r)
		bends := Cell{}
		if n, ok := r.Elbows.Get(); ok {
			bends = Number(float64(n))
		}
		t.Rows = append(t.Rows, []Cell{Text(r.Tag), Text(endOf(s, r.From)), Text(endOf(s, r.To)), Text(string(r.Size.Or(""))), of(bore, system),
			of(r.Length(), system), bends, of(r.Rise(), system), of(r.Insulation, system), of(volume, system), Text(strings.Join(media, ", ")),
			of(flows.value, system), Text(stepName(flows.step)), of(fast.value, system), Text(stepName(fast.step)),
			of(slow.value, system), Text(stepName(slow.step)), of(drop.value, system), Text(stepName(drop.step)),
			of(pressure.value, system), Text(stepName(pressure.step)), of(hot.value, system), Text(stepName(hot.step)), Text(r.Note)})
	}
	slices.SortStableFunc(t.Rows, func(a, b []Cell) int {
		return cmp.Or(byTag(a[0].Text, b[0].Text), byTag(a[1].Text, b[1].Text), byTag(a[2].Text, b[2].Text))
	})
	return t
}

func has(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// boreOf gives the inside diameter of a run and what it holds.
func boreOf(s *checks.Snapshot, r *model.Run) (quantity.Opt[quantity.Bore], quantity.Opt[quantity.Volume]) {
	size, ok := r.Size.Get()
	if !ok {
		return quantity.Opt[quantity.Bore]{}, quantity.Opt[quantity.Volume]{}
	}
	tube, ok := s.Catalogue.Tube(size)
	if !ok {
		return quantity.Opt[quantity.Bore]{}, quantity.Opt[quantity.Volume]{}
	}
	bore := quantity.Some(tube.Inside())
	length, ok := r.Length().Get()
	if !ok {
		return bore, quantity.Opt[quantity.Volume]{}
	}
	return bore, quantity.Some(quantity.Volume(float64(length) * tube.Area()))
}

// endOf names the part and port at an end of a run.
func endOf(s *checks.Snapshot, e model.End) string {
	if e.Loose() {
		return "open end"
	}
	return s.Where(model.Place{Element: e.Part, Port: e.Port})
}

// runFlow is what a run does in one step.
type runFlow struct {
	flows          bool
	flow           quantity.Opt[quantity.Flow]
	fast, slow     quantity.Opt[quantity.Velocity]
	drop, pressure quantity.Opt[quantity.Pressure]
}

// runIn gathers what the stretches of a run do. The drop is known only if that of
// every stretch is.
func runIn(sol *flow.Solution, edges []int) runFlow {
	var out runFlow
	drop, known := 0.0, len(edges) > 0
	var fast, slow worst[quantity.Velocity]
	var flows worst[quantity.Flow]
	var pressure worst[quantity.Pressure]
	for _, e := range edges {
		edge := sol.Edges[e]
		q, told := edge.Flow.Get()
		if told && math.Abs(float64(q)) < 1e-12 || !told && !sol.Route.InFlow[e] {
			known = false
			continue
		}
		out.flows = true
		if told {
			flows.most(quantity.Some(quantity.Flow(math.Abs(float64(q)))), nil)
		}
		if v, ok := edge.Velocity.Get(); ok {
			v := quantity.Some(quantity.Velocity(math.Abs(float64(v))))
			fast.most(v, nil)
			slow.least(v, nil)
		}
		if loss, ok := edge.Loss.Get(); ok {
			drop += math.Abs(float64(loss))
		} else {
			known = false
		}
		for _, n := range []int{sol.Plant.Edges[e].From, sol.Plant.Edges[e].To} {
			pressure.most(sol.Nodes[n].Pressure, nil)
		}
	}
	out.flow, out.fast, out.slow, out.pressure = flows.value, fast.value, slow.value, pressure.value
	if p, ok := sol.Properties.Get(); ok && known && out.flows {
		out.drop = quantity.Some(quantity.Pressure(drop * float64(p.Density) * gravity))
	}
	return out
}

// pumps lists the pumps with their rated data and their hardest duties.
func pumps(s *checks.Snapshot, system quantity.System) *Table {
	t := &Table{Columns: []Column{{"Tag", ""}, {"Kind", ""}, {"Suction", ""}, {"Discharge", ""}, in[quantity.Flow]("Rated flow", system), in[quantity.Length]("Rated head", system),
		in[quantity.Speed]("Rated speed", system), {"Efficiency", "%"}, in[quantity.Power]("Motor", system), in[quantity.Length]("NPSH required", system), {"Self-priming", ""},
		in[quantity.Flow]("Greatest flow", system), {"in step", ""}, in[quantity.Length]("Greatest head", system), {"in step", ""}, {"Greatest speed", "%"}, {"in step", ""},
		in[quantity.ShaftPower]("Greatest shaft power", system), {"in step", ""}, in[quantity.Length]("Least NPSH available", system), {"in step", ""}, {"Note", ""}}}
	all, remarks := solutions(s)
	t.Remarks = append(remarks, "Duties are computed, step by step.")
	for _, p := range ofClass[*model.Pump](s) {
		var flows worst[quantity.Flow]
		var head, npsh worst[quantity.Length]
		var speed worst[quantity.Ratio]
		var power worst[quantity.ShaftPower]
		for _, x := range all {
			for _, duty := range x.sol.Pumps {
				if duty.Pump != p.ID || !duty.Running {
					continue
				}
				flows.most(duty.Flow, x.step)
				head.most(duty.Head, x.step)
				speed.most(duty.Speed, x.step)
				power.most(duty.Power, x.step)
				npsh.least(duty.Available, x.step)
			}
		}
		share := Cell{}
		if v, ok := speed.value.Get(); ok {
			share = Number(100 * float64(v))
		}
		t.Rows = append(t.Rows, []Cell{Text(p.Tag), Text(kindTitle(s, p)), Text(string(p.Size.Or(""))), Text(string(p.OutletSize.Or(""))), of(p.RatedFlow, system), of(p.RatedHead, system),
			of(p.RatedSpeed, system), of(p.Efficiency, system), of(p.Motor, system), of(p.NPSHRequired, system), yesNo(p.SelfPriming),
			of(flows.value, system), Text(stepName(flows.step)), of(head.value, system), Text(stepName(head.step)), share, Text(stepName(speed.step)),
			of(power.value, system), Text(stepName(power.step)), of(npsh.value, system), Text(stepName(npsh.step)), Text(p.Note)})
	}
	return t
}
