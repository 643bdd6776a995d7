package main

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"strings"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/flow"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
	"rinsewright/model/trace"
)

// traceOptions are those of one call.
type traceOptions struct {
	to        string
	json, csv bool
	system    quantity.System
	ask       trace.Ask
}

// mostWays bounds what --to lists.
const mostWays = 20

func runTrace(_ context.Context, args []string, out, errs io.Writer) int {
	f := flag.NewFlagSet("trace", flag.ContinueOnError)
	opt := traceOptions{}
	step := f.String("step", "", "only what this step sends: its name, or programme/name; default: every valve as it could be opened")
	all := f.Bool("steps", false, "what any step sends")
	sense := f.String("sense", "both", "upstream, downstream or both")
	f.BoolVar(&opt.ask.Past, "past", false, "go on through vessels and objects")
	f.StringVar(&opt.to, "to", "", "all ways to this part or run instead, by its tag")
	f.BoolVar(&opt.json, "json", false, "one JSON object")
	f.BoolVar(&opt.csv, "csv", false, "one row a part that is reached")
	units := systemOption(f)
	rest, code, done := parse(f, "FILE TAG", args, out, errs)
	if done {
		return code
	}
	fail := func(err error) int {
		fmt.Fprintln(errs, "circuit trace:", err)
		return exitBad
	}
	var err error
	opt.system, err = system(*units)
	opt.ask.Sense = trace.Sense(*sense)
	switch {
	case err != nil:
	case len(rest) != 2:
		err = fmt.Errorf("name a circuit file and one tag")
	case opt.json && opt.csv:
		err = fmt.Errorf("choose one of --json and --csv")
	case *step != "" && *all:
		err = fmt.Errorf("choose one of --step and --steps")
	case opt.ask.Sense != trace.Upstream && opt.ask.Sense != trace.Downstream && opt.ask.Sense != trace.Both:
		err = fmt.Errorf("--sense is upstream, downstream or both, not %q", *sense)
	}
	if err != nil {
		return fail(err)
	}
	c, err := circuitfile.ReadFile(rest[0])
	if err != nil {
		fmt.Fprintln(errs, err)
		return exitBad
	}
	from, err := tagged(c, rest[1:])
	if err == nil && *step != "" {
		var s *model.Step
		if s, err = stepNamed(c, *step); err == nil {
			opt.ask.Steps = []*model.Step{s}
		}
	}
	if err != nil {
		return fail(fmt.Errorf("%s: %w", rest[0], err))
	}
	if *all {
		opt.ask.Steps = c.Steps()
	}
	opt.ask.From = from[0]
	p := network.Build(c, catalogue.Builtin())
	var b bytes.Buffer
	if opt.to != "" {
		err = waysTo(&b, p, opt)
	} else {
		err = traced(&b, p, opt)
	}
	if err != nil {
		return fail(fmt.Errorf("%s: %w", rest[0], err))
	}
	if _, err := out.Write(b.Bytes()); err != nil {
		return exitBad // nobody reads
	}
	return exitDone
}

// solvedFlow gives the flows of one step, solved once.
func solvedFlow(p *network.Plant) func(*model.Step, int) (quantity.Flow, bool) {
	var sol *flow.Solution
	var of *model.Step
	return func(s *model.Step, edge int) (quantity.Flow, bool) {
		if of != s {
			of = s
			sol, _ = flow.Solve(p, p.Heights(), s, flow.Options{}) // what cannot be solved has no flow
		}
		if sol == nil {
			return 0, false
		}
		q, ok := sol.Edges[edge].Flow.Get()
		return max(q, -q), ok
	}
}

// traceJSON is the answer of trace --json; what is unknown is left out. The shape
// only ever grows.
type traceJSON struct {
	From  model.ID        `json:"from"`
	Stops []stopJSON      `json:"stops"`
	Uses  []tracedUseJSON `json:"steps"`
	Also  []model.ID      `json:"washed_through_it,omitempty"`
}

type (
	stopJSON struct {
		Part   model.ID                        `json:"part"`
		Tag    string                          `json:"tag,omitempty"`
		Sense  trace.Sense                     `json:"sense"`
		Length quantity.Opt[quantity.Length]   `json:"length_m,omitzero"`
		Volume quantity.Opt[quantity.Volume]   `json:"volume_L,omitzero"`
		Time   quantity.Opt[quantity.Duration] `json:"time_min,omitzero"`
		End    bool                            `json:"ends_here,omitempty"`
	}
	tracedUseJSON struct {
		Step  model.ID    `json:"step"`
		Name  string      `json:"name"`
		State trace.State `json:"state"`
		Runs  bool        `json:"runs,omitempty"`
		Whole bool        `json:"whole_flow,omitempty"`
	}
)

