package checks

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"time"

	"rinsewright/model"
	"rinsewright/model/network"
)

// Result is what a run of the checks gives. Its JSON shape is stable: it only
// ever grows. Two runs on the same circuit give the same bytes.
type Result struct {
	Profile     string         `json:"profile"`                  // name of the limits profile
	Counts      Counts         `json:"counts"`                   //
	Findings    []Finding      `json:"findings"`                 // worst first, then by rule and place
	NotAssessed []Finding      `json:"not_assessed"`             // by rule and place
	Accepted    []Finding      `json:"accepted,omitempty"`       // findings with a deviation that holds, in the order of Findings; not among them
	Deviations  []Judgement    `json:"deviations,omitempty"`     // what became of each deviation of the circuit
	Limits      []ChangedLimit `json:"limits_changed,omitempty"` // what the circuit changes of the profile
	Day         model.Date     `json:"day,omitempty"`            // that deviations were judged on; empty if there are none
	Errors      []RuleError    `json:"errors,omitempty"`
	Duration    time.Duration  `json:"-"` // of the run; not part of the result
}

// Counts counts the findings by severity, what could not be assessed, and what
// was accepted, which is not among the others.
type Counts struct {
	Stop        int `json:"stop"`
	Fix         int `json:"fix"`
	Note        int `json:"note"`
	NotAssessed int `json:"not_assessed"`
	Accepted    int `json:"accepted"`
}

// RuleError is a rule that failed. What the rule would have found is not known.
type RuleError struct {
	Rule  string `json:"rule"`
	Error string `json:"error"` // one line
	Stack string `json:"-"`
}

// Worst gives the highest severity among the findings, and false if there is
// none.
func (r *Result) Worst() (Severity, bool) {
	if len(r.Findings) == 0 {
		return Note, false
	}
	return r.Findings[0].Severity, true // findings are in order of severity
}

// add puts in what jobs found. The jobs of a rule stand together, in order of the
// steps.
func (r *Result) add(s *Snapshot, jobs []*job) {
	for len(jobs) > 0 {
		rule := jobs[0].pass.Rule
		n := slices.IndexFunc(jobs, func(j *job) bool { return j.pass.Rule != rule })
		if n < 0 {
			n = len(jobs)
		}
		done := jobs[:n]
		jobs = jobs[n:]
		if i := slices.IndexFunc(done, func(j *job) bool { return j.err != nil }); i >= 0 {
			line, stack, _ := strings.Cut(done[i].err.Error(), "\n")
			r.Errors = append(r.Errors, RuleError{rule.Name, line, stack})
		}
		for _, f := range merged(rule, done) {
			f.InSteps = s.namesOf(f.Steps)
			if f.NotAssessed {
				r.NotAssessed = append(r.NotAssessed, *f)
			} else {
				r.Findings = append(r.Findings, *f)
			}
		}
	}
	slices.SortFunc(r.Findings, compareFinding)
	slices.SortFunc(r.NotAssessed, compareFinding)
	slices.SortFunc(r.Errors, func(a, b RuleError) int { return cmp.Compare(a.Rule, b.Rule) })
}

func (r *Result) count() {
	for _, f := range r.Findings {
		switch f.Severity {
		case Stop:
			r.Counts.Stop++
		case Fix:
			r.Counts.Fix++
		default:
			r.Counts.Note++
		}
	}
	r.Counts.NotAssessed = len(r.NotAssessed)
	r.Counts.Accepted = len(r.Accepted)
}

func compareFinding(a, b Finding) int {
	return cmp.Or(cmp.Compare(b.Severity, a.Severity), cmp.Compare(a.Rule, b.Rule), model.ComparePlace(a.At, b.At))
}

func compareMissing(a, b network.Missing) int {
	return cmp.Or(cmp.Compare(a.Record, b.Record), cmp.Compare(a.Key, b.Key), cmp.Compare(a.Why, b.Why))
}

// namesOf names steps by their ids.
func (s *Snapshot) namesOf(steps []model.ID) []StepName {
	var out []StepName
	for _, id := range steps {
		name := StepName{ID: id}
		if step := s.Circuit.Step(id); step != nil {
			name.Programme, name.Name = step.Programme, step.Name
		}
		out = append(out, name)
	}
	return out
}

// mergeKey is what makes findings of a rule the same finding.
type mergeKey struct {
	at          model.Place
	notAssessed bool
}

// merged gives one finding a place over all jobs of a rule, which are in order
// of the steps: the worst, with the steps in which there was one.
func merged(rule *Rule, jobs []*job) []*Finding {
	var order []mergeKey
	byKey := map[mergeKey]*Finding{}
	stepsJudged := map[model.Place]int{}
	stepsFound := map[mergeKey]int{}
	for _, j := range jobs {
		if len(j.pass.findings) == 0 && rule.Doc.Merge != EveryStep {
			continue
		}
		for _, at := range uniquePlaces(j.pass.judged) {
			stepsJudged[at]++
		}
		inThisStep := map[mergeKey]bool{}
		for i := range j.pass.findings {
			f := &j.pass.findings[i]
			key := mergeKey{f.At, f.NotAssessed}
			if !inThisStep[key] {
				inThisStep[key] = true
				stepsFound[key]++
			}
			if old := byKey[key]; old != nil {
				*old = worse(*old, *f)
				continue
			}
			order = append(order, key)
			byKey[key] = f
		}
	}
	var out []*Finding
	for _, key := range order {
		if rule.Doc.Merge == EveryStep && !key.notAssessed && stepsFound[key] < stepsJudged[key.at] {
			continue
		}
		f := byKey[key]
		f.ID = rule.Name + "@" + f.At.String()
		if f.NotAssessed {
			f.ID += "?"
		}
		out = append(out, f)
	}
	return out
}

func uniquePlaces(places []model.Place) []model.Place {
	slices.SortFunc(places, model.ComparePlace)
	return slices.Compact(places)
}

// worse gives the graver of two findings at one place, a before b in order of
// the steps, with the steps, places and missing properties of both.
func worse(a, b Finding) Finding {
	w, other := a, b
	if cmp.Or(cmp.Compare(b.Severity, a.Severity), cmp.Compare(b.excess(), a.excess())) > 0 {
		w, other = b, a
	}
	w.Steps = union(a.Steps, b.Steps)
	w.Places = allPlaces(w.Places, other.Places)
	if w.NotAssessed && len(other.Missing) > len(w.Missing) {
		w.Missing, w.Message = other.Missing, other.Message
	}
	return w
}

// allPlaces gives a and then what of b is not in a.
func allPlaces(a, b []model.Place) []model.Place {
	if slices.Equal(a, b) {
		return a
	}
	seen := make(map[model.Place]bool, len(a))
	for _, p := range a {
		seen[p] = true
	}
	out := slices.Clip(a)
	for _, p := range b {
		if !seen[p] {
			seen[p] = true
			out = append(out, p)
		}
	}
	return out
}

// excess tells how far a finding is from its limit, to compare findings of one
// rule.
func (f *Finding) excess() float64 {
	if !f.Limit.Known() {
		return f.Measured.SI()
	}
	return math.Abs(f.Measured.SI() - f.Limit.SI())
}

func union(a, b []model.ID) []model.ID {
	out := slices.Clone(a)
	for _, id := range b {
		if !slices.Contains(out, id) {
			out = append(out, id)
		}
	}
	return out
}
