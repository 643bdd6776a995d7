package main

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"strings"

	"rinsewright/checks/listing"
	"rinsewright/checks/lists"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/quantity"
	"rinsewright/model/sizing"
)

// assignments collects --set KEY=VALUE.
type assignments []string

func (a *assignments) String() string     { return strings.Join(*a, " ") }
func (a *assignments) Set(s string) error { *a = append(*a, s); return nil }

func runSize(_ context.Context, args []string, out, errs io.Writer) int {
	f := flag.NewFlagSet("size", flag.ContinueOnError)
	p := sizing.NewProject()
	f.StringVar(&p.Programme, "programme", p.Programme, "ready programme that is washed")
	f.StringVar(&p.Series, "series", p.Series, "series of the tubes")
	f.IntVar(&p.Tanks, "tanks", 0, "tanks of the station, 1 to 4; 0: as the programme asks")
	washes := f.Float64("washes", -1, "washes a day of each object; default: not known")
	var sets assignments
	f.Var(&sets, "set", "KEY=VALUE: another value of an assumption, with or without its unit; may be given several times")
	listed := f.Bool("assumptions", false, "list the assumptions instead")
	asJSON := f.Bool("json", false, "one JSON object")
	asCSV := f.Bool("csv", false, "one row a result")
	units := systemOption(f)
	rest, code, done := parse(f, "FILE", args, out, errs)
	if done {
		return code
	}
	fail := func(err error) int {
		fmt.Fprintln(errs, "circuit size:", err)
		return exitBad
	}
	s, err := system(*units)
	if err != nil {
		return fail(err)
	}
	if *asJSON && *asCSV {
		return fail(fmt.Errorf("choose one of --json and --csv"))
	}
	for _, x := range sets {
		if err := assign(p, x, s); err != nil {
			return fail(err)
		}
	}
	if *listed {
		return writeTable(lists.SizingAssumptions(p.Assumptions, s), *asJSON, *asCSV, out, fail)
	}
	if len(rest) != 1 {
		return fail(fmt.Errorf("name one circuit file"))
	}
	c, err := circuitfile.ReadFile(rest[0])
	if err != nil {
		fmt.Fprintln(errs, err)
		return exitBad
	}
	cat := catalogue.Builtin()
	p.Objects = sizing.Objects(c, cat)
	if *washes >= 0 {
		for i := range p.Objects {
			p.Objects[i].PerDay = quantity.Some(*washes)
		}
	}
	sheet, err := sizing.Size(p, cat)
	if err != nil {
		return fail(fmt.Errorf("%s: %w", rest[0], err))
	}
	code = exitDone
	for _, l := range sheet.Lines {
		if !l.Value.Known() {
			code = exitFindings // something is not known: not to be taken for a whole sheet
		}
	}
	switch {
	case *asJSON:
		err = json.NewEncoder(out).Encode(sheetJSON(rest[0], sheet, s))
	case *asCSV:
		err = listing.WriteTableCSV(out, lists.Sizing(sheet, s))
	default:
		_, err = out.Write(sheetText(rest[0], c.Header().Name, sheet, s))
	}
	if err != nil {
		return exitBad // nobody reads
	}
	return code
}

// assign puts another value of an assumption into a project.
func assign(p *sizing.Project, text string, s quantity.System) error {
	key, value, ok := strings.Cut(text, "=")
	if !ok {
		return fmt.Errorf("--set wants KEY=VALUE, not %q", text)
	}
	for i, a := range p.Assumptions {
		if a.Key == key {
			next, err := a.Read(value, s)
			if err != nil {
				return fmt.Errorf("--set %s: %w", key, err)
			}
			p.Assumptions[i] = next
			return nil
		}
	}
	return fmt.Errorf("--set: there is no assumption %q; --assumptions lists them", key)
}

func writeTable(t *lists.Table, asJSON, asCSV bool, out io.Writer, fail func(error) int) int {
	var err error
	switch {
	case asJSON:
		err = listing.WriteTableJSON(out, t)
	case asCSV:
		err = listing.WriteTableCSV(out, t)
	default:
		var b bytes.Buffer
		for _, r := range t.Rows {
			fmt.Fprintf(&b, "%-7s %-66s %10s %-7s  usual %s to %s; %s\n", r[0].Text, r[1].Text, quantity.Number(r[2].Number.Or(0)), r[3].Text,
				quantity.Number(r[4].Number.Or(0)), quantity.Number(r[5].Number.Or(0)), r[6].Text)
		}
		_, err = out.Write(b.Bytes())
	}
	if err != nil {
		return fail(err)
	}
	return exitDone
}

// sheetText writes the sheet by section, with the formula beneath each result.
func sheetText(file, name string, sheet *sizing.Sheet, s quantity.System) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "%s: %s\n", file, name)
	section := ""
	for _, l := range sheet.Lines {
		if l.Section != section {
			section = l.Section
			fmt.Fprintf(&b, "%s\n", section)
		}
		label := l.Label
		if l.Of != "" && l.Of != l.Label {
			label += ", " + l.Of
		}
		fmt.Fprintf(&b, "  %-52s %s\n", label, l.Told(s))
		fmt.Fprintf(&b, "      = %s\n", l.Formula)
		if in := l.InputWords(s); in != "" {
			fmt.Fprintf(&b, "        %s\n", in)
		}
		fmt.Fprintf(&b, "        source: %s\n", l.SourceWords())
		if l.Value.Known() && l.Why != "" {
			fmt.Fprintf(&b, "        note: %s\n", l.Why)
		}
	}
	for _, c := range sheet.Cautions {
		fmt.Fprintf(&b, "  %s\n", c)
	}
	return b.Bytes()
}

type jsonSheet struct {
	File     string       `json:"file"`
	Lines    []jsonResult `json:"lines"`
	Cautions []string     `json:"cautions"`
}

type jsonResult struct {
	Section string   `json:"section"`
	Key     string   `json:"key"`
	Object  string   `json:"object,omitempty"`
	Label   string   `json:"label"`
	Value   *float64 `json:"value,omitempty"` // absent: not known, or a word
	Unit    string   `json:"unit,omitempty"`
	Text    string   `json:"text"`
	Known   bool     `json:"known"`
	Missing []string `json:"missing,omitempty"`
	Formula string   `json:"formula"`
	Inputs  []string `json:"inputs,omitempty"`
	Source  string   `json:"source"`
	Note    string   `json:"note,omitempty"`
}

func sheetJSON(file string, sheet *sizing.Sheet, s quantity.System) jsonSheet {
	out := jsonSheet{File: file, Cautions: sheet.Cautions}
	for _, l := range sheet.Lines {
		r := jsonResult{Section: l.Section, Key: l.Key, Object: l.Of, Label: l.Label, Text: l.Told(s), Known: l.Value.Known(), Missing: l.Missing,
			Formula: l.Formula, Source: l.SourceWords(), Note: l.Why}
		if x, ok := l.Value.Number(s); ok {
			r.Value, r.Unit = &x, l.Value.Unit(s).Name
		}
		for _, in := range l.Inputs {
			r.Inputs = append(r.Inputs, in.Label+" "+in.Value.Text(s))
		}
		out.Lines = append(out.Lines, r)
	}
	return out
}
