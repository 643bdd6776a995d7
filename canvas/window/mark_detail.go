package window

import (
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/quantity"
)

// markDetail tells all about one mark and lets its text, class, state and
// attachments be changed.
type markDetail struct {
	of    *audit
	on    *Window
	root  fyne.CanvasObject
	box   *fyne.Container
	in    *container.Scroll
	id    model.ID
	shown *model.Mark
	text  *fieldEntry
	said  *searchEntry // what is said with a change of state
}

func newMarkDetail(of *audit) *markDetail {
	d := &markDetail{of: of, on: of.on, box: container.NewVBox()}
	d.in = container.NewVScroll(container.New(sidePadding{}, d.box))
	d.root = d.in
	return d
}

// show tells about a mark, or how to set one.
func (d *markDetail) show(k *model.Mark) {
	if k != nil && k == d.shown {
		return
	}
	d.shown = k
	d.box.RemoveAll()
	if k == nil {
		d.id = ""
		l := quiet("Pick a mark to read it and to say how far it has come. F7 goes to the next one.")
		l.Wrapping = fyne.TextWrapWord
		d.box.Add(l)
		d.box.Refresh()
		return
	}
	w := d.on
	title := widget.NewLabel(markName(k) + "  " + w.markPlace(k))
	title.TextStyle.Bold, title.Wrapping = true, fyne.TextWrapWord
	d.box.Add(container.NewBorder(nil, nil, withLayout(fixedWidth(24), widget.NewIcon(signOf(k))), nil, title))

	d.text = newFieldEntry(func(text string) error {
		if strings.TrimSpace(text) == "" {
			return errEmptyMark
		}
		return d.change("reword", func(m *model.Mark) { m.Text = strings.TrimSpace(text) })
	})
	d.text.MultiLine, d.text.Wrapping, d.text.onKey = true, fyne.TextWrapWord, w.function
	d.text.OnSubmitted = nil
	d.text.SetMinRowsVisible(3)
	row := newFieldRow("Text", "", d.text)
	d.text.problem = tellRow(row)
	d.text.setShown(k.Text)
	d.box.Add(row.box)

	class := newChoiceField(model.MarkClass("").Choices(), false, func(v string) string { return markWords(model.MarkClass(v)) }, func(v string) error {
		return d.change("set the class of", func(m *model.Mark) { m.Class = model.MarkClass(v) })
	})
	class.onKey = w.function
	class.setShown(string(k.Class), false)
	d.box.Add(newFieldRow("Class", "", class).box)

	d.states(k)
	d.linked(k)
	d.attached(k)

	var lines []string
	for _, e := range k.History {
		lines = append(lines, historyLine(e))
	}
	if len(lines) > 0 {
		d.pair("History", strings.Join(lines, "\n"))
	}
	d.pair("Id", string(k.ID))
	remove := newButton(w, "Take the mark out", theme.DeleteIcon(), func() {
		w.guard("take a mark out", func() {
			w.tellIf(w.apply(model.Edit{Label: "take out mark " + markName(k), Changes: []model.Change{model.Removing(w.circuit().Mark(k.ID))}}))
		})
	})
	d.box.Add(buttonRow(w, remove))
	d.box.Refresh()
	if d.id != k.ID {
		d.in.ScrollToTop()
	}
	d.in.Refresh()
	d.id = k.ID
}

type plainRefusal string

func (e plainRefusal) Error() string { return string(e) }

const errEmptyMark = plainRefusal("a mark without a text helps nobody")

// states offers the states that the mark does not have.
func (d *markDetail) states(k *model.Mark) {
	w := d.on
	d.pair("State", sentence(string(k.State())))
	d.said = newSearchEntry("What you say to it, if anything")
	d.said.Icon, d.said.onKey = nil, w.function
	d.said.onEscape = w.focusBoard
	d.box.Add(container.NewThemeOverride(d.said, barless{}))
	words := map[model.MarkState]string{model.MarkOpen: "Open again", model.MarkAnswered: "Answered", model.MarkAgreed: "Agreed", model.MarkDone: "Done", model.MarkRejected: "Rejected"}
	var row []*button
	for _, s := range model.MarkState("").Choices() {
		state := model.MarkState(s)
		if state != k.State() {
			row = append(row, newButton(w, words[state], nil, func() { d.setState(k.ID, quantity.Some(state)) }))
		}
	}
	row = append(row, newButton(w, "Only say it", nil, func() { d.setState(k.ID, quantity.Opt[model.MarkState]{}) }))
	d.box.Add(buttonRow(w, row...))
}

