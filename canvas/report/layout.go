package report

import (
	"fmt"
	"strings"

	"rinsewright/canvas/draw"
	"rinsewright/checks"
	"rinsewright/model"
)

// blocks sets a report. The cover is left to the writers.
func (r *Report) blocks() []block {
	out := []block{heading{1, "Scope", "scope"}}
	out = append(out, r.scopeBlocks()...)
	out = append(out, heading{1, "Summary", "summary"})
	out = append(out, r.summaryBlocks()...)
	for _, c := range r.Chapters {
		out = append(out, heading{1, c.Title(), string(c)})
		switch c {
		case Findings:
			out = append(out, r.findingBlocks(r.Findings, "No findings: every rule that could be assessed is met.")...)
		case Accepted:
			out = append(out, r.acceptedBlocks()...)
		case Unassessed:
			out = append(out, r.openBlocks()...)
		case Marks:
			out = append(out, r.markBlocks()...)
		case Checklists:
			out = append(out, r.checklistBlocks()...)
		case Sheets:
			out = append(out, r.stepBlocks()...)
		case Programmes:
			out = append(out, r.washBlocks()...)
		case Lists:
			for _, t := range r.Lists {
				out = append(out, heading{2, t.Title, ""}, grid{t})
			}
		case Signatures:
			for _, s := range r.Signs {
				out = append(out, signature{s.Role, s.Name})
			}
		}
	}
	out = append(out, r.limitBlocks()...)
	out = append(out, heading{1, "Cautions", "cautions"})
	for _, c := range r.Cautions {
		out = append(out, paragraph{text: c, alert: true})
	}
	return out
}

func (p *pairs) add(name, text string) {
	if text != "" {
		*p = append(*p, [2]string{name, text})
	}
}

func (r *Report) coverFacts() pairs {
	c := &r.Cover
	var out pairs
	out.add("Plant", c.Plant)
	out.add("Customer", c.Customer)
	out.add("Project", c.Project)
	out.add("Drawing number", c.Number)
	out.add("Revision", c.Revision)
	out.add("Date of the circuit", c.Date)
	out.add("Drawn by", c.Author)
	out.add("Report made on", string(c.Made))
	out.add("Report made by", c.By)
	out.add("Limits", r.Scope.Title)
	return out
}

func (r *Report) scopeBlocks() []block {
	s := &r.Scope
	var facts pairs
	facts.add("Circuit file", s.File)
	facts.add("SHA-256 of the circuit", s.Digest)
	facts.add("Program", s.Program)
	for _, f := range s.Counted {
		facts.add(f.Label, f.Text)
	}
	facts.add("Rules applied", fmt.Sprint(s.Rules))
	facts.add("Limits profile", s.Title+" ("+s.Profile+")")
	out := []block{facts}
	if r.Cover.Note != "" {
		out = append(out, paragraph{text: r.Cover.Note})
	}
	if s.Asked != "" {
		out = append(out, paragraph{text: fmt.Sprintf("The circuit asks for the limits %q, which were not at hand. It was checked against the profile named above.", s.Asked), alert: true})
	}
	if s.About != "" {
		out = append(out, paragraph{text: s.About, quiet: true})
	}
	for _, f := range s.Failed {
		out = append(out, paragraph{text: "A rule failed, what it would have found is not known: " + f, alert: true})
	}
	if len(r.Cover.Revisions) > 0 {
		t := plainTable("Revisions", "Revision", "Date", "By", "What")
		for _, v := range r.Cover.Revisions {
			t.texts(v.Mark, v.Date, v.By, v.What)
		}
		out = append(out, heading{2, "Revisions", ""}, grid{t})
	}
	out = append(out, heading{2, "Limits changed for this circuit", ""})
	if len(s.Changed) == 0 {
		out = append(out, paragraph{text: "None: the limits of the profile stand as they are.", quiet: true})
	} else {
		t := plainTable("", "Limit", "Was", "Is", "Reason", "By", "Date", "Effect")
		for _, l := range s.Changed {
			effect := "holds"
			if l.Refused != "" {
				effect = "refused: " + l.Refused
			}
			t.texts(l.Label+" ("+l.Name+")", l.Was, l.Is, l.Reason, l.By, string(l.Date), effect)
		}
		out = append(out, grid{t})
	}
	var parts []string
	for _, standing := range append(checks.Standings(), checks.StandingChanged) {
		n := 0
		for _, l := range s.Limits {
			if l.Standing == standing {
				n++
			}
		}
		if n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, standing))
		}
	}
	return append(out, paragraph{text: fmt.Sprintf("Standing of the %d limits of the profile: %s. All of them are listed near the end.", len(s.Limits), strings.Join(parts, ", "))})
}

