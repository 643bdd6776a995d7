package window

import (
	"fmt"
	"strings"

	"rinsewright/model"
	"rinsewright/model/network"
)

// washLines tells what was run: first what could not be, then use, savings, mixed
// phases, notes and what it stands on.
func (w *Window) washLines(r *ranWash) []flowLine {
	if !r.ok() {
		return nil
	}
	var out []flowLine
	add := func(head flowLine, lines []flowLine) {
		if len(lines) > 0 {
			head.head = true
			out = append(append(out, head), lines...)
		}
	}
	add(flowLine{name: "Not simulated", text: "what hinders a step, and where"}, w.hinderedLines(r))
	add(w.useHead(), w.useLines(r))
	add(flowLine{name: "Not known", text: "part of the use, marked ? above, until this is entered"}, w.unknownLines(r))
	add(flowLine{name: "Saved", text: "what comes back, against letting it go"}, []flowLine{
		{name: "Recovered", text: backWords(r.record.Saved.Recovered, w.system), full: "Recovered to another tank than the step drew from, against a sewer in its place: " + backWords(r.record.Saved.Recovered, w.system)},
		{name: "Circulated", text: backWords(r.record.Saved.Circulated, w.system), full: "Back to the tank it was drawn from, against a wash that flows once through: " + backWords(r.record.Saved.Circulated, w.system)},
	})
	var group []flowLine
	for i := range r.record.Steps {
		s := &r.record.Steps[i]
		if text := interfaceWords(s.Interface, w.system); text != "" {
			group = append(group, flowLine{name: stepNumber(i, s.Step), text: text, run: w.placeGoer(s.Return)})
		}
	}
	add(flowLine{name: "Mixed phases", text: "as they pass the return, from a tenth to nine tenths of the change"}, group)
	group = nil
	for i := range r.record.Steps {
		s := &r.record.Steps[i]
		if text := w.returnWords(s); text != "" {
			group = append(group, flowLine{name: stepNumber(i, s.Step), text: text, run: w.placeGoer(s.Return)})
		}
	}
	add(flowLine{name: "At the return", text: "when it came to what the step asks"}, group)
	group = nil
	for i := range r.record.Steps {
		s := &r.record.Steps[i]
		for _, note := range s.ToldNotes(w.system) {
			group = append(group, flowLine{icon: iconOpen, name: stepNumber(i, s.Step), text: sentence(note)})
		}
	}
	add(flowLine{name: "Notes", text: "what is remarkable"}, group)
	group = nil
	for _, a := range r.record.Assumptions {
		line := flowLine{name: "All of it", text: w.assumptionWords(a)}
		if a.Record != "" {
			line.name = sentence(w.names().Name(a.Record))
			line.run = w.shower(a.Record)
		}
		line.full = line.name + ": " + line.text
		group = append(group, line)
	}
	add(flowLine{name: "Assumed", text: "what was never told, and what stands for it"}, group)
	return out
}

// hinderedLines tells which steps were not run to their end, and what that lacks.
func (w *Window) hinderedLines(r *ranWash) []flowLine {
	var out []flowLine
	for i := range r.record.Steps {
		s := &r.record.Steps[i]
		if s.Why != "" {
			text := sentence(s.Told(w.system))
			if s.Simulated {
				text = "Ended before its end: " + s.Told(w.system)
			}
			line := flowLine{icon: iconFix, name: stepNumber(i, s.Step), text: text, run: w.placeGoer(s.At)}
			if line.run == nil {
				line.run = func() { w.showStep(s.Step.ID) }
			}
			out = append(out, line)
		}
		for _, m := range s.Missing {
			out = append(out, w.missingLine(stepNumber(i, s.Step), m))
		}
	}
	return out
}

// unknownLines tells what would have to be entered for all of the use to be known.
func (w *Window) unknownLines(r *ranWash) []flowLine {
	var out []flowLine
	seen := map[network.Missing]bool{}
	for i := range r.record.Steps {
		s := &r.record.Steps[i]
		for _, m := range s.Use.Missing {
			if !seen[m] {
				seen[m] = true
				out = append(out, w.missingLine(stepNumber(i, s.Step), m))
			}
		}
	}
	return out
}

// missingLine leads to a property that was never entered.
func (w *Window) missingLine(name string, m network.Missing) flowLine {
	return flowLine{icon: iconOpen, name: name, text: "Enter: " + strings.ToLower(w.names().PropertyLabel(m.Record, m.Key)) + " of " + w.names().Name(m.Record), link: true,
		full: "Not known without it. Click to enter it.", run: func() { w.gotoProperty(m.Record, m.Key) }}
}

// useHead is the head of the table of use, with its units.
func (w *Window) useHead() flowLine {
	cells := make([]string, len(useColumns))
	for i, c := range useColumns {
		cells[i] = c.title + " " + c.unit(w.system)
	}
	return flowLine{name: "Use", cells: cells}
}

func (w *Window) useLines(r *ranWash) []flowLine {
	var out []flowLine
	for i := range r.record.Steps {
		s := &r.record.Steps[i]
		line := flowLine{name: stepNumber(i, s.Step), text: "not simulated", full: stepNumber(i, s.Step) + ": " + w.useWords(&s.Use, s.Time)}
		if s.Time > 0 || s.Simulated {
			line.cells = useCells(&s.Use, s.Time, w.system)
		}
		line.run = func() { w.player.seek(s.Start) }
		out = append(out, line)
	}
	total := r.record.Total
	name := "Total"
	for i := range r.record.Steps {
		if !r.record.Steps[i].Simulated {
			name = "Total of these"
		}
	}
	return append(out, flowLine{name: name, cells: useCells(&total, r.record.Cycle, w.system), full: name + ": " + w.useWords(&total, r.record.Cycle)})
}

// placeGoer gives what leads to a place; nil for none.
func (w *Window) placeGoer(at model.Place) func() {
	switch {
	case w.circuit().Record(at.Element) == nil:
		return nil
	case w.circuit().Step(at.Element) != nil && at.Key != "":
		return func() { w.gotoProperty(at.Element, at.Key) }
	case w.circuit().Step(at.Element) != nil:
		return func() { w.showStep(at.Element) }
	}
	return func() { w.gotoPlace(at) }
}

// simulatedWords tells in short what was run.
func (w *Window) simulatedWords(r *ranWash) string {
	n := 0
	for i := range r.record.Steps {
		if r.record.Steps[i].Simulated {
			n++
		}
	}
	all := len(r.record.Steps)
	text := plural(all, "step") + " in " + clockWords(r.record.Cycle) + " min"
	if n < all {
		text = fmt.Sprintf("%d of %s simulated, ", n, plural(all, "step")) + clockWords(r.record.Cycle) + " min; the totals are of these alone"
	}
	if r.hot {
		text += "; tanks hot at the start"
	}
	return text + "."
}
