package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"flag"
	"fmt"
	"io"

	"rinsewright/checks"
	"rinsewright/checks/listing"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/flow"
	"rinsewright/model/heat"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

// solveOptions are those of one call.
type solveOptions struct {
	step      string
	json, csv bool
	table     string // of --csv
	system    quantity.System
}

func runSolve(ctx context.Context, args []string, out, errs io.Writer) int {
	f := flag.NewFlagSet("solve", flag.ContinueOnError)
	opt := solveOptions{}
	f.StringVar(&opt.step, "step", "", "only this step: its name, or programme/name; default: every step with a source and a destination")
	f.BoolVar(&opt.json, "json", false, "one JSON object a step and line")
	f.BoolVar(&opt.csv, "csv", false, "one row a run and step, or as --table says")
	f.StringVar(&opt.table, "table", "runs", "rows of --csv: runs (stretches of runs) or heat (heaters and coolers)")
	units := systemOption(f)
	files, code, done := parse(f, "FILE...", args, out, errs)
	if done {
		return code
	}
	var err error
	opt.system, err = system(*units)
	switch {
	case err != nil:
	case len(files) == 0:
		err = fmt.Errorf("name at least one circuit file")
	case opt.json && opt.csv:
		err = fmt.Errorf("choose one of --json and --csv")
	case opt.table != "runs" && opt.table != "heat":
		err = fmt.Errorf("--table is runs or heat, not %q", opt.table)
	case opt.table != "runs" && !opt.csv:
		err = fmt.Errorf("--table needs --csv")
	}
	if err != nil {
		fmt.Fprintln(errs, "circuit solve:", err)
		return exitBad
	}
	if opt.csv {
		var b bytes.Buffer
		if opt.table == "heat" {
			writeRow(&b, exchangerColumns(opt.system))
		} else {
			writeRow(&b, runColumns(opt.system))
		}
		if _, err := out.Write(b.Bytes()); err != nil {
			return exitBad // nobody reads
		}
	}
	return inOrder(ctx, len(files), out, errs, func(i int) *checked { return solveFile(files[i], opt) })
}

// solveFile solves the steps asked for. The exit code says whether something
// could not be solved.
func solveFile(file string, opt solveOptions) *checked {
	r := &checked{}
	bad := func(err error) *checked {
		fmt.Fprintln(&r.errs, err)
		r.code = exitBad
		return r
	}
	c, err := circuitfile.ReadFile(file)
	if err != nil {
		return bad(err)
	}
	steps, err := stepsToSolve(c, opt.step)
	if err != nil {
		return bad(fmt.Errorf("%s: %w", file, err))
	}
	cat := catalogue.Builtin()
	plant := network.Build(c, cat)
	heights := plant.Heights()
	if !opt.json && !opt.csv {
		fmt.Fprintf(&r.text, "%s: %s\n", file, c.Header().Name)
	}
	hot := false
	for _, step := range steps {
		s, err := flow.Solve(plant, heights, step, flow.Options{})
		if err != nil {
			return bad(fmt.Errorf("%s: step %s: %w", file, step.Name, err))
		}
		t := &told{Snapshot: &checks.Snapshot{Circuit: c, Catalogue: cat}, sol: s, heat: heat.Of(s, heat.Options{}), file: file, system: opt.system}
		switch {
		case opt.json:
			err = json.NewEncoder(&r.text).Encode(t.json())
		case opt.csv && opt.table == "heat":
			t.exchangerRows(&r.text)
		case opt.csv:
			t.rows(&r.text)
		default:
			t.text(&r.text)
			hot = t.heatText(&r.text) || hot
		}
		if err != nil {
			return bad(fmt.Errorf("%s: step %s: %w", file, step.Name, err))
		}
		if !s.Solved() {
			r.code = max(r.code, exitFindings)
		}
	}
	if hot {
		fmt.Fprintf(&r.text, "\n  %s\n", heatCaution)
	}
	return r
}

