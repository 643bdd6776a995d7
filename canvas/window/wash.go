package window

import (
	"context"
	"fmt"
	"slices"
	"time"

	"rinsewright/canvas/scene"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/coverage"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
	"rinsewright/model/wash"
)

// settleWash is how long the hand must rest before a programme is run.
const settleWash = 250 * time.Millisecond

// longWash is how long a run may take before its progress is told.
const longWash = 500 * time.Millisecond

// ranWash is a programme of a snapshot as it was run.
type ranWash struct {
	circuit   *model.Circuit
	programme string
	hot       bool
	least     quantity.Opt[quantity.Velocity] // of a swept stretch, from the limits; unknown: there is no such limit

	plant  *network.Plant
	record *wash.Record
	play   *scene.Play
	cover  *coverage.Table
	err    error
	took   time.Duration
}

// ok says whether there is something to be shown.
func (r *ranWash) ok() bool { return r != nil && r.err == nil }

// washRunner runs the chosen programme beside the user. A new state gives up the
// wait for the old one, and what comes for an older state is dropped. All methods
// are called on the main goroutine.
type washRunner struct {
	on        *Window
	programme string // chosen last
	hot       bool   // tanks stand at their temperature before the programme
	ran       *ranWash
	work      *besideWork
	begun     time.Time
	clock     *time.Timer // tells the progress of a long run
	after     []func()    // wait for the result
}

func newWashRunner(on *Window) *washRunner {
	return &washRunner{on: on, work: &besideWork{on: on}}
}

// name gives the programme that is run: that of the step shown, else the one
// chosen last, else the first. Not ok if the circuit has no steps.
func (k *washRunner) name() (string, bool) {
	if s := k.on.shownStep(); s != nil {
		k.programme = s.Programme
		return k.programme, true
	}
	names := k.on.drawing().Programmes()
	switch {
	case len(names) == 0:
		return "", false
	case !slices.Contains(names, k.programme):
		k.programme = names[0]
	}
	return k.programme, true
}

// fresh says whether what was run is of the present state.
func (k *washRunner) fresh() bool {
	name, ok := k.name()
	return ok && k.ran != nil && k.ran.circuit == k.on.circuit() && k.ran.programme == name && k.ran.hot == k.hot && k.ran.least == k.on.leastVelocity()
}

// leastVelocity is the least velocity of a swept stretch of the limits in use.
func (w *Window) leastVelocity() quantity.Opt[quantity.Velocity] {
	if l, ok := w.profile().Limit("velocity-least"); ok {
		return quantity.Some(quantity.Velocity(l.Is()))
	}
	return quantity.Opt[quantity.Velocity]{}
}

// want asks for the present programme after a moment's rest, unless it was run
// already.
func (k *washRunner) want(wait time.Duration) {
	name, ok := k.name()
	if !ok {
		k.stop()
		k.ran, k.after = nil, nil
		return
	}
	if k.fresh() {
		return
	}
	k.stop()
	w := k.on
	c, cat, least, hot := w.circuit(), w.cat, w.leastVelocity(), k.hot
	k.begun = time.Now()
	k.work.begin("show the wash", wait, func(ctx context.Context) func() {
		out := runWash(ctx, c, cat, name, least, hot)
		return func() { k.take(out) }
	})
	k.tick()
}

// tick tells from time to time how long a run has been going on.
func (k *washRunner) tick() {
	begun := k.begun
	k.clock = time.AfterFunc(longWash, func() {
		k.on.checker.onMain(func() {
			if k.work.busy && k.begun == begun {
				k.on.washTold()
				k.tick()
			}
		})
	})
}

// stop gives up what is under way.
func (k *washRunner) stop() {
	k.work.stop()
	if k.clock != nil {
		k.clock.Stop()
	}
}

// take takes in what a run gave.
func (k *washRunner) take(out *ranWash) {
	k.stop()
	k.ran = out
	if out.err == nil {
		k.on.player.at = min(k.on.player.at, out.record.Cycle)
	}
	after := k.after
	k.after = nil
	fields := map[string]any{"programme": out.programme, "took_ms": out.took.Milliseconds()}
	if out.err != nil {
		fields["error"] = out.err.Error()
	} else {
		simulated := 0
		for _, s := range out.record.Steps {
			if s.Simulated {
				simulated++
			}
		}
		fields["steps"], fields["simulated"], fields["cycle_s"] = len(out.record.Steps), simulated, float64(out.record.Cycle)
		fields["rows"] = len(out.cover.Rows)
	}
	k.on.washTold()
	if k.on.events != nil {
		for name, x := range k.on.washPanel.bar.where() {
			fields["slider_"+name] = x
		}
	}
	k.on.events.tell("wash", fields)
	for _, do := range after {
		do()
	}
}

