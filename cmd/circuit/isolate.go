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
	"rinsewright/model/isolation"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

func runIsolate(_ context.Context, args []string, out, errs io.Writer) int {
	f := flag.NewFlagSet("isolate", flag.ContinueOnError)
	ask := isolation.Ask{}
	pin := f.String("pin", "", "valves that are to be shut in any case, by tag, with commas between")
	forbid := f.String("without", "", "valves that must not be relied on")
	after := f.String("after", "", "step that ran last; default: any step may have")
	f.BoolVar(&ask.Policy.Automatic, "automatic", false, "a single automatic valve counts as a barrier")
	f.BoolVar(&ask.Policy.Regulating, "regulating", false, "a regulating valve counts as a barrier")
	f.BoolVar(&ask.Policy.Check, "check-valves", false, "a check valve counts as a barrier against what it does not pass")
	f.BoolVar(&ask.Policy.Single, "single", false, "one shut valve is enough against caustic, acid, disinfectant, steam and gas")
	f.IntVar(&ask.Most, "most", 1, "plans wanted at most, the best first")
	asJSON := f.Bool("json", false, "one JSON object a plan and line")
	asCSV := f.Bool("csv", false, "the order of work of the best plan as a table to sign")
	to := f.String("to", "", "write the best plan to this file: .pdf, .svg, .png or .dxf with drawing, lock points and order of work, or .csv")
	paper := f.String("sheet", defaultSheet, "paper of the plan sheets, with --to")
	units := systemOption(f)
	rest, code, done := parse(f, "FILE TAG...", args, out, errs)
	if done {
		return code
	}
	fail := func(err error) int {
		fmt.Fprintln(errs, "circuit isolate:", err)
		return exitBad
	}
	sys, err := system(*units)
	switch {
	case err != nil:
		return fail(err)
	case len(rest) < 2:
		return fail(fmt.Errorf("name a circuit file and the tag of what is to be worked on"))
	case *asJSON && *asCSV:
		return fail(fmt.Errorf("choose one of --json and --csv"))
	case *to != "" && (*asJSON || *asCSV):
		return fail(fmt.Errorf("--to writes a file as its ending names it: leave --json and --csv out"))
	case ask.Most < 1:
		return fail(fmt.Errorf("--most is 1 or more, not %d", ask.Most))
	}
	c, err := circuitfile.ReadFile(rest[0])
	if err != nil {
		fmt.Fprintln(errs, err)
		return exitBad
	}
	if ask.Work, err = tagged(c, rest[1:]); err == nil {
		if ask.Pin, err = tagged(c, tags(*pin)); err == nil {
			ask.Forbid, err = tagged(c, tags(*forbid))
		}
	}
	if err == nil && *after != "" {
		var s *model.Step
		if s, err = stepNamed(c, *after); err == nil {
			ask.After = s.ID
		}
	}
	if err != nil {
		return fail(fmt.Errorf("%s: %w", rest[0], err))
	}
	p := network.Build(c, catalogue.Builtin())
	plans, err := isolation.Find(p, p.Heights(), ask)
	if err != nil {
		return fail(fmt.Errorf("%s: %w", rest[0], err))
	}
	if *to != "" && plans[0].Found {
		written, err := writePlan(*to, *paper, p, &plans[0], ask, sys)
		if err != nil {
			return fail(fmt.Errorf("%s: %w", *to, err))
		}
		for _, path := range written {
			fmt.Fprintln(out, "written:", path)
		}
		return exitDone
	}
	var b bytes.Buffer
	switch {
	case *asJSON:
		e := json.NewEncoder(&b)
		for i := range plans {
			if err := e.Encode(planOf(ask, &plans[i], sys)); err != nil {
				return fail(err)
			}
		}
	case *asCSV:
		planTable(&b, p, &plans[0], sys)
	default:
		fmt.Fprintf(&b, "%s: isolating %s\n", rest[0], strings.Join(rest[1:], ", "))
		for i := range plans {
			if len(plans) > 1 {
				fmt.Fprintf(&b, "\n  plan %d of %d\n", i+1, len(plans))
			}
			for _, line := range plans[i].Lines(p, sys) {
				fmt.Fprintln(&b, "  "+line)
			}
		}
	}
	if _, err := out.Write(b.Bytes()); err != nil {
		return exitBad // nobody reads
	}
	if !plans[0].Found {
		return exitFindings
	}
	return exitDone
}

// tags splits a list with commas.
func tags(list string) []string {
	if list == "" {
		return nil
	}
	return strings.Split(list, ",")
}

// tagged finds parts and runs by tag, or by id.
func tagged(c *model.Circuit, tags []string) ([]model.ID, error) {
	var out []model.ID
	for _, tag := range tags {
		tag = strings.TrimSpace(tag)
		found := c.Tagged(tag)
		switch {
		case len(found) == 1:
			out = append(out, found[0].RecordID())
		case len(found) > 1:
			return nil, fmt.Errorf("%d parts and runs carry the tag %q; say the id, as %s", len(found), tag, found[0].RecordID())
		case c.Part(model.ID(tag)) != nil || c.Run(model.ID(tag)) != nil:
			out = append(out, model.ID(tag))
		default:
			return nil, fmt.Errorf("no part or run carries the tag %q", tag)
		}
	}
	return out, nil
}

