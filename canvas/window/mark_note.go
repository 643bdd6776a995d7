package window

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/report"
	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/quantity"
)

func pinsOf(w *Window) []draw.Pin { return report.PinsOf(w.drawing()) }

// noteDialog asks what a new mark says.
type noteDialog struct {
	on    *Window
	pin   model.Pin
	about *checks.Finding
	class *pickList
	text  *searchEntry
	wrong *widget.Label
	by    string
	down  func()
}

func markWords(c model.MarkClass) string {
	switch c {
	case model.MarkMust:
		return "Must: has to be put right"
	case model.MarkShould:
		return "Should: better done otherwise"
	case model.MarkPraise:
		return "Praise: well done, keep it"
	}
	return "Question: to be answered"
}

func markClasses() []model.MarkClass {
	return []model.MarkClass{model.MarkMust, model.MarkShould, model.MarkQuestion, model.MarkPraise}
}

// note asks for class and text of a mark at a pin, about a finding where one is
// given, and makes it.
func (a *audit) note(pin model.Pin, about *checks.Finding) {
	a.on.named(func(name string) { a.ask(pin, about, name) })
}

func (a *audit) ask(pin model.Pin, about *checks.Finding, by string) {
	w := a.on
	d := &noteDialog{on: w, pin: pin, about: about, by: by, wrong: widget.NewLabel("")}
	a.noting = d
	var options []string
	for _, c := range markClasses() {
		options = append(options, markWords(c))
	}
	d.class = newPickList(w, options, nil)
	d.class.onEscape = func() { d.down() }
	d.class.SetSelectedIndex(0)
	d.text = newSearchEntry("What you say about it")
	d.text.Icon, d.text.onKey = nil, w.function
	d.text.MultiLine, d.text.Wrapping = true, fyne.TextWrapWord
	d.text.SetMinRowsVisible(4)
	d.text.onEscape = func() { d.down() }
	d.wrong.Importance, d.wrong.Wrapping = widget.DangerImportance, fyne.TextWrapWord
	d.wrong.Hide()
	where := widget.NewLabel(sentence(w.markPlace(&model.Mark{Pin: pin})))
	where.Wrapping = fyne.TextWrapWord
	where.TextStyle.Bold = true
	box := []fyne.CanvasObject{where}
	if about != nil {
		l := quiet("About the finding: " + about.Title + ". " + sentence(about.Text(w.units())))
		l.Wrapping = fyne.TextWrapWord
		box = append(box, l)
	}
	tell := quiet("A mark changes nothing about the circuit. It travels in the file with your name, " + by + ".")
	tell.Wrapping = fyne.TextWrapWord
	box = append(box, d.class, d.text, tell, d.wrong)
	d.down = w.askStaying("New mark", withLayout(atLeast{480, 0}, withLayout(columnLayout{}, box...)), "Set the mark", d.take)
	w.focus(d.text)
}

func (d *noteDialog) take() {
	w := d.on
	text := strings.TrimSpace(d.text.Text)
	if text == "" {
		d.wrong.SetText("Say something: a mark without a text helps nobody.")
		d.wrong.Show()
		w.focus(d.text)
		return
	}
	k := &model.Mark{ID: model.NewID("m"), Number: w.circuit().NextMarkNumber(), Class: markClasses()[max(d.class.SelectedIndex(), 0)], Text: text, Pin: d.pin,
		History: []model.Entry{entryNow(d.by, quantity.Some(model.MarkOpen), "")}}
	if d.about != nil {
		k.Finding, k.Rule = d.about.ID, d.about.Rule
	}
	d.down()
	if err := w.apply(model.Edit{Label: "set mark " + markName(k), Changes: []model.Change{model.Adding(k)}}); err != nil {
		w.tellIf(err)
		return
	}
	w.audit.show(w.audit.marksTab)
	w.audit.marks.pickMark(k.ID)
	w.events.tell("mark", map[string]any{"id": string(k.ID), "number": k.Number, "class": string(k.Class), "finding": k.Finding})
}

// findingInHand gives the finding that is picked, or nil.
func (w *Window) findingInHand() *checks.Finding {
	for _, p := range []*findingsPanel{w.findings, w.open} {
		if p == nil {
			continue
		}
		for i := range p.shown {
			if p.shown[i].ID == p.picked && p.picked != "" && (w.tabs.at == 0) == !p.open {
				return &p.shown[i]
			}
		}
	}
	return nil
}

// markFinding asks for a mark about a finding, at its place.
func (a *audit) markFinding(f *checks.Finding) {
	pin := model.Pin{}
	switch a.on.circuit().Record(f.At.Element).(type) {
	case model.Part, *model.Run:
		pin.On = f.At.Element
	}
	a.note(pin, f)
}

// offer puts into the detail of a finding the marks about it and a way to set one.
func (a *audit) offer(box *fyne.Container, f *checks.Finding) {
	var row []*button
	for _, k := range a.on.circuit().Marks() {
		if k.Finding == f.ID {
			row = append(row, newButton(a.on, markName(k)+" "+string(k.State()), signOf(k), func() {
				a.show(a.marksTab)
				a.marks.pickMark(k.ID)
			}))
		}
	}
	found := *f
	row = append(row, newButton(a.on, "Mark it…", markIcons[model.MarkMust][0], func() { a.on.guard("mark a finding", func() { a.markFinding(&found) }) }))
	box.Add(buttonRow(a.on, row...))
}
