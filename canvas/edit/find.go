package edit

import (
	"slices"
	"strings"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

// findRanks is how many ways there are to be found, best first.
const findRanks = 4

func findRank(text, tag string, others []string) int {
	text, tag = strings.ToLower(strings.TrimSpace(text)), strings.ToLower(tag)
	switch {
	case text == "":
		return findRanks
	case tag == text:
		return 0
	case strings.HasPrefix(tag, text):
		return 1
	case strings.Contains(tag, text):
		return 2
	}
	for _, o := range others {
		if strings.Contains(strings.ToLower(o), text) {
			return 3
		}
	}
	return findRanks
}

// Find gives the parts, runs and steps that a text finds, best first: the tag is
// the text, begins with it, holds it; or what the thing is called or its note
// does. Capitals do not matter. Nothing is found by no text.
//
// Words with a sign in them are conditions on properties, all of which must
// hold: seal=EPDM, kv>20, elevation<1.5, fails_to!=open. A property is named by
// its key in the file, with or without its unit, or by its label without blanks;
// numbers are those that system shows. kind=, class=, tag=, run=yes and part=yes
// ask for what a thing is. "seal=" finds what has no seal entered, "seal!=" what
// has one. Where there are conditions and other words, both must hold.
func (d *Drawing) Find(text string, system quantity.System) []model.ID {
	rest, conditions := parsed(text)
	var ranks [findRanks][]model.ID
	add := func(r model.Record, tag string, others ...string) {
		for _, c := range conditions {
			if !d.holds(r, c, system) {
				return
			}
		}
		rank := 0
		if rest != "" || len(conditions) == 0 {
			rank = findRank(rest, tag, append(others, string(r.RecordID())))
		}
		if rank < findRanks {
			ranks[rank] = append(ranks[rank], r.RecordID())
		}
	}
	for _, p := range d.circuit.Parts() {
		m := p.Meta()
		others := []string{m.Kind, m.Note}
		if k := d.kindOf(p); k != nil {
			others = append(others, k.Title)
			others = append(others, k.Words...)
		}
		if frame, ok := p.(*model.Frame); ok {
			others = append(others, frame.Text.Or(""))
		}
		add(p, m.Tag, others...)
	}
	for _, r := range d.circuit.Runs() {
		add(r, r.Tag, r.Note, string(r.Size.Or("")))
	}
	for _, s := range d.circuit.Steps() {
		add(s, s.Name, s.Note)
	}
	return slices.Concat(ranks[:]...)
}
