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
			group := m.Key + " " + m.Why // what cannot be as entered stands by itself
			if waiting[group] == nil {
				keys = append(keys, group)
			}
			waiting[group] = append(waiting[group], m)
			if !slices.Contains(rules[group], f.Rule) {
				rules[group] = append(rules[group], f.Rule)
			}
		}
	}
	slices.Sort(keys)
	for _, group := range keys {
		records := waiting[group]
		slices.SortFunc(records, compareMissing)
		records = slices.Compact(records)
		key := records[0].Key
		var places []model.Place
		for _, m := range records {
			places = append(places, model.Place{Element: m.Record, Key: key})
		}
		slices.Sort(rules[group])
		at := model.Place{Element: model.HeaderID, Key: key}
		name := p.PropertyLabel(records[0].Record, key) + " of " + p.Name(records[0].Record) + others(len(records)-1)
		what := "unknown: " + name
		if why := records[0].Why; why != "" {
			at.Element = records[0].Record
			what = "cannot be as entered: " + name + " (" + why + ")"
		}
		p.Report(Finding{
			At:       at,
			Places:   places,
			Measured: Number(float64(len(records))),
			Message:  Say("%v; without it cannot be assessed: %v", what, list(rules[group])),
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
