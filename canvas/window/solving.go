package window

import (
	"fmt"
	"time"

	"rinsewright/canvas/scene"
	"rinsewright/model"
	"rinsewright/model/flow"
)

// solving finds what flows in the step shown, beside the user: one solve at a
// time, always of what is shown last. What comes for an older state is dropped.
// All methods are called on the main goroutine.
type solving struct {
	on     *Window
	wanted *shownLineUp
	busy   bool
}

// solved is what a solve gave.
type solved struct {
	of   *shownLineUp
	sol  *flow.Solution
	err  error
	took time.Duration
}

// want asks for the flow of a line-up.
func (s *solving) want(l *shownLineUp) {
	s.wanted = l
	if l.step != nil && l.route != nil && !s.busy {
		s.start(l)
	}
}

func (s *solving) start(l *shownLineUp) {
	s.busy = true
	onMain := s.on.checker.onMain
	go func() {
		out := solveShown(l)
		onMain(func() {
			s.busy = false
			if s.wanted == l {
				s.on.guard("show the flow", func() { s.on.flowSolved(out) })
			} else if w := s.wanted; w != nil && w.step != nil && w.route != nil {
				s.start(w)
			}
		})
	}()
}

// solveShown solves; a failure of the solver becomes an error that is told.
func solveShown(l *shownLineUp) (out solved) {
	out.of = l
	begun := time.Now()
	defer func() {
		out.took = time.Since(begun)
		if x := recover(); x != nil {
			out.err = fmt.Errorf("the solver failed: %v", x)
		}
	}()
	out.sol, out.err = flow.Solve(l.plant, l.plant.Heights(), l.step, flow.Options{Route: l.route})
	return out
}

// solve drops what was solved and asks for the flow of the line-up shown now.
func (w *Window) solve() {
	w.solution, w.unsolved = nil, nil
	w.flows.refresh()
	w.solving.want(w.lines)
}

func (w *Window) flowSolved(s solved) {
	w.solution, w.unsolved = s.sol, s.err
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
	values := scene.Values(w.solution, w.values, w.system)
	if len(values) == 0 && len(w.lines.options.Values) == 0 {
		return
	}
	next := *w.lines
	next.options.Values = values
	if w.solving.wanted == w.lines {
		w.solving.wanted = &next // the same line-up, drawn otherwise
	}
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