// limitBlocks lists the limits of the profile.
func (r *Report) limitBlocks() []block {
	t := plainTable("", "Limit", "Value", "Source", "Standing", "Name")
	for _, l := range r.Scope.Limits {
		t.texts(l.Label, l.Value, l.Source, l.Standing, l.Name)
	}
	return []block{heading{1, "Limits of the profile and their standing", "limits"}, grid{t}}
}

func severitySign(s draw.Severity, n int) func(*draw.Picture) {
	return func(p *draw.Picture) { draw.Mark{Severity: s, Number: n}.Set(p, model.Point{}) }
}

func (r *Report) summaryBlocks() []block {
	s := &r.Summary
	out := []block{tally{
		{s.Stop, "stop: must not be built or run so", severitySign(draw.Stop, s.Stop)},
		{s.Fix, "fix: put it right", severitySign(draw.Fix, s.Fix)},
		{s.Note, "note: look at it", severitySign(draw.Note, s.Note)},
		{s.Accepted, "accepted, not counted", nil},
		{s.NotAssessed, "not assessed", nil},
		{s.OpenAnswers, "questions open", nil},
	}}
	if s.MarksInAll > 0 {
		var parts []string
		for _, c := range model.MarkClass("").Choices() {
			if n := s.Marks[model.MarkClass(c)]; n > 0 {
				parts = append(parts, fmt.Sprintf("%d %s", n, c))
			}
		}
		text := fmt.Sprintf("Reviewers' marks: %d in all", s.MarksInAll)
		if len(parts) > 0 {
			text += "; neither done nor rejected: " + strings.Join(parts, ", ")
		}
		out = append(out, paragraph{text: text + "."})
	}
	if s.QuestionsAll > 0 {
		out = append(out, paragraph{text: fmt.Sprintf("Checklists: %d of %s open, %d answered no.", s.OpenAnswers, listText(s.QuestionsAll, "question", "questions"), s.NoAnswers)})
	}
	if s.NotAssessed > 0 {
		out = append(out, paragraph{text: fmt.Sprintf("%s could not be made because data is missing. What was not assessed is not in order: it is not known.", listText(s.NotAssessed, "judgement", "judgements")), alert: true})
	}
	if r.picture != nil && len(r.picture.Items) > 0 {
		out = append(out, figure{r.picture, "The circuit at rest. Octagons, triangles and circles carry the numbers of the findings; squares, diamonds, capsules and shields with M those of reviewers' marks."})
	}
	return out
}

func (r *Report) findingBlocks(list []Finding, none string) []block {
	if len(list) == 0 {
		return []block{paragraph{text: none}}
	}
	var out []block
	for i := range list {
		out = append(out, r.findingEntry(&list[i]))
	}
	return out
}

func (r *Report) findingEntry(f *Finding) entry {
	e := entry{title: sentence(f.Title), id: f.ID, anchor: "f-" + f.ID, text: sentence(f.Message), spot: f.spot}
	if f.signed {
		e.sign = severitySign(f.sign.Severity, f.Number)
	}
	e.facts.add("Severity", f.Severity)
	e.facts.add("Place", f.Where)
	e.facts.add("In the steps", f.Steps)
	e.facts.add("Measured", f.Measured)
	limit := f.Limit
	if f.LimitKey != "" {
		limit = strings.TrimSpace(limit + " (" + f.LimitKey + ")")
	}
	e.facts.add("Limit", limit)
	e.facts.add("Source", f.Source)
	e.facts.add("Standing", f.Standing)
	if f.Accepted == nil {
		e.facts.add("Remedy", sentence(f.Remedy))
		e.facts.add("Ready remedies", sentence(strings.Join(f.Fixes, "; or ")))
	}
	if a := f.Accepted; a != nil {
		e.facts.add("Accepted by", a.By+", "+string(a.Date))
		e.facts.add("Reason", a.Reason)
		until := string(a.Expires)
		if until == "" {
			until = "without end"
		}
		e.facts.add("Holds until", until)
		e.facts.add("Reference", a.Reference)
		e.facts.add("Deviation", string(a.Deviation))
	}
	var marks []string
	for _, k := range f.Marks {
		marks = append(marks, fmt.Sprintf("M%d", k.Number))
	}
	e.facts.add("Reviewers' marks", strings.Join(marks, ", "))
	e.facts.add("Id", f.ID)
	return e
}

