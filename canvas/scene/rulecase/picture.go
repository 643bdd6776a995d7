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
	fullWide    = 220.0 // above which letters grow with the drawing
	gap         = 6.0
	margin      = 4.0
)

// Picture draws the bad circuit above the good one, each with its words beneath.
func (e *Example) Picture(s quantity.System) *draw.Picture {
	p, q := e.BadDrawing(), e.GoodDrawing()
	titled(p, "Bad", e.BadWords(s))
	titled(q, "Good", e.GoodWords(s))
	p.Append(q, model.Point{X: p.Bounds.Min.X - q.Bounds.Min.X, Y: p.Bounds.Max.Y + gap - q.Bounds.Min.Y})
	p.Bounds = p.Bounds.Grown(margin)
	return p
}

// BadDrawing draws the circuit in which the rule finds something, each place marked.
// It may be empty: a circuit may be of steps alone.
func (e *Example) BadDrawing() *draw.Picture {
	p := drawn(e.Bad, e.stepOf(e.Bad))
	var marks []draw.Mark
	for i := range e.Found {
		f := &e.Found[i]
		marks = append(marks, draw.Mark{Place: onDrawing(e.Bad, f), Severity: severityOf(f.Severity), Number: i + 1})
	}
	draw.Findings(p, marks)
	return p
}

// GoodDrawing draws the circuit in which the rule finds nothing.
func (e *Example) GoodDrawing() *draw.Picture { return drawn(e.Good, e.stepOf(e.Good)) }

// BadWords tells the step that is drawn and what the rule finds, numbered as the
// marks.
func (e *Example) BadWords(s quantity.System) []string {
	words := e.stepWords(e.Bad, s)
	for i := range e.Found {
		f := &e.Found[i]
		words = append(words, strconv.Itoa(i+1)+"  "+f.Severity.String()+": "+f.Text(s))
	}
	return words
}

// GoodWords tells the step that is drawn and what is otherwise than in the bad
// circuit.
func (e *Example) GoodWords(s quantity.System) []string {
	return append(e.stepWords(e.Good, s), e.DifferenceWords(s)...)
}

func (e *Example) stepWords(c *model.Circuit, s quantity.System) []string {
	if step := e.stepOf(c); step != nil {
		return []string{strings.Join(draw.StepWords(step, s), "  ·  ")}
	}
	return nil
}

// DifferenceWords tells what makes the good circuit of the bad one, a line each.
func (e *Example) DifferenceWords(s quantity.System) []string {
	var out []string
	for _, d := range e.Differences {
		switch d.Status {
		case compare.Added:
			out = append(out, "With "+named(d))
		case compare.Removed:
			out = append(out, "Without "+named(d))
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

// named gives the sort of a record before its name, unless the name begins with it.
func named(d compare.Difference) string {
	if strings.HasPrefix(d.Name, string(d.Sort)+" ") {
		return d.Name
	}
	return string(d.Sort) + " " + d.Name
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

// drawn draws a circuit in a step; nil for the circuit at rest.
func drawn(c *model.Circuit, step *model.Step) *draw.Picture {
	cat := catalogue.Builtin()
	return draw.Circuit(c, cat, scene.Of(network.Build(c, cat), step))
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
// its width. On a wide drawing, which is seen from farther off, letters are larger.
func titled(p *draw.Picture, heading string, words []string) {
	b := p.Bounds
	wide := max(b.Width(), leastWide)
	by := max(1, wide/fullWide)
	p.Add(draw.LayerSheet, "", draw.Text{At: model.Point{X: b.Min.X, Y: b.Min.Y - headHeight*by}, String: heading, Height: headHeight * by, Anchor: draw.Start, Role: draw.Ink})
	y := b.Max.Y + wordsPitch*by
	for _, w := range words {
		for i, line := range broken(w, wordsHeight*by, wide) {
			at := model.Point{X: b.Min.X, Y: y}
			if i > 0 {
				at.X += wordsPitch * by
			}
			p.Add(draw.LayerSheet, "", draw.Text{At: at, String: line, Height: wordsHeight * by, Anchor: draw.Start, Role: draw.Ink})
			y += wordsPitch * by
		}
	}
}

// broken parts a text into lines of a width.
func broken(text string, height, wide float64) []string {
	var out []string
	line := ""
	for _, word := range strings.Split(text, " ") {
		next := strings.TrimSpace(line + " " + word)
		if line != "" && draw.TextWidth(next, height) > wide-wordsPitch {
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
