package window

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/model"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
	"rinsewright/model/service"
)

const serviceTitle = "Service"

// serviceSorts are the orders of the list of parts.
var serviceSorts = []string{"Due first", "Most hours first", "Most switchings first", "By tag"}

// servicePanel tells how much parts run, when they are due, and which spares they take.
type servicePanel struct {
	on     *Window
	root   fyne.CanvasObject
	sort   *pickList
	today  *button
	out    *button
	sum    *widget.Label
	list   *keyList // of parts
	rows   []flowLine
	setup  *keyList // of programmes, intervals and spares
	sets   []flowLine
	empty  *widget.Label
	halves *beside
	stack  *fyne.Container
	work   besideWork

	wanted *model.Circuit
	of     *model.Circuit // of which the report is
	plant  *network.Plant
	report *service.Report
}

func newServicePanel(on *Window) *servicePanel {
	p := &servicePanel{on: on, work: besideWork{on: on}}
	a := &on.actions.upkeep
	p.sort = newPickList(on, serviceSorts, func(string) {
		if p.list != nil {
			p.refresh()
		}
	})
	p.sort.SetSelectedIndex(0)
	p.today = newButton(on, "Serviced today", theme.ConfirmIcon(), func() { on.do(a.serviced) })
	p.out = newButton(on, "", theme.DownloadIcon(), func() { on.popActions(p.out, []*action{a.serviceXLSX, a.serviceCSV, a.sparesCSV}) })
	p.sum = widget.NewLabel("")
	p.sum.Truncation = fyne.TextTruncateEllipsis
	p.list = newLineList(on, func() []flowLine { return p.rows })
	p.setup = newLineList(on, func() []flowLine { return p.sets })
	caution := quiet("Reckoned from the programmes as they are entered; the makers' service instructions come first.")
	caution.Importance = widget.WarningImportance
	caution.Truncation = fyne.TextTruncateEllipsis
	bar := container.NewBorder(nil, nil, container.NewHBox(withLayout(fixedWidth(190), p.sort), p.today), p.out, p.sum)
	p.halves = newBeside(container.NewBorder(bar, caution, nil, nil, p.list), p.setup, 0.6)
	p.empty = widget.NewLabel("Nothing to service yet: pumps, valves, heat exchangers, spray devices and instruments that you draw are listed here, with running hours and switchings a week from the programmes, due dates and spares.")
	p.empty.Wrapping = fyne.TextWrapWord
	p.stack = container.NewStack(p.halves.box, p.empty)
	p.root = p.stack
	return p
}

func (p *servicePanel) body() fyne.CanvasObject { return p.root }
func (p *servicePanel) again()                  { p.refresh() }

// want works out the week of the circuit, if it is to be seen.
func (p *servicePanel) want(wait time.Duration) {
	w := p.on
	if w.upkeep == nil || !w.upkeep.seen(serviceTitle) {
		return
	}
	p.today.able(len(w.serviceable()) > 0)
	c := w.circuit()
	if p.of == c || p.work.busy && p.wanted == c {
		return
	}
	p.wanted = c
	p.work.begin("show the service", wait, func(ctx context.Context) func() {
		done, ok := w.upkeep.alone(ctx)
		if !ok {
			return nil
		}
		defer done()
		plant, _ := w.upkeep.built.of(c, w.cat)
		report := service.Of(plant)
		return func() {
			p.of, p.plant, p.report = c, plant, report
			p.refresh()
			w.events.tell("service", map[string]any{"parts": len(report.Wears)})
		}
	})
	p.refresh()
}

// with does something with the report of the present circuit.
func (p *servicePanel) with(do func()) {
	if c := p.on.circuit(); p.of != c {
		p.work.stop()
		p.plant, _ = p.on.upkeep.built.of(c, p.on.cat)
		p.of, p.report = c, service.Of(p.plant)
		p.refresh()
	}
	do()
}

// refresh tells what was worked out.
func (p *servicePanel) refresh() {
	if p.report == nil || len(p.report.Wears) == 0 {
		p.halves.box.Hide()
		p.empty.Show()
		return
	}
	p.empty.Hide()
	p.halves.box.Show()
	p.rows, p.sets = p.partLines(), p.setupLines()
	p.list.Refresh()
	p.setup.Refresh()
}

// servicedPart is a part with what is told of it.
type servicedPart struct {
	wear *service.Wear
	due  service.Due
	name string
}

