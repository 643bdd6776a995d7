package model

import (
	"cmp"
	"slices"

	. "rinsewright/model/quantity"
)

// Grade is how grave a finding is: what a deviation accepts at most.
type Grade string

const (
	GradeNote Grade = "note"
	GradeFix  Grade = "fix"
	GradeStop Grade = "stop"
)

func (Grade) Choices() []string { return []string{"note", "fix", "stop"} }

// Deviation is a finding that a named person accepted with a reason. It changes
// nothing about the circuit. What it is of is told by the finding's id alone;
// rule, places and words are kept so that it still says what it was of when the
// finding is gone.
type Deviation struct {
	ID        ID         `json:"id"`
	Rule      string     `json:"rule"`
	Finding   string     `json:"finding"`          // its id, the same in every run of the checks and over revisions
	Places    []Place    `json:"places,omitempty"` // that the finding concerned
	Steps     []ID       `json:"steps,omitempty"`  // in which it is accepted; empty: in whichever it holds
	Gravest   Opt[Grade] `json:"gravest,omitzero"` // that it accepts; unknown: any
	Was       string     `json:"was,omitempty"`    // the place in words when it was accepted: "V-12, Discharge"
	Reason    string     `json:"reason,omitempty"`
	By        string     `json:"by,omitempty"`
	Date      Date       `json:"date,omitempty"`
	Expires   Date       `json:"expires,omitempty"` // last day on which it holds; empty: no end
	Reference string     `json:"reference,omitempty"`
	Note      string     `json:"note,omitempty"`
}

func (d *Deviation) RecordID() ID { return d.ID }
func (d *Deviation) record()      {}

// Lacks lists the keys without which a deviation accepts nothing: a reason, a
// name and the day on which it was given. Nil if all are there.
func (d *Deviation) Lacks() []string {
	var out []string
	for _, need := range []struct{ key, text string }{{"reason", d.Reason}, {"by", d.By}, {"date", string(d.Date)}} {
		if need.text == "" {
			out = append(out, need.key)
		}
	}
	return out
}

// Expired says whether the deviation no longer holds on a day. One that expires
// on a day still holds on it.
func (d *Deviation) Expired(on Date) bool { return d.Expires != "" && d.Expires < on }

// Covers says whether the deviation is for all steps of a list. A finding that
// holds in all steps has none; it is covered only by a deviation for all.
func (d *Deviation) Covers(steps []ID) bool {
	if len(d.Steps) == 0 {
		return true
	}
	for _, id := range steps {
		if !slices.Contains(d.Steps, id) {
			return false
		}
	}
	return len(steps) > 0
}

func compareDeviation(a, b *Deviation) int {
	return cmp.Or(cmp.Compare(a.Finding, b.Finding), cmp.Compare(a.ID, b.ID))
}
