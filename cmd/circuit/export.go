package main

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/scene"
	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/quantity"
	"rinsewright/model/store"
)

// exportOptions are those of one call.
type exportOptions struct {
	step     string
	values   scene.Value
	dark     bool
	plain    bool
	findings bool
	dpi      float64
	profile  string
	list     string
	sheet    sheetOptions
	system   quantity.System
}

// format makes a circuit into files of one form, with notes for the reader.
type format struct {
	suffix string
	write  func(ctx context.Context, to string, c *model.Circuit, opt exportOptions) (files []draw.File, notes []string, err error)
}

// formats lists what can be written; the longest suffix that fits is taken.
func formats() []format {
	return []format{
		{".circuit.json", writeCircuit},
		{".png", writeDrawing},
		{".svg", writeDrawing},
		{".pdf", writeDrawing},
		{".dxf", writeDrawing},
		{".csv", writeList},
		{".xlsx", writeList},
		{".json", writeList},
	}
}

func runExport(ctx context.Context, args []string, out, errs io.Writer) int {
	f := flag.NewFlagSet("export", flag.ContinueOnError)
	to := f.String("to", "", "file to write, for several files with a * for their names; its ending tells what: .pdf .svg .png .dxf the drawing, .csv .xlsx .json a list, .circuit.json the circuit")
	opt := exportOptions{}
	f.StringVar(&opt.step, "step", "", "draw the line-up of this step: its name, or programme/name")
	values := f.String("values", "", "write this of each run that flows beside it, with --step: "+valueNames())
	f.BoolVar(&opt.dark, "dark", false, "light lines on a dark ground")
	f.BoolVar(&opt.findings, "findings", false, "mark the findings on the drawing, with a list beneath it; with --step those of the step")
	f.BoolVar(&opt.plain, "plain", false, "the drawing alone, without title strip and legend")
	f.Float64Var(&opt.dpi, "dpi", 150, "dots per inch of a PNG, 30 to 1200")
	f.StringVar(&opt.sheet.paper, "sheet", "", "set the drawing on paper: A4 to A0, or \"ANSI A\" to \"ANSI E\"; none: no paper; default: A3 for .pdf, none for the others")
	f.StringVar(&opt.sheet.lie, "lie", "", "how the sheet lies: landscape or portrait; default: as the drawing is larger")
	f.StringVar(&opt.sheet.scale, "scale", "", "size of the drawing on the sheet: fit, 0.5, 50% or 1:2; what does not fit goes on over several sheets")
	f.BoolVar(&opt.sheet.frames, "frames", false, "the whole on the first sheet, then each station frame on a sheet of its own")
	f.StringVar(&opt.list, "list", "", "with .csv .xlsx .json, which list: "+listNames()+"; default: findings, in .xlsx all of them")
	profile, units := profileOption(f), systemOption(f)
	asJSON := f.Bool("json", false, "tell what was written as JSON")
	files, code, done := parse(f, "FILE... --to OUT", args, out, errs)
	if done {
		return code
	}
	opt.profile = *profile
	err := opt.complete(*units, *values)
	each := strings.Count(*to, "*") == 1
	switch {
	case err != nil:
	case *to == "":
		err = fmt.Errorf("say with --to what to write")
	case strings.Contains(*to, "*") && !each:
		err = fmt.Errorf("--to takes one * for the name of the file, not several")
	case len(files) == 0, len(files) != 1 && !each:
		err = fmt.Errorf("name one circuit file, not %d; for several write --to with a * for their names, as 'out/*.pdf'", len(files))
	}
	var targets []string
	if err == nil {
		targets, err = targetsOf(files, *to)
	}
	if err != nil {
		fmt.Fprintln(errs, "circuit export:", err)
		return exitBad
	}
	return inOrder(ctx, len(files), out, errs, func(i int) *checked {
		return exportFile(ctx, files[i], targets[i], opt, *asJSON)
	})
}

// targetsOf gives what each file is written to: to with the name of the file in
// place of a *. Two files must not be written to one.
func targetsOf(files []string, to string) ([]string, error) {
	targets := make([]string, len(files))
	from := map[string]string{}
	for i, file := range files {
		name := filepath.Base(file)
		if whole, ok := strings.CutSuffix(name, ".circuit.json"); ok {
			name = whole
		} else {
			name = strings.TrimSuffix(name, filepath.Ext(name))
		}
		targets[i] = strings.Replace(to, "*", name, 1)
		if other, taken := from[targets[i]]; taken {
			return nil, fmt.Errorf("%s and %s would both be written to %s", other, file, targets[i])
		}
		from[targets[i]] = file
	}
	return targets, nil
}

// exportFile writes one file and tells what was written.
func exportFile(ctx context.Context, file, to string, opt exportOptions, asJSON bool) *checked {
	r := &checked{}
	written, notes, err := export(ctx, file, to, opt)
	if err != nil {
		fmt.Fprintln(&r.errs, "circuit export:", err)
		r.code = exitBad
		return r
	}
	for _, n := range notes {
		fmt.Fprintln(&r.errs, "note:", n)
	}
	for _, path := range written {
		if asJSON {
			json.NewEncoder(&r.text).Encode(map[string]string{"file": file, "written": path}) // to memory: no error to be had
		} else {
			fmt.Fprintln(&r.text, "written:", path)
		}
	}
	return r
}