func traced(b *bytes.Buffer, p *network.Plant, opt traceOptions) error {
	opt.ask.Flow = solvedFlow(p)
	t, err := trace.Of(p, opt.ask)
	if err != nil {
		return err
	}
	uses := trace.Uses(p, opt.ask.From)
	s := opt.system
	tag := func(id model.ID) string {
		if part := p.Circuit.Part(id); part != nil && part.Meta().Tag != "" {
			return part.Meta().Tag
		}
		return string(id)
	}
	switch {
	case opt.json:
		out := traceJSON{From: opt.ask.From, Stops: []stopJSON{}, Uses: []tracedUseJSON{}, Also: trace.Shared(uses)}
		for _, x := range t.Stops {
			out.Stops = append(out.Stops, stopJSON{x.Part, tag(x.Part), x.Sense, x.Length, x.Volume, x.Time, x.End})
		}
		for _, u := range uses {
			out.Uses = append(out.Uses, tracedUseJSON{u.Step, stepLabel(p.Circuit, u.Step), u.State, u.Runs, u.Whole})
		}
		return json.NewEncoder(b).Encode(out)
	case opt.csv:
		l, v, d := quantity.DisplayUnit[quantity.Length](s), quantity.DisplayUnit[quantity.Volume](s), quantity.DisplayUnit[quantity.Duration](s)
		writeRow(b, []string{"tag", "sense", "length " + l.Name, "volume " + v.Name, "time " + d.Name, "ends here"})
		for _, x := range t.Stops {
			writeRow(b, []string{tag(x.Part), string(x.Sense), shown(x.Length, s), shown(x.Volume, s), shown(x.Time, s), yesNo(x.End)})
		}
		return nil
	}
	for _, sense := range []trace.Sense{trace.Upstream, trace.Downstream} {
		if opt.ask.Sense != trace.Both && opt.ask.Sense != sense {
			continue
		}
		fmt.Fprintf(b, "  %s of %s:\n", sense, tag(opt.ask.From))
		none := true
		for _, x := range t.Stops {
			if x.Sense != sense {
				continue
			}
			none = false
			fmt.Fprintf(b, "    %-12s %s", tag(x.Part), quantity.OptText(x.Length, s))
			if x.Volume.Known() {
				fmt.Fprintf(b, ", %s", quantity.OptText(x.Volume, s))
			}
			if d, ok := x.Time.Get(); ok {
				fmt.Fprintf(b, ", after %.1f s", float64(d))
			}
			if x.End {
				fmt.Fprint(b, "; ends here")
			}
			fmt.Fprintln(b)
		}
		if none {
			fmt.Fprintln(b, "    nothing")
		}
	}
	fmt.Fprintln(b, "  in the steps:")
	for _, u := range uses {
		text := string(u.State)
		if u.Runs {
			text += ", runs"
		}
		fmt.Fprintf(b, "    %s: %s\n", stepLabel(p.Circuit, u.Step), text)
	}
	if also := trace.Shared(uses); len(also) > 0 {
		var names []string
		for _, id := range also {
			names = append(names, tag(id))
		}
		fmt.Fprintf(b, "  washed through it: %s\n", strings.Join(names, ", "))
	}
	return nil
}

func stepLabel(c *model.Circuit, id model.ID) string {
	s := c.Step(id)
	if s.Programme == "" {
		return s.Name
	}
	return s.Programme + "/" + s.Name
}

// wayJSON is one line of trace --to --json.
type wayJSON struct {
	Through []string                      `json:"through"`
	Length  quantity.Opt[quantity.Length] `json:"length_m,omitzero"`
	Volume  quantity.Opt[quantity.Volume] `json:"volume_L,omitzero"`
}

func waysTo(b *bytes.Buffer, p *network.Plant, opt traceOptions) error {
	to, err := tagged(p.Circuit, []string{opt.to})
	if err != nil {
		return err
	}
	if len(opt.ask.Steps) > 1 {
		return fmt.Errorf("--to wants one step, or none")
	}
	var step *model.Step
	if len(opt.ask.Steps) == 1 {
		step = opt.ask.Steps[0]
	}
	ways, more := trace.Ways(p, step, opt.ask.From, to[0], mostWays)
	if opt.csv {
		writeRow(b, []string{"way", "tags", "length " + quantity.DisplayUnit[quantity.Length](opt.system).Name, "volume " + quantity.DisplayUnit[quantity.Volume](opt.system).Name})
	}
	for i, w := range ways {
		names := w.Through(p)
		switch {
		case opt.json:
			if err := json.NewEncoder(b).Encode(wayJSON{names, w.Length, w.Volume}); err != nil {
				return err
			}
		case opt.csv:
			writeRow(b, []string{fmt.Sprint(i + 1), strings.Join(names, " "), shown(w.Length, opt.system), shown(w.Volume, opt.system)})
		default:
			fmt.Fprintf(b, "  way %d: %s, through %s\n", i+1, quantity.OptText(w.Length, opt.system), strings.Join(names, ", "))
		}
	}
	switch {
	case opt.json || opt.csv:
	case len(ways) == 0:
		fmt.Fprintln(b, "  no way")
	case more:
		fmt.Fprintln(b, "  and more ways than are listed")
	}
	return nil
}
