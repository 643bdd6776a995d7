package window

import (
	"slices"
	"strings"

	"rinsewright/canvas/scene"
	"rinsewright/model"
	"rinsewright/model/heat"
	"rinsewright/model/quantity"
)

// heated gives the heat side of the step shown; nil while its flow is not solved.
func (w *Window) heated() *heat.State {
	if w.flows == nil || w.flows.heat == nil || w.solution == nil || w.flows.heat.Solution != w.solution {
		return nil
	}
	return w.flows.heat
}

// flowGroup is a head with its lines.
type flowGroup struct {
	head  flowLine
	lines []flowLine
}

// heatGroups tells the heat side of the step shown.
func (w *Window) heatGroups() []flowGroup {
	h := w.heated()
	if h == nil {
		return nil
	}
	name := w.names().Name
	work := flowGroup{head: flowLine{name: "Heat", cells: []string{"Comes at", "Needs", "Gives", "Reaches"}}}
	for i := range h.Exchangers {
		x := &h.Exchangers[i]
		line := flowLine{name: name(x.Exchanger), run: w.shower(x.Exchanger), full: sentence(name(x.Exchanger)) + ": " + w.exchangerWords(x)}
		if x.Idle {
			line.text = "nothing to do: the liquid comes at " + quantity.OptText(x.Inlet, w.system)
			work.lines = append(work.lines, line)
			continue
		}
		line.cells = []string{cell(x.Inlet, w.system), cell(x.Needed, w.system), cell(x.Gives, w.system), cell(x.Reaches, w.system)}
		if x.Short() && !h.Round {
			line.icon = iconFix
		}
		work.lines = append(work.lines, line)
		for _, more := range w.exchangerMore(x) {
			work.lines = append(work.lines, flowLine{name: more.title, text: more.text, run: w.shower(x.Exchanger)})
		}
	}
	if u := h.WarmUp; u != nil {
		time, content := w.warmUpWords(u)
		line := flowLine{name: "Hot after", text: time, run: w.shower(u.Tank)}
		if u.Never {
			line.icon = iconFix
		}
		work.lines = append(work.lines, line, flowLine{name: "Gets hot", text: content, run: w.shower(u.Tank)})
	}
	if len(h.Losses) > 0 {
		work.lines = append(work.lines, flowLine{name: "While it runs", text: w.runningWords(h)})
	}
	for _, f := range h.Failures {
		work.lines = append(work.lines, flowLine{icon: iconFix, name: "Not computed", text: sentence(strings.TrimPrefix(f.Told(w.system), "thermal: "))})
	}
	return []flowGroup{work, w.heatMissing(h), w.heatLosses(h)}
}

// heatMissing tells what was never told of the heat, each with the way to its field.
func (w *Window) heatMissing(h *heat.State) flowGroup {
	g := flowGroup{head: flowLine{name: "Missing for the heat", text: "what it would decide"}}
	for _, m := range h.Missing {
		label := strings.ToLower(w.names().PropertyLabel(m.Record, m.Key))
		name := sentence(w.names().Name(m.Record))
		g.lines = append(g.lines, flowLine{icon: iconOpen, name: name, text: "Enter " + label + ": " + m.For, link: true,
			full: name + ", " + label + ": without it not told or taken as none: " + m.For + ". Click to enter it.", run: func() { w.gotoProperty(m.Record, m.Key) }})
	}
	return g
}

// heatLosses tells what runs and vessels lose, the greatest first.
func (w *Window) heatLosses(h *heat.State) flowGroup {
	g := flowGroup{head: flowLine{name: "Heat lost", cells: []string{"Lost", "Comes at", "Leaves at", "Insulation"}}}
	list := slices.Clone(h.Losses)
	slices.SortStableFunc(list, func(a, b heat.Loss) int {
		x, y := float64(a.Power.Or(0)), float64(b.Power.Or(0))
		switch {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	for _, l := range list {
		g.lines = append(g.lines, flowLine{name: sentence(w.names().Name(l.Record)), cells: []string{cell(l.Power, w.system), degrees(l.In, w.system), degrees(l.Out, w.system), insulation(l.Insulation, w.system)},
			full: sentence(w.names().Name(l.Record)) + ": " + w.lossWords(l), run: w.shower(l.Record)})
	}
	return g
}

// degrees writes a temperature to a tenth where there is little room.
func degrees(t quantity.Opt[quantity.Temperature], s quantity.System) string {
	if x, ok := t.Get(); ok {
		return scene.Span(x, x, s)
	}
	return "?"
}

func insulation(t quantity.Opt[quantity.Bore], s quantity.System) string {
	switch thick, told := t.Get(); {
	case !told:
		return "bare, assumed"
	case thick == 0:
		return "bare"
	default:
		return quantity.Text(thick, s)
	}
}

// lossOf gives what a run or vessel loses in the step shown.
func (w *Window) lossOf(id model.ID) (heat.Loss, bool) {
	if h := w.heated(); h != nil {
		for _, l := range h.Losses {
			if l.Record == id {
				return l, true
			}
		}
	}
	return heat.Loss{}, false
}
