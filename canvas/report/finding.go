package report

import (
	"fmt"

	"rinsewright/canvas/draw"
	"rinsewright/checks"
	"rinsewright/model"
)

// Finding is one finding as a report tells it.
type Finding struct {
	Number   int                `json:"number,omitempty"` // of its sign on the drawing
	ID       string             `json:"id"`
	Rule     string             `json:"rule"`
	Title    string             `json:"title"`
	Severity string             `json:"severity"`
	Where    string             `json:"where"`
	Record   model.ID           `json:"record,omitempty"` // id of the part, run or step
	Steps    string             `json:"steps,omitempty"`
	Message  string             `json:"message"`
	Measured string             `json:"measured,omitempty"`
	Limit    string             `json:"limit,omitempty"`
	LimitKey string             `json:"limit_name,omitempty"`
	Source   string             `json:"source,omitempty"`
	Standing string             `json:"standing,omitempty"`
	Remedy   string             `json:"remedy,omitempty"`
	Fixes    []string           `json:"mechanical_remedies,omitempty"`
	Missing  []Fact             `json:"missing,omitempty"`
	Accepted *checks.Acceptance `json:"accepted,omitempty"`
	Marks    []MarkRef          `json:"marks,omitempty"` // of reviewers that are about it
	SI       *checks.Finding    `json:"finding,omitempty"`

	sign   draw.Mark
	signed bool
	spot   *draw.Picture // small drawing of its place; nil: it has none
}

// MarkRef names a mark.
type MarkRef struct {
	ID     model.ID `json:"id"`
	Number int      `json:"number"`
}

// Deviation is one that accepts nothing now, and why.
type Deviation struct {
	ID      model.ID              `json:"id"`
	Finding string                `json:"finding"`
	Rule    string                `json:"rule"`
	Was     string                `json:"was,omitempty"`
	State   checks.DeviationState `json:"state"`
	Why     string                `json:"why,omitempty"`
	Reason  string                `json:"reason,omitempty"`
	By      string                `json:"by,omitempty"`
	Date    model.Date            `json:"date,omitempty"`
}

func (m *maker) findings() error {
	for i := range m.of.Result.Findings {
		f := m.finding(&m.of.Result.Findings[i])
		f.Number = i + 1
		f.sign = draw.Mark{Place: m.of.Result.Findings[i].At, Severity: draw.Severity(m.of.Result.Findings[i].Severity), Number: i + 1}
		f.signed = true
		f.spot = m.spot(&m.of.Result.Findings[i], &f.sign)
		m.out.Findings = append(m.out.Findings, f)
		if err := m.step(1, "finding "+fmt.Sprint(i+1)); err != nil {
			return err
		}
	}
	return nil
}

func (m *maker) accepted() error {
	for i := range m.of.Result.Accepted {
		f := m.finding(&m.of.Result.Accepted[i])
		f.spot = m.spot(&m.of.Result.Accepted[i], nil)
		m.out.Accepted = append(m.out.Accepted, f)
		if err := m.step(1, "accepted findings"); err != nil {
			return err
		}
	}
	for _, j := range m.of.Result.Deviations {
		if j.State == checks.DeviationHolds {
			continue
		}
		d := Deviation{ID: j.Deviation, Finding: j.Finding, Rule: j.Rule, State: j.State, Why: j.Why}
		if of := m.Circuit.Deviation(j.Deviation); of != nil {
			d.Was, d.Reason, d.By, d.Date = of.Was, of.Reason, of.By, of.Date
		}
		m.out.Judged = append(m.out.Judged, d)
	}
	return nil
}

func (m *maker) unassessed() error {
	for i := range m.of.Result.NotAssessed {
		f := &m.of.Result.NotAssessed[i]
		x := m.finding(f)
		x.Severity = "not assessed"
		for _, k := range f.Missing {
			x.Missing = append(x.Missing, Fact{Label: m.PropertyLabel(k.Record, k.Key), Text: m.Name(k.Record), ID: k.Record, Key: k.Key})
		}
		m.out.Open = append(m.out.Open, x)
		if err := m.step(1, "what was not assessed"); err != nil {
			return err
		}
	}
	return nil
}

func (m *maker) finding(f *checks.Finding) Finding {
	out := Finding{ID: f.ID, Rule: f.Rule, Title: f.Title, Severity: f.Severity.String(), Where: f.Where, Record: f.At.Element,
		Steps: m.stepNames(f.Steps), Message: f.Text(m.system), Measured: f.Measured.Text(m.system), Limit: f.Limit.Text(m.system), LimitKey: f.LimitName,
		Source: citation(f.Source), Standing: f.Source.Standing, Remedy: f.Remedy, Accepted: f.Accepted, SI: f}
	for _, r := range f.Fixes {
		out.Fixes = append(out.Fixes, r.Text(m.system))
	}
	for _, k := range m.Circuit.Marks() {
		if k.Finding == f.ID {
			out.Marks = append(out.Marks, MarkRef{k.ID, k.Number})
		}
	}
	return out
}
