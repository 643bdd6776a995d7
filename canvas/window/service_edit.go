package window

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"rinsewright/checks/listing"
	"rinsewright/checks/lists"
	"rinsewright/model"
	"rinsewright/model/quantity"
	"rinsewright/model/service"
)

// perWeek gives how often a programme runs.
func (w *Window) perWeek(name string) quantity.Opt[model.Plain] {
	for _, f := range w.circuit().Header().Programmes {
		if f.Name == name {
			return f.PerWeek
		}
	}
	return quantity.Opt[model.Plain]{}
}

// intervalOf gives the service interval of a kind.
func (w *Window) intervalOf(kind string) model.Interval {
	for _, iv := range w.circuit().Header().Service {
		if iv.Kind == kind {
			return iv
		}
	}
	return model.Interval{Kind: kind}
}

// toldNumber writes a number; empty while nobody told it.
func toldNumber(v quantity.Opt[model.Plain]) string {
	x, ok := v.Get()
	if !ok {
		return ""
	}
	return quantity.Number(float64(x))
}

// setupLines tells how often programmes run, the intervals by kind, and the spares;
// a click sets the first two and selects the parts of the third.
func (p *servicePanel) setupLines() []flowLine {
	w := p.on
	out := []flowLine{{head: true, wide: true, name: "Programme", cells: []string{"Runs a week", "Steps"}}}
	for _, name := range w.drawing().Programmes() {
		text := toldNumber(w.perWeek(name))
		line := flowLine{wide: true, name: sentence(programmeWords(name)), run: func() { w.askPerWeek(name) }, full: "Click to say how often " + programmeWords(name) + " runs in a week."}
		if text == "" {
			text, line.icon, line.link = "enter", iconOpen, true
		}
		line.cells = []string{text, fmt.Sprint(len(w.drawing().StepsOf(name)))}
		out = append(out, line)
	}
	if len(w.drawing().Programmes()) == 0 {
		out = append(out, flowLine{text: "No programme yet. Make one in the tab Steps."})
	}
	out = append(out, flowLine{head: true, wide: true, name: "Service interval", cells: []string{"Hours", "Switchings", "Months"}})
	for _, kind := range p.kinds() {
		iv := w.intervalOf(kind)
		cells := []string{toldNumber(iv.Hours), toldNumber(iv.Switchings), toldNumber(iv.Months)}
		set := false
		for i, c := range cells {
			if set = set || c != ""; c == "" {
				cells[i] = "–"
			}
		}
		title := w.cat.Kind(kind).Title
		line := flowLine{wide: true, name: title, cells: cells, run: func() { w.askInterval(kind) }, full: title + ": click to set the service interval. What is reached first counts."}
		if !set {
			line.cells = []string{"enter", "", ""}
			line.link = true
		}
		out = append(out, line)
	}
	out = append(out, flowLine{head: true, wide: true, name: "Spares", cells: []string{"Size", "Seal", "Number"}})
	for _, s := range service.Spares(p.of) {
		size, seal := string(s.Size), s.Seal
		if size == "" {
			size = "not told"
		}
		if seal == "" && s.Seals {
			seal = "not told"
		}
		line := flowLine{wide: true, name: w.kindTitle(s.Kind), cells: []string{size, seal, fmt.Sprint(len(s.Parts))}, run: func() {
			w.doc.Select(s.Parts...)
			w.board.lookAt(w.drawing().Bounds(s.Parts...))
		}}
		line.full = fmt.Sprintf("%s, %s, %s: %s. A click selects them.", line.name, size, seal, p.tags(s.Parts))
		out = append(out, line)
	}
	return out
}

func (w *Window) kindTitle(kind string) string {
	if k := w.cat.Kind(kind); k != nil {
		return k.Title
	}
	return kind
}

func (p *servicePanel) tags(ids []model.ID) string {
	var out []string
	for _, id := range ids {
		out = append(out, nameOf(p.on.circuit().Record(id), p.on.cat))
	}
	slices.Sort(out)
	return strings.Join(out, ", ")
}

// kinds gives the kinds of part that are serviced, by title.
func (p *servicePanel) kinds() []string {
	var out []string
	for i := range p.report.Wears {
		if r := p.of.Part(p.report.Wears[i].Part); r != nil && p.on.cat.Kind(r.Meta().Kind) != nil && !slices.Contains(out, r.Meta().Kind) {
			out = append(out, r.Meta().Kind)
		}
	}
	slices.SortFunc(out, func(a, b string) int { return strings.Compare(p.on.kindTitle(a), p.on.kindTitle(b)) })
	return out
}

