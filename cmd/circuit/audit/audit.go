// Package audit writes the report of an audit for the terminal.
package audit

import (
	"bytes"
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"rinsewright/canvas/report"
	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

// Options are those of one call.
type Options struct {
	To       string // file; its ending tells the form: .pdf .html .json
	Chapters string // parted by commas; empty: all
	System   quantity.System
	Day      model.Date
	By       string
	File     string // of the circuit
	Progress func(done, total int, what string)
}

// Endings lists the forms that a report can have.
func Endings() []string { return []string{".pdf", ".html", ".json"} }

// Chapters names the chapters that can be chosen.
func Chapters() string {
	var out []string
	for _, c := range report.Chapters() {
		out = append(out, string(c))
	}
	return strings.Join(out, ", ")
}

// Write checks a circuit and gives its report as the content of a file, and what
// the checks found.
func Write(ctx context.Context, c *model.Circuit, profile *checks.Profile, opt Options) ([]byte, *checks.Result, error) {
	chapters, err := report.ParseChapters(opt.Chapters)
	if err != nil {
		return nil, nil, err
	}
	cat, rules := catalogue.Builtin(), checks.Rules()
	result, err := checks.Run(ctx, c, cat, profile, rules)
	if err != nil {
		return nil, nil, err
	}
	own, _ := profile.With(c.Header().Limits)
	of := report.Source{Snapshot: &checks.Snapshot{Circuit: c, Catalogue: cat, Profile: own, Day: opt.Day}, Result: result, Rules: rules, Profile: profile}
	r, err := report.Make(ctx, of, report.Options{Chapters: chapters, System: opt.System, Day: opt.Day, By: opt.By, File: filepath.Base(opt.File), Progress: opt.Progress})
	if err != nil {
		return nil, nil, err
	}
	var b bytes.Buffer
	switch strings.ToLower(filepath.Ext(opt.To)) {
	case ".pdf":
		err = r.WritePDF(ctx, &b)
	case ".html", ".htm":
		err = r.WriteHTML(ctx, &b)
	case ".json":
		err = r.WriteJSON(&b)
	default:
		err = fmt.Errorf("%s: a report ends in %s", opt.To, strings.Join(Endings(), ", "))
	}
	return b.Bytes(), result, err
}
