package checks

import (
	"context"
	"sync"
	"time"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
)

// Checker judges a circuit again and again while it is edited. It keeps what was
// worked out for the last one and works out anew what the edit may have touched: a tag,
// a note or a place on the drawing solves nothing again, a step that changed is solved
// alone. Every rule is applied anew, and the result is that of [Run] to the last bit.
// The zero Checker is ready. Safe for use from several goroutines.
type Checker struct {
	lock  sync.Mutex
	last  *Snapshot      // complete; nil at first
	plant *network.Plant // see Use
}

// Use takes the network of a circuit that is about to be judged, where the caller has
// built it with the same catalogue already.
func (k *Checker) Use(p *network.Plant) {
	k.lock.Lock()
	k.plant = p
	k.lock.Unlock()
}

// Run is as the function [Run].
func (k *Checker) Run(ctx context.Context, c *model.Circuit, cat *catalogue.Catalogue, profile *Profile, rules []*Rule) (*Result, error) {
	return k.RunOn(ctx, model.DateOf(time.Now()), c, cat, profile, rules)
}

// RunOn is as the function [RunOn].
func (k *Checker) RunOn(ctx context.Context, day model.Date, c *model.Circuit, cat *catalogue.Catalogue, profile *Profile, rules []*Rule) (*Result, error) {
	s := &Snapshot{Circuit: c, Catalogue: cat, Day: day}
	k.lock.Lock()
	if k.last != nil && k.last.Catalogue == cat {
		s.before = k.last
	}
	if k.plant != nil && k.plant.Circuit == c && k.plant.Catalogue == cat {
		s.plant = k.plant
	}
	k.plant = nil
	k.lock.Unlock()
	result, err := s.judge(ctx, profile, rules)
	if err != nil {
		return nil, err
	}
	s.before = nil // one is enough
	s.forget()
	k.lock.Lock()
	k.last = s
	k.lock.Unlock()
	return result, nil
}

// Forget drops what is kept.
func (k *Checker) Forget() {
	k.lock.Lock()
	k.last = nil
	k.lock.Unlock()
}