// askNumbers asks for some numbers; take makes the edit of what was typed. An error
// stays in the dialog.
func (w *Window) askNumbers(title, note string, labels, values []string, take func(texts []string) (model.Edit, error)) {
	var entries []*searchEntry
	rows := container.NewVBox()
	if note != "" {
		l := widget.NewLabel(note)
		l.Wrapping = fyne.TextWrapWord
		rows.Add(l)
	}
	wrong := widget.NewLabel("")
	wrong.Importance = widget.DangerImportance
	wrong.Wrapping = fyne.TextWrapWord
	wrong.Hide()
	var down func()
	done := func() {
		var texts []string
		for _, e := range entries {
			texts = append(texts, e.Text)
		}
		if err := w.tried(take(texts)); err != nil {
			wrong.SetText(sentence(plainError(err).Error()) + ".")
			wrong.Show()
			return
		}
		down()
	}
	for i, label := range labels {
		e := newSearchEntry("not told")
		e.Icon = nil
		e.SetText(values[i])
		e.OnSubmitted = func(string) { w.guard(title, done) }
		e.onEscape = func() { down() }
		entries = append(entries, e)
		rows.Add(container.NewBorder(nil, nil, withLayout(fixedWidth(180), widget.NewLabel(label)), nil, e))
	}
	rows.Add(wrong)
	down = w.askStaying(title, withLayout(fixedWidth(460), rows), "Set", done)
	w.focus(entries[0])
	entries[0].TypedShortcut(&fyne.ShortcutSelectAll{})
}

// askPerWeek asks how often a programme runs.
func (w *Window) askPerWeek(name string) {
	w.askNumbers("How often does it run?", sentence(programmeWords(name))+": runs a week on average, as 7 or 0.5. Empty: not told.", []string{"Runs a week"}, []string{toldNumber(w.perWeek(name))},
		func(t []string) (model.Edit, error) { return w.drawing().SetPerWeek(name, t[0]) })
}

// askInterval asks for the service interval of a kind.
func (w *Window) askInterval(kind string) {
	iv := w.intervalOf(kind)
	w.askNumbers("Service interval: "+w.kindTitle(kind), "What is reached first counts; leave empty what does not. The maker's service instructions come first.",
		[]string{"Running hours", "Switchings", "Months"}, []string{toldNumber(iv.Hours), toldNumber(iv.Switchings), toldNumber(iv.Months)},
		func(t []string) (model.Edit, error) { return w.drawing().SetInterval(kind, t[0], t[1], t[2]) })
}

// serviceable gives of what is selected what is serviced.
func (w *Window) serviceable() []model.ID {
	var out []model.ID
	for _, id := range w.doc.Selection() {
		if p := w.circuit().Part(id); p != nil {
			if _, ok := model.FindProperty(p, "serviced"); ok {
				out = append(out, id)
			}
		}
	}
	return out
}

// servicedToday writes down that the selected parts were serviced today.
func (w *Window) servicedToday() {
	day := string(model.DateOf(time.Now()))
	ids := w.serviceable()
	w.try(w.drawing().SetProperty(ids, "serviced", day, w.system))
	w.tellHint(plural(len(ids), "part") + " serviced on " + day + ". Ctrl+Z takes it back.")
}

// serviceTable gives the list of parts with their week and their service.
func (p *servicePanel) serviceTable() *lists.Table {
	t := &lists.Table{Name: "service", Title: "Service", Columns: []lists.Column{{Heading: "Tag"}, {Heading: "What it is"},
		{Heading: "Runs a week", Unit: "h"}, {Heading: "Switches a week"}, {Heading: "Last service"}, {Heading: "Next service"}, {Heading: "Due by"}, {Heading: "Overdue"}, {Heading: "Not told"}},
		Remarks: []string{"Reckoned from the programmes as they are entered; the makers' service instructions come first."}}
	for _, x := range p.parts() {
		hours, times := lists.Cell{}, lists.Cell{}
		if h, ok := x.wear.Hours.Get(); ok {
			hours = lists.Number(float64(h) / 3600)
		}
		if n, ok := x.wear.Switchings.Get(); ok && x.wear.Switches {
			times = lists.Number(n)
		}
		over := ""
		if x.due.Over {
			over = "yes"
		}
		t.Rows = append(t.Rows, []lists.Cell{lists.Text(x.name), lists.Text(p.on.whatIs(p.of.Part(x.wear.Part))), hours, times, lists.Text(string(x.due.Last)),
			lists.Text(string(x.due.Day)), lists.Text(string(x.due.By)), lists.Text(over), lists.Text(p.missingWords(slices.Concat(x.wear.Missing, x.due.Missing)))})
	}
	return t
}

// spareTable gives the list of spares.
func (p *servicePanel) spareTable() *lists.Table {
	t := &lists.Table{Name: "spares", Title: "Spares", Columns: []lists.Column{{Heading: "Kind"}, {Heading: "Size"}, {Heading: "Seal"}, {Heading: "Number"}, {Heading: "Tags"}}}
	for _, s := range service.Spares(p.of) {
		t.Rows = append(t.Rows, []lists.Cell{lists.Text(p.on.kindTitle(s.Kind)), lists.Text(string(s.Size)), lists.Text(s.Seal), lists.Number(float64(len(s.Parts))), lists.Text(p.tags(s.Parts))})
	}
	return t
}

// exportService writes the list of service, or of spares; both into a workbook.
func (w *Window) exportService(ending string, spares bool) {
	p := w.upkeep.service
	p.with(func() {
		suffix := " service"
		if spares {
			suffix = " spares"
		}
		w.exportNamed("Export the list", suffix, ending, func(out io.Writer) error {
			switch {
			case ending == ".xlsx":
				return listing.WriteXLSX(out, w.circuit().Header(), []*lists.Table{p.serviceTable(), p.spareTable()})
			case spares:
				return listing.WriteTableCSV(out, p.spareTable())
			}
			return listing.WriteTableCSV(out, p.serviceTable())
		})
	})
}
