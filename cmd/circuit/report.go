package main

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"time"

	"rinsewright/cmd/circuit/audit"
	"rinsewright/model"
	"rinsewright/model/circuitfile"
	"rinsewright/model/store"
)

// runReport writes the report of an audit. It ends with exitDone although there are
// findings: to tell by the exit code is what check is for.
func runReport(ctx context.Context, args []string, out, errs io.Writer) int {
	f := flag.NewFlagSet("report", flag.ContinueOnError)
	opt := audit.Options{}
	f.StringVar(&opt.To, "to", "", "file to write: "+strings.Join(audit.Endings(), ", "))
	f.StringVar(&opt.Chapters, "chapters", "", "chapters, parted by commas: "+audit.Chapters()+"; default: all")
	f.StringVar(&opt.By, "by", "", "name of who makes the report")
	day := f.String("day", "", "day of the report as 2026-11-25; default: today")
	progress := f.Bool("progress", false, "tell on the error output how far it is")
	asJSON := f.Bool("json", false, "tell what was written as JSON")
	profile, units := profileOption(f), systemOption(f)
	files, code, done := parse(f, "FILE --to OUT", args, out, errs)
	if done {
		return code
	}
	bad := func(err error) int {
		fmt.Fprintln(errs, "circuit report:", err)
		return exitBad
	}
	var err error
	opt.Day = model.DateOf(time.Now())
	if *day != "" {
		opt.Day = model.Date(*day)
	}
	_, dated := opt.Day.Time()
	opt.System, err = system(*units)
	switch {
	case err != nil:
	case !dated:
		err = fmt.Errorf("--day is a day as 2026-11-25, not %q", *day)
	case len(files) != 1:
		err = fmt.Errorf("name one circuit file, not %d", len(files))
	case opt.To == "":
		err = fmt.Errorf("say with --to what to write")
	case strings.HasSuffix(strings.ToLower(opt.To), ".circuit.json"):
		err = fmt.Errorf("%s would be a circuit file; a report ends in %s", opt.To, strings.Join(audit.Endings(), ", "))
	}
	if err != nil {
		return bad(err)
	}
	opt.File = files[0]
	if *progress {
		last := ""
		opt.Progress = func(done, total int, what string) {
			if line := fmt.Sprintf("%3d %% %s", 100*done/max(total, 1), what); line != last {
				last = line
				fmt.Fprintln(errs, line)
			}
		}
	}
	c, err := circuitfile.ReadFile(files[0])
	if err != nil {
		return bad(err)
	}
	limits, err := profileFor(*profile, c.Header().Profile)
	if err != nil {
		return bad(fmt.Errorf("%s: %w", files[0], err))
	}
	data, result, err := audit.Write(ctx, c, limits, opt)
	if err != nil {
		return bad(err)
	}
	if err := store.Replace(opt.To, data); err != nil {
		return bad(err)
	}
	for _, e := range result.Errors {
		fmt.Fprintf(errs, "%s: rule %s failed, its findings are not in the report: %s\n", filepath.Base(files[0]), e.Rule, e.Error)
		code = exitBad
	}
	if *asJSON {
		if err := json.NewEncoder(out).Encode(map[string]string{"file": files[0], "written": opt.To}); err != nil {
			return exitBad // nobody reads
		}
	} else {
		fmt.Fprintln(out, "written:", opt.To)
	}
	return code
}
