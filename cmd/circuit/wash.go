package main

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"io"
	"slices"
	"strings"

	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
	"rinsewright/model/wash"
)

// washOptions are those of one call.
type washOptions struct {
	programme, show, step string
	optional, hot         bool
	json, csv             bool
	profile               string
	system                quantity.System
}

// What wash can show.
const (
	showRun       = "run"
	showTrends    = "trends"
	showCoverage  = "coverage"
	showSwitching = "switching"
	showLineUps   = "line-ups"
)

var washShows = []string{showRun, showTrends, showCoverage, showSwitching, showLineUps}

func runWash(ctx context.Context, args []string, out, errs io.Writer) int {
	f := flag.NewFlagSet("wash", flag.ContinueOnError)
	opt := washOptions{}
	f.StringVar(&opt.programme, "programme", "", "only this programme; default: every one of the file")
	f.StringVar(&opt.show, "show", showRun, `one of
run        time, water, recovered, sewer, concentrate, heat, steam, electricity of each step
trends     what passes the instruments and stands in the tanks, as rows (CSV) or JSON
coverage   what every stretch, seat, vessel and spray device gets of each medium
switching  what an operator has to do from step to step
line-ups   how the valves could stand for each step, and why, or what is in the way`)
	f.StringVar(&opt.step, "step", "", "with --show line-ups only this step: its name, or programme/name")
	f.BoolVar(&opt.optional, "optional", false, "also the steps that are not done every time")
	f.BoolVar(&opt.hot, "hot", false, "tanks that tell no temperature stand as warm as the first step that draws from them")
	f.BoolVar(&opt.json, "json", false, "one JSON object a programme and line")
	f.BoolVar(&opt.csv, "csv", false, "rows: one a step, and one in all")
	profile, units := profileOption(f), systemOption(f)
	files, code, done := parse(f, "FILE...", args, out, errs)
	if done {
		return code
	}
	opt.profile = *profile
	if err := opt.complete(*units, len(files)); err != nil {
		fmt.Fprintln(errs, "circuit wash:", err)
		return exitBad
	}
	if opt.csv {
		var b bytes.Buffer
		opt.header(&b)
		if _, err := out.Write(b.Bytes()); err != nil {
			return exitBad // nobody reads
		}
	}
	return inOrder(ctx, len(files), out, errs, func(i int) *checked { return washFile(files[i], opt) })
}

func (o *washOptions) complete(units string, files int) (err error) {
	if o.system, err = system(units); err != nil {
		return err
	}
	switch {
	case files == 0:
		return fmt.Errorf("name at least one circuit file")
	case o.json && o.csv:
		return fmt.Errorf("choose one of --json and --csv")
	case !slices.Contains(washShows, o.show):
		return fmt.Errorf("--show is one of %s, not %q", strings.Join(washShows, ", "), o.show)
	case o.step != "" && o.show != showLineUps:
		return fmt.Errorf("--step goes with --show line-ups; a programme is run as a whole")
	case o.csv && o.show == showLineUps:
		return fmt.Errorf("line-ups come as text or with --json")
	}
	if o.show == showTrends && !o.json {
		o.csv = true
	}
	return nil
}

// washed is a programme of a file on its way to a reader.
type washed struct {
	*checks.Snapshot
	opt     washOptions
	file    string
	name    string // of the programme
	plant   *network.Plant
	heights *network.Heights
	steps   []*model.Step
	left    []*model.Step // optional ones that were left out
	record  *wash.Record
	least   quantity.Opt[quantity.Velocity]
	text    *bytes.Buffer
}

