package window

import (
	"strings"

	"fyne.io/fyne/v2"

	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/quantity"
)

// flowLine is one line of what is told of the flow: the head of a group with the
// names of its columns, a thing with what it does in cells, or a sentence.
type flowLine struct {
	head  bool
	icon  fyne.Resource // nil: none
	name  string
	cells []string // nil: text stands for them
	text  string
	link  bool   // leads to a field
	wide  bool   // the name has two fifths of the line
	wider bool   // the name has three fifths of it: what it is says more than the figure beside
	full  string // told at the foot while the pointer is on it; empty: name and text
	run   func() // what a click does; nil: nothing
}

// flowLines tells what was solved and what hinders it, worst first.
func (w *Window) flowLines() []flowLine {
	s := w.solution
	if s == nil || !w.lines.found() {
		return nil
	}
	var out []flowLine
	name := w.names().Name
	add := func(head flowLine, lines []flowLine) {
		if len(lines) > 0 {
			head.head = true
			out = append(append(out, head), lines...)
		}
	}

	var group []flowLine
	for _, f := range s.Failures {
		line := flowLine{icon: iconFix, name: "Not solved", text: sentence(f.Told(w.system))}
		if w.circuit().Record(f.At.Element) != nil && w.circuit().Step(f.At.Element) == nil {
			line.run = func() { w.gotoPlace(f.At) }
		}
		group = append(group, line)
	}
	for _, m := range s.Missing {
		group = append(group, flowLine{icon: iconOpen, name: sentence(name(m.Record)), text: "Enter: " + strings.ToLower(w.names().PropertyLabel(m.Record, m.Key)), link: true,
			full: "The flow is not solved without it. Click to enter it.", run: func() { w.gotoProperty(m.Record, m.Key) }})
	}
	add(flowLine{name: "What is missing", text: "a section that needs it is not solved"}, group)

	group = nil
	for _, p := range s.Pumps {
		line := flowLine{name: name(p.Pump), run: func() { w.flows.choosePump(p.Pump); w.selectAndShow(p.Pump) }}
		if !p.Running {
			line.text = "stands still"
		} else {
			line.cells = []string{cell(p.Flow, w.system), cell(p.Head, w.system), percent(p.Speed), cell(p.Power, w.system), cell(p.Available, w.system), cell(p.Required, w.system)}
			if !p.Speed.Known() {
				line.cells[2] = "?"
			}
			line.full = line.name + ": "
			for i, l := range pumpLines {
				if i > 0 {
					line.full += ", "
				}
				line.full += strings.Replace(strings.ToLower(l.title), "npsh", "NPSH", 1) + " " + l.text(p, w.system)
			}
			if p.OutOfCurve {
				line.icon = iconFix
			}
		}
		group = append(group, line)
	}
	add(flowLine{name: "Pumps", cells: []string{"Flow", "Head", "Speed", "Shaft", "NPSH", "required"}}, group)

	group = nil
	for _, x := range s.Sprays {
		into := "no vessel"
		if x.Vessel != "" {
			into = name(x.Vessel)
		}
		group = append(group, flowLine{name: name(x.Spray), cells: []string{cell(x.Flow, w.system), cell(x.Pressure, w.system), into}, run: func() { w.selectAndShow(x.Spray) }})
	}
	add(flowLine{name: "Sprays", cells: []string{"Flow", "Pressure", "Into"}}, group)

	group = nil
	for _, v := range s.Vessels {
		line := flowLine{name: name(v.Vessel), cells: []string{cell(v.Inflow, w.system), cell(v.Outflow, w.system), cell(v.Level, w.system), cell(v.Capacity, w.system), copes(v)},
			full: name(v.Vessel) + ": " + w.vesselWords(v), run: func() { w.selectAndShow(v.Vessel) }}
		if copes(v) == "bowl fills" {
			line.icon = iconFix
		}
		group = append(group, line)
	}
	add(flowLine{name: "Vessels", cells: []string{"In", "Out", "Puddle", "Could take", "Return"}}, group)

	group = nil
	for _, split := range s.Splits {
		sum := quantity.Flow(0)
		for _, b := range split.Branches {
			sum += b.Flow
		}
		part := s.Plant.Nodes[split.Node].Part
		group = append(group, flowLine{name: sentence(name(part)), text: quantity.Text(sum, w.system) + ": " + w.splitWords(split), run: w.shower(part)})
	}
	add(flowLine{name: "The flow divides", text: "share of each way"}, group)

	for _, g := range w.heatGroups() {
		add(g.head, g.lines)
	}
	add(flowLine{name: "Assumed", text: "what was never told, and what stands for it"}, w.assumedLines(s.Assumptions))
	if h := w.heated(); h != nil {
		add(flowLine{name: "Assumed of the heat", text: "what was never told, and what stands for it"}, w.assumedLines(h.Assumptions))
	}
	return out
}

// assumedLines tells assumptions, each with the way to the field that would replace it.
func (w *Window) assumedLines(list []flow.Assumption) []flowLine {
	var out []flowLine
	for _, a := range list {
		line := flowLine{name: "All of it", text: w.assumptionWords(a)}
		if a.Record != "" {
			line.name = sentence(w.names().Name(a.Record))
			line.run = w.shower(a.Record)
		}
		if line.full = line.name + ": " + line.text; a.Record != "" && a.Key != "" {
			line.link = true
			line.text = "Enter " + strings.ToLower(w.names().PropertyLabel(a.Record, a.Key)) + ". " + line.text
			line.full += " Click to enter " + strings.ToLower(w.names().PropertyLabel(a.Record, a.Key)) + "."
			line.run = func() { w.gotoProperty(a.Record, a.Key) }
		}
		out = append(out, line)
	}
	return out
}

// shower gives what brings a record into view; nil for none on the drawing.
func (w *Window) shower(id model.ID) func() {
	if w.circuit().Record(id) == nil || w.circuit().Step(id) != nil {
		return nil
	}
	return func() { w.selectAndShow(id) }
}

// cell writes a value where there is little room: "?" for an unknown one.
func cell[T ~float64](v quantity.Opt[T], s quantity.System) string {
	if !v.Known() {
		return "?"
	}
	return quantity.OptText(v, s)
}
