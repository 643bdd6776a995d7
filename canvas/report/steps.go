package report

import (
	"fmt"
	"strings"

	"rinsewright/checks"
	"rinsewright/checks/lists"
	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/heat"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

// StepSheet is the calculation of one step.
type StepSheet struct {
	ID        model.ID `json:"id"`
	Programme string   `json:"programme,omitempty"`
	Name      string   `json:"name"`
	Solved    bool     `json:"solved"`
	Facts     []Fact   `json:"facts"`
	Tables    []Table  `json:"tables,omitempty"`
	Failures  []string `json:"not_computed,omitempty"`
	Missing   []Fact   `json:"missing,omitempty"`
	Assumed   []Fact   `json:"assumed,omitempty"`
}

// solvable gives the steps that move liquid from a source to a destination.
func (m *maker) solvable() []*model.Step {
	var out []*model.Step
	for _, s := range m.Circuit.Steps() {
		if s.Source != "" && s.Destination != "" {
			out = append(out, s)
		}
	}
	return out
}

func (m *maker) sheets(steps []*model.Step) error {
	for _, s := range steps {
		m.out.Steps = append(m.out.Steps, m.sheet(s))
		if err := m.step(1, "calculation of "+s.Name); err != nil {
			return err
		}
	}
	return nil
}

func known[T ~float64](out *[]Fact, label string, v quantity.Opt[T], s quantity.System, id model.ID, key string) {
	*out = append(*out, Fact{label, quantity.OptText(v, s), id, key})
}

func (m *maker) sheet(step *model.Step) StepSheet {
	sol := checks.Flows.Of(m.Snapshot, step)
	s := m.system
	out := StepSheet{ID: step.ID, Programme: step.Programme, Name: step.Name, Solved: sol.Solved()}
	out.Facts = append(out.Facts, Fact{"From", m.Name(step.Source), step.Source, "source"}, Fact{"To", m.Name(step.Destination), step.Destination, "destination"})
	known(&out.Facts, "Flow asked", sol.Supply.Asked, s, step.ID, "flow_m3h")
	known(&out.Facts, "Flow", sol.Supply.Flow, s, step.ID, "")
	if sol.Supply.Short.Known() {
		known(&out.Facts, "Falls short by", sol.Supply.Short, s, step.ID, "")
	}
	if x, ok := sol.Properties.Get(); ok {
		out.Facts = append(out.Facts, Fact{"Density", quantity.Number(float64(x.Density)) + " kg/m³", step.ID, ""}, Fact{"Viscosity", quantity.Number(float64(x.Viscosity)*1000) + " mPa s", step.ID, ""})
	}
	if p, ok := sol.Supply.Speed.Get(); ok && sol.Supply.Pump != "" {
		out.Facts = append(out.Facts, Fact{"Speed of " + m.Name(sol.Supply.Pump), quantity.Number(100*float64(p)) + " % of rated", sol.Supply.Pump, ""})
	}
	if held, missing := heat.HoldUp(sol.Plant, sol.Route); sol.Route.Found && len(missing) == 0 {
		known(&out.Facts, "The way holds, vessels left out", quantity.Some(held), s, step.ID, "")
	}
	out.Tables = m.flowTables(sol)
	for _, f := range sol.Failures {
		out.Failures = append(out.Failures, f.Told(s))
	}
	for _, k := range sol.Missing {
		out.Missing = append(out.Missing, m.missing(k, ""))
	}
	m.assumed(&out, sol.Assumptions)
	if t, ok := step.Temperature.Get(); ok && t > 0 {
		m.heat(&out, heat.Of(sol, heat.Options{}))
	}
	return out
}

func (m *maker) missing(k network.Missing, what string) Fact {
	label := m.PropertyLabel(k.Record, k.Key)
	if what != "" {
		label += ", for " + what
	}
	return Fact{label, m.Name(k.Record), k.Record, k.Key}
}

func (m *maker) assumed(out *StepSheet, list []flow.Assumption) {
	for _, a := range list {
		label := a.What
		if a.Record != "" {
			label += " of " + m.Name(a.Record)
		}
		out.Assumed = append(out.Assumed, Fact{label, a.Told(m.system) + " (" + a.Basis + ")", a.Record, a.Key})
	}
}

func (m *maker) flowTables(sol *flow.Solution) []Table {
	s := m.system
	var out []Table
	pumps := table("pumps", "Pumps", words("Pump"), words("Runs"), words("Speed, %"), column[quantity.Flow]("Flow", s), column[quantity.Length]("Head", s),
		column[quantity.ShaftPower]("Shaft power", s), column[quantity.Length]("NPSH available", s), column[quantity.Length]("NPSH required", s))
	for _, p := range sol.Pumps {
		runs := "no"
		if p.Running {
			runs = "yes"
		}
		if p.OutOfCurve {
			runs += ", beyond its curve"
		}
		pumps.row(p.Pump, lists.Text(m.Name(p.Pump)), lists.Text(runs), percent(p.Speed), cell(p.Flow, s), cell(p.Head, s), cell(p.Power, s), cell(p.Available, s), cell(p.Required, s))
	}
	sprays := table("sprays", "Spray devices", words("Device"), words("In"), column[quantity.Flow]("Flow", s), column[quantity.Pressure]("Pressure at its inlet", s))
	for _, x := range sol.Sprays {
		in := ""
		if x.Vessel != "" {
			in = m.Name(x.Vessel)
		}
		sprays.row(x.Spray, lists.Text(m.Name(x.Spray)), lists.Text(in), cell(x.Flow, s), cell(x.Pressure, s))
	}
	vessels := table("vessels", "Vessels on the way", words("Vessel"), words("Balance"), column[quantity.Flow]("Comes in", s), column[quantity.Flow]("Goes out", s),
		column[quantity.Flow]("Return can take", s), column[quantity.Length]("Puddle", s))
	for _, v := range sol.Vessels {
		vessels.row(v.Vessel, lists.Text(m.Name(v.Vessel)), lists.Text(string(v.Balance)), cell(v.Inflow, s), cell(v.Outflow, s), cell(v.Capacity, s), cell(v.Level, s))
	}
	for _, t := range []Table{pumps, sprays, vessels, m.runTable(sol)} {
		if len(t.Rows) > 0 {
			out = append(out, t)
		}
	}
	return out
}

// runTable lists the runs in which liquid moves; of several stretches the fastest
// counts.
func (m *maker) runTable(sol *flow.Solution) Table {
	s := m.system
	t := table("runs", "Runs in which liquid moves", words("Run"), column[quantity.Flow]("Flow", s), column[quantity.Velocity]("Velocity", s), words("Reynolds number"),
		column[quantity.Length]("Head lost", s))
	for _, r := range m.Circuit.Runs() {
		var worst *flow.Edge
		lost, all := quantity.Length(0), true
		for _, e := range sol.Plant.RunEdges(r.ID) {
			x := &sol.Edges[e]
			if q, ok := x.Flow.Get(); !ok || q == 0 {
				continue
			}
			if h, ok := x.Loss.Get(); ok {
				lost += h
			} else {
				all = false
			}
			if worst == nil || abs(x.Velocity.Or(0)) > abs(worst.Velocity.Or(0)) {
				worst = x
			}
		}
		if worst == nil {
			continue
		}
		loss := lists.Cell{}
		if all {
			loss = cell(quantity.Some(lost), s)
		}
		re := lists.Cell{}
		if x, ok := worst.Reynolds.Get(); ok {
			re = lists.Number(float64(x))
		}
		t.row(r.ID, lists.Text(m.Name(r.ID)), cell(positive(worst.Flow), s), cell(positive(worst.Velocity), s), re, loss)
	}
	return t
}

func abs[T ~float64](x T) T { return max(x, -x) }

func positive[T ~float64](v quantity.Opt[T]) quantity.Opt[T] {
	if x, ok := v.Get(); ok {
		return quantity.Some(abs(x))
	}
	return v
}

// heat adds the heat side of a step.
func (m *maker) heat(out *StepSheet, h *heat.State) {
	s := m.system
	known(&out.Facts, "Temperature asked", h.Asked, s, out.ID, "temperature_C")
	if len(h.Exchangers) > 0 {
		known(&out.Facts, "Temperature at the start", h.Start, s, out.ID, "")
	}
	if len(h.Losses) > 0 {
		known(&out.Facts, "Supplied while it runs", h.Supplied, s, out.ID, "")
		known(&out.Facts, "Comes back", h.Back, s, out.ID, "")
		lost := Fact{"Lost on the way", quantity.OptText(h.Lost, s), out.ID, ""}
		if !h.Lost.Known() {
			lost.Text = "more than " + quantity.Text(h.KnownLost, s)
		}
		out.Facts = append(out.Facts, lost)
	}
	t := table("exchangers", "Heaters and coolers, one pass at the start", words("Exchanger"), column[quantity.Temperature]("Inlet", s), column[quantity.Temperature]("Asked", s),
		column[quantity.Power]("Needed", s), column[quantity.Power]("Gives", s), column[quantity.Temperature]("Reaches", s), column[quantity.Area]("Area", s), column[quantity.Area]("Area needed", s),
		column[quantity.MassFlow]("Steam", s))
	for i := range h.Exchangers {
		x := &h.Exchangers[i]
		var steam quantity.Opt[quantity.MassFlow]
		if x.Steam != nil {
			steam = x.Steam.Flow
		}
		t.row(x.Exchanger, lists.Text(m.Name(x.Exchanger)), cell(x.Inlet, s), cell(x.Asked, s), cell(x.Needed, s), cell(x.Gives, s), cell(x.Reaches, s), cell(x.Area, s), cell(x.NeededArea, s), cell(steam, s))
	}
	if len(t.Rows) > 0 {
		out.Tables = append(out.Tables, t)
	}
	if u := h.WarmUp; u != nil {
		f := Fact{"Warming of " + m.Name(u.Tank), "", u.Tank, ""}
		span := quantity.Text(u.From, s) + " to " + quantity.Text(u.To, s)
		switch time, ok := u.Time.Get(); {
		case u.Never:
			f.Text = span + ": never, it comes to " + quantity.OptText(u.Tends, s)
		case !ok:
			f.Text = span + ": time unknown"
		case u.AtLeast:
			f.Text = span + ": at least " + quantity.Text(time, s)
		default:
			f.Text = span + ": " + quantity.Text(time, s)
		}
		out.Facts = append(out.Facts, f)
	}
	for _, f := range h.Failures {
		out.Failures = append(out.Failures, "heat: "+strings.TrimPrefix(f.Told(s), "thermal: "))
	}
	seen := map[string]bool{}
	for _, f := range out.Missing {
		seen[string(f.ID)+f.Key] = true
	}
	for _, k := range h.Missing {
		if id := string(k.Record) + k.Key; !seen[id] {
			seen[id] = true
			out.Missing = append(out.Missing, m.missing(k.Missing, k.For))
		}
	}
	m.assumed(out, h.Assumptions)
}

func stepTitle(programme, name string) string {
	if programme == "" {
		return name
	}
	return fmt.Sprintf("%s: %s", programme, name)
}
