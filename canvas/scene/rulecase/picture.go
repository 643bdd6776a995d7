package rulecase

import (
	"strconv"
	"strings"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/scene"
	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/compare"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

// Sizes on the drawing, mm.
const (
	headHeight  = 3.2 // of capitals
	wordsHeight = 2.2
	wordsPitch  = 4.2
	leastWide   = 150.0 // that words have to run in
	gap         = 6.0
	margin      = 4.0
)

// Picture draws the bad circuit above the good one, each with its words beneath.
func (e *Example) Picture(s quantity.System) *draw.Picture {
	p := e.BadPicture(s)
	q := e.GoodPicture(s)
	p.Append(q, model.Point{X: p.Bounds.Min.X - q.Bounds.Min.X, Y: p.Bounds.Max.Y + gap - q.Bounds.Min.Y})
	p.Bounds = p.Bounds.Grown(margin)
	return p
}

// BadPicture draws the circuit in which the rule finds something: each place marked,
// and beneath what the rule says of it.
func (e *Example) BadPicture(s quantity.System) *draw.Picture {
	p := drawn(e.Bad, e.stepOf(e.Bad), s)
	var marks []draw.Mark
	var words []string
	for i := range e.Found {
		f := &e.Found[i]
		m := draw.Mark{Place: onDrawing(e.Bad, f), Severity: severityOf(f.Severity), Number: i + 1}
		marks = append(marks, m)
		words = append(words, strconv.Itoa(i+1)+"  "+f.Severity.String()+": "+f.Text(s))
	}
	draw.Findings(p, marks)
	titled(p, "Bad", words)
	return p
}

// GoodPicture draws the circuit in which the rule finds nothing, and beneath what
// is otherwise than in the bad one.
func (e *Example) GoodPicture(s quantity.System) *draw.Picture {
	p := drawn(e.Good, e.stepOf(e.Good), s)
	titled(p, "Good", e.DifferenceWords(s))
	return p
}

// DifferenceWords tells what makes the good circuit of the bad one, a line each.
func (e *Example) DifferenceWords(s quantity.System) []string {
	var out []string
	for _, d := range e.Differences {
		switch d.Status {
		case compare.Added:
			out = append(out, "With "+string(d.Sort)+" "+d.Name)
		case compare.Removed:
			out = append(out, "Without "+string(d.Sort)+" "+d.Name)
		case compare.Changed:
			for _, x := range d.Properties {
				if !x.Drawing {
					out = append(out, d.Name+": "+x.Label+" "+orUnknown(x.New.In(s))+" instead of "+orUnknown(x.Old.In(s)))
				}
			}
		}
	}
	return out
}

func orUnknown(text string) string {
	if text == "" {
		return "unknown"
	}
	return text
}

// stepOf gives the step of a circuit that is drawn: the one in which the finding
// holds, else the only one; nil for the circuit at rest.
func (e *Example) stepOf(c *model.Circuit) *model.Step {
	if steps := e.Found[0].Steps; len(steps) > 0 {
		if s := c.Step(steps[0]); s != nil {
			return s
		}
	}
	if all := c.Steps(); len(all) == 1 {
		return all[0]
	}
	return nil
}

// drawn draws a circuit in a step, with what is told of the step as words.
func drawn(c *model.Circuit, step *model.Step, s quantity.System) *draw.Picture {
	cat := catalogue.Builtin()
	p := draw.Circuit(c, cat, scene.Of(network.Build(c, cat), step))
	if step != nil {
		words := strings.Join(draw.StepWords(step, s), "  ·  ")
		at := model.Point{X: p.Bounds.Min.X, Y: p.Bounds.Max.Y + wordsPitch}
		p.Add(draw.LayerSheet, "", draw.Text{At: at, String: words, Height: wordsHeight, Anchor: draw.Start, Role: draw.Ink})
	}
	return p
}

// onDrawing gives the place of a finding that a drawing can show: a step or a
// deviation lies nowhere, but what it concerns may.
func onDrawing(c *model.Circuit, f *checks.Finding) model.Place {
	for _, at := range append([]model.Place{f.At}, f.Places...) {
		if c.Part(at.Element) != nil || c.Run(at.Element) != nil {
			return at
		}
	}
	return f.At
}

// titled sets a heading above a picture and lines of words beneath it, broken at
// its width.
func titled(p *draw.Picture, heading string, words []string) {
	b := p.Bounds
	p.Add(draw.LayerSheet, "", draw.Text{At: model.Point{X: b.Min.X, Y: b.Min.Y - headHeight}, String: heading, Height: headHeight, Anchor: draw.Start, Role: draw.Ink})
	y := b.Max.Y + wordsPitch
	for _, w := range words {
		for i, line := range broken(w, max(b.Width(), leastWide)) {
			at := model.Point{X: b.Min.X, Y: y}
			if i > 0 {
				at.X += wordsPitch
			}
			p.Add(draw.LayerSheet, "", draw.Text{At: at, String: line, Height: wordsHeight, Anchor: draw.Start, Role: draw.Ink})
			y += wordsPitch
		}
	}
}

// broken parts a text into lines of a width.
func broken(text string, wide float64) []string {
	var out []string
	line := ""
	for _, word := range strings.Fields(text) {
		next := strings.TrimSpace(line + " " + word)
		if line != "" && draw.TextWidth(next, wordsHeight) > wide {
			out = append(out, line)
			next = word
		}
		line = next
	}
	return append(out, line)
}

func severityOf(s checks.Severity) draw.Severity {
	switch s {
	case checks.Stop:
		return draw.Stop
	case checks.Fix:
		return draw.Fix
	}
	return draw.Note
}
