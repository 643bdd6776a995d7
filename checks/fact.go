package checks

import (
	"sync"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// Snapshot is the circuit under judgement with all facts worked out so far.
// Safe for use by several rules at once.
type Snapshot struct {
	Circuit   *model.Circuit
	Catalogue *catalogue.Catalogue
	Profile   *Profile
	Day       model.Date // that deviations are judged on

	facts sync.Map // from what a fact is of to its func() any
}

// Fact is a computation that rules share: it is done at most once in a run of
// the checks, when the first rule asks for it. A fact that panics does so for
// every rule that asks; those rules are then reported as failed.
type Fact[T any] struct {
	name    string
	compute func(*Snapshot) T
}

// NewFact makes a fact. Its computation may ask for other facts, but not for
// one that asks for it.
func NewFact[T any](name string, compute func(*Snapshot) T) *Fact[T] {
	return &Fact[T]{name, compute}
}

// String gives the name of the fact.
func (f *Fact[T]) String() string { return f.name }

// Of gives the fact of a snapshot, worked out now or before.
func (f *Fact[T]) Of(s *Snapshot) T {
	return s.once(f, func() any { return boxed[T]{f.compute(s)} }).(boxed[T]).value
}

// boxed lets a fact be a nil interface.
type boxed[T any] struct{ value T }

func (s *Snapshot) once(key any, compute func() any) any {
	get, ok := s.facts.Load(key)
	if !ok {
		get, _ = s.facts.LoadOrStore(key, sync.OnceValue(compute))
	}
	return get.(func() any)()
}

// StepFact is a [Fact] of one step.
type StepFact[T any] struct {
	name    string
	compute func(*Snapshot, *model.Step) T
}

// NewStepFact makes a fact of a step.
func NewStepFact[T any](name string, compute func(*Snapshot, *model.Step) T) *StepFact[T] {
	return &StepFact[T]{name, compute}
}

// String gives the name of the fact.
func (f *StepFact[T]) String() string { return f.name }

type stepKey struct {
	fact any
	step *model.Step
}

// Of gives the fact of a step, worked out now or before.
func (f *StepFact[T]) Of(s *Snapshot, step *model.Step) T {
	return s.once(stepKey{f, step}, func() any { return boxed[T]{f.compute(s, step)} }).(boxed[T]).value
}
