package checks

import (
	"context"
	"slices"

	"rinsewright/model"
	"rinsewright/model/network"
)

// Pass is one application of a rule: to the circuit, or to the circuit in one
// step. It belongs to the rule's own goroutine.
type Pass struct {
	*Snapshot
	Context context.Context
	Rule    *Rule
	Step    *model.Step // nil for a rule that runs once

	route      *network.Route // of the step, once asked for
	findings   []Finding
	judged     []model.Place
	unassessed []Finding   // of the other rules, for one that runs last
	deviations []Judgement // for a rule of the audit
}

// Report adds a finding. The rule fills At, Message and what else it knows; the
// severity and source of the rule's documentation or limit stand in where the
// rule gives none (see [Pass.ReportAs] for another severity).
func (p *Pass) Report(f Finding) { p.ReportAs(p.Rule.Doc.Severity, f) }

// ReportAs is Report with another severity than the rule's own. A place that liquid
// reaches only in some positions of valves whose position nobody told gets no
// verdict in that step: the rule could not assess it. What can hurt someone is
// told all the same.
func (p *Pass) ReportAs(s Severity, f Finding) {
	if !f.NotAssessed && s < Stop {
		if missing := p.inDoubt(append(slices.Clone(f.Places), f.At)); len(missing) > 0 {
			p.NotAssessed(f.At, missing...)
			return
		}
	}
	f.Rule, f.Title, f.Remedy, f.Severity = p.Rule.Name, p.Rule.Doc.Title, p.Rule.Doc.Remedy, s
	f.Where = p.Where(f.At)
	if !slices.Contains(f.Places, f.At) {
		f.Places = slices.Insert(slices.Clone(f.Places), 0, f.At)
	}
	if len(f.Steps) == 0 && p.Step != nil {
		f.Steps = []model.ID{p.Step.ID}
	}
	if f.LimitName != "" {
		l := p.Limit(f.LimitName)
		f.Source = l.Source
		if !f.Limit.Known() { // a rule may have worked out what the limit means here
			f.Limit = l.Value
		}
	}
	if f.Source == (Citation{}) && len(p.Rule.Doc.Cites) > 0 {
		f.Source = p.Rule.Doc.Cites[0]
	}
	p.findings = append(p.findings, f)
}

// NotAssessed says that the rule cannot judge a place until what is missing has
// been entered. Without anything missing it does nothing.
func (p *Pass) NotAssessed(at model.Place, missing ...network.Missing) {
	if len(missing) == 0 {
		return
	}
	missing = slices.Clone(missing)
	slices.SortFunc(missing, compareMissing)
	missing = slices.Compact(missing)
	p.ReportAs(Note, Finding{At: at, NotAssessed: true, Missing: missing,
		Message: Say("not assessed: %s", lackText(p.Snapshot, missing))})
}

// Judged says that the rule has judged a place in this step, whether or not it
// found anything. Only rules that merge by [EveryStep] need to.
func (p *Pass) Judged(at model.Place) { p.judged = append(p.judged, at) }

// Limit gives a limit of the profile. Its name must be among the limits of the
// rule's documentation; all else is a programming error.
func (p *Pass) Limit(name string) Limit {
	if !slices.Contains(p.Rule.Doc.Limits, name) {
		panic("checks: rule " + p.Rule.Name + " reads limit " + name + " but does not say so")
	}
	l, ok := p.Profile.Limit(name)
	if !ok {
		panic("checks: profile " + p.Profile.Name + " has no limit " + name)
	}
	return l
}

// Unassessed gives what the other rules could not assess, in order. It is empty
// unless the rule runs last.
func (p *Pass) Unassessed() []Finding { return p.unassessed }

// Deviations gives what became of each deviation of the circuit, in its order. It
// is empty unless the rule is one of the audit.
func (p *Pass) Deviations() []Judgement { return p.deviations }
