package model

import (
	"cmp"
	"slices"
	"sync"
)

// Record is one element of a circuit: a part, a run, a step, the header, or one
// of the audit: a deviation, a mark, an answer. A record in a circuit is never
// changed; an edit puts another in its place.
type Record interface {
	RecordID() ID
	record()
}

// Circuit is a snapshot of all that one file holds. Its parts and runs are in
// order of id, its steps in order of programme and place, its deviations in order
// of finding, its marks of number and its answers of question; each then of id.
// Safe for concurrent readers.
type Circuit struct {
	header *Header
	parts  []Part
	runs   []*Run
	steps  []*Step

	deviations []*Deviation
	marks      []*Mark
	answers    []*Answer

	index sync.Once
	at    map[ID]Record
	ends  map[ID][]*Run // runs by the part they end on
}

// New makes an empty circuit.
func New(name string) *Circuit { return &Circuit{header: &Header{Name: name}} }

// Header gives what the circuit says of itself; never nil.
func (c *Circuit) Header() *Header { return c.header }

// Parts gives the parts in order of id. The slice is the circuit's own.
func (c *Circuit) Parts() []Part { return c.parts }

// Runs gives the runs in order of id. The slice is the circuit's own.
func (c *Circuit) Runs() []*Run { return c.runs }

// Steps gives the steps in order of programme, place and id. The slice is the
// circuit's own.
func (c *Circuit) Steps() []*Step { return c.steps }

// Deviations gives the accepted findings in order of finding and id. The slice is
// the circuit's own.
func (c *Circuit) Deviations() []*Deviation { return c.deviations }

// Marks gives the reviewers' marks in order of number and id. The slice is the
// circuit's own.
func (c *Circuit) Marks() []*Mark { return c.marks }

// Answers gives the checklist's answers in order of question, of what they are
// about and of id. The slice is the circuit's own.
func (c *Circuit) Answers() []*Answer { return c.answers }

// Record gives the record of an id, or nil.
func (c *Circuit) Record(id ID) Record {
	c.indexed()
	return c.at[id]
}

// Part gives the part of an id, or nil.
func (c *Circuit) Part(id ID) Part {
	p, _ := c.Record(id).(Part)
	return p
}

// Run gives the run of an id, or nil.
func (c *Circuit) Run(id ID) *Run {
	r, _ := c.Record(id).(*Run)
	return r
}

// Step gives the step of an id, or nil.
func (c *Circuit) Step(id ID) *Step {
	s, _ := c.Record(id).(*Step)
	return s
}

// Deviation gives the deviation of an id, or nil.
func (c *Circuit) Deviation(id ID) *Deviation {
	d, _ := c.Record(id).(*Deviation)
	return d
}

// Mark gives the mark of an id, or nil.
func (c *Circuit) Mark(id ID) *Mark {
	m, _ := c.Record(id).(*Mark)
	return m
}

// Answer gives the answer of an id, or nil.
func (c *Circuit) Answer(id ID) *Answer {
	a, _ := c.Record(id).(*Answer)
	return a
}

// RunsAt gives the runs that end on a part, in order of id. A run with both
// ends on it stands once.
func (c *Circuit) RunsAt(id ID) []*Run {
	c.indexed()
	return c.ends[id]
}

// Tagged gives the parts and runs that carry a tag, in order of id.
func (c *Circuit) Tagged(tag string) []Record {
	var out []Record
	for _, p := range c.parts {
		if p.Meta().Tag == tag {
			out = append(out, p)
		}
	}
	for _, r := range c.runs {
		if r.Tag == tag {
			out = append(out, r)
		}
	}
	return out
}

func (c *Circuit) indexed() {
	c.index.Do(func() {
		c.at = make(map[ID]Record, c.size())
		c.ends = make(map[ID][]*Run, len(c.parts))
		c.at[HeaderID] = c.header
		for _, p := range c.parts {
			c.at[p.RecordID()] = p
		}
		for _, r := range c.runs {
			c.at[r.ID] = r
			if !r.From.Loose() {
				c.ends[r.From.Part] = append(c.ends[r.From.Part], r)
			}
			if !r.To.Loose() && r.To.Part != r.From.Part {
				c.ends[r.To.Part] = append(c.ends[r.To.Part], r)
			}
		}
		for _, s := range c.steps {
			c.at[s.ID] = s
		}
		for _, d := range c.deviations {
			c.at[d.ID] = d
		}
		for _, m := range c.marks {
			c.at[m.ID] = m
		}
		for _, a := range c.answers {
			c.at[a.ID] = a
		}
	})
}

// size counts all records, the header too.
func (c *Circuit) size() int {
	return 1 + len(c.parts) + len(c.runs) + len(c.steps) + len(c.deviations) + len(c.marks) + len(c.answers)
}

func comparePart(a, b Part) int { return cmp.Compare(a.RecordID(), b.RecordID()) }
func compareRun(a, b *Run) int  { return cmp.Compare(a.ID, b.ID) }
func compareStep(a, b *Step) int {
	return cmp.Or(cmp.Compare(a.Programme, b.Programme), cmp.Compare(a.Order, b.Order), cmp.Compare(a.ID, b.ID))
}

// inOrder brings the records into the order that the circuit promises.
func (c *Circuit) inOrder() {
	slices.SortFunc(c.parts, comparePart)
	slices.SortFunc(c.runs, compareRun)
	slices.SortFunc(c.steps, compareStep)
	slices.SortFunc(c.deviations, compareDeviation)
	slices.SortFunc(c.marks, compareMark)
	slices.SortFunc(c.answers, compareAnswer)
}
