package main

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"slices"
	"strings"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/scene"
	"rinsewright/checks"
	"rinsewright/checks/listing"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/flow"
	"rinsewright/model/network"
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
	system   quantity.System
}

// format writes a circuit in one form.
type format struct {
	suffix string
	write  func(ctx context.Context, w io.Writer, file string, c *model.Circuit, opt exportOptions) error
}

// formats lists what can be written; the longest suffix that fits is taken.
func formats() []format {
	return []format{
		{".circuit.json", writeCircuit},
		{".png", writeDrawing},
		{".svg", writeDrawing},
		{".csv", writeFindings},
		{".json", writeFindings},
	}
}

func runExport(ctx context.Context, args []string, out, errs io.Writer) int {
	f := flag.NewFlagSet("export", flag.ContinueOnError)
	to := f.String("to", "", "file to write; its ending tells what: .png .svg the drawing, .csv .json the findings, .circuit.json the circuit")
	opt := exportOptions{}
	f.StringVar(&opt.step, "step", "", "draw the line-up of this step: its name, or programme/name")
	values := f.String("values", "", "write this of each run that flows beside it, with --step: "+valueNames())
	f.BoolVar(&opt.dark, "dark", false, "light lines on a dark ground")
	f.BoolVar(&opt.findings, "findings", false, "mark the findings on the drawing, with a list beneath it; with --step those of the step")
	f.BoolVar(&opt.plain, "plain", false, "the drawing alone, without title strip and legend")
	f.Float64Var(&opt.dpi, "dpi", 150, "dots per inch of a PNG, 30 to 1200")
	profile, units := profileOption(f), systemOption(f)
	asJSON := f.Bool("json", false, "tell what was written as JSON")
	files, code, done := parse(f, "FILE --to OUT", args, out, errs)
	if done {
		return code
	}
	opt.profile = *profile
	err := opt.complete(*units, *values)
	switch {
	case err != nil:
	case len(files) != 1:
		err = fmt.Errorf("name one circuit file, not %d", len(files))
	case *to == "":
		err = fmt.Errorf("say with --to what to write")
	default:
		err = export(ctx, files[0], *to, opt)
	}
	if err != nil {
		fmt.Fprintln(errs, "circuit export:", err)
		return exitBad
	}
	if *asJSON {
		if err := json.NewEncoder(out).Encode(map[string]string{"file": files[0], "written": *to}); err != nil {
			return exitBad // nobody reads
		}
	} else {
		fmt.Fprintln(out, "written:", *to)
	}
	return exitDone
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

func export(ctx context.Context, file, to string, opt exportOptions) error {
	for _, form := range formats() {
		if !strings.HasSuffix(strings.ToLower(to), form.suffix) {
			continue
		}
		c, err := circuitfile.ReadFile(file)
		if err != nil {
			return err
		}
		var b bytes.Buffer
		if err := form.write(ctx, &b, to, c, opt); err != nil {
			return fmt.Errorf("%s: %w", to, err)
		}
		if form.suffix == ".circuit.json" {
			return store.Save(to, b.Bytes())
		}
		return store.Replace(to, b.Bytes())
	}
	return fmt.Errorf("%s: a file ends in .png, .svg, .csv, .json or .circuit.json", to)
}

func writeCircuit(_ context.Context, w io.Writer, _ string, c *model.Circuit, _ exportOptions) error {
	b, err := circuitfile.Encode(c)
	if err != nil {
		return err
	}
	_, err = w.Write(b)
	return err
}

func writeDrawing(ctx context.Context, w io.Writer, file string, c *model.Circuit, opt exportOptions) error {
	step, err := stepNamed(c, opt.step)
	if err != nil {
		return err
	}
	cat := catalogue.Builtin()
	plant := network.Build(c, cat)
	scenery := scene.Of(plant, step)
	remark := ""
	if opt.values != scene.NoValue {
		solution, err := flow.Solve(plant, plant.Heights(), step, flow.Options{})
		if err != nil {
			return fmt.Errorf("step %s: %w", step.Name, err)
		}
		scenery.Values = scene.Values(solution, opt.values, opt.system)
		remark = scene.Remark(solution, opt.values)
	}
	picture := draw.Circuit(c, cat, scenery)
	if remark != "" {
		draw.Remark(picture, remark)
	}
	if opt.findings {
		if err := markFindings(ctx, picture, c, step, opt); err != nil {
			return err
		}
	}
	if !opt.plain {
		draw.Caption(picture, c, step, opt.system)
	}
	palette := draw.Light
	if opt.dark {
		palette = draw.Dark
	}
	if strings.HasSuffix(strings.ToLower(file), ".svg") {
		return draw.WriteSVG(w, picture, palette)
	}
	return draw.WritePNG(w, picture, palette, opt.dpi)
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

// markFindings numbers the findings, worst first, on a drawing and in a list
// beneath it; with a step those that hold in it.
func markFindings(ctx context.Context, p *draw.Picture, c *model.Circuit, step *model.Step, opt exportOptions) error {
	result, err := findingsOf(ctx, c, opt.profile)
	if err != nil {
		return err
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
	draw.Findings(p, marks)
	draw.FindingList(p, heading, marks)
	return nil
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

func writeFindings(ctx context.Context, w io.Writer, file string, c *model.Circuit, opt exportOptions) error {
	result, err := findingsOf(ctx, c, opt.profile)
	if err != nil {
		return err
	}
	if strings.HasSuffix(strings.ToLower(file), ".csv") {
		return listing.WriteCSV(w, c, result, checks.Rules(), opt.system)
	}
	return listing.WriteJSON(w, result)
}