func (o *exportOptions) complete(units, values string) (err error) {
	if o.values = scene.Value(values); values != "" {
		if !slices.Contains(scene.ValueNames(), o.values) {
			return fmt.Errorf("--values is one of %s, not %q", valueNames(), values)
		}
		if o.step == "" {
			return fmt.Errorf("--values asks for --step: values are of one step")
		}
	}
	if o.dpi < 30 || o.dpi > 1200 {
		return fmt.Errorf("--dpi is from 30 to 1200, not %v", o.dpi)
	}
	o.system, err = system(units)
	return err
}

// export writes a circuit and gives the paths of what was written.
func export(ctx context.Context, file, to string, opt exportOptions) (written, notes []string, err error) {
	for _, form := range formats() {
		if !strings.HasSuffix(strings.ToLower(to), form.suffix) {
			continue
		}
		if err := opt.fits(form.suffix); err != nil {
			return nil, nil, err
		}
		c, err := circuitfile.ReadFile(file)
		if err != nil {
			return nil, nil, err
		}
		files, notes, err := form.write(ctx, to, c, opt)
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %w", to, err)
		}
		put := store.Replace
		if form.suffix == ".circuit.json" {
			put = store.Save
		}
		for _, f := range files {
			if err := put(f.Path, f.Data); err != nil {
				return written, notes, err
			}
			written = append(written, f.Path)
		}
		return written, notes, nil
	}
	return nil, nil, fmt.Errorf("%s: a file ends in .pdf, .svg, .png, .dxf, .csv, .xlsx, .json or .circuit.json", to)
}

// fits says whether the options are of the form that is written.
func (o *exportOptions) fits(suffix string) error {
	switch suffix {
	case ".csv", ".xlsx", ".json":
		if o.sheet != (sheetOptions{}) {
			return fmt.Errorf("--sheet, --lie, --scale and --frames are of drawings, not of %s", suffix)
		}
	default:
		if o.list != "" {
			return fmt.Errorf("--list is of .csv, .xlsx and .json, not of %s", suffix)
		}
	}
	return nil
}

func writeCircuit(_ context.Context, to string, c *model.Circuit, _ exportOptions) ([]draw.File, []string, error) {
	b, err := circuitfile.Encode(c)
	return []draw.File{{Path: to, Data: b}}, nil, err
}

// valueNames lists what --values can be.
func valueNames() string {
	var out []string
	for _, v := range scene.ValueNames() {
		out = append(out, string(v))
	}
	return strings.Join(out, ", ")
}

// stepNamed finds a step by its name, or by programme/name where the name alone
// is not enough. An empty name is no step.
func stepNamed(c *model.Circuit, name string) (*model.Step, error) {
	if name == "" {
		return nil, nil
	}
	var found []*model.Step
	for _, s := range c.Steps() {
		if s.Name == name || s.Programme+"/"+s.Name == name {
			found = append(found, s)
		}
	}
	switch len(found) {
	case 1:
		return found[0], nil
	case 0:
		return nil, fmt.Errorf("there is no step %q", name)
	}
	return nil, fmt.Errorf("%d steps are called %q; say programme/step, as %q", len(found), name, found[0].Programme+"/"+found[0].Name)
}

// findingMarks numbers the findings, worst first; with a step those that hold in
// it. The heading tells how many there are.
func findingMarks(ctx context.Context, c *model.Circuit, step *model.Step, opt exportOptions) ([]draw.Mark, string, error) {
	result, err := findingsOf(ctx, c, opt.profile)
	if err != nil {
		return nil, "", err
	}
	var marks []draw.Mark
	count := map[draw.Severity]int{}
	for i := range result.Findings {
		f := &result.Findings[i]
		if step != nil && len(f.Steps) > 0 && !slices.Contains(f.Steps, step.ID) {
			continue
		}
		title := f.Rule
		if rule := checks.Find(checks.Rules(), f.Rule); rule != nil {
			title = rule.Doc.Title
		}
		m := draw.Mark{Place: f.At, Severity: severity(f.Severity), Number: len(marks) + 1, Text: title + " – " + f.Where}
		marks = append(marks, m)
		count[m.Severity]++
	}
	heading := fmt.Sprintf("Findings against limits profile %s: %d stop, %d fix, %d note", result.Profile, count[draw.Stop], count[draw.Fix], count[draw.Note])
	if n := len(result.NotAssessed); n > 0 {
		heading += fmt.Sprintf("; %d not assessed", n)
	}
	if n := len(result.Errors); n > 0 {
		heading += fmt.Sprintf("; %d rules failed", n)
	}
	return marks, heading, nil
}

func severity(s checks.Severity) draw.Severity {
	switch s {
	case checks.Stop:
		return draw.Stop
	case checks.Fix:
		return draw.Fix
	}
	return draw.Note
}

func findingsOf(ctx context.Context, c *model.Circuit, profile string) (*checks.Result, error) {
	p, err := profileFor(profile, c.Header().Profile)
	if err != nil {
		return nil, err
	}
	return checks.Run(ctx, c, catalogue.Builtin(), p, checks.Rules())
}
