package window

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/checks"
	"rinsewright/model"
)

// acceptance asks for what a deviation must tell.
type acceptance struct {
	on                           *Window
	f                            checks.Finding
	old                          *model.Deviation // of the same finding, which does not hold; nil: none
	reason                       *searchEntry
	by, date, expires, reference *searchEntry
	wrong                        *widget.Label
	down                         func()
}

// pickedFinding gives the finding that is picked in the list of findings, or nil.
func (w *Window) pickedFinding() *checks.Finding {
	if w.findings == nil || w.result == nil {
		return nil
	}
	p := w.findings
	if i := slices.IndexFunc(p.shown, func(f checks.Finding) bool { return f.ID == p.picked }); i >= 0 {
		return &p.shown[i]
	}
	return nil
}

// acceptable says whether a finding can be accepted: it counts, and it does not
// itself speak of a deviation.
func (w *Window) acceptable(f *checks.Finding) bool {
	if f == nil || f.NotAssessed || w.holding(f) != nil {
		return false
	}
	rule := checks.Find(w.checker.rules, f.Rule)
	if rule == nil || rule.Audit {
		return false
	}
	return w.result != nil && slices.ContainsFunc(w.result.Findings, func(g checks.Finding) bool { return g.ID == f.ID })
}

// holding gives the deviation of a finding that is shown as accepted and holds, or nil.
func (w *Window) holding(f *checks.Finding) *model.Deviation {
	if f == nil || f.Accepted == nil || w.findings.judged[f.Accepted.Deviation].State != checks.DeviationHolds {
		return nil
	}
	return w.circuit().Deviation(f.Accepted.Deviation)
}

// deviationOf gives the deviation of a finding that is shown among the accepted
// ones, whether it holds or not, or nil. What speaks of a deviation that does not
// hold offers to withdraw it as its remedy.
func (w *Window) deviationOf(f *checks.Finding) *model.Deviation {
	if f == nil || f.Accepted == nil {
		return nil
	}
	return w.circuit().Deviation(f.Accepted.Deviation)
}

// askAccept asks for reason, name, date and expiry and accepts a finding.
func (w *Window) askAccept(f checks.Finding) {
	a := &acceptance{on: w, f: f, wrong: widget.NewLabel("")}
	for _, d := range w.circuit().Deviations() {
		if d.Finding == f.ID {
			a.old = d
		}
	}
	entry := func(hint string) *searchEntry {
		e := newSearchEntry(hint)
		e.Icon, e.onKey = nil, w.function
		e.OnSubmitted = func(string) { w.guard("accept a finding", a.take) }
		e.onEscape = func() { a.down() }
		return e
	}
	a.reason = entry("Why it may stay as it is")
	a.reason.MultiLine, a.reason.Wrapping = true, fyne.TextWrapWord
	a.reason.SetMinRowsVisible(3)
	a.by, a.date, a.expires, a.reference = entry("Who accepts it"), entry("year-month-day"), entry("no end"), entry("number of a deviation note, a risk assessment")
	a.by.SetText(w.ownName())
	a.date.SetText(string(today()))
	if a.old != nil {
		a.reason.SetText(a.old.Reason)
		a.reference.SetText(a.old.Reference)
	}
	a.wrong.Importance, a.wrong.Wrapping = widget.DangerImportance, fyne.TextWrapWord
	a.wrong.Hide()

	title := widget.NewLabel(f.Title)
	title.TextStyle.Bold, title.Wrapping = true, fyne.TextWrapWord
	says := widget.NewLabel(sentence(f.Text(w.units())))
	says.Wrapping = fyne.TextWrapWord
	what := "It is then listed apart with your reason and no longer counts. The circuit itself stays as it is."
	if len(f.Steps) > 0 {
		what += " Found in another step, or graver than now, it counts again."
	}
	if f.Severity == checks.Stop {
		what += " A stop can hurt people or spoil product: accept it only where site rules and local codes allow it and a person with the licence for it has said so."
	}
	about := quiet(what)
	about.Wrapping = fyne.TextWrapWord
	if f.Severity == checks.Stop {
		about.Importance = widget.WarningImportance
	}
	room := canvas.NewRectangle(nil)
	room.SetMinSize(fyne.NewSize(520, 0))
	box := container.NewVBox(room, container.NewBorder(nil, nil, withLayout(fixedWidth(20), widget.NewIcon(severityIcon(f.Severity))), nil, title), says, about,
		newFieldRow("Reason", "", a.reason).box,
		newFieldRow("Accepted by", "", plainEntry(a.by)).box,
		newFieldRow("Date", "", plainEntry(a.date)).box,
		newFieldRow("Holds until", "", plainEntry(a.expires)).box,
		newFieldRow("Reference", "", plainEntry(a.reference)).box,
		a.wrong)
	a.down = w.askStaying("Accept this finding", box, "Accept", a.take)
	w.focus(a.reason)
	w.acceptance = a
}

// plainEntry is an entry of one line without its scroll bar.
func plainEntry(e *searchEntry) fyne.CanvasObject { return container.NewThemeOverride(e, barless{}) }