// planJSON is one line of isolate --json. Numbers are in the unit that their key
// ends in. The shape only ever grows.
type planJSON struct {
	Work     []model.ID    `json:"work"`
	Found    bool          `json:"found"`
	Why      string        `json:"why,omitempty"`
	At       string        `json:"at,omitempty"`
	Shut     []barrierJSON `json:"shut,omitempty"`
	Second   []barrierJSON `json:"second,omitempty"`
	Unmet    []unmetJSON   `json:"unmet,omitempty"`
	Empty    []model.ID    `json:"empty,omitempty"`
	Borders  []model.ID    `json:"open_into,omitempty"`
	Drives   []model.ID    `json:"drives,omitempty"`
	Inside   []model.ID    `json:"inside,omitempty"`
	Held     float64       `json:"held_L"`
	Unknown  []unknownJSON `json:"volume_missing,omitempty"`
	Contents []contentJSON `json:"contents,omitempty"`
	Drains   []model.ID    `json:"drains,omitempty"`
	Vents    []model.ID    `json:"vents,omitempty"`
	Blocked  []blockedJSON `json:"cannot_run,omitempty"`
	Against  []model.ID    `json:"presses_on_a_barrier,omitempty"`
	Order    []actionJSON  `json:"order,omitempty"`
	Back     []actionJSON  `json:"put_back,omitempty"`
	Caution  string        `json:"caution"`
}

type (
	barrierJSON struct {
		Valve    model.ID           `json:"valve"`
		Position string             `json:"position"`
		Holds    []model.Medium     `json:"holds_off,omitempty"`
		Double   bool               `json:"holds_twice,omitempty"`
		Lockable quantity.Opt[bool] `json:"lockable,omitzero"`
	}
	unmetJSON struct {
		Valve  model.ID     `json:"valve"`
		Medium model.Medium `json:"medium"`
		Why    string       `json:"why"`
	}
	unknownJSON struct {
		Record model.ID `json:"record"`
		Key    string   `json:"key"`
		Why    string   `json:"why,omitempty"`
	}
	contentJSON struct {
		Step        model.ID                           `json:"step"`
		Medium      model.Medium                       `json:"medium,omitempty"`
		Strength    quantity.Opt[quantity.Strength]    `json:"strength_pct,omitzero"`
		Temperature quantity.Opt[quantity.Temperature] `json:"temperature_C,omitzero"`
		Volume      float64                            `json:"volume_L"`
	}
	blockedJSON struct {
		Step model.ID `json:"step"`
		Why  string   `json:"why"`
	}
	actionJSON struct {
		Deed     isolation.Deed `json:"deed"`
		Part     model.ID       `json:"part,omitempty"`
		Position string         `json:"position,omitempty"`
		Text     string         `json:"text"`
		Caution  string         `json:"caution,omitempty"`
	}
)

func planOf(ask isolation.Ask, pl *isolation.Plan, s quantity.System) planJSON {
	out := planJSON{Work: ask.Work, Found: pl.Found, Why: pl.Why, Empty: pl.Empty, Borders: pl.Borders, Inside: pl.Inside,
		Held: pl.Held.Litres(), Drains: pl.Drains, Vents: pl.Vents, Against: pl.Against, Caution: isolation.Caution}
	if pl.At.Element != "" {
		out.At = pl.At.String()
	}
	barriers := func(list []isolation.Barrier) (all []barrierJSON) {
		for _, b := range list {
			all = append(all, barrierJSON{b.Valve, b.Position, b.Holds, b.Double, b.Lockable})
		}
		return all
	}
	actions := func(list []isolation.Action) (all []actionJSON) {
		for _, a := range list {
			all = append(all, actionJSON{a.Deed, a.Part, a.Position, a.Text.In(s), a.Caution.In(s)})
		}
		return all
	}
	out.Shut, out.Second = barriers(pl.Barriers), barriers(pl.Second)
	out.Order, out.Back = actions(pl.Order), actions(pl.Back)
	for _, u := range pl.Unmet {
		out.Unmet = append(out.Unmet, unmetJSON(u))
	}
	for _, d := range pl.Drives {
		out.Drives = append(out.Drives, d.Part)
	}
	for _, m := range pl.Unknown {
		out.Unknown = append(out.Unknown, unknownJSON(m))
	}
	for _, c := range pl.Contents {
		out.Contents = append(out.Contents, contentJSON{c.Step, c.Medium, c.Strength, c.Temperature, c.Volume.Litres()})
	}
	for _, b := range pl.Blocked {
		out.Blocked = append(out.Blocked, blockedJSON{b.Step, b.Why})
	}
	return out
}