// washFile shows the programmes asked for. The exit code says whether something did
// not come to its end.
func washFile(file string, opt washOptions) *checked {
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
	names, err := programmesAsked(c, opt.programme)
	if err != nil {
		return bad(fmt.Errorf("%s: %w", file, err))
	}
	profile, err := profileFor(opt.profile, c.Header().Profile)
	if err != nil {
		return bad(fmt.Errorf("%s: %w", file, err))
	}
	cat := catalogue.Builtin()
	plant := network.Build(c, cat)
	heights := plant.Heights()
	if !opt.json && !opt.csv {
		fmt.Fprintf(&r.text, "%s: %s\n", file, c.Header().Name)
	}
	if opt.show == showLineUps {
		if _, err := stepNamed(c, opt.step); err != nil {
			return bad(fmt.Errorf("%s: %w", file, err))
		}
	}
	snapshot := &checks.Snapshot{Circuit: c, Catalogue: cat}
	for _, name := range names {
		w := &washed{Snapshot: snapshot, opt: opt, file: file, name: name, plant: plant, heights: heights, text: &r.text, least: leastVelocity(profile)}
		w.choose()
		code, err := w.tell()
		if err != nil {
			return bad(fmt.Errorf("%s: programme %q: %w", file, name, err))
		}
		r.code = max(r.code, code)
	}
	return r
}

// programmesAsked gives the programmes of a circuit in order of name, or the one that
// is asked for.
func programmesAsked(c *model.Circuit, name string) ([]string, error) {
	var names []string
	for _, s := range c.Steps() {
		if !slices.Contains(names, s.Programme) {
			names = append(names, s.Programme)
		}
	}
	slices.Sort(names)
	switch {
	case len(names) == 0:
		return nil, fmt.Errorf("there is no wash programme: no step is in the file")
	case name == "":
		return names, nil
	case !slices.Contains(names, name):
		return nil, fmt.Errorf("there is no programme %q; the file has %s", name, quoted(names))
	}
	return []string{name}, nil
}

func quoted(list []string) string {
	out := make([]string, len(list))
	for i, s := range list {
		out[i] = fmt.Sprintf("%q", s)
	}
	return strings.Join(out, ", ")
}

// leastVelocity is the velocity from which the limits call a run swept.
func leastVelocity(p *checks.Profile) quantity.Opt[quantity.Velocity] {
	l, ok := p.Limit("velocity-least")
	if !ok {
		return quantity.Opt[quantity.Velocity]{}
	}
	return quantity.Some(quantity.Velocity(l.Value.SI()))
}

// choose takes the steps of the programme.
func (w *washed) choose() {
	for _, s := range w.Circuit.Steps() {
		switch {
		case s.Programme != w.name:
		case s.Optional.Or(false) && !w.opt.optional:
			w.left = append(w.left, s)
		default:
			w.steps = append(w.steps, s)
		}
	}
}

// tell writes what is asked for and gives the exit code.
func (w *washed) tell() (int, error) {
	if !w.opt.json && !w.opt.csv {
		fmt.Fprintf(w.text, "\n  Programme %s\n", w.title())
		for _, s := range w.left {
			fmt.Fprintf(w.text, "    left out, as it is not done every time: %s\n", s.Name)
		}
	}
	if len(w.steps) == 0 {
		return exitDone, fmt.Errorf("all of its steps are such as are not done every time; ask for them with --optional")
	}
	switch w.opt.show {
	case showSwitching:
		return w.switching()
	case showLineUps:
		return w.lineUps()
	}
	var err error
	if w.record, err = wash.Run(w.plant, w.heights, w.steps, wash.Options{Hot: w.opt.hot}); err != nil {
		return 0, err
	}
	switch {
	case w.opt.show == showCoverage:
		return w.coverage()
	case w.opt.json:
		err = w.encode(w.json())
	case w.opt.show == showTrends:
		w.trendRows()
	case w.opt.csv:
		w.stepRows()
	default:
		w.runText()
	}
	return w.code(), err
}

// code says whether every step came to its end.
func (w *washed) code() int {
	for i := range w.record.Steps {
		if s := &w.record.Steps[i]; !s.Simulated || s.Why != "" {
			return exitFindings
		}
	}
	return exitDone
}

func (w *washed) title() string {
	if w.name == "" {
		return "without a name"
	}
	return w.name
}
