package checks

import (
	"fmt"
	"strings"

	"rinsewright/model"
)

// Acceptance tells who accepted a finding, and why.
type Acceptance struct {
	Deviation model.ID   `json:"deviation"` // id of the record
	Reason    string     `json:"reason"`
	By        string     `json:"by"`
	Date      model.Date `json:"date"`
	Expires   model.Date `json:"expires,omitempty"` // empty: no end
	Reference string     `json:"reference,omitempty"`
}

// DeviationState is what became of a deviation in a run of the checks.
type DeviationState string

const (
	DeviationHolds      DeviationState = "holds"      // its finding is there and accepted
	DeviationUnmatched  DeviationState = "unmatched"  // its finding is not there any more
	DeviationExpired    DeviationState = "expired"    // its day is over; the finding counts
	DeviationIncomplete DeviationState = "incomplete" // no reason, name or date; the finding counts
	DeviationOutgrown   DeviationState = "outgrown"   // the finding is graver or in more steps than accepted, and counts
	DeviationUnjudged   DeviationState = "not judged" // its rule did not run, failed, or could not assess the place
)

// Judgement is what became of one deviation.
type Judgement struct {
	Deviation model.ID       `json:"deviation"`
	Rule      string         `json:"rule"`
	Finding   string         `json:"finding"` // id
	State     DeviationState `json:"state"`
	Why       string         `json:"why,omitempty"` // one clause; empty where it holds
}

// Accept makes the deviation that accepts a finding, for [model.Adding]: it is
// complete but for the reason, the name and the expiry. Of a finding in some
// steps it accepts those steps alone, and nothing graver than it is now.
func (f *Finding) Accept(id model.ID, day model.Date) *model.Deviation {
	d := &model.Deviation{ID: id, Rule: f.Rule, Finding: f.ID, Places: f.Places, Steps: f.Steps, Was: f.Where, Date: day}
	d.Gravest.Set(model.Grade(f.Severity.String()))
	return d
}

// accept takes the findings that deviations of the circuit accept out of those
// that count, and tells what became of each deviation. It is done before the audit
// rules have run: what they find cannot be accepted.
func (r *Result) accept(s *Snapshot, rules []*Rule) {
	r.Accepted, r.Deviations, r.Day = nil, nil, ""
	if len(s.Circuit.Deviations()) == 0 {
		return
	}
	r.Day = s.Day
	found := map[string]*Finding{}
	for i := range r.Findings {
		found[r.Findings[i].ID] = &r.Findings[i]
	}
	for _, d := range s.Circuit.Deviations() {
		j := Judgement{Deviation: d.ID, Rule: d.Rule, Finding: d.Finding}
		f := found[d.Finding]
		if f == nil || f.Rule != d.Rule {
			j.State, j.Why = r.without(s, d, rules)
		} else if j.State, j.Why = verdict(s, d, f); j.State == DeviationHolds && f.Accepted == nil {
			f.Accepted = &Acceptance{d.ID, d.Reason, d.By, d.Date, d.Expires, d.Reference}
		}
		r.Deviations = append(r.Deviations, j)
	}
	counting := []Finding{}
	for _, f := range r.Findings {
		if f.Accepted != nil {
			r.Accepted = append(r.Accepted, f)
		} else {
			counting = append(counting, f)
		}
	}
	r.Findings = counting
}

// verdict says whether a deviation accepts its finding, and if not, why.
func verdict(s *Snapshot, d *model.Deviation, f *Finding) (DeviationState, string) {
	if lacks := d.Lacks(); lacks != nil {
		words := map[string]string{"reason": "a reason", "by": "a name", "date": "a date"}
		for i, key := range lacks {
			lacks[i] = words[key]
		}
		return DeviationIncomplete, "it lacks " + list(lacks)
	}
	if d.Expired(s.Day) {
		return DeviationExpired, "it expired on " + string(d.Expires)
	}
	if most, ok := d.Gravest.Get(); ok && f.Severity > severityOf(most) {
		return DeviationOutgrown, fmt.Sprintf("it accepts %s at most, the finding is now %s", most, f.Severity)
	}
	if !d.Covers(f.Steps) {
		return DeviationOutgrown, "the finding holds in more steps than were accepted"
	}
	return DeviationHolds, ""
}

// without tells what a deviation comes to whose finding is not there.
func (r *Result) without(s *Snapshot, d *model.Deviation, rules []*Rule) (DeviationState, string) {
	rule := Find(rules, d.Rule)
	switch {
	case rule == nil && Find(Rules(), d.Rule) == nil:
		return DeviationUnmatched, "there is no rule " + d.Rule
	case rule == nil:
		return DeviationUnjudged, "the rule was not asked for"
	case rule.Audit:
		return DeviationUnmatched, "what rule " + d.Rule + " finds cannot be accepted"
	case !strings.HasPrefix(d.Finding, d.Rule+"@"):
		return DeviationUnmatched, "its finding is not one of rule " + d.Rule
	}
	for _, e := range r.Errors {
		if e.Rule == d.Rule {
			return DeviationUnjudged, "the rule failed"
		}
	}
	for _, f := range r.NotAssessed {
		if f.ID == d.Finding+"?" || f.ID == d.Finding {
			return DeviationUnjudged, "the rule cannot assess the place now; what is not assessed cannot be accepted"
		}
	}
	for _, p := range d.Places {
		if s.Circuit.Record(p.Element) == nil {
			return DeviationUnmatched, "what it was of is not in the circuit any more"
		}
	}
	return DeviationUnmatched, "the rule finds nothing there any more"
}

func severityOf(g model.Grade) Severity {
	for s, text := range severityTexts {
		if text == string(g) {
			return Severity(s)
		}
	}
	return Note
}
