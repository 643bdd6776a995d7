package main

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"slices"

	"rinsewright/checks"
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

func runRules(_ context.Context, args []string, out, errs io.Writer) int {
	f := flag.NewFlagSet("rules", flag.ContinueOnError)
	asJSON := f.Bool("json", false, "a JSON list")
	profileName := profileOption(f)
	units := systemOption(f)
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
	for _, r := range rules {
		if len(names) == 0 {
			fmt.Fprintf(out, "%-24s %-5s %s\n", r.Name, r.Doc.Severity, r.Doc.Title)
			continue
		}
		fmt.Fprintf(out, "%s (%s): %s\n", r.Name, r.Doc.Severity, r.Doc.Title)
		for _, line := range []struct{ head, text string }{
			{"Why", r.Doc.Why}, {"How", r.Doc.How}, {"Not seen", r.Doc.Blind}, {"Remedy", r.Doc.Remedy}, {"Steps", r.Doc.Merge.String()},
		} {
			fmt.Fprintf(out, "  %-9s %s\n", line.head+":", line.text)
		}
		for _, name := range r.Doc.Limits {
			if l, ok := profile.Limit(name); ok {
				fmt.Fprintf(out, "  Limit:    %s: %s (profile %s; %s)\n", l.Label, l.Value.Text(s), profile.Name, l.Source)
			}
		}
		for _, c := range r.Doc.Cites {
			fmt.Fprintf(out, "  Source:   %s\n", c)
		}
	}
	return exitDone
}
