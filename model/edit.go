package model

import (
	"errors"
	"fmt"
	"reflect"
	"slices"
)

// Change is the before and after of one record. Before nil adds After; After
// nil deletes Before.
type Change struct{ Before, After Record }

// Edit is one thing that a user does, as data.
type Edit struct {
	Label   string // what it does: "move V-12"
	Changes []Change
}

// ErrStale says that an edit was made for another state of the circuit.
var ErrStale = errors.New("the circuit has changed since this edit was made")

// Adding is the change that adds a record.
func Adding(r Record) Change { return Change{After: r} }

// Removing is the change that deletes a record.
func Removing(r Record) Change { return Change{Before: r} }

// Replacing is the change that puts after in the place of before.
func Replacing(before, after Record) Change { return Change{Before: before, After: after} }

// Inverse gives the edit that takes e back.
func (e Edit) Inverse() Edit {
	inv := Edit{Label: e.Label, Changes: make([]Change, 0, len(e.Changes))}
	for _, c := range slices.Backward(e.Changes) {
		inv.Changes = append(inv.Changes, Change{Before: c.After, After: c.Before})
	}
	return inv
}

// Empty says whether e changes nothing.
func (e Edit) Empty() bool {
	for _, c := range e.Changes {
		if !reflect.DeepEqual(c.Before, c.After) {
			return false
		}
	}
	return true
}

// Apply gives the circuit after e; c itself stays as it is. All or nothing: an
// error wraps [ErrStale] when a Before is not what the circuit holds or an
// added id is taken. Several changes of one record are applied in turn.
func (c *Circuit) Apply(e Edit) (*Circuit, error) {
	c.indexed()
	changed := make(map[ID]Record, len(e.Changes)) // nil: deleted
	current := func(id ID) Record {
		if r, ok := changed[id]; ok {
			return r
		}
		return c.at[id]
	}
	for _, ch := range e.Changes {
		id, err := ch.id()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", e.Label, err)
		}
		if !same(current(id), ch.Before) {
			return nil, fmt.Errorf("%s: record %s: %w", e.Label, id, ErrStale)
		}
		changed[id] = ch.After
	}
	return c.with(changed), nil
}

func (ch Change) id() (ID, error) {
	switch {
	case ch.Before == nil && ch.After == nil:
		return "", errors.New("a change without a record")
	case ch.Before == nil:
		return checkedID(ch.After)
	case ch.After == nil:
		if ch.Before.RecordID() == HeaderID {
			return "", errors.New("the header cannot be deleted")
		}
		return ch.Before.RecordID(), nil
	case ch.Before.RecordID() != ch.After.RecordID():
		return "", fmt.Errorf("a change cannot make record %s into %s", ch.Before.RecordID(), ch.After.RecordID())
	}
	return checkedID(ch.After)
}

// checkedID refuses a record with no id and one that takes the header's.
func checkedID(r Record) (ID, error) {
	_, isHeader := r.(*Header)
	if id := r.RecordID(); id == "" || (id == HeaderID) != isHeader {
		return "", fmt.Errorf("%q is not an id for a %T", id, r)
	}
	return r.RecordID(), nil
}

func same(a, b Record) bool {
	if a == nil || b == nil {
		return a == nil && b == nil
	}
	return a == b || reflect.DeepEqual(a, b)
}

// with builds the next snapshot. Lists that no change touches are shared.
func (c *Circuit) with(changed map[ID]Record) *Circuit {
	next := &Circuit{header: c.header, parts: c.parts, runs: c.runs, steps: c.steps,
		deviations: c.deviations, marks: c.marks, answers: c.answers}
	if len(changed) == 0 {
		return next
	}
	var parts, runs, steps, deviations, marks, answers bool
	for id, after := range changed {
		for _, r := range []Record{c.at[id], after} {
			switch r := r.(type) {
			case Part:
				parts = true
			case *Run:
				runs = true
			case *Step:
				steps = true
			case *Deviation:
				deviations = true
			case *Mark:
				marks = true
			case *Answer:
				answers = true
			case *Header:
				next.header = r
			}
		}
	}
	if parts {
		next.parts = replaced(c.parts, changed, comparePart)
	}
	if runs {
		next.runs = replaced(c.runs, changed, compareRun)
	}
	if steps {
		next.steps = replaced(c.steps, changed, compareStep)
	}
	if deviations {
		next.deviations = replaced(c.deviations, changed, compareDeviation)
	}
	if marks {
		next.marks = replaced(c.marks, changed, compareMark)
	}
	if answers {
		next.answers = replaced(c.answers, changed, compareAnswer)
	}
	return next
}

// replaced gives list with the changed records of its own type put in, taken
// out or exchanged, in order.
func replaced[T Record](list []T, changed map[ID]Record, compare func(a, b T) int) []T {
	out := make([]T, 0, len(list)+len(changed))
	for _, r := range list {
		if _, touched := changed[r.RecordID()]; !touched {
			out = append(out, r)
		}
	}
	for _, after := range changed {
		if r, ok := after.(T); ok {
			out = append(out, r)
		}
	}
	slices.SortFunc(out, compare)
	return out
}
