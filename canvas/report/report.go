package report

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/edit"
	"rinsewright/checks"
	"rinsewright/checks/listing"
	"rinsewright/model"
	"rinsewright/model/quantity"
)

// Options say what a report holds and for whom it is written.
type Options struct {
	Chapters []Chapter // nil: all
	System   quantity.System
	Day      model.Date // on which the report is made
	By       string     // who makes it; empty: not told
	File     string     // name of the circuit's file; empty: not saved
	Version  string     // of the program; empty: not told

	// Progress is told how far the work is; nil: nobody is.
	Progress func(done, total int, what string)
}

// Source is what a report is about: a circuit and the result of its checks.
type Source struct {
	Snapshot *checks.Snapshot // of the circuit; its facts are used again
	Result   *checks.Result   // of that circuit
	Rules    []*checks.Rule   // that were applied
	Profile  *checks.Profile  // that the result names, without the circuit's own changes
}

// Report is a report as data. Texts that hold numbers are in the units of System;
// findings also tell their numbers in SI. Its JSON shape only ever grows.
type Report struct {
	Format   int            `json:"report_format"` // 1
	Units    string         `json:"units"`         // "metric", "us"
	Cover    Cover          `json:"cover"`
	Scope    Scope          `json:"scope"`
	Summary  Summary        `json:"summary"`
	Chapters []Chapter      `json:"chapters"`
	Findings []Finding      `json:"findings,omitempty"`
	Accepted []Finding      `json:"accepted,omitempty"`
	Judged   []Deviation    `json:"deviations_without_effect,omitempty"` // that do not hold, and why
	Open     []Finding      `json:"not_assessed,omitempty"`
	Marks    []Mark         `json:"marks,omitempty"`
	Lists    []Table        `json:"lists,omitempty"`
	Asked    *Checklist     `json:"checklists,omitempty"`
	Steps    []StepSheet    `json:"calculations,omitempty"`
	Washes   []ProgrammeUse `json:"programmes,omitempty"`
	Signs    []Signature    `json:"signatures,omitempty"`
	Cautions []string       `json:"cautions"`

	system  quantity.System
	picture *draw.Picture // of the circuit, with the numbers of findings and marks
}

// maker gathers a report.
type maker struct {
	ctx context.Context
	of  Source
	*checks.Snapshot
	opt     Options
	system  quantity.System
	drawing *edit.Drawing
	bare    *draw.Picture // of the circuit at rest
	done    int
	total   int
	out     *Report
}

// Make gathers a report. It ends early with the context's error, or with an error
// if the source is not complete.
func Make(ctx context.Context, of Source, opt Options) (*Report, error) {
	if of.Snapshot == nil || of.Result == nil || of.Profile == nil {
		return nil, errors.New("report: the circuit, its findings or its limits are not known")
	}
	if opt.Chapters == nil {
		opt.Chapters = Chapters()
	}
	m := &maker{ctx: ctx, of: of, Snapshot: of.Snapshot, opt: opt, system: opt.System,
		drawing: edit.NewDrawing(of.Snapshot.Circuit, of.Snapshot.Catalogue),
		out:     &Report{Format: 1, Units: "metric", system: opt.System}}
	if opt.System == quantity.US {
		m.out.Units = "us"
	}
	for _, c := range Chapters() { // in their own order, each once
		if slices.Contains(opt.Chapters, c) {
			m.out.Chapters = append(m.out.Chapters, c)
		}
	}
	work := m.work()
	for _, w := range work {
		m.total += w.size
	}
	for _, w := range work {
		if err := m.step(0, w.what); err != nil {
			return nil, err
		}
		if err := w.do(); err != nil {
			return nil, err
		}
	}
	m.tell("done")
	return m.out, nil
}

// work is one piece of the making of a report.
type work struct {
	what string
	size int // calls of step in it
	do   func() error
}

func (m *maker) work() []work {
	out := []work{{"cover and drawing", 1, m.front}}
	steps := m.solvable()
	programmes := programmesOf(m.Circuit)
	all := map[Chapter]work{
		Findings:   {"findings", len(m.of.Result.Findings), m.findings},
		Accepted:   {"accepted findings", len(m.of.Result.Accepted), m.accepted},
		Unassessed: {"what was not assessed", len(m.of.Result.NotAssessed), m.unassessed},
		Marks:      {"marks", len(m.Circuit.Marks()), m.marks},
		Checklists: {"checklists", 1, m.checklists},
		Sheets:     {"calculation sheets", len(steps), func() error { return m.sheets(steps) }},
		Programmes: {"wash programmes", len(programmes), func() error { return m.washes(programmes) }},
		Lists:      {"lists", len(listNames()), m.lists},
		Signatures: {"signatures", 1, m.signatures},
	}
	for _, c := range m.out.Chapters {
		out = append(out, all[c])
	}
	return out
}

// step counts a piece of work as done and says what comes; the error is that of
// the context.
func (m *maker) step(by int, what string) error {
	m.done += by
	m.tell(what)
	return m.ctx.Err()
}

func (m *maker) tell(what string) {
	if m.opt.Progress != nil {
		m.opt.Progress(min(m.done, m.total), m.total, what)
	}
}

func (m *maker) stepNames(ids []model.ID) string { return listing.StepNames(m.Circuit, ids) }

// Signature is a line to be signed on.
type Signature struct {
	Role string `json:"role"`
	Name string `json:"name,omitempty"`
}

func (m *maker) signatures() error {
	m.out.Signs = []Signature{{"Drawn by", m.Circuit.Header().Author}, {"Checked by", m.opt.By}, {"Approved by", ""}}
	return m.step(1, "signatures")
}

func listText(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
