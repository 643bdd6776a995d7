package checks

import (
	"rinsewright/model/quantity"
)

// Page is what a reader is told of a rule, in the order in which it is told. The
// window and the terminal show the same page.
type Page struct {
	Name, Title string
	Severity    Severity
	Sections    []Section
	Limits      []PageLimit
	Sources     []string
}

// Section is one paragraph of a page under its head.
type Section struct{ Head, Text string }

// PageLimit is a limit that the rule reads, as a profile gives it.
type PageLimit struct {
	Name, Label, Value string // Value with its unit
	Source             string // with how well it is known
	Changed            bool   // for the circuit at hand
}

// PageOf makes the page of a rule with the limits of a profile. The profile may be
// that of a circuit with its own changes, see [Profile.With].
func PageOf(r *Rule, p *Profile, s quantity.System) Page {
	d := r.Doc
	page := Page{Name: r.Name, Title: d.Title, Severity: d.Severity, Sections: []Section{
		{"Why it matters", d.Why}, {"How it is found", d.How}, {"What it does not see", d.Blind},
		{"Remedy", d.Remedy}, {"Steps", d.Merge.String()},
	}}
	for _, name := range d.Limits {
		if l, ok := p.Limit(name); ok {
			page.Limits = append(page.Limits, PageLimit{name, l.Label, l.Value.Text(s), l.Source.String(), l.Source.Standing == StandingChanged})
		}
	}
	for _, c := range d.Cites {
		page.Sources = append(page.Sources, c.String())
	}
	return page
}
