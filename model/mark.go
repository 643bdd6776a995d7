package model

import (
	"cmp"

	. "rinsewright/model/quantity"
)

// MarkClass is what a reviewer's mark asks for.
type MarkClass string

const (
	MarkMust     MarkClass = "must"
	MarkShould   MarkClass = "should"
	MarkQuestion MarkClass = "question"
	MarkPraise   MarkClass = "praise"
)

func (MarkClass) Choices() []string { return []string{"must", "should", "question", "praise"} }

// MarkState is how far a mark has come.
type MarkState string

const (
	MarkOpen     MarkState = "open"
	MarkAnswered MarkState = "answered"
	MarkAgreed   MarkState = "agreed"
	MarkDone     MarkState = "done"
	MarkRejected MarkState = "rejected"
)

func (MarkState) Choices() []string {
	return []string{"open", "answered", "agreed", "done", "rejected"}
}

// Mark is a reviewer's note on the drawing. It changes nothing about the
// circuit.
type Mark struct {
	ID          ID        `json:"id"`
	Number      int       `json:"number"` // as shown; counted up over the life of the circuit
	Class       MarkClass `json:"class"`
	Text        string    `json:"text,omitempty"`
	Pin         Pin       `json:"pin,omitzero"`
	Rule        string    `json:"rule,omitempty"`        // that it is about
	Finding     string    `json:"finding,omitempty"`     // that it is about, by its id
	Attachments []string  `json:"attachments,omitempty"` // names or paths of photos and files, which stay where they are
	History     []Entry   `json:"history,omitempty"`     // oldest first; the first tells who made the mark
}

// Entry is one line of a mark's history.
type Entry struct {
	At    Moment         `json:"at,omitempty"`
	By    string         `json:"by,omitempty"`
	State Opt[MarkState] `json:"state,omitzero"` // that the mark has from then on; unknown: the one it had
	Text  string         `json:"text,omitempty"`
}

// Pin tells where a mark sits: on a part or a run, or, with On empty, at a place
// or an area of the drawing. With On, At and Was hold the last known place once
// the record is gone. The zero Pin sits on the circuit as a whole.
type Pin struct {
	On    ID            `json:"on,omitempty"`       // part or run; stays when that is deleted
	Along Opt[Strength] `json:"along_pct,omitzero"` // share of a run's drawn line from its beginning; unknown: its middle
	At    *Point        `json:"at_mm,omitempty"`    // place, or one corner of an area
	To    *Point        `json:"to_mm,omitempty"`    // opposite corner of an area
	Was   string        `json:"was,omitempty"`      // what it sat on, in words, once that is gone
}

func (m *Mark) RecordID() ID { return m.ID }
func (m *Mark) record()      {}

// State gives the last state of the history; open if it tells none.
func (m *Mark) State() MarkState {
	for i := len(m.History) - 1; i >= 0; i-- {
		if s, ok := m.History[i].State.Get(); ok {
			return s
		}
	}
	return MarkOpen
}

// Adrift says whether a mark is pinned to what the circuit no longer has.
func (c *Circuit) Adrift(m *Mark) bool { return m.Pin.On != "" && c.Record(m.Pin.On) == nil }

// NextMarkNumber gives the number of the next mark: one above the highest that is
// there.
func (c *Circuit) NextMarkNumber() int {
	if n := len(c.marks); n > 0 {
		return c.marks[n-1].Number + 1 // they are in order of number
	}
	return 1
}

func compareMark(a, b *Mark) int {
	return cmp.Or(cmp.Compare(a.Number, b.Number), cmp.Compare(a.ID, b.ID))
}
