package checks

import (
	"encoding/json"
	"slices"
	"strings"

	"rinsewright/model"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

// Finding is one thing that a rule reports.
type Finding struct {
	ID          string // rule and place: the same in every run of the checks
	Rule        string
	Title       string // of the rule
	Remedy      string // of the rule: a verb phrase
	Severity    Severity
	At          model.Place
	Where       string            // At in words: the tag, or what it is
	Places      []model.Place     // all that it concerns, At first
	Steps       []model.ID        // in which it holds, in order of programme; empty: in all
	InSteps     []StepName        // the same with their names
	Measured    Value             // no value where there is nothing to measure
	Limit       Value             // no value where the demand is not a number
	LimitName   string            // of the profile's limit, where there is one
	Source      Citation          // of the limit, or of the rule
	Message     Text              // the thing, the number, the limit
	Way         []model.Place     // to be drawn, in order
	Fixes       []Remedy          // mechanical remedies, any one of which may be applied
	Missing     []network.Missing // of a finding that says "not assessed"
	NotAssessed bool
	Accepted    *Acceptance // by a deviation of the circuit; nil: not
}

// StepName names a step in which a finding holds. In JSON, name and programme are
// left out where the step has none.
type StepName struct {
	ID        model.ID `json:"id"`
	Programme string   `json:"programme,omitempty"`
	Name      string   `json:"name,omitempty"`
}

// Remedy is a remedy as an edit of the circuit that was checked. Applied to it,
// the rule falls silent at this place.
type Remedy struct {
	Message string // a verb phrase in metric units: "swap for an eccentric reducer"
	Words   Text   // the same where it holds a number, for [Remedy.Text]; else empty
	Edit    model.Edit
}

// remedy makes a remedy whose verb phrase holds numbers.
func remedy(words Text, edit model.Edit) Remedy {
	return Remedy{Message: words.In(quantity.Metric), Words: words, Edit: edit}
}

// Text gives the verb phrase in the units of s.
func (r Remedy) Text(s quantity.System) string {
	if r.Words.Empty() {
		return r.Message
	}
	return r.Words.In(s)
}

// Text gives the message in the units of s.
func (f *Finding) Text(s quantity.System) string { return f.Message.In(s) }

// findingJSON is the shape of a finding in JSON output. It only ever grows: keys
// keep their names and meanings, and what reads them must pass over new ones.
type findingJSON struct {
	ID        string        `json:"id"` // rule and place; stable from run to run
	Rule      string        `json:"rule"`
	Severity  Severity      `json:"severity"`
	At        model.Place   `json:"at"`
	Where     string        `json:"where"`
	Places    []model.Place `json:"places,omitempty"`
	Steps     []model.ID    `json:"steps,omitempty"`
	Measured  Value         `json:"measured"` // null: nothing to measure
	Limit     Value         `json:"limit"`    // null: not a number
	LimitName string        `json:"limit_name,omitempty"`
	Source    Citation      `json:"source"`
	Message   string        `json:"message"`
	MessageUS string        `json:"message_us"`
	Way       []model.Place `json:"way,omitempty"`
	Fixes     []string      `json:"fixes,omitempty"`
	FixesUS   []string      `json:"fixes_us,omitempty"`
	Missing   []missingJSON `json:"missing,omitempty"`
	Title     string        `json:"title"`              // of the rule, one line
	Remedy    string        `json:"remedy"`             // of the rule; fixes are the mechanical ones
	InSteps   []StepName    `json:"in_steps,omitempty"` // steps by id, programme and name
	Accepted  *Acceptance   `json:"accepted,omitempty"`
}

type missingJSON struct {
	Record model.ID `json:"record"`
	Key    string   `json:"key"`
}

// MarshalJSON writes the numbers in SI and in the unit of the circuit file, and
// the texts in metric and US units. Edits are left out, their verbs are there.
func (f Finding) MarshalJSON() ([]byte, error) {
	out := findingJSON{
		ID: f.ID, Rule: f.Rule, Severity: f.Severity, At: f.At, Where: f.Where, Places: f.Places, Steps: f.Steps,
		Measured: f.Measured, Limit: f.Limit, LimitName: f.LimitName, Source: f.Source,
		Message: f.Text(quantity.Metric), MessageUS: f.Text(quantity.US), Way: f.Way,
		Title: f.Title, Remedy: f.Remedy, InSteps: f.InSteps, Accepted: f.Accepted,
	}
	for _, x := range f.Fixes {
		out.Fixes = append(out.Fixes, x.Text(quantity.Metric))
		out.FixesUS = append(out.FixesUS, x.Text(quantity.US))
	}
	for _, m := range f.Missing {
		out.Missing = append(out.Missing, missingJSON{m.Record, m.Key})
	}
	return json.Marshal(out)
}

// missingText lists what is missing: "size of V-3, stretches of run r2".
func missingText(s *Snapshot, missing []network.Missing) string {
	var b strings.Builder
	for i, m := range missing {
		if i == 4 {
			b.WriteString(" and more")
			break
		}
		if i > 0 {
			b.WriteString(", ")
		}
		b.WriteString(s.PropertyLabel(m.Record, m.Key) + " of " + s.Name(m.Record))
		if m.Why != "" {
			b.WriteString(" (as entered it cannot be: " + m.Why + ")")
		}
	}
	return b.String()
}

// lackText says of each property whether it is unknown or cannot be as entered.
func lackText(s *Snapshot, missing []network.Missing) string {
	entered := func(m network.Missing) bool { return m.Why != "" }
	unknown := slices.DeleteFunc(slices.Clone(missing), entered)
	var out []string
	if len(unknown) > 0 {
		out = append(out, missingText(s, unknown)+" unknown")
	}
	if len(unknown) < len(missing) {
		out = append(out, missingText(s, slices.DeleteFunc(slices.Clone(missing), func(m network.Missing) bool { return !entered(m) })))
	}
	return strings.Join(out, "; ")
}
