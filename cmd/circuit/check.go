package main

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"runtime"
	"strings"
	"sync"

	"rinsewright/checks"
	"rinsewright/checks/listing"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/quantity"
)

// checked is the result of one file.
type checked struct {
	text, errs bytes.Buffer
	code       int
}

// checkOptions are those of one call.
type checkOptions struct {
	json    bool
	brief   bool
	only    string // rules asked for; empty: all
	profile string
	system  quantity.System
	rules   []*checks.Rule
}

func runCheck(ctx context.Context, args []string, out, errs io.Writer) int {
	f := flag.NewFlagSet("check", flag.ContinueOnError)
	asJSON := f.Bool("json", false, "one JSON object a file and line: file, circuit, profile, counts, findings, not_assessed")
	profile, units := profileOption(f), systemOption(f)
	only := f.String("rules", "", "only these rules, parted by commas")
	brief := f.Bool("brief", false, "one line a finding, without steps, remedy and source")
	files, code, done := parse(f, "FILE...", args, out, errs)
	if done {
		return code
	}
	opt := checkOptions{json: *asJSON, brief: *brief, only: *only, profile: *profile, rules: checks.Rules()}
	err := opt.complete(*units, *only)
	if err == nil && len(files) == 0 {
		err = fmt.Errorf("name at least one circuit file")
	}
	if err != nil {
		fmt.Fprintln(errs, "circuit check:", err)
		return exitBad
	}
	return inOrder(ctx, len(files), out, errs, func(i int) *checked { return checkFile(ctx, files[i], opt) })
}

func (o *checkOptions) complete(units, only string) (err error) {
	if o.system, err = system(units); err != nil || only == "" {
		return err
	}
	o.rules = nil
	for _, name := range strings.Split(only, ",") {
		rule := checks.Find(checks.Rules(), strings.TrimSpace(name))
		if rule == nil {
			return fmt.Errorf("there is no rule %q; circuit rules lists them", name)
		}
		o.rules = append(o.rules, rule)
	}
	return nil
}

// inOrder does n jobs on all processors and writes each result as soon as it
// and all before it are there. It gives the gravest exit code.
func inOrder(ctx context.Context, n int, out, errs io.Writer, do func(i int) *checked) int {
	results := make([]chan *checked, n)
	for i := range results {
		results[i] = make(chan *checked, 1)
	}
	var wg sync.WaitGroup
	room := make(chan struct{}, runtime.GOMAXPROCS(0))
	wg.Go(func() {
		for i := range n {
			room <- struct{}{}
			wg.Go(func() {
				results[i] <- do(i)
				<-room
			})
		}
	})
	code := exitDone
	for i := range n {
		var r *checked
		select {
		case r = <-results[i]:
		case <-ctx.Done():
			fmt.Fprintln(errs, "circuit: stopped")
			return exitBad // what is under way ends with the program
		}
		errs.Write(r.errs.Bytes())
		if _, err := out.Write(r.text.Bytes()); err != nil {
			return exitBad // nobody reads any more
		}
		code = max(code, r.code)
	}
	wg.Wait()
	return code
}

func checkFile(ctx context.Context, file string, opt checkOptions) *checked {
	r := &checked{}
	bad := func(err error) *checked {
		fmt.Fprintln(&r.errs, err)
		if opt.json && r.text.Len() == 0 {
			json.NewEncoder(&r.text).Encode(failedJSON{file, err.Error()}) // to memory: no error to be had
		}
		r.code = exitBad
		return r
	}
	c, err := circuitfile.ReadFile(file)
	if err != nil {
		return bad(err)
	}
	profile, err := profileFor(opt.profile, c.Header().Profile)
	if err != nil {
		return bad(fmt.Errorf("%s: %w", file, err))
	}
	result, err := checks.Run(ctx, c, catalogue.Builtin(), profile, opt.rules)
	if err != nil {
		return bad(fmt.Errorf("%s: %w", file, err))
	}
	if opt.json {
		err = writeCheckJSON(&r.text, file, c, result)
	} else {
		writeCheckText(&r.text, file, c, result, opt)
	}
	if err != nil {
		return bad(fmt.Errorf("%s: %w", file, err))
	}
	for _, e := range result.Errors {
		bad(fmt.Errorf("%s: rule %s failed, its findings are not known: %s", file, e.Rule, e.Error))
	}
	for _, l := range result.Limits {
		if l.Refused != "" {
			bad(fmt.Errorf("%s: circuit: limits: %s: %s; the profile's limit counts", file, l.Name, l.Refused))
		}
	}
	if worst, any := result.Worst(); any && worst > checks.Note {
		r.code = max(r.code, exitFindings)
	}
	return r
}

// failedJSON is the line of a file that could not be checked.
type failedJSON struct {
	File  string `json:"file"`
	Error string `json:"error"`
}

// checkJSON is one line of check --json. It only ever grows.
type checkJSON struct {
	File    string `json:"file"`
	Circuit string `json:"circuit"`
	*checks.Result
}

func writeCheckJSON(w io.Writer, file string, c *model.Circuit, r *checks.Result) error {
	return json.NewEncoder(w).Encode(checkJSON{file, c.Header().Name, r})
}

func writeCheckText(w io.Writer, file string, c *model.Circuit, r *checks.Result, opt checkOptions) {
	fmt.Fprintf(w, "%s: %s\n", file, c.Header().Name)
	of := ""
	if opt.only != "" {
		of = " of the rules " + opt.only + " alone"
	}
	fmt.Fprintf(w, "  limits profile %s%s: %d stop, %d fix, %d note, %d not assessed%s\n",
		r.Profile, of, r.Counts.Stop, r.Counts.Fix, r.Counts.Note, r.Counts.NotAssessed, acceptedWords(r))
	writeChangedLimits(w, r, opt)
	for i := range r.Findings {
		f := &r.Findings[i]
		writeFinding(w, c, f, strings.ToUpper(f.Severity.String()), opt)
		if opt.brief {
			continue
		}
		if rule := checks.Find(opt.rules, f.Rule); rule != nil {
			fmt.Fprintf(w, "        remedy: %s\n", rule.Doc.Remedy)
		}
		fmt.Fprintf(w, "        source: %s\n", f.Source)
	}
	for i := range r.NotAssessed {
		writeFinding(w, c, &r.NotAssessed[i], "----", opt)
	}
	writeAccepted(w, c, r, opt)
	if len(r.Findings)+len(r.Accepted) > 0 {
		fmt.Fprintln(w, "  An aid for qualified people: verify on site; local codes, site rules and licensed practice come first.")
	}
}

func writeFinding(w io.Writer, c *model.Circuit, f *checks.Finding, mark string, opt checkOptions) {
	fmt.Fprintf(w, "  %-5s %s at %s: %s\n", mark, f.Rule, f.Where, f.Text(opt.system))
	if names := listing.StepNames(c, f.Steps); names != "" && !opt.brief {
		fmt.Fprintf(w, "        in step: %s\n", names)
	}
}
