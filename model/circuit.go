package model

import (
	"cmp"
	"slices"
	"sync"
)

// Record is one element of a circuit: a part, a run, a step or the header. A
// record in a circuit is never changed; an edit puts another in its place.
type Record interface {
	RecordID() ID
	record()
}

// Circuit is a snapshot of all that one file holds. Its records are in order of
// id, its steps in order of programme and place. Safe for concurrent readers.
type Circuit struct {
	header *Header
	parts  []Part
	runs   []*Run
	steps  []*Step

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
		c.at = make(map[ID]Record, len(c.parts)+len(c.runs)+len(c.steps)+1)
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
	})
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
}
