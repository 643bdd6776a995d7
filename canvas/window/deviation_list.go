package window

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/checks"
	"rinsewright/model"
)

// registered lists all deviations of a circuit as findings: those that hold, and
// those that do not with what became of them. judged tells their states.
func registered(c *model.Circuit, r *checks.Result) (list []checks.Finding, judged map[model.ID]checks.Judgement) {
	judged = map[model.ID]checks.Judgement{}
	known := map[string]checks.Finding{}
	for _, f := range append(append([]checks.Finding{}, r.Findings...), r.Accepted...) {
		known[f.ID] = f
	}
	for _, j := range r.Deviations {
		judged[j.Deviation] = j
		d := c.Deviation(j.Deviation)
		if d == nil {
			continue // the circuit has changed since
		}
		f, ok := known[d.Finding]
		if !ok {
			f = gone(d)
		}
		f.Accepted = &checks.Acceptance{Deviation: d.ID, Reason: d.Reason, By: d.By, Date: d.Date, Expires: d.Expires, Reference: d.Reference}
		list = append(list, f)
	}
	return list, judged
}

// gone stands for the finding of a deviation that is not there any more.
func gone(d *model.Deviation) checks.Finding {
	f := checks.Finding{ID: d.Finding, Rule: d.Rule, Title: plainWords(d.Rule), Where: orWord(d.Was, d.Finding), Places: d.Places, Steps: d.Steps, Message: checks.Say("accepted here: %v", plainWords(d.Rule))}
	if len(d.Places) > 0 {
		f.At = d.Places[0]
	}
	if rule := checks.Find(checks.Rules(), d.Rule); rule != nil {
		f.Title, f.Remedy = rule.Doc.Title, rule.Doc.Remedy
	}
	return f
}

// setRegister takes in what became of the deviations.
func (p *findingsPanel) setRegister(c *model.Circuit, r *checks.Result) {
	p.accepted, p.judged = registered(c, r)
	text := fmt.Sprintf("Accepted %d", r.Counts.Accepted)
	if n := len(p.accepted); n != r.Counts.Accepted {
		text += fmt.Sprintf(" of %d", n)
	}
	p.register.setText(text)
}

// showRegister lists the accepted findings instead of those that count, or these
// again.
func (p *findingsPanel) showRegister(on bool) {
	p.register.set(on)
	titles := [cells]string{"Where", "What", "Measured", "Limit"}
	if on {
		titles = [cells]string{"Where", "What, and why it was accepted", "Accepted by", "Until"}
	}
	p.head.set(nil, titles)
	p.filter()
	p.on.refreshMenu()
	reasons := []string{}
	for i := range p.shown {
		if p.shown[i].Accepted != nil {
			reasons = append(reasons, p.shown[i].Accepted.Reason)
		}
	}
	p.on.events.tell("register", map[string]any{"on": on, "reasons": reasons})
}

// listed gives the findings that the list is of.
func (p *findingsPanel) listed() []checks.Finding {
	if p.register != nil && p.register.lit {
		return p.accepted
	}
	return p.all
}

// stateWords tells of a deviation that does not hold why; empty if it does.
func (p *findingsPanel) stateWords(f *checks.Finding) string {
	j, ok := p.judged[f.Accepted.Deviation]
	switch {
	case !ok || j.State == checks.DeviationHolds:
		return ""
	case j.State == checks.DeviationUnjudged:
		return "not judged now: " + j.Why
	case j.State == checks.DeviationUnmatched:
		return "matches nothing: " + j.Why
	}
	return "does not hold: " + j.Why
}

// acceptedCells gives the cells of an accepted finding.
func (p *findingsPanel) acceptedCells(f *checks.Finding) (fyne.Resource, [cells]string) {
	text, icon := p.title(f)+": "+f.Accepted.Reason, fyne.Resource(theme.ConfirmIcon())
	if state := p.stateWords(f); state != "" {
		text, icon = sentence(state)+". "+text, iconFix
		if p.judged[f.Accepted.Deviation].State == checks.DeviationUnjudged {
			icon = iconOpen
		}
	}
	return icon, [cells]string{
		cellWhere:    sentence(f.Where),
		cellText:     text,
		cellMeasured: orWord(f.Accepted.By, "nobody"),
		cellLimit:    orWord(string(f.Accepted.Expires), "no end"),
	}
}

// accepted tells who accepted a finding and why, and takes it back.
func (d *findingDetail) accepted(f *checks.Finding) {
	a := f.Accepted
	if state := d.on.findings.stateWords(f); state != "" {
		d.pair("The acceptance", sentence(state))
	}
	d.pair("Accepted because", orWord(a.Reason, "no reason was told"))
	by := orWord(a.By, "nobody named") + ", " + orWord(string(a.Date), "on a day not told")
	if a.Expires != "" {
		by += ", until " + string(a.Expires)
	} else {
		by += ", without an end"
	}
	d.pair("Accepted by", by)
	d.pair("Reference", a.Reference)
}

// buttons offers what can be done about a finding beside its remedies.
func (d *findingDetail) buttons(f *checks.Finding) {
	w := d.on
	add := func(text string, icon fyne.Resource, run func()) {
		b := newButton(w, text, icon, func() { w.guard(text, run) })
		b.Alignment = widget.ButtonAlignLeading
		d.box.Add(b)
	}
	if w.acceptable(f) {
		add("Accept with a reason…", theme.DocumentCreateIcon(), func() { w.askAccept(*f) })
	}
	if dev := w.deviationOf(f); dev != nil {
		add("Take the acceptance back", theme.ContentUndoIcon(), func() { w.withdraw(dev) })
	}
	add("About this rule", theme.InfoIcon(), func() { w.openRules(f.Rule) })
	if f.LimitName != "" {
		add("Show its limit", theme.ListIcon(), func() { w.openLimits(f.LimitName) })
	}
}

// findingsTitle counts the findings, and apart those that are accepted.
func findingsTitle(r *checks.Result) string {
	text := fmt.Sprintf("Findings  %d", len(r.Findings))
	if n := r.Counts.Accepted; n > 0 {
		text += fmt.Sprintf("  +  %d accepted", n)
	}
	return text
}
