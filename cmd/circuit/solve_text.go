package main

import (
	"fmt"
	"io"
	"text/tabwriter"

	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/heat"
	"rinsewright/model/quantity"
)

func (t *told) text(w io.Writer) {
	s := t.sol
	fmt.Fprintf(w, "\n  %s\n", t.stepName())
	sup := s.Supply
	fmt.Fprintf(w, "    supply: %s asked, %s flows", orUnknown(sup.Asked, t.system), orUnknown(sup.Flow, t.system))
	if speed, ok := sup.Speed.Get(); ok && sup.Pump != "" {
		fmt.Fprintf(w, ", %s at %.0f %% of its speed", t.Name(sup.Pump), 100*float64(speed))
	}
	fmt.Fprintln(w)
	if short, ok := sup.Short.Get(); ok {
		fmt.Fprintf(w, "    falls short by %s; at full speed %s\n", quantity.Text(short, t.system), orUnknown(sup.Full, t.system))
	}
	if over, ok := sup.Over.Get(); ok {
		fmt.Fprintf(w, "    is more than asked by %s\n", quantity.Text(over, t.system))
	}
	if lost, ok := sup.Lost.Get(); ok && lost > 1e-9 {
		fmt.Fprintf(w, "    %s leave the route beside it; %s are drawn\n", quantity.Text(lost, t.system), orUnknown(sup.Drawn, t.system))
	}
	if needed, ok := sup.Needed.Get(); ok && needed > 1 {
		fmt.Fprintf(w, "    %.0f %% of the rated speed would give it\n", 100*float64(needed))
	}
	t.pumpsText(w)
	for _, x := range s.Sprays {
		fmt.Fprintf(w, "    %s: %s at %s\n", t.Name(x.Spray), orUnknown(x.Flow, t.system), orUnknown(x.Pressure, t.system))
	}
	for _, v := range s.Vessels {
		t.vesselText(w, v)
	}
	for _, split := range s.Splits {
		fmt.Fprintf(w, "    at %s the flow divides:", t.Name(s.Plant.Nodes[split.Node].Part))
		for _, b := range split.Branches {
			fmt.Fprintf(w, " %.1f %%", 100*float64(b.Share))
		}
		fmt.Fprintln(w)
	}
	t.runsText(w)
	for _, f := range s.Failures {
		fmt.Fprintf(w, "    not solved: %s\n", f.Told(t.system))
	}
	for _, m := range s.Missing {
		fmt.Fprintf(w, "    missing: %s of %s\n", t.PropertyLabel(m.Record, m.Key), t.Name(m.Record))
	}
	if len(s.Assumptions) > 0 {
		fmt.Fprintln(w, "    assumed:")
	}
	for _, a := range s.Assumptions {
		fmt.Fprintf(w, "      %s%s: %s (%s)\n", a.What, t.ofRecord(a.Record), a.Told(t.system), a.Basis)
	}
}

func orUnknown[T ~float64](o quantity.Opt[T], s quantity.System) string {
	return quantity.OptText(o, s)
}

func (t *told) pumpsText(w io.Writer) {
	for _, p := range t.sol.Pumps {
		if !p.Running {
			fmt.Fprintf(w, "    %s stands\n", t.Name(p.Pump))
			continue
		}
		fmt.Fprintf(w, "    %s: %s, %s head", t.Name(p.Pump), orUnknown(p.Flow, t.system), orUnknown(p.Head, t.system))
		if speed, ok := p.Speed.Get(); ok {
			fmt.Fprintf(w, ", %.0f %% speed", 100*float64(speed))
		}
		if p.OutOfCurve {
			fmt.Fprint(w, ", beyond its curve")
		}
		fmt.Fprintf(w, ", shaft %s, NPSH %s available, %s required\n",
			orUnknown(p.Power, t.system), orUnknown(p.Available, t.system), orUnknown(p.Required, t.system))
	}
}

func (t *told) vesselText(w io.Writer, v flow.Vessel) {
	fmt.Fprintf(w, "    %s: %s in, return can take %s", t.Name(v.Vessel), orUnknown(v.Inflow, t.system), orUnknown(v.Capacity, t.system))
	if v.Balance != "" {
		fmt.Fprintf(w, ": %s", v.Balance)
	}
	if level, ok := v.Level.Get(); ok {
		fmt.Fprintf(w, ", puddle %s", quantity.Text(level, t.system))
	}
	if v.PartFull {
		fmt.Fprint(w, ", return runs part-full by gravity")
	}
	fmt.Fprintln(w)
}

// negated turns the sign of what is known.
func negated[T ~float64](o quantity.Opt[T]) quantity.Opt[T] {
	if v, known := o.Get(); known {
		return quantity.Some(-v)
	}
	return o
}

func (t *told) runsText(w io.Writer) {
	tab := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	unit := func(name string) string { return name + "\t" }
	fmt.Fprintln(tab, "    run\t"+unit("flow "+quantity.DisplayUnit[quantity.Flow](t.system).Name)+unit(quantity.DisplayUnit[quantity.Velocity](t.system).Name)+
		unit("Re")+unit("shear Pa")+unit("loss "+quantity.DisplayUnit[quantity.Length](t.system).Name)+unit("from "+quantity.DisplayUnit[quantity.Pressure](t.system).Name)+unit("to")+unit("liquid in "+quantity.DisplayUnit[quantity.Temperature](t.system).Name)+unit("out")+unit("lost "+quantity.DisplayUnit[quantity.Power](t.system).Name))
	t.eachEdge(func(run *model.Run, stretch int, e flow.Edge, h heat.Edge, from, to flow.Node) {
		name := t.Name(run.ID)
		if q, known := e.Flow.Get(); known && q < 0 && run.Tag == "" {
			// Drawn against the flow: told as it flows. A run with a tag keeps its sign.
			name = "run from " + t.Name(run.To.Part) + " to " + t.Name(run.From.Part)
			from, to = to, from
			e.Flow, e.Velocity = quantity.Some(-q), negated(e.Velocity)
		}
		if len(run.Stretches) > 1 {
			name = fmt.Sprintf("%s [%d]", name, stretch+1)
		}
		fmt.Fprintf(tab, "    %s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t\n", name, shown(e.Flow, t.system), shown(e.Velocity, t.system), shown(e.Reynolds, t.system),
			pascals(e.Shear), shown(e.Loss, t.system), shown(from.Pressure, t.system), shown(to.Pressure, t.system),
			shown(h.In, t.system), shown(h.Out, t.system), shown(h.Lost, t.system))
	})
	tab.Flush()
}
