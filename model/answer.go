package model

import "cmp"

// Reply is what was answered to a question of the checklist.
type Reply string

const (
	ReplyYes  Reply = "yes"
	ReplyNo   Reply = "no"
	ReplyNone Reply = "not-applicable"
	ReplyOpen Reply = "open"
)

func (Reply) Choices() []string { return []string{"yes", "no", "not-applicable", "open"} }

// Answer answers one question of a checklist: for the whole circuit, or for one
// part or run of it. A question without an answer is open.
type Answer struct {
	ID       ID     `json:"id"`
	Question string `json:"question"`     // id of the question in its checklist
	On       ID     `json:"on,omitempty"` // part or run; empty: the circuit
	Reply    Reply  `json:"answer"`
	Evidence string `json:"evidence,omitempty"` // what it rests on: a record, a drawing, an inspection
	By       string `json:"by,omitempty"`
	Date     Date   `json:"date,omitempty"`
}

func (a *Answer) RecordID() ID { return a.ID }
func (a *Answer) record()      {}

func compareAnswer(a, b *Answer) int {
	return cmp.Or(cmp.Compare(a.Question, b.Question), cmp.Compare(a.On, b.On), cmp.Compare(a.ID, b.ID))
}
