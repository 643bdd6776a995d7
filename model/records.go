package model

import (
	"fmt"
	"slices"
)

// Records are the contents of a circuit in any order.
type Records struct {
	Header     *Header // nil: an empty one
	Parts      []Part
	Runs       []*Run
	Steps      []*Step
	Deviations []*Deviation
	Marks      []*Mark
	Answers    []*Answer
}

// FromRecords is [Records.Circuit] for a circuit without an audit.
func FromRecords(header *Header, parts []Part, runs []*Run, steps []*Step) (*Circuit, error) {
	return Records{Header: header, Parts: parts, Runs: runs, Steps: steps}.Circuit()
}

// Circuit makes a circuit of the records. It refuses a record without an id, one
// that takes the header's id and two with the same id, whatever sort they are.
// The lists are copied, the records are not.
func (r Records) Circuit() (*Circuit, error) {
	if r.Header == nil {
		r.Header = &Header{}
	}
	c := &Circuit{
		header: r.Header, parts: slices.Clone(r.Parts), runs: slices.Clone(r.Runs), steps: slices.Clone(r.Steps),
		deviations: slices.Clone(r.Deviations), marks: slices.Clone(r.Marks), answers: slices.Clone(r.Answers),
	}
	taken := make(map[ID]bool, c.size())
	for _, r := range c.All() {
		id, err := checkedID(r)
		if err != nil {
			return nil, err
		}
		if taken[id] {
			return nil, fmt.Errorf("two records have the id %q", id)
		}
		taken[id] = true
	}
	c.inOrder()
	return c, nil
}

// All lists every record: the header, then parts, runs, steps, deviations, marks
// and answers, each in its order.
func (c *Circuit) All() []Record {
	out := make([]Record, 0, c.size())
	out = append(out, c.header)
	out = appended(out, c.parts)
	out = appended(out, c.runs)
	out = appended(out, c.steps)
	out = appended(out, c.deviations)
	out = appended(out, c.marks)
	return appended(out, c.answers)
}

func appended[R Record](out []Record, list []R) []Record {
	for _, r := range list {
		out = append(out, r)
	}
	return out
}
