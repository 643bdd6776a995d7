package checks

import (
	"fmt"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

var ruleTagMissing = &Rule{
	Name: "tag-missing",
	Doc: Doc{
		Title:    "Part without a tag",
		Why:      "Without a tag a part can be named neither in a list, in a line-up nor on an isolation plan.",
		How:      "Every vessel, pump, valve, exchanger, spray device, instrument and object carries a tag. Fittings, terminals and frames need none.",
		Blind:    "Whether the tag is the one on the plate in the plant.",
		Remedy:   "Give the part a tag of its own.",
		Cites:    []Citation{{Standing: StandingPractice}},
		Severity: Note,
	},
	Run: runTagMissing,
}

func runTagMissing(p *Pass) {
	next := newTagger(p.Snapshot)
	for _, part := range p.Circuit.Parts() {
		if part.Meta().Tag != "" || !wantsTag(part) {
			continue
		}
		after := model.Clone(part)
		after.Meta().Tag = next.tag(part)
		p.Report(Finding{
			At:      model.PlaceOf(part.RecordID()),
			Message: Say("%v has no tag", p.title(part)+p.between(part, "")),
			Fixes: []Remedy{{
				Message: "tag it " + after.Meta().Tag,
				Edit:    model.Edit{Label: "tag " + after.Meta().Tag, Changes: []model.Change{model.Replacing(part, after)}},
			}},
		})
	}
}

// wantsTag says whether a part of this class is named in lists and line-ups.
func wantsTag(p model.Part) bool {
	switch p.Class() {
	case model.ClassFitting, model.ClassTerminal, model.ClassFrame:
		return false
	}
	return true
}

// tagger proposes tags that nothing in the circuit carries yet.
type tagger struct {
	s     *Snapshot
	taken map[string]bool // nil until the first is asked for
	last  map[string]int  // by prefix
}

func newTagger(s *Snapshot) *tagger {
	return &tagger{s: s, last: map[string]int{}}
}

// read notes the tags that are taken, once one is asked for.
func (t *tagger) read() {
	t.taken = map[string]bool{}
	for _, p := range t.s.Circuit.Parts() {
		t.taken[p.Meta().Tag] = true
	}
	for _, r := range t.s.Circuit.Runs() {
		t.taken[r.Tag] = true
	}
}

// tag gives the next free tag for a part: "V-7".
func (t *tagger) tag(p model.Part) string {
	prefix := "X"
	if k := t.s.Kind(p); k != nil && k.Prefix != "" {
		prefix = k.Prefix
	}
	if i, ok := p.(*model.Instrument); ok {
		prefix = i.Letters.Or(prefix)
	}
	return t.next(prefix)
}

func (t *tagger) next(prefix string) string {
	if t.taken == nil {
		t.read()
	}
	for {
		t.last[prefix]++
		tag := fmt.Sprintf("%s-%d", prefix, t.last[prefix])
		if !t.taken[tag] {
			t.taken[tag] = true
			return tag
		}
	}
}

// kindWith gives the first kind in the store of parts that has all of the
// traits, or nil. Remedies that add a part ask for what it can do, not for a
// kind by name.
func (s *Snapshot) kindWith(class model.Class, traits ...string) *catalogue.Kind {
next:
	for _, k := range s.Catalogue.Kinds() {
		if k.Class != class {
			continue
		}
		for _, t := range traits {
			if !k.Has(t) {
				continue next
			}
		}
		return k
	}
	return nil
}
