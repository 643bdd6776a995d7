package window

import (
	"fmt"
	"strings"

	"rinsewright/model"
	"rinsewright/model/isolation"
	"rinsewright/model/quantity"
)

// planWords names a plan in the list of plans: what is shut.
func (p *isolatePanel) planWords(i int) string {
	pl := &p.plans[i]
	if !pl.Found {
		return "No plan"
	}
	var tags []string
	for _, list := range [][]isolation.Barrier{pl.Second, pl.Barriers} {
		for _, b := range list {
			tags = append(tags, isolation.PlaceName(p.plant, b.Valve))
		}
	}
	text := fmt.Sprintf("Plan %d: shut %s", i+1, strings.Join(tags, ", "))
	if len(tags) == 0 {
		text = fmt.Sprintf("Plan %d: nothing to shut", i+1)
	}
	if len(pl.Empty) > 0 {
		text += "; " + plural(len(pl.Empty), "vessel or line") + " to empty"
	}
	return text
}

// sumWords says in short what a plan asks.
func (p *isolatePanel) sumWords() string {
	pl := p.plan()
	if !pl.Found {
		return "No set of valves shuts it off."
	}
	text := plural(len(pl.Barriers)+len(pl.Second), "valve") + " to shut, " + quantity.Text(pl.Held, p.on.system) + " inside"
	if len(pl.Unknown) > 0 {
		text += " at least"
	}
	if t, ok := pl.Hottest().Get(); ok {
		text += ", up to " + quantity.Text(t, p.on.system)
	} else {
		text += ", temperature not told"
	}
	if n := len(pl.Unmet); n > 0 {
		text += "; CAUTION: " + plural(n, "single barrier") + " where two and a bleed are wanted"
	}
	return text + "."
}

// lines tells the plan chosen, in groups.
func (p *isolatePanel) lines() []flowLine {
	w, pl := p.on, p.plan()
	var out []flowLine
	add := func(name, text string, lines []flowLine) {
		if len(lines) > 0 {
			out = append(append(out, flowLine{head: true, wide: lines[0].wide, name: name, text: text}), lines...)
		}
	}
	if !pl.Found {
		why, remedy, _ := strings.Cut(pl.Why, ". ")
		var lines []flowLine
		reasons := strings.Split(why, "; ")
		lines = append(lines, flowLine{icon: iconStop, name: "Why", text: sentence(reasons[0]) + "."})
		if remedy != "" {
			line := flowLine{icon: iconNote, name: "What would help", text: strings.TrimSuffix(remedy, ".") + "."}
			if pl.At.Element != "" {
				line.run = func() { w.gotoPlace(pl.At) }
				line.link = true
			}
			lines = append(lines, line)
		}
		for _, text := range reasons[1:] {
			lines = append(lines, flowLine{text: sentence(text) + "."})
		}
		add("No plan", "what hinders it", lines)
		var way []flowLine
		seen := map[model.ID]bool{}
		for _, e := range pl.Way {
			id := p.plant.Edges[e].Part
			if id == "" {
				id = p.plant.Edges[e].Run
			}
			if !seen[id] {
				seen[id] = true
				way = append(way, flowLine{name: sentence(w.names().Name(id)), text: w.whatIs(w.circuit().Record(id)), run: w.shower(id)})
			}
		}
		add("The way without a valve", "from the work to a source; a valve on it would help", way)
		return out
	}
	var group []flowLine
	for _, text := range pl.Warnings(p.plant) {
		group = append(group, flowLine{icon: iconFix, name: "Caution", text: sentence(strings.TrimPrefix(text, "CAUTION: "))})
	}
	add("What the plan leaves open", "", group)

	group = nil
	for _, pt := range pl.Points(p.plant) {
		line := flowLine{name: sentence(pt.Name()), cells: []string{isolation.PlaceName(p.plant, pt.Part), plainWords(pt.Position), sentence(pt.What)}, run: w.shower(pt.Part)}
		line.full = line.name + ": " + strings.Join(line.cells, ", ")
		group = append(group, line)
	}
	if len(group) > 0 {
		out = append(append(out, flowLine{head: true, name: "Points", cells: []string{"Tag", "Position", "What it is"}}), group...)
	}
	order := func(list []isolation.Action, from int) []flowLine {
		var lines []flowLine
		for i, a := range list {
			line := flowLine{name: fmt.Sprintf("%d  %s", from+i, a.Deed), text: a.Text.In(w.system), run: w.shower(a.Part)}
			if !a.Caution.Empty() {
				line.icon = iconFix
				line.text += " " + a.Caution.In(w.system)
			}
			lines = append(lines, line)
		}
		return lines
	}
	add("Order of work", "", order(pl.Order, 1))
	group = nil
	for _, text := range pl.Holding(p.plant, w.system) {
		group = append(group, flowLine{text: sentence(text)})
	}
	add("What is inside", "and what stays behind when it is drained", group)
	add("To put back", "", order(pl.Back, len(pl.Order)+1))
	group = nil
	for _, b := range pl.Blocked {
		group = append(group, p.stepLine(b.Step, sentence(b.Why)))
	}
	add("Cannot run meanwhile", "", group)
	group = nil
	for _, id := range pl.Against {
		group = append(group, p.stepLine(id, "Can run and presses on a barrier."))
	}
	add("Presses on a barrier", "", group)
	group = nil
	for _, m := range pl.Missing {
		group = append(group, flowLine{icon: iconOpen, name: sentence(w.names().Name(m.Record)), text: "Enter: " + strings.ToLower(w.names().PropertyLabel(m.Record, m.Key)), link: true,
			run: func() { w.gotoProperty(m.Record, m.Key) }})
	}
	add("Not told", "the plan would have wanted to know it", group)
	return out
}

func (p *isolatePanel) stepLine(id model.ID, text string) flowLine {
	line := flowLine{wide: true, text: text, run: func() { p.on.showStep(id) }}
	if s := p.on.circuit().Step(id); s != nil {
		line.name = stepLabel(p.on.circuit(), s)
	}
	return line
}