// stepsToSolve gives the step of a name, or every step that moves liquid from a
// source to a destination.
func stepsToSolve(c *model.Circuit, name string) ([]*model.Step, error) {
	if name != "" {
		s, err := stepNamed(c, name)
		return []*model.Step{s}, err
	}
	var out []*model.Step
	for _, s := range c.Steps() {
		if s.Source != "" && s.Destination != "" {
			out = append(out, s)
		}
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("no step names a source and a destination")
	}
	return out, nil
}

// told is a solution on its way to a reader.
type told struct {
	*checks.Snapshot
	sol    *flow.Solution
	heat   *heat.State
	file   string
	system quantity.System
}

func (t *told) stepName() string {
	s := t.sol.Step
	if s.Programme == "" {
		return s.Name
	}
	return s.Programme + "/" + s.Name
}

// runColumns are the headings of the rows of solve --csv. New ones are added at
// the end.
func runColumns(s quantity.System) []string {
	c, w := quantity.DisplayUnit[quantity.Temperature](s), quantity.DisplayUnit[quantity.Power](s)
	v, q, p, l := quantity.DisplayUnit[quantity.Velocity](s), quantity.DisplayUnit[quantity.Flow](s), quantity.DisplayUnit[quantity.Pressure](s), quantity.DisplayUnit[quantity.Length](s)
	return []string{"file", "step", "run", "stretch", "flow " + q.Name, "velocity " + v.Name, "Reynolds", "shear Pa", "loss " + l.Name, "pressure from " + p.Name, "pressure to " + p.Name, "solved", "liquid in " + c.Name, "liquid out " + c.Name, "heat lost " + w.Name}
}

func writeRow(w *bytes.Buffer, cells []string) {
	c := csv.NewWriter(w)
	c.UseCRLF = true              // RFC 4180
	c.Write(listing.Plain(cells)) // to memory: no error to be had
	c.Flush()
}

// shown gives an optional number in the reader's units, empty while unknown.
func shown[T ~float64](o quantity.Opt[T], s quantity.System) string {
	x, ok := o.Get()
	if !ok {
		return ""
	}
	return quantity.Number(quantity.DisplayUnit[T](s).FromSI(float64(x)))
}

// pascals gives a wall shear, which is told in Pa everywhere.
func pascals(o quantity.Opt[quantity.Pressure]) string {
	x, ok := o.Get()
	if !ok {
		return ""
	}
	return quantity.Number(float64(x))
}

// eachEdge calls do for every stretch of every run that liquid reaches and in
// which it may move: first those on the way from source to destination in
// order, then the others in order of run.
func (t *told) eachEdge(do func(run *model.Run, stretch int, e flow.Edge, h heat.Edge, from, to flow.Node)) {
	p, done := t.sol.Plant, map[int]bool{}
	one := func(e int) {
		edge := t.sol.Edges[e]
		q, known := edge.Flow.Get()
		if p.Edges[e].Run == "" || done[e] || !t.sol.Route.Wet[e] || known && q == 0 {
			return
		}
		done[e] = true
		do(t.Circuit.Run(p.Edges[e].Run), p.Edges[e].Stretch, edge, t.heat.Edges[e], t.sol.Nodes[p.Edges[e].From], t.sol.Nodes[p.Edges[e].To])
	}
	for _, e := range t.sol.Route.Ways {
		one(e)
	}
	for _, run := range t.Circuit.Runs() {
		for _, e := range p.RunEdges(run.ID) {
			one(e)
		}
	}
}

func yesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

func (t *told) rows(w *bytes.Buffer) {
	t.eachEdge(func(run *model.Run, stretch int, e flow.Edge, h heat.Edge, from, to flow.Node) {
		writeRow(w, []string{t.file, t.stepName(), t.Name(run.ID), fmt.Sprint(stretch + 1), shown(e.Flow, t.system), shown(e.Velocity, t.system),
			shown(e.Reynolds, t.system), pascals(e.Shear), shown(e.Loss, t.system), shown(from.Pressure, t.system), shown(to.Pressure, t.system), yesNo(e.Loss.Known()), shown(h.In, t.system), shown(h.Out, t.system), shown(h.Lost, t.system)})
	})
}