// take makes the deviation, or says what is missing and puts the caret there.
func (a *acceptance) take() {
	w := a.on
	if why := w.told(a.reason, a.by, a.date); why != nil {
		a.refuse(why.field, why.text)
		return
	}
	d := a.f.Accept(model.NewID("d"), model.Date(trimmed(a.date)))
	d.Reason, d.By, d.Reference, d.Expires = trimmed(a.reason), trimmed(a.by), trimmed(a.reference), model.Date(trimmed(a.expires))
	if d.Expires != "" {
		if _, ok := d.Expires.Time(); !ok {
			a.refuse(a.expires, "the last day is written year-month-day; leave it empty for no end")
			return
		}
		if d.Expired(today()) {
			a.refuse(a.expires, "the last day is over already: it would accept nothing")
			return
		}
	}
	e := model.Edit{Label: "accept the finding on " + a.f.Where, Changes: []model.Change{model.Adding(d)}}
	if a.old != nil {
		d.ID, d.Note = a.old.ID, a.old.Note
		e.Changes = []model.Change{model.Replacing(a.old, d)}
	}
	p := w.findings
	at := slices.IndexFunc(p.shown, func(f checks.Finding) bool { return f.ID == p.picked })
	if err := w.apply(e); err != nil {
		a.refuse(a.reason, err.Error())
		return
	}
	a.down()
	w.keepOwnName(d.By)
	p.resume = at
	w.tellHint(fmt.Sprintf("Accepted: %s. It is listed under Accepted.", a.f.Where))
	w.events.tell("accepted", map[string]any{"finding": d.Finding, "rule": d.Rule})
}

func (a *acceptance) refuse(at *searchEntry, text string) {
	a.wrong.SetText(sentence(text) + ".")
	a.wrong.Show()
	a.on.focus(at)
}

// withdraw takes a deviation back.
func (w *Window) withdraw(d *model.Deviation) {
	w.guard("take an acceptance back", func() {
		p := w.findings
		at := slices.IndexFunc(p.shown, func(f checks.Finding) bool { return f.ID == p.picked })
		if err := w.apply(model.Edit{Label: "take back the acceptance of " + orWord(d.Was, d.Finding), Changes: []model.Change{model.Removing(d)}}); err != nil {
			w.tellIf(err)
			return
		}
		p.resume = at
		w.tellHint("Taken back. If the finding is still there it counts again.")
		w.events.tell("withdrawn", map[string]any{"finding": d.Finding})
	})
}

// deviationActions are what can be done about the finding that is picked.
type deviationActions struct {
	accept, withdraw, show, rule, rules, help, limits, missing *action
}

func (w *Window) makeDeviationActions() deviationActions {
	return deviationActions{
		accept: &action{label: "Accept the finding…", shortcut: ctrlShift(fyne.KeyA),
			enabled: func() bool { return w.acceptable(w.pickedFinding()) }, run: func() { w.askAccept(*w.pickedFinding()) }},
		withdraw: &action{label: "Take the acceptance back",
			enabled: func() bool { return w.deviationOf(w.pickedFinding()) != nil },
			run:     func() { w.withdraw(w.deviationOf(w.pickedFinding())) }},
		show: &action{label: "Accepted findings", shortcut: ctrlShift(fyne.KeyC), checked: func() bool { return w.findings != nil && w.findings.register.lit },
			run: func() { w.tabs.pick(0); w.findings.showRegister(!w.findings.register.lit); w.focus(w.findings.list) }},
		rule: &action{label: "About the rule of the finding", enabled: func() bool { return w.pickedFinding() != nil },
			run: func() { w.openRules(w.pickedFinding().Rule) }},
		rules:   &action{label: "Rules…", shortcut: ctrlShift(fyne.KeyR), run: func() { w.openRules("") }},
		help:    &action{label: "Rules of the checks…", run: func() { w.openRules("") }}, // the same in the other menu
		limits:  &action{label: "Limits…", shortcut: ctrlShift(fyne.KeyB), run: func() { w.openLimits("") }},
		missing: &action{label: "Fill in missing values", shortcut: ctrlShift(fyne.KeyM), run: func() { w.tabs.pick(missingTab); w.missing.start() }},
	}
}

// findingMenu opens the menu of a row of findings.
func (w *Window) findingMenu(p *findingsPanel, f checks.Finding, at fyne.Position) {
	var items []*fyne.MenuItem
	add := func(label string, icon fyne.Resource, shortcut fyne.Shortcut, can bool, run func()) {
		if can {
			m := fyne.NewMenuItem(label, func() { w.fromMenu(&action{label: label, run: run}) })
			m.Icon, m.Shortcut = icon, shortcut
			items = append(items, m)
		}
	}
	d := w.actions.deviation
	add("Show the place", theme.SearchIcon(), nil, w.circuit().Record(f.At.Element) != nil, func() { w.gotoPlace(f.At) })
	for _, x := range f.Fixes {
		add("Apply remedy: "+x.Text(w.units()), theme.ConfirmIcon(), nil, f.Accepted == nil, func() { w.applyRemedy(x) })
	}
	if !p.open {
		add(d.accept.label, theme.DocumentCreateIcon(), d.accept.shortcut, w.acceptable(&f), func() { w.askAccept(f) })
		add(d.withdraw.label, theme.ContentUndoIcon(), nil, w.deviationOf(&f) != nil, func() { w.withdraw(w.deviationOf(&f)) })
	}
	add("About the rule", theme.InfoIcon(), nil, true, func() { w.openRules(f.Rule) })
	add("Show its limit", theme.ListIcon(), nil, f.LimitName != "", func() { w.openLimits(f.LimitName) })
	widget.ShowPopUpMenuAtPosition(fyne.NewMenu("", items...), w.win.Canvas(), at)
}
