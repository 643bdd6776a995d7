package draw

import (
	"strings"

	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/quantity"
)

// Caution is the sentence on every captioned sheet.
const Caution = "An aid for qualified people; verify on site."

// Caption sets a title strip beneath a picture of a circuit: what the drawing is,
// which step it shows (nil: the circuit at rest), and what its colours and lines
// mean. Numbers are told in the units of system. It also gives the picture a
// margin, so it comes last, after [FindingList].
func Caption(p *Picture, c *model.Circuit, step *model.Step, system quantity.System) {
	used := UsedMedia(p)
	s := under(p)
	h := c.Header()
	name := h.Name
	if name == "" {
		name = "Circuit without a name"
	}
	s.text(name, 3.2)
	s.feed()
	s.text(strings.Join(headerWords(h), "  ·  "), sheetText)
	s.feed()
	s.text(strings.Join(StepWords(step, system), "  ·  "), sheetText)
	s.feed()
	s.legend(used, step != nil)
	s.feed()
	s.text(Caution, sheetSmall)
	framed(p, s.right)
}

func headerWords(h *model.Header) []string {
	var out []string
	for _, w := range [][2]string{{"", h.Plant}, {"Revision ", h.Revision}, {"", h.Date}, {"Author ", h.Author}, {"Limits profile ", h.Profile}} {
		if w[1] != "" {
			out = append(out, w[0]+w[1])
		}
	}
	if len(out) == 0 {
		out = append(out, "No plant, revision, date or author told")
	}
	return out
}

// StepWords tells what a step is: programme and name, purpose, medium, strength,
// temperature and flow, as far as they are known. A nil step is the circuit at
// rest.
func StepWords(step *model.Step, system quantity.System) []string {
	if step == nil {
		return []string{"At rest: every valve in its normal position"}
	}
	name := step.Name
	if step.Programme != "" {
		name = step.Programme + " / " + name
	}
	out := []string{"Step: " + name}
	if v, ok := step.Purpose.Get(); ok {
		out = append(out, plain(string(v)))
	}
	medium := ""
	if v, ok := step.Medium.Get(); ok {
		medium = plain(string(v))
	}
	if v, ok := step.Strength.Get(); ok {
		medium = joinedWords(medium, quantity.Text(v, system))
	}
	if medium != "" {
		out = append(out, medium)
	}
	if v, ok := step.Temperature.Get(); ok {
		out = append(out, quantity.Text(v, system))
	}
	if v, ok := step.Flow.Get(); ok {
		out = append(out, quantity.Text(v, system))
	}
	return out
}

// plain makes words of a key: "first-rinse" gives "first rinse".
func plain(key string) string { return strings.ReplaceAll(key, "-", " ") }

// UsedMedia gives the media whose colours a picture has, in their own order.
func UsedMedia(p *Picture) []model.Medium {
	var seen [roles]bool
	for i := range p.Items {
		switch f := p.Items[i].Figure.(type) {
		case Path:
			seen[f.Style.Stroke], seen[f.Style.Fill] = true, true
		case Symbol:
			seen[f.Medium] = true
		}
	}
	var out []model.Medium
	for _, name := range model.Medium("").Choices() {
		if m := model.Medium(name); OfMedium(m) != Ink && seen[OfMedium(m)] {
			out = append(out, m)
		}
	}
	return out
}

// legend tells the media by colour and letters, and while a step is shown the
// styles of runs.
func (s *sheet) legend(used []model.Medium, step bool) {
	entry := func(words string, sample func(r place.Rect)) {
		s.room(swatchWidth + 2 + TextWidth(words, sheetSmall))
		sample(s.swatch())
		s.text(words, sheetSmall)
		s.gap(5)
	}
	run := func(st Style) func(place.Rect) {
		return func(r place.Rect) {
			s.p.Add(LayerSheet, "", Path{Segments: Polyline([]model.Point{r.Min, r.Max}), Style: st})
		}
	}
	for _, m := range used {
		entry(Letters(m)+" "+plain(string(m)), func(r place.Rect) {
			r.Min.Y, r.Max.Y = r.Min.Y-sheetSmall*0.6, r.Max.Y+sheetSmall*0.6
			s.p.Add(LayerSheet, "", Path{Segments: Box(r), Style: Style{Fill: OfMedium(m)}})
		})
	}
	if !step {
		return
	}
	entry("flowing", func(r place.Rect) {
		run(Style{Stroke: Ink, Width: mainLine})(r)
		s.p.Add(LayerSheet, "", Symbol{Kind: arrow, At: r.Centre(), Ink: Ink, Medium: Ink})
	})
	entry("standing", run(Style{Stroke: Ink, Width: thinLine, Dash: stillDash}))
	entry("dry", run(Style{Stroke: Faint, Width: thinLine}))
}