// setState adds a line to the history of a mark.
func (d *markDetail) setState(id model.ID, state quantity.Opt[model.MarkState]) {
	w := d.on
	said := strings.TrimSpace(d.said.Text)
	if !state.Known() && said == "" {
		w.tellHint("Type first what you say to the mark.")
		w.focus(d.said)
		return
	}
	w.named(func(by string) {
		verb := "say to"
		if s, ok := state.Get(); ok {
			verb = string(s) + ":"
		}
		err := d.change(verb, func(m *model.Mark) { m.History = append(m.History, entryNow(by, state, said)) })
		w.tellIf(err)
	})
}

// change makes an edit of the mark that is shown.
func (d *markDetail) change(verb string, do func(*model.Mark)) error {
	old := d.on.circuit().Mark(d.id)
	if old == nil {
		return nil
	}
	next := model.Clone(old)
	do(next)
	return d.on.apply(model.Edit{Label: verb + " mark " + markName(old), Changes: []model.Change{model.Replacing(old, next)}})
}

// linked tells the finding or rule that a mark is about.
func (d *markDetail) linked(k *model.Mark) {
	w := d.on
	if k.Finding == "" && k.Rule == "" {
		return
	}
	title := k.Rule
	if rule := checks.Find(w.checker.rules, k.Rule); rule != nil {
		title = rule.Doc.Title
	}
	d.pair("About the finding", title+"\n"+k.Finding)
	if w.result == nil || k.Finding == "" {
		return
	}
	if slices.ContainsFunc(w.result.Findings, func(f checks.Finding) bool { return f.ID == k.Finding }) {
		d.box.Add(buttonRow(w, newButton(w, "Show the finding", theme.NavigateNextIcon(), func() { w.gotoFinding(k.Finding) })))
		return
	}
	if slices.ContainsFunc(w.result.Accepted, func(f checks.Finding) bool { return f.ID == k.Finding }) {
		d.small("The finding was accepted since.")
		return
	}
	d.small("The finding is not there any more.")
}

// gotoFinding picks a finding by its id.
func (w *Window) gotoFinding(id string) {
	w.tabs.pick(0)
	p := w.findings
	show := func() bool {
		at := slices.IndexFunc(p.shown, func(f checks.Finding) bool { return f.ID == id })
		if at >= 0 {
			p.list.Unselect(at)
			p.list.Select(at)
			p.list.ScrollTo(at)
		}
		return at >= 0
	}
	if show() {
		return
	}
	for _, t := range p.marks {
		t.set(true)
	}
	p.search.SetText("")
	p.rule.SetSelected(anyRule)
	p.filter()
	show()
}

// attached lists photos and files, which stay where they are.
func (d *markDetail) attached(k *model.Mark) {
	w := d.on
	for i, name := range k.Attachments {
		l := widget.NewLabel(name)
		l.Truncation = fyne.TextTruncateEllipsis
		off := newButton(w, "", theme.ContentRemoveIcon(), func() {
			w.tellIf(d.change("detach a file from", func(m *model.Mark) { m.Attachments = slices.Delete(slices.Clone(m.Attachments), i, i+1) }))
		})
		d.box.Add(container.NewBorder(nil, nil, nil, off, l))
	}
	add := newButton(w, "Attach a photo or file…", theme.MailAttachmentIcon(), func() {
		w.chooseFile(choice{title: "Attach a photo or file", confirm: "Attach", start: withSlash(w.folder())}, func(path string) {
			w.tellIf(d.change("attach a file to", func(m *model.Mark) { m.Attachments = append(slices.Clone(m.Attachments), w.reference(path)) }))
		})
	})
	d.box.Add(buttonRow(w, add))
}

// reference writes a path as seen from the circuit's file where it lies below it,
// so that both can be handed on together.
func (w *Window) reference(path string) string {
	if w.file.path != "" {
		if rel, err := filepath.Rel(filepath.Dir(w.file.path), path); err == nil && !strings.HasPrefix(rel, "..") {
			return filepath.ToSlash(rel)
		}
	}
	return path
}

func (d *markDetail) small(s string) {
	l := quiet(s)
	l.Wrapping = fyne.TextWrapWord
	d.box.Add(l)
}

func (d *markDetail) pair(name, text string) {
	l := widget.NewLabel(text)
	l.Wrapping = fyne.TextWrapWord
	d.box.Add(container.New(tight, quiet(name), l))
}