// with does something with the present programme once it was run.
func (k *washRunner) with(do func()) {
	if k.fresh() {
		do()
		return
	}
	k.after = append(k.after, do)
	k.want(0)
}

// runWash runs a programme of a circuit until it is over or not wanted any more. A
// failure becomes an error that is told.
func runWash(ctx context.Context, c *model.Circuit, cat *catalogue.Catalogue, name string, least quantity.Opt[quantity.Velocity], hot bool) (out *ranWash) {
	out = &ranWash{circuit: c, programme: name, hot: hot, least: least}
	begun := time.Now()
	defer func() {
		out.took = time.Since(begun)
		if x := recover(); x != nil {
			out.err = fmt.Errorf("the run failed: %v", x)
		}
	}()
	var steps []*model.Step
	for _, s := range c.Steps() {
		if s.Programme == name {
			steps = append(steps, s)
		}
	}
	out.plant = network.Build(c, cat)
	out.record, out.err = wash.Run(out.plant, out.plant.Heights(), steps, wash.Options{Hot: hot, Stop: func() bool { return ctx.Err() != nil }})
	if out.err != nil {
		return out
	}
	out.play = scene.NewPlay(out.plant, out.record)
	out.cover = coverage.Of(out.plant, steps, coverage.Options{Least: least.Or(0), Velocity: out.velocity(least.Known())})
	return out
}

// velocity gives the velocities of the solved steps; where the limits tell no least
// velocity none is known, so that nothing is called swept at speed.
func (r *ranWash) velocity(limited bool) func(*model.Step, int) (quantity.Velocity, bool) {
	return func(step *model.Step, edge int) (quantity.Velocity, bool) {
		if !limited {
			return 0, false
		}
		for i := range r.record.Steps {
			s := &r.record.Steps[i]
			if s.Step != step {
				continue
			}
			if s.Flow == nil || edge >= len(s.Flow.Edges) {
				return 0, false
			}
			v, ok := s.Flow.Edges[edge].Velocity.Get()
			return max(v, -v), ok
		}
		return 0, false
	}
}

// washSeen says whether something of the wash is to be seen, so that it is to be run.
func (w *Window) washSeen() bool {
	return !w.panes.hidden[paneBottom] && (w.tabs.at == w.washTab || w.tabs.at == w.coverTab) || w.covering.shown || w.player.shown
}

// washLooked runs the programme if it is to be seen now and was not run.
func (w *Window) washLooked() {
	if w.washPanel != nil && w.washSeen() && !w.washing.fresh() {
		w.washing.want(0)
		w.washTold()
	}
}

// washChanged drops what is of an older state: the circuit, the programme or the
// limits have changed.
func (w *Window) washChanged(wait time.Duration) {
	if w.washPanel == nil || w.washing.fresh() {
		return
	}
	w.player.end("The wash has changed: the play has ended. Play runs it anew.")
	if w.washing.work.busy || w.washing.ran != nil || w.washSeen() {
		w.washing.stop()
		w.washing.ran = nil
		if w.washSeen() || len(w.washing.after) > 0 {
			w.washing.want(wait)
		}
	}
	w.washTold()
}

// washTold shows what was run, or why there is nothing.
func (w *Window) washTold() {
	w.washPanel.refresh()
	w.coverPanel.refresh()
	w.covering.refresh()
	w.refreshMenu()
}

// chooseWash runs another programme: its first step is shown.
func (w *Window) chooseWash(name string) {
	if steps := w.drawing().StepsOf(name); len(steps) > 0 {
		w.washing.programme = name
		if now := w.shownStep(); now == nil || now.Programme != name {
			w.showStep(steps[0].ID)
		}
	}
}

// washTrouble tells why there is nothing to be shown of the wash; empty if there is.
func (w *Window) washTrouble() string {
	k := w.washing
	_, some := k.name()
	switch {
	case !some:
		return "No programme yet. Make one in the tab Steps: a step for each phase of the wash, with what flows from where to where. Then it is run here, second by second."
	case k.work.busy:
		text := "Running the programme…"
		if since := time.Since(k.begun); since > longWash {
			text = fmt.Sprintf("Running the programme, for %.1f s now…", since.Seconds())
		}
		return text
	case k.ran == nil:
		return "Not run yet."
	case k.ran.err != nil:
		return "The programme could not be run: " + plainFlowError(k.ran.err).Error()
	}
	return ""
}