// parts gives all parts in the order chosen.
func (p *servicePanel) parts() []servicedPart {
	today := model.DateOf(time.Now())
	var out []servicedPart
	for i := range p.report.Wears {
		wear := &p.report.Wears[i]
		if r := p.of.Part(wear.Part); r != nil {
			out = append(out, servicedPart{wear, service.Next(p.of, wear, today), nameOf(r, p.on.cat)})
		}
	}
	slices.SortStableFunc(out, func(a, b servicedPart) int {
		tag := strings.Compare(a.name, b.name)
		switch p.sort.SelectedIndex() {
		case 0:
			rank := func(x servicedPart) string {
				switch {
				case x.due.Day != "":
					return string(x.due.Day)
				case x.due.Set:
					return "x"
				}
				return "y"
			}
			return cmp.Or(strings.Compare(rank(a), rank(b)), tag)
		case 1:
			return cmp.Or(cmp.Compare(b.wear.Least, a.wear.Least), tag)
		case 2:
			return cmp.Or(cmp.Compare(b.wear.Fewest, a.wear.Fewest), tag)
		}
		return tag
	})
	return out
}

// hoursWords tells the running hours of a week.
func hoursWords(w *service.Wear) string {
	h, ok := w.Hours.Get()
	switch {
	case ok && h == 0:
		return "0 h"
	case ok && w.Optional:
		return fmt.Sprintf("up to %.1f h", float64(h)/3600)
	case ok:
		return fmt.Sprintf("%.1f h", float64(h)/3600)
	case w.Least > 0:
		return fmt.Sprintf("over %.1f h", float64(w.Least)/3600)
	}
	return "?"
}

// switchWords tells the switchings of a week.
func switchWords(w *service.Wear) string {
	n, ok := w.Switchings.Get()
	switch {
	case !w.Switches:
		return "–"
	case ok:
		return quantity.Number(n)
	case w.Fewest > 0:
		return "over " + quantity.Number(w.Fewest)
	}
	return "?"
}

// partLines tells the parts, and what was left out of the count.
func (p *servicePanel) partLines() []flowLine {
	w := p.on
	out := []flowLine{{head: true, name: "Part", cells: []string{"What it is", "Runs a week", "Switches", "Last service", "Next", "By"}}}
	due, over, open := 0, 0, 0
	for _, x := range p.parts() {
		last, next := string(x.due.Last), string(x.due.Day)
		if last == "" {
			last = "not told"
		}
		line := flowLine{name: x.name, run: w.shower(x.wear.Part)}
		switch {
		case x.due.Over:
			over++
			line.icon = iconFix
			next += ", overdue"
		case next != "" && x.due.Assumed:
			next = "by " + next
		case next == "" && x.due.Set && len(x.due.Missing) > 0:
			next = "not assessed"
		case next == "" && x.due.Set:
			next = "not by use"
		case next == "":
			next = "–"
		}
		if x.due.Day != "" {
			due++
		}
		if len(x.wear.Missing)+len(x.due.Missing) > 0 {
			open++
			if line.icon == nil {
				line.icon = iconOpen
			}
		}
		line.cells = []string{w.whatIs(w.circuit().Record(x.wear.Part)), hoursWords(x.wear), switchWords(x.wear), last, next, string(x.due.By)}
		line.full = line.name + ": " + strings.Join(line.cells, ", ")
		if missing := slices.Concat(x.wear.Missing, x.due.Missing); len(missing) > 0 {
			line.full += ". Not told: " + p.missingWords(missing)
		}
		out = append(out, line)
	}
	p.sum.SetText(fmt.Sprintf("%s: %d with a date, %d overdue, %d not wholly assessed", plural(len(p.report.Wears), "part"), due, over, open))
	if len(p.report.Left) > 0 {
		out = append(out, flowLine{head: true, name: "Not counted", text: "steps without a way: only their pumps and switchings are"})
		for _, l := range p.report.Left {
			line := flowLine{icon: iconOpen, text: sentence(l.Why), run: func() { w.showStep(l.Step) }}
			if s := w.circuit().Step(l.Step); s != nil {
				line.name = stepLabel(w.circuit(), s)
			}
			out = append(out, line)
		}
	}
	return out
}

func (p *servicePanel) missingWords(list []network.Missing) string {
	var out []string
	for _, m := range list {
		text := "how often a programme runs"
		if m.Record != model.HeaderID {
			text = strings.ToLower(p.on.names().PropertyLabel(m.Record, m.Key)) + " of " + p.on.names().Name(m.Record)
			if s := p.on.circuit().Step(m.Record); s != nil {
				text = "time of " + stepLabel(p.on.circuit(), s)
			}
		}
		if !slices.Contains(out, text) {
			out = append(out, text)
		}
	}
	if len(out) > 4 {
		out = append(out[:4], "and more")
	}
	return strings.Join(out, ", ")
}