func (r *Report) acceptedBlocks() []block {
	out := []block{paragraph{text: "What stands here was found and accepted by a named person with a reason. It does not count among the findings.", quiet: true}}
	out = append(out, r.findingBlocks(r.Accepted, "No finding was accepted.")...)
	if len(r.Judged) > 0 {
		t := plainTable("", "Deviation", "Of", "State", "Why", "Reason given", "By", "Date", "Finding")
		for _, d := range r.Judged {
			t.texts(string(d.ID), strings.TrimSpace(d.Rule+" "+d.Was), string(d.State), d.Why, d.Reason, d.By, string(d.Date), d.Finding)
		}
		out = append(out, heading{2, "Deviations that accept nothing now", ""}, grid{t})
	}
	return out
}

func (r *Report) openBlocks() []block {
	if len(r.Open) == 0 {
		return []block{paragraph{text: "Everything that the rules ask for is known."}}
	}
	t := plainTable("", "Rule", "Place", "What is missing", "In the steps", "Id")
	for i := range r.Open {
		f := &r.Open[i]
		t.texts(sentence(f.Title), f.Where, f.Message, f.Steps, f.ID)
	}
	return []block{paragraph{text: "Here no rule could say yes or no. Nothing in this list has passed.", quiet: true}, grid{t}}
}

func (r *Report) markBlocks() []block {
	if len(r.Marks) == 0 {
		return []block{paragraph{text: "No reviewer has set a mark."}}
	}
	var out []block
	for i := range r.Marks {
		k := &r.Marks[i]
		e := entry{title: fmt.Sprintf("M%d %s, %s: %s", k.Number, k.Class, k.State, k.Where), id: string(k.ID), anchor: "m-" + string(k.ID), text: k.Text,
			sign: func(p *draw.Picture) { k.sign.Set(p, draw.LayerSheet, model.Point{}) }}
		if k.Finding != "" {
			e.facts.add("Finding", k.Finding+" ("+k.FindingNow+")")
		}
		e.facts.add("Rule", k.Rule)
		e.facts.add("Photos and files", strings.Join(k.Attachments, "; "))
		var lines []string
		for _, h := range k.History {
			lines = append(lines, historyWords(h))
		}
		e.facts.add("History", strings.Join(lines, "; "))
		e.facts.add("Id", string(k.ID))
		out = append(out, e)
	}
	return out
}

func (r *Report) checklistBlocks() []block {
	a := r.Asked
	if a == nil {
		return nil
	}
	n := a.Counts
	out := []block{paragraph{text: fmt.Sprintf("%d open, %d yes, %d no, %d not applicable. An open question is not answered with yes.",
		n[model.ReplyOpen], n[model.ReplyYes], n[model.ReplyNo], n[model.ReplyNone])}}
	for _, l := range a.Lists {
		if len(l.Asked) == 0 {
			continue
		}
		out = append(out, heading{2, l.Title, ""})
		group := ""
		for i := 0; i < len(l.Asked); {
			x := l.Asked[i]
			n := i + 1
			for n < len(l.Asked) && l.Asked[n].alike(x) {
				n++
			}
			if x.Group != group {
				group = x.Group
				out = append(out, heading{3, group, ""})
			}
			out = append(out, questionBlock(l.Asked[i:n]))
			i = n
		}
	}
	if len(a.Loose) > 0 {
		t := plainTable("", "Question", "Of", "Answer", "Evidence", "By", "Date", "Id")
		for _, x := range a.Loose {
			t.texts(x.Question, x.Where, replyWords(x.Reply), x.Evidence, x.By, string(x.Date), string(x.ID))
		}
		out = append(out, heading{2, "Answers to what is not asked now", ""}, grid{t})
	}
	return out
}

