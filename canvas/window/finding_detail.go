package window

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/checks"
	"rinsewright/checks/listing"
)

// findingDetail tells all about one finding and offers its remedies.
type findingDetail struct {
	on   *Window
	root fyne.CanvasObject
	box  *fyne.Container
	in   *container.Scroll
	id   string // of the finding that is shown
}

func newFindingDetail(on *Window) *findingDetail {
	d := &findingDetail{on: on, box: container.NewVBox()}
	d.in = container.NewVScroll(container.New(sidePadding{}, d.box))
	d.root = d.in
	d.show(nil)
	return d
}

// show tells about a finding, or how to pick one.
func (d *findingDetail) show(f *checks.Finding) {
	d.box.RemoveAll()
	if f == nil {
		d.id = ""
		d.small("Pick a finding to see where it is, why it matters and how to put it right. F8 goes to the next one.")
		d.box.Refresh()
		return
	}
	rule := checks.Find(d.on.checker.rules, f.Rule)
	icon := severityIcon(f.Severity)
	if f.NotAssessed {
		icon = iconOpen
	}
	title := widget.NewLabel(plainWords(f.Rule))
	if rule != nil {
		title.SetText(rule.Doc.Title)
	}
	title.TextStyle.Bold = true
	title.Wrapping = fyne.TextWrapWord
	mark := withLayout(fixedWidth(20), widget.NewIcon(icon))
	d.box.Add(container.NewBorder(nil, nil, mark, nil, title))
	d.text(sentence(f.Text(d.on.units())))
	if f.Accepted != nil {
		d.accepted(f)
	}
	for _, x := range f.Fixes {
		b := widget.NewButtonWithIcon("Apply remedy: "+x.Text(d.on.units()), theme.ConfirmIcon(), func() { d.on.applyRemedy(x) })
		b.Importance = widget.HighImportance
		b.Alignment = widget.ButtonAlignLeading
		d.box.Add(b)
	}
	for i, m := range f.Missing {
		if i == 3 {
			break // the sentence above names more
		}
		if r := d.on.circuit().Record(m.Record); r != nil {
			c := captionOf(r, m.Key, d.on.cat)
			b := widget.NewButtonWithIcon("Enter: "+strings.ToLower(c.label)+" of "+nameOf(r, d.on.cat), theme.NavigateNextIcon(), func() {
				d.on.guard("go to a property", func() { d.on.gotoProperty(m.Record, m.Key) })
			})
			b.Alignment = widget.ButtonAlignLeading
			d.box.Add(b)
		}
	}
	d.buttons(f)
	d.on.audit.offer(d.box, f)
	if names := listing.StepNames(d.on.circuit(), f.Steps); names != "" {
		d.pair("In the steps", names)
	}
	if rule != nil {
		d.pair("Why it matters", rule.Doc.Why)
		d.pair("Remedy", sentence(rule.Doc.Remedy))
		d.pair("How it is found", rule.Doc.How)
		d.pair("What it does not see", rule.Doc.Blind)
	}
	d.pair("Source", sentence(f.Source.String()))
	if f.LimitName != "" && d.on.result != nil {
		d.pair("Limit", fmt.Sprintf("%s, from the limits %s", strings.ReplaceAll(f.LimitName, "-", " "), d.on.limitsTitle(d.on.result.Profile)))
	}
	d.box.Refresh()
	if d.id != f.ID {
		d.in.ScrollToTop()
	}
	d.in.Refresh()
	d.id = f.ID
}

func (d *findingDetail) text(s string) {
	l := widget.NewLabel(s)
	l.Wrapping = fyne.TextWrapWord
	d.box.Add(l)
}

func (d *findingDetail) small(s string) {
	l := quiet(s)
	l.Wrapping = fyne.TextWrapWord
	d.box.Add(l)
}

func (d *findingDetail) pair(name, text string) {
	if text == "" {
		return
	}
	l := widget.NewLabel(text)
	l.Wrapping = fyne.TextWrapWord
	d.box.Add(container.New(tight, quiet(name), l))
}
