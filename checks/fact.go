package checks

import (
	"sync"
	"sync/atomic"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
)

// Snapshot is the circuit under judgement with all facts worked out so far.
// Safe for use by several rules at once.
type Snapshot struct {
	Circuit   *model.Circuit
	Catalogue *catalogue.Catalogue
	Profile   *Profile
	Day       model.Date // that deviations are judged on

	ready  sync.Once
	stepAt map[*model.Step]int32
	facts  []cells  // by number of the fact
	late   sync.Map // of facts made after the snapshot was first asked: number to *cells

	plant  *network.Plant // that was built before; nil: none
	before *Snapshot      // what was judged last, while this one is judged; see [Checker]
}

// cells hold one fact: a single cell, or one for each step.
type cells struct {
	ready sync.Once
	of    []cell
}

// cell holds one value of a fact once it is worked out.
type cell struct {
	done   atomic.Bool
	lock   sync.Mutex
	value  any // *T
	failed any // what the computation panicked with
}

// factCount numbers the facts. Facts are few and made once, so that a snapshot can
// hold them by number: a rule that asks for one in a loop pays next to nothing.
var factCount atomic.Int32

func (s *Snapshot) cells(fact int32) *cells {
	s.ready.Do(func() {
		steps := s.Circuit.Steps()
		s.stepAt = make(map[*model.Step]int32, len(steps))
		for i, step := range steps {
			s.stepAt[step] = int32(i)
		}
		s.facts = make([]cells, factCount.Load())
	})
	if int(fact) < len(s.facts) {
		return &s.facts[fact]
	}
	late, _ := s.late.LoadOrStore(fact, new(cells))
	return late.(*cells)
}

// get gives the value of a cell, filled now or before.
func get[T any](c *cell, compute func() T) T {
	c.lock.Lock()
	defer c.lock.Unlock()
	if !c.done.Load() {
		c.fill(func() any { v := compute(); return &v })
	}
	return have[T](c)
}

func (c *cell) fill(compute func() any) {
	defer func() {
		c.failed = recover()
		c.done.Store(true)
	}()
	c.value = compute()
}

// heldFacts are the numbers of those that follow from what was judged last. They are
// made while the program starts.
var heldFacts = map[int32]bool{}

// forget drops what no later snapshot asks for.
func (s *Snapshot) forget() {
	for i := range s.facts {
		if !heldFacts[int32(i)] {
			s.facts[i].of = nil
		}
	}
}

// have gives the value of a cell that is done.
func have[T any](c *cell) T {
	if c.failed != nil {
		panic(c.failed)
	}
	return *c.value.(*T)
}

// known gives the value of a cell that was filled without failing.
func known[T any](c *cell) (T, bool) {
	if c == nil || !c.done.Load() || c.failed != nil {
		var none T
		return none, false
	}
	return *c.value.(*T), true
}

// Fact is a computation that rules share: it is done at most once in a run of
// the checks, when the first rule asks for it. A fact that panics does so for
// every rule that asks; those rules are then reported as failed.
type Fact[T any] struct {
	name    string
	number  int32
	compute func(*Snapshot) T
	keep    func(*Fact[T], *Snapshot) (T, bool)
}

// NewFact makes a fact. Its computation may ask for other facts, but not for
// one that asks for it.
func NewFact[T any](name string, compute func(*Snapshot) T) *Fact[T] {
	return &Fact[T]{name: name, number: factCount.Add(1) - 1, compute: compute}
}

// keeping tells how the fact follows from what was judged last; keep gives false where
// it does not. What it gives must be what compute would give, to the last bit.
func (f *Fact[T]) keeping(keep func(*Fact[T], *Snapshot) (T, bool)) *Fact[T] {
	f.keep = keep
	heldFacts[f.number] = true
	return f
}

// String gives the name of the fact.
func (f *Fact[T]) String() string { return f.name }

// Of gives the fact of a snapshot, worked out now or before.
func (f *Fact[T]) Of(s *Snapshot) T {
	c := f.cell(s)
	if c.done.Load() {
		return have[T](c)
	}
	return get(c, func() T {
		if s.before != nil && f.keep != nil {
			if v, ok := f.keep(f, s); ok {
				return v
			}
		}
		return f.compute(s)
	})
}

// was gives the fact of the snapshot judged last, if it was worked out.
func (f *Fact[T]) was(s *Snapshot) (T, bool) { return known[T](f.cell(s.before)) }

func (f *Fact[T]) cell(s *Snapshot) *cell {
	all := s.cells(f.number)
	all.ready.Do(func() { all.of = make([]cell, 1) })
	return &all.of[0]
}

// StepFact is a [Fact] of one step.
type StepFact[T any] struct {
	name    string
	number  int32
	compute func(*Snapshot, *model.Step) T
	keep    func(*StepFact[T], *Snapshot, *model.Step) (T, bool)
}

// NewStepFact makes a fact of a step.
func NewStepFact[T any](name string, compute func(*Snapshot, *model.Step) T) *StepFact[T] {
	return &StepFact[T]{name: name, number: factCount.Add(1) - 1, compute: compute}
}

// keeping is as that of [Fact].
func (f *StepFact[T]) keeping(keep func(*StepFact[T], *Snapshot, *model.Step) (T, bool)) *StepFact[T] {
	f.keep = keep
	heldFacts[f.number] = true
	return f
}

// keptWith keeps the fact of a step that nobody changed while nothing of parts and runs
// changed but what the drawing alone shows.
func (f *StepFact[T]) keptWith() *StepFact[T] {
	return f.keeping(func(f *StepFact[T], s *Snapshot, step *model.Step) (T, bool) {
		if !changesOf.Of(s).shownOnly {
			var none T
			return none, false
		}
		return f.was(s, step)
	})
}

// String gives the name of the fact.
func (f *StepFact[T]) String() string { return f.name }

// Of gives the fact of a step, worked out now or before. Of a step that is not one
// of the circuit's it is worked out each time.
func (f *StepFact[T]) Of(s *Snapshot, step *model.Step) T {
	c := f.cell(s, step)
	switch {
	case c == nil:
		return f.compute(s, step)
	case c.done.Load():
		return have[T](c)
	}
	return get(c, func() T {
		if s.before != nil && f.keep != nil {
			if v, ok := f.keep(f, s, step); ok {
				return v
			}
		}
		return f.compute(s, step)
	})
}

// was gives the fact of a step of the snapshot judged last, if it is one of its steps
// and was worked out.
func (f *StepFact[T]) was(s *Snapshot, step *model.Step) (T, bool) {
	return known[T](f.cell(s.before, step))
}

func (f *StepFact[T]) cell(s *Snapshot, step *model.Step) *cell {
	all := s.cells(f.number)
	all.ready.Do(func() { all.of = make([]cell, len(s.stepAt)) })
	if i, ok := s.stepAt[step]; ok {
		return &all.of[i]
	}
	return nil
}