// alike says whether two items are the same question with the same answer, so that
// one place in the text tells both.
func (a Answer) alike(b Answer) bool {
	a.ID, a.On, a.Where = b.ID, b.On, b.Where
	return a == b
}

// questionBlock tells one question, of all that have the same answer to it.
func questionBlock(list []Answer) question {
	x := list[0]
	q := question{reply: replyWords(x.Reply), text: x.Text}
	var of, answers []string
	for _, y := range list {
		of = append(of, y.Where)
		if y.ID != "" {
			answers = append(answers, string(y.ID))
		}
	}
	q.facts.add("Of", strings.Join(of, ", "))
	q.facts.add("Evidence", x.Evidence)
	if x.Reply == model.ReplyOpen {
		q.facts.add("Can rest on", x.Wanted)
	}
	by := strings.TrimPrefix(strings.TrimSuffix(x.By+", "+string(x.Date), ", "), ", ")
	if x.Whole {
		by += " (for all of its sort)"
	}
	q.facts.add("Answered", by)
	q.facts.add("Source", x.Source)
	q.facts.add("Id", strings.Join(append([]string{x.Question}, answers...), ", "))
	return q
}

func (r *Report) stepBlocks() []block {
	if len(r.Steps) == 0 {
		return []block{paragraph{text: "No step has a source and a destination, so nothing was computed."}}
	}
	out := []block{paragraph{text: "Computed, not measured. Pressures are gauge. An empty cell is not known.", quiet: true}}
	for i := range r.Steps {
		s := &r.Steps[i]
		out = append(out, heading{2, stepTitle(s.Programme, s.Name), "s-" + string(s.ID)}, factPairs(append(s.Facts, Fact{Label: "Id", Text: string(s.ID)})))
		if !s.Solved {
			out = append(out, paragraph{text: "The flow of this step was not solved as a whole.", alert: true})
		}
		for _, f := range s.Failures {
			out = append(out, paragraph{text: "Not computed: " + f, alert: true})
		}
		for _, t := range s.Tables {
			out = append(out, heading{3, t.Title, ""}, grid{t})
		}
		out = append(out, missingBlocks(s.Missing)...)
		out = append(out, assumedBlocks(s.Assumed)...)
	}
	return out
}

func factPairs(list []Fact) pairs {
	var out pairs
	for _, f := range list {
		out.add(f.Label, f.Text)
	}
	return out
}

func missingBlocks(list []Fact) []block {
	if len(list) == 0 {
		return nil
	}
	t := plainTable("", "Never entered", "Of", "Id", "Key")
	for _, f := range list {
		t.texts(f.Label, f.Text, string(f.ID), f.Key)
	}
	return []block{grid{t}}
}

func assumedBlocks(list []Fact) []block {
	if len(list) == 0 {
		return nil
	}
	t := plainTable("", "Assumed", "Value, and on what it rests", "Id")
	for _, f := range list {
		t.texts(f.Label, f.Text, string(f.ID))
	}
	return []block{grid{t}}
}

func (r *Report) washBlocks() []block {
	if len(r.Washes) == 0 {
		return []block{paragraph{text: "There is no wash programme."}}
	}
	var out []block
	for i := range r.Washes {
		w := &r.Washes[i]
		name := w.Programme
		if name == "" {
			name = "Programme without a name"
		}
		out = append(out, heading{2, name, ""})
		var facts pairs
		facts.add("Runs a week", w.PerWeek)
		facts.add("Left out, not done every time", strings.Join(w.Left, ", "))
		if len(facts) > 0 {
			out = append(out, facts)
		}
		if w.Failure != "" {
			out = append(out, paragraph{text: "Not computed: " + w.Failure, alert: true})
			continue
		}
		out = append(out, grid{w.Use})
		for _, n := range w.Notes {
			out = append(out, paragraph{text: sentence(n)})
		}
		out = append(out, missingBlocks(w.Missing)...)
		out = append(out, assumedBlocks(w.Assumed)...)
	}
	return out
}

// sentence begins a text with a capital.
func sentence(s string) string {
	for i, r := range s {
		return strings.ToUpper(string(r)) + s[i+len(string(r)):]
	}
	return s
}

func plainTable(title string, headings ...string) Table {
	t := table("", title)
	t.Columns = t.Columns[:0]
	for _, h := range headings {
		t.Columns = append(t.Columns, words(h))
	}
	return t
}
