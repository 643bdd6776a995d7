package main

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"slices"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/scene/rulecase"
	"rinsewright/checks"
	"rinsewright/model/quantity"
	"rinsewright/model/store"
)

// ruleJSON is one rule of rules --json. It only ever grows.
type ruleJSON struct {
	Name     string            `json:"name"`
	Severity checks.Severity   `json:"severity"`
	Title    string            `json:"title"`
	Why      string            `json:"why"`
	How      string            `json:"how"`
	Blind    string            `json:"does_not_see"`
	Remedy   string            `json:"remedy"`
	Steps    string            `json:"steps"`
	Limits   []string          `json:"limits,omitempty"`
	Sources  []checks.Citation `json:"sources"`
}

func runRules(ctx context.Context, args []string, out, errs io.Writer) int {
	f := flag.NewFlagSet("rules", flag.ContinueOnError)
	asJSON := f.Bool("json", false, "a JSON list")
	profileName := profileOption(f)
	units := systemOption(f)
	to := f.String("to", "", "write the drawing of a rule's bad and good case to this file (.svg, .png, .pdf or .dxf); name one rule")
	dark := f.Bool("dark", false, "the drawing on a dark ground")
	names, code, done := parse(f, "[NAME...]", args, out, errs)
	if done {
		return code
	}
	s, err := system(*units)
	if err != nil {
		fmt.Fprintln(errs, "circuit rules:", err)
		return exitBad
	}
	profile, err := profileFor(*profileName, "")
	if err != nil {
		fmt.Fprintln(errs, "circuit rules:", err)
		return exitBad
	}
	if *to != "" && len(names) != 1 {
		fmt.Fprintf(errs, "circuit rules: --to draws one rule: name it, not %d\n", len(names))
		return exitBad
	}
	rules := checks.Rules()
	for _, name := range names {
		if checks.Find(rules, name) == nil {
			fmt.Fprintf(errs, "circuit rules: there is no rule %q; circuit rules lists them\n", name)
			return exitBad
		}
	}
	if len(names) > 0 {
		rules = slices.DeleteFunc(slices.Clone(rules), func(r *checks.Rule) bool { return !slices.Contains(names, r.Name) })
	}
	if *asJSON {
		list := make([]ruleJSON, len(rules))
		for i, r := range rules {
			d := r.Doc
			list[i] = ruleJSON{r.Name, d.Severity, d.Title, d.Why, d.How, d.Blind, d.Remedy, d.Merge.String(), d.Limits, d.Cites}
		}
		e := json.NewEncoder(out)
		e.SetIndent("", "  ")
		if err := e.Encode(list); err != nil {
			fmt.Fprintln(errs, "circuit rules:", err)
			return exitBad
		}
		return exitDone
	}
	if *to != "" {
		if err := writeExample(ctx, *to, rules[0], s, *dark); err != nil {
			fmt.Fprintln(errs, "circuit rules:", err)
			return exitBad
		}
		return exitDone
	}
	text := &printer{w: out}
	for _, r := range rules {
		if len(names) == 0 {
			text.line("%-28s %-5s %s", r.Name, r.Doc.Severity, r.Doc.Title)
			continue
		}
		writePage(text, checks.PageOf(r, profile, s))
	}
	if text.err != nil {
		fmt.Fprintln(errs, "circuit rules:", text.err)
		return exitBad
	}
	return exitDone
}

// writePage writes the page of a rule, as the window shows it.
func writePage(out *printer, p checks.Page) {
	out.line("%s (%s): %s", p.Name, p.Severity, p.Title)
	for _, x := range p.Sections {
		out.line("  %s: %s", x.Head, x.Text)
	}
	for _, l := range p.Limits {
		out.line("  Limit: %s: %s (%s)", l.Label, l.Value, l.Source)
	}
	for _, source := range p.Sources {
		out.line("  Source: %s", source)
	}
}

// writeExample writes the drawing of the bad and the good case of a rule.
func writeExample(ctx context.Context, to string, rule *checks.Rule, s quantity.System, dark bool) error {
	e, err := rulecase.Of(ctx, rule)
	if err != nil {
		return err
	}
	palette := draw.Light
	if dark {
		palette = draw.Dark
	}
	about := draw.About{Title: rule.Doc.Title, Subject: "rule " + rule.Name + ", a bad and a good case"}
	files, err := draw.Files(to, []*draw.Picture{e.Picture(s)}, palette, about, exampleDots)
	if err != nil {
		return fmt.Errorf("--to: %w", err)
	}
	for _, file := range files {
		if err := store.Save(file.Path, file.Data); err != nil {
			return err
		}
	}
	return nil
}

// exampleDots is the resolution of a drawing of a rule, dots per inch.
const exampleDots = 150
