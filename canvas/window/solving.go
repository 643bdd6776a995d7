package window

import (
	"context"
	"fmt"
	"maps"
	"sync"
	"time"

	"rinsewright/canvas/scene"
	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/heat"
	"rinsewright/model/network"
)

// solving finds what flows in the step shown, beside the user. A new state cancels
// the wait for the old one, and what comes for an older state is dropped. All
// methods are called on the main goroutine.
type solving struct {
	on     *Window
	warm   *warmSolver
	cancel context.CancelFunc
	timer  *time.Timer
	busy   bool
}

func newSolving(on *Window) *solving { return &solving{on: on, warm: &warmSolver{}} }

// solved is what a solve gave.
type solved struct {
	of   *shownLineUp
	sol  *flow.Solution
	heat *heat.State // of sol
	err  error
	took time.Duration
}

// want asks for the flow of a line-up after a moment's rest. Without a step there
// is none.
func (s *solving) want(l *shownLineUp, wait time.Duration) {
	s.stop()
	if l.step == nil || l.route == nil {
		return
	}
	ctx, cancel := context.WithCancel(context.Background())
	s.cancel, s.busy = cancel, true
	onMain := s.on.checker.onMain
	s.timer = time.AfterFunc(wait, func() {
		out := s.warm.solve(ctx, l)
		if ctx.Err() != nil {
			return
		}
		onMain(func() {
			if ctx.Err() != nil {
				return // another state is shown meanwhile
			}
			s.busy = false
			s.on.guard("show the flow", func() { s.on.flowSolved(out) })
		})
	})
}

// stop gives up what is under way.
func (s *solving) stop() {
	if s.cancel != nil {
		s.cancel()
		s.timer.Stop()
	}
	s.cancel, s.busy = nil, false
}

// forget drops what is kept of another circuit.
func (s *solving) forget() { s.warm = &warmSolver{} }

// warmSolver keeps from one solve to the next what makes the next one fast. One
// solve runs at a time.
type warmSolver struct {
	mu      sync.Mutex
	solver  flow.Solver
	plant   *network.Plant
	heights *network.Heights
}

// solve gives nothing if it is cancelled before it begins. A failure of the solver
// becomes an error that is told.
func (k *warmSolver) solve(ctx context.Context, l *shownLineUp) (out solved) {
	k.mu.Lock()
	defer k.mu.Unlock()
	out.of = l
	if ctx.Err() != nil {
		return out
	}
	begun := time.Now()
	defer func() {
		out.took = time.Since(begun)
		if x := recover(); x != nil {
			out.err = fmt.Errorf("the solver failed: %v", x)
			k.solver.Forget()
		}
	}()
	if k.plant != l.plant {
		k.plant, k.heights = l.plant, l.plant.Heights()
	}
	out.sol, out.err = k.solver.Solve(l.plant, k.heights, l.step, flow.Options{Route: l.route})
	if out.err == nil {
		out.heat = heat.Of(out.sol, heat.Options{})
	}
	return out
}

// solve drops what was solved and asks for the flow of the line-up shown now. What
// was written beside the runs of the same step stays until the new flow is there.
func (w *Window) solve(wait time.Duration) {
	w.solution, w.unsolved = nil, nil
	if w.drawn != nil && w.drawn.Step.ID != w.stepID {
		w.drawn = nil
	}
	w.solving.want(w.lines, wait)
	w.showValues()
	w.flows.refresh()
}

func (w *Window) flowSolved(s solved) {
	w.solution, w.unsolved, w.drawn = s.sol, s.err, s.sol
	w.flows.heat = s.heat
	w.showValues()
	w.props.refresh()
	w.flows.refresh()
	w.refreshMenu()
	fields := map[string]any{"step": string(s.of.step.ID), "took_ms": s.took.Milliseconds(), "solved": s.err == nil && s.sol.Solved()}
	if s.err != nil {
		fields["error"] = s.err.Error()
	}
	w.events.tell("solved", fields)
}

// showValues writes the chosen value beside the runs of the drawing.
func (w *Window) showValues() {
	values := scene.Values(w.drawn, w.values, w.system)
	if maps.Equal(values, w.lines.options.Values) {
		w.board.refreshOverlay() // the legend alone
		return
	}
	next := *w.lines
	next.options.Values = values
	w.lines = &next
	w.board.repaint()
}

// chooseValues sets what stands beside runs.
func (w *Window) chooseValues(v scene.Value) {
	w.values = v
	w.app.Preferences().SetString(prefValues, string(v))
	w.showValues()
	w.refreshMenu()
	w.events.tell("values", map[string]any{"value": string(v), "runs": len(w.lines.options.Values)})
}

// turnValues chooses the next value to stand beside runs, or the one before.
func (w *Window) turnValues(by int) {
	all := append([]scene.Value{scene.NoValue}, scene.ValueNames()...)
	for i, v := range all {
		if v == w.values {
			w.chooseValues(all[(i+by+len(all))%len(all)])
			return
		}
	}
}

// valuesTold says what stands beside the runs of the drawing; empty for nothing.
func (w *Window) valuesTold() string {
	if w.values == scene.NoValue {
		return ""
	}
	told := w.values.Told()
	switch {
	case w.shownStep() == nil:
		return told + "; no step is shown"
	case w.unsolved != nil:
		return told + "; not solved, see Flow"
	case w.solving.busy:
		return told + "; being solved…"
	case w.solution == nil || !w.lines.found():
		return told + "; this step has no route"
	case !w.solution.Solved():
		return told + "; not all of it is solved, see Flow"
	}
	return told + "; computed, not measured"
}

// edgesOf gives what happens in the pieces of a part or run; nil while nothing is
// solved.
func (w *Window) edgesOf(id model.ID) []int {
	if w.solution == nil {
		return nil
	}
	if edges := w.solution.Plant.RunEdges(id); len(edges) > 0 {
		return edges
	}
	return w.solution.Plant.PartEdges(id)
}
