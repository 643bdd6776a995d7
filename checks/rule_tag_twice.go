package checks

import "rinsewright/model"

var ruleTagTwice = &Rule{
	Name: "tag-twice",
	Doc: Doc{
		Title:    "Two parts with the same tag",
		Why:      "A tag that two parts carry names the wrong one sooner or later: in a line-up, in an order, on an isolation plan.",
		How:      "No two parts and no two runs carry the same tag. Every carrier but the first in order of id is reported.",
		Blind:    "Tags that differ only in how they are written, and tags of other circuits of the plant.",
		Remedy:   "Give all but one of them a tag of their own.",
		Cites:    []Citation{{Standing: StandingPractice}},
		Severity: Fix,
	},
	Run: runTagTwice,
}

func runTagTwice(p *Pass) {
	first := map[string]model.ID{}
	next := newTagger(p.Snapshot)
	report := func(r model.Record, tag string, after model.Record, fresh string) {
		id := r.RecordID()
		p.Report(Finding{
			At:      model.PlaceOf(id),
			Places:  []model.Place{model.PlaceOf(first[tag])},
			Message: Say("tag %v stands on %v and on %v", tag, p.untagged(first[tag]), p.untagged(id)),
			Fixes: []Remedy{{
				Message: "tag it " + fresh,
				Edit:    model.Edit{Label: "tag " + fresh, Changes: []model.Change{model.Replacing(r, after)}},
			}},
		})
	}
	for _, part := range p.Circuit.Parts() {
		tag := part.Meta().Tag
		if tag == "" {
			continue
		}
		if _, twice := first[tag]; !twice {
			first[tag] = part.RecordID()
			continue
		}
		after := model.Clone(part)
		after.Meta().Tag = next.tag(part)
		report(part, tag, after, after.Meta().Tag)
	}
	for _, run := range p.Circuit.Runs() {
		if run.Tag == "" {
			continue
		}
		if _, twice := first[run.Tag]; !twice {
			first[run.Tag] = run.ID
			continue
		}
		after := model.Clone(run)
		after.Tag = next.next("L")
		report(run, run.Tag, after, after.Tag)
	}
}

// untagged tells what a part or run is without its tag.
func (p *Pass) untagged(id model.ID) string {
	switch r := p.Circuit.Record(id).(type) {
	case model.Part:
		return "the " + p.title(r) + p.between(r, "")
	case *model.Run:
		return "the run from " + p.endName(r.From, r.To) + " to " + p.endName(r.To, r.From)
	}
	return string(id)
}
