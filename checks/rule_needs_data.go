package checks

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/network"
)

var ruleNeedsData = &Rule{
	Name: "needs-data",
	Doc: Doc{
		Title:    "What could not be assessed, and why",
		Why:      "A check that has no data does not pass; it says nothing. What is not assessed must be known before a report is signed.",
		How:      "Counts, for each property that some rule misses, the places that wait for it; says so where there is no wash step at all.",
		Blind:    "Data that is there but wrong.",
		Remedy:   "Enter the property at the places listed.",
		Cites:    []Citation{{Standing: StandingPractice}},
		Severity: Note,
	},
	Run:  runNeedsData,
	Last: true,
}

func runNeedsData(p *Pass) {
	if len(p.Circuit.Steps()) == 0 && len(p.Circuit.Parts()) > 0 {
		p.Report(Finding{At: model.Place{Element: model.HeaderID, Key: "steps"},
			Message: Say("there is no wash step; nothing that depends on flow has been judged")})
	}
	waiting := map[string][]network.Missing{}
	rules := map[string][]string{}
	var keys []string
	for _, f := range p.Unassessed() {
		for _, m := range f.Missing {
			if waiting[m.Key] == nil {
				keys = append(keys, m.Key)
			}
			waiting[m.Key] = append(waiting[m.Key], m)
			if !slices.Contains(rules[m.Key], f.Rule) {
				rules[m.Key] = append(rules[m.Key], f.Rule)
			}
		}
	}
	slices.Sort(keys)
	for _, key := range keys {
		records := waiting[key]
		slices.SortFunc(records, compareMissing)
		records = slices.Compact(records)
		var places []model.Place
		for _, m := range records {
			places = append(places, model.Place{Element: m.Record, Key: key})
		}
		slices.Sort(rules[key])
		p.Report(Finding{
			At:       model.Place{Element: model.HeaderID, Key: key},
			Places:   places,
			Measured: Number(float64(len(records))),
			Message: Say("unknown: %v of %v; without it cannot be assessed: %v",
				p.PropertyLabel(records[0].Record, key), p.Name(records[0].Record)+others(len(records)-1), list(rules[key])),
		})
	}
}

func others(n int) string {
	switch n {
	case 0:
		return ""
	case 1:
		return " and one more"
	}
	return " and " + Number(float64(n)).Text(0) + " more"
}

// list writes a few words as a list: "a, b and c".
func list(words []string) string {
	switch len(words) {
	case 0:
		return ""
	case 1:
		return words[0]
	}
	out := words[0]
	for _, w := range words[1 : len(words)-1] {
		out += ", " + w
	}
	return out + " and " + words[len(words)-1]
}
