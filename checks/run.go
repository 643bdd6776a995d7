package checks

import (
	"context"
	"fmt"
	"runtime"
	"runtime/debug"
	"sync"
	"sync/atomic"
	"time"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// Run applies rules to a circuit. It gives an error only if the context ends
// first, or for rules or a profile that do not fit together; a rule that fails
// is told in the result and the others go on. The circuit is not changed. The
// result does not depend on the number of processors. Deviations are judged as of
// today, and the limits that the circuit changes take the place of the profile's.
func Run(ctx context.Context, c *model.Circuit, cat *catalogue.Catalogue, profile *Profile, rules []*Rule) (*Result, error) {
	return RunOn(ctx, model.DateOf(time.Now()), c, cat, profile, rules)
}

// RunOn is [Run] with deviations judged as of another day.
func RunOn(ctx context.Context, day model.Date, c *model.Circuit, cat *catalogue.Catalogue, profile *Profile, rules []*Rule) (*Result, error) {
	s := &Snapshot{Circuit: c, Catalogue: cat, Day: day}
	return s.judge(ctx, profile, rules)
}

// judge applies rules to a snapshot with the limits of a profile.
func (s *Snapshot) judge(ctx context.Context, profile *Profile, rules []*Rule) (*Result, error) {
	start := time.Now()
	for _, r := range rules {
		for _, name := range r.Doc.Limits {
			if _, ok := profile.Limit(name); !ok {
				return nil, fmt.Errorf("checks: limits profile %s has no limit %q, which rule %s reads", profile.Name, name, r.Name)
			}
		}
	}
	profile, limits := profile.With(s.Circuit.Header().Limits)
	s.Profile = profile
	first, last, audit := jobsOf(ctx, s, rules)
	if err := runJobs(ctx, first); err != nil {
		return nil, err
	}
	result := &Result{Profile: profile.Name, Limits: limits, Findings: []Finding{}, NotAssessed: []Finding{}}
	result.add(s, first)
	for _, j := range last {
		j.pass.unassessed = result.NotAssessed
	}
	if err := runJobs(ctx, last); err != nil {
		return nil, err
	}
	result.add(s, last)
	result.accept(s, rules)
	for _, j := range audit {
		j.pass.deviations = result.Deviations
	}
	if err := runJobs(ctx, audit); err != nil {
		return nil, err
	}
	result.add(s, audit)
	result.count()
	result.Duration = time.Since(start)
	return result, nil
}

// job is one rule in one step.
type job struct {
	pass *Pass
	err  error
}

func jobsOf(ctx context.Context, s *Snapshot, rules []*Rule) (first, last, audit []*job) {
	for _, r := range rules {
		switch {
		case r.Audit:
			audit = append(audit, &job{pass: &Pass{Snapshot: s, Context: ctx, Rule: r}})
		case r.Last:
			last = append(last, &job{pass: &Pass{Snapshot: s, Context: ctx, Rule: r}})
		case r.Doc.Merge == Once:
			first = append(first, &job{pass: &Pass{Snapshot: s, Context: ctx, Rule: r}})
		default:
			for _, step := range s.Circuit.Steps() {
				first = append(first, &job{pass: &Pass{Snapshot: s, Context: ctx, Rule: r, Step: step}})
			}
		}
	}
	return first, last, audit
}

// runJobs does the jobs on all processors; each writes only to itself.
func runJobs(ctx context.Context, jobs []*job) error {
	var next atomic.Int64
	var wg sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(jobs)) {
		wg.Go(func() {
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= len(jobs) {
					return
				}
				jobs[i].run()
			}
		})
	}
	wg.Wait()
	return ctx.Err()
}

func (j *job) run() {
	defer func() {
		if x := recover(); x != nil {
			j.err = fmt.Errorf("rule %s failed: %v\n%s", j.pass.Rule.Name, x, debug.Stack())
		}
	}()
	j.pass.Rule.Run(j.pass)
}
