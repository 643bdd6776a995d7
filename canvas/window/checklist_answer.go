package window

import (
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"rinsewright/model"
	"rinsewright/model/checklist"
)

// answerDetail tells about one question and takes its answer.
type answerDetail struct {
	of                 *audit
	on                 *Window
	root               fyne.CanvasObject
	box                *fyne.Container
	in                 *container.Scroll
	key                string
	item               checklist.Item
	evidence, by, date *fieldEntry
	all                *check
	replies            map[model.Reply]*toggle
}

func newAnswerDetail(of *audit) *answerDetail {
	d := &answerDetail{of: of, on: of.on, box: container.NewVBox()}
	d.in = container.NewVScroll(container.New(sidePadding{}, d.box))
	d.root = d.in
	return d
}

func (d *answerDetail) show(it *checklist.Item) {
	w := d.on
	if it == nil {
		d.key = ""
		d.box.RemoveAll()
		l := quiet("Pick a question to answer it. Answers travel in the file with name and date; F9 goes to the next one that is open.")
		l.Wrapping = fyne.TextWrapWord
		d.box.Add(l)
		d.box.Refresh()
		return
	}
	if d.key == itemKey(it) && d.item.Answer == it.Answer {
		return
	}
	focused := w.win.Canvas().Focused()
	same := d.key == itemKey(it)
	d.key, d.item = itemKey(it), *it
	if same { // the fields stay, so that the caret does
		d.fill()
		return
	}
	d.box.RemoveAll()
	q := it.Question
	title := widget.NewLabel(q.Text)
	title.TextStyle.Bold, title.Wrapping = true, fyne.TextWrapWord
	d.box.Add(title)
	whose := sentence(d.of.asked.whose(it)) + ", " + strings.ToLower(q.Group)
	d.small(whose)
	if q.Help != "" {
		l := widget.NewLabel(q.Help)
		l.Wrapping = fyne.TextWrapWord
		d.box.Add(l)
	}
	d.replies = map[model.Reply]*toggle{}
	var row []fyne.CanvasObject
	for _, r := range []model.Reply{model.ReplyYes, model.ReplyNo, model.ReplyNone, model.ReplyOpen} {
		t := newToggle(w, replyIcons[r], sentence(replyText(r)), false, func(bool) { w.guard("answer", func() { d.answer(r) }) })
		d.replies[r] = t
		row = append(row, t)
	}
	d.box.Add(withLayout(flowLayout{}, row...))
	d.all = newCheck(w, "Answer for all that this is asked of", func(bool) {})
	if it.On != "" {
		d.box.Add(d.all)
	}
	field := func(label string, set func(a *model.Answer, text string)) *fieldEntry {
		e := newFieldEntry(func(text string) error { return d.put(func(a *model.Answer) { set(a, strings.TrimSpace(text)) }) })
		e.onKey = w.function
		r := newFieldRow(label, "", e)
		e.problem = tellRow(r)
		d.box.Add(r.box)
		return e
	}
	d.evidence = field("Evidence", func(a *model.Answer, t string) { a.Evidence = t })
	d.evidence.PlaceHolder = q.Evidence
	d.by = field("Name", func(a *model.Answer, t string) { a.By = t })
	d.date = newFieldEntry(func(text string) error {
		day := model.Date(strings.TrimSpace(text))
		if _, ok := day.Time(); !ok && day != "" {
			return plainRefusal("a date is written year-month-day, as 2026-11-25")
		}
		return d.put(func(a *model.Answer) { a.Date = day })
	})
	d.date.onKey = w.function
	r := newFieldRow("Date", "", d.date)
	d.date.problem = tellRow(r)
	d.box.Add(r.box)
	d.pair("Can rest on", q.Evidence)
	d.pair("Source", sentence(q.Cites()))
	d.pair("Id", q.ID)
	d.fill()
	d.box.Refresh()
	d.in.ScrollToTop()
	if focused != nil {
		w.win.Canvas().Focus(focused)
	}
}

// fill shows the answer that the circuit holds.
func (d *answerDetail) fill() {
	a := d.item.Answer
	if a == nil {
		a = &model.Answer{}
	}
	for r, t := range d.replies {
		t.set(d.item.Reply() == r)
	}
	d.evidence.setShown(a.Evidence)
	d.by.setShown(a.By)
	d.date.setShown(string(a.Date))
	d.all.SetChecked(d.item.Whole)
}

// answer takes a reply with name and day.
func (d *answerDetail) answer(r model.Reply) {
	for k, t := range d.replies {
		t.set(d.item.Reply() == k) // until it is taken
	}
	d.on.named(func(by string) {
		d.on.tellIf(d.put(func(a *model.Answer) {
			a.Reply, a.By, a.Date = r, by, model.DateOf(time.Now())
			if r == model.ReplyOpen {
				a.By, a.Date = "", ""
			}
		}))
		it := d.item
		d.on.events.tell("answered", map[string]any{"question": it.Question.ID, "on": string(it.On), "answer": string(r)})
	})
}

// put makes an edit of the answer to the question that is shown. An answer given
// for all stays, and this part or run gets one of its own, unless the answer is for
// all again.
func (d *answerDetail) put(do func(*model.Answer)) error {
	w := d.on
	on := d.item.On
	if d.all.Checked {
		on = ""
	}
	old := d.item.Answer
	if old != nil && old.On != on {
		old = nil
		for _, a := range w.circuit().Answers() {
			if a.Question == d.item.Question.ID && a.On == on {
				old = a
			}
		}
	}
	label := "answer " + strings.ToLower(d.item.Question.Group)
	var changes []model.Change
	switch {
	case old != nil:
		next := model.Clone(old)
		do(next)
		changes = append(changes, model.Replacing(old, next))
	default:
		next := &model.Answer{ID: model.NewID("q"), Question: d.item.Question.ID, On: on, Reply: model.ReplyOpen}
		if d.item.Answer != nil {
			next.Reply, next.Evidence, next.By, next.Date = d.item.Answer.Reply, d.item.Answer.Evidence, d.item.Answer.By, d.item.Answer.Date
		}
		do(next)
		changes = append(changes, model.Adding(next))
	}
	if own := d.item.Answer; on == "" && d.item.On != "" && own != nil && own.On == d.item.On {
		changes = append(changes, model.Removing(own)) // else it would count before the one for all
	}
	return w.apply(model.Edit{Label: label, Changes: changes})
}

func (d *answerDetail) small(s string) {
	l := quiet(s)
	l.Wrapping = fyne.TextWrapWord
	d.box.Add(l)
}

func (d *answerDetail) pair(name, text string) {
	if text == "" {
		return
	}
	l := widget.NewLabel(text)
	l.Wrapping = fyne.TextWrapWord
	d.box.Add(container.New(tight, quiet(name), l))
}
