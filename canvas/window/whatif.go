package window

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/network"
	"rinsewright/model/outage"
)

const whatIfTitle = "What if"

// whatIfPanel tells what failures do, and leaves the document as it is.
type whatIfPanel struct {
	on    *Window
	root  fyne.CanvasObject
	add   *button
	none  *button
	sum   *widget.Label
	list  *keyList
	rows  []flowLine
	empty *widget.Label
	stack *fyne.Container
	work  besideWork

	failures []outage.Failure
	wanted   string
	found    string
	plant    *network.Plant
	report   *outage.Report
	came     []checks.Finding
	went     []checks.Finding
	opened   int // so many more are not assessed
	err      error
}

func newWhatIfPanel(on *Window) *whatIfPanel {
	p := &whatIfPanel{on: on, work: besideWork{on: on}}
	p.add = newButton(on, "Selected part fails…", theme.ContentAddIcon(), func() { on.do(on.actions.upkeep.fail) })
	p.none = newButton(on, "Clear", theme.ContentClearIcon(), func() { on.do(on.actions.upkeep.failNone) })
	p.sum = widget.NewLabel("")
	p.sum.Truncation = fyne.TextTruncateEllipsis
	p.list = newLineList(on, func() []flowLine { return p.rows })
	p.empty = widget.NewLabel("Select a valve, a pump or an instrument and press “Selected part fails…”: a valve that is stuck, a pump that does not run, an instrument that is lost. Which steps still run, what then mixes and what the checks say is told here; the circuit stays as it is.")
	p.empty.Wrapping = fyne.TextWrapWord
	caution := quiet("Worked out from the drawing, not a risk assessment: " + strings.ToLower(cautionShort[:1]) + cautionShort[1:])
	caution.Importance = widget.WarningImportance
	caution.Truncation = fyne.TextTruncateEllipsis
	p.stack = container.NewStack(p.list, p.empty)
	p.list.Hide()
	p.root = container.NewBorder(container.NewBorder(nil, nil, container.NewHBox(p.add, p.none), nil, p.sum), caution, nil, nil, p.stack)
	return p
}

func (p *whatIfPanel) body() fyne.CanvasObject { return p.root }
func (p *whatIfPanel) again()                  { p.refresh() }

// failing gives of what is selected what can fail.
func (w *Window) failing() []model.ID {
	var out []model.ID
	for _, id := range w.doc.Selection() {
		switch w.circuit().Part(id).(type) {
		case *model.Valve, *model.Pump, *model.Instrument:
			out = append(out, id)
		}
	}
	return out
}

// ask adds failures; of a valve it asks where it is stuck.
func (p *whatIfPanel) ask(ids []model.ID) {
	w := p.on
	if len(ids) == 0 {
		return
	}
	id, rest := ids[0], ids[1:]
	valve, ok := w.circuit().Part(id).(*model.Valve)
	if !ok {
		p.put(outage.Failure{Part: id})
		p.ask(rest)
		return
	}
	kind := w.cat.Kind(valve.Kind)
	if kind == nil || len(kind.Positions) == 0 {
		w.tellHint(nameOf(valve, w.cat) + " has no positions to be stuck in.")
		p.ask(rest)
		return
	}
	w.pickFrom(nameOf(valve, w.cat)+" is stuck", "Position", "Stuck there", func(text string) []pickable {
		var out []pickable
		for _, pos := range kind.Positions {
			if text == "" || strings.Contains(pos, strings.ToLower(text)) {
				out = append(out, pickable{text: sentence(w.drawing().PositionWords(valve, pos)), run: func() {
					p.put(outage.Failure{Part: id, Position: pos})
					p.ask(rest)
				}})
			}
		}
		return out
	})
}

// put adds a failure in place of another one of the same part.
func (p *whatIfPanel) put(f outage.Failure) {
	p.failures = slices.DeleteFunc(slices.Clone(p.failures), func(o outage.Failure) bool { return o.Part == f.Part })
	p.failures = append(p.failures, f)
	p.want(0)
}

func (p *whatIfPanel) clear() {
	p.failures = nil
	p.want(0)
}

// want works out what the failures do, if it is to be seen.
func (p *whatIfPanel) want(wait time.Duration) {
	w := p.on
	if w.upkeep == nil || !w.upkeep.seen(whatIfTitle) {
		return
	}
	c := w.circuit()
	p.failures = slices.DeleteFunc(slices.Clone(p.failures), func(f outage.Failure) bool { return c.Part(f.Part) == nil })
	p.add.able(len(w.failing()) > 0)
	p.none.able(len(p.failures) > 0)
	profile := w.profile()
	key := fmt.Sprintf("%p %s %v", c, profile.Name, p.failures)
	if key == p.found || p.work.busy && key == p.wanted {
		return
	}
	p.wanted = key
	if len(p.failures) == 0 {
		p.work.stop()
		p.found, p.report, p.err = key, nil, nil
		p.refresh()
		return
	}
	failures, rules := slices.Clone(p.failures), w.checker.rules
	p.work.begin("show what fails", wait, func(ctx context.Context) func() {
		done, ok := w.upkeep.alone(ctx)
		if !ok {
			return nil
		}
		defer done()
		plant, _ := w.upkeep.built.of(c, w.cat)
		report, err := outage.Of(plant, failures)
		var before, after *checks.Result
		if err == nil {
			if before, err = checks.Run(ctx, c, w.cat, profile, rules); err == nil {
				after, err = checks.Run(ctx, report.Circuit, w.cat, profile, rules)
			}
		}
		return func() {
			p.found, p.plant, p.report, p.err = key, plant, report, err
			if err == nil {
				p.came, p.went = onlyIn(after.Findings, before.Findings), onlyIn(before.Findings, after.Findings)
				p.opened = len(onlyIn(after.NotAssessed, before.NotAssessed))
			}
			p.refresh()
			w.events.tell("what-if", map[string]any{"failures": len(failures), "came": len(p.came), "went": len(p.went)})
		}
	})
	p.refresh()
}

// onlyIn gives the findings of one list whose ids are not in another.
func onlyIn(list, other []checks.Finding) []checks.Finding {
	ids := map[string]bool{}
	for i := range other {
		ids[other[i].ID] = true
	}
	var out []checks.Finding
	for i := range list {
		if !ids[list[i].ID] {
			out = append(out, list[i])
		}
	}
	return out
}

// refresh tells what was found.
func (p *whatIfPanel) refresh() {
	if len(p.failures) == 0 {
		p.sum.SetText("")
		p.list.Hide()
		p.empty.Show()
		p.on.refreshMenu()
		return
	}
	p.empty.Hide()
	p.list.Show()
	p.rows = p.lines()
	switch {
	case p.work.busy:
		p.sum.SetText("Working it out…")
	case p.err != nil:
		p.sum.SetText("Cannot be worked out: " + p.err.Error())
	default:
		p.sum.SetText(p.words())
	}
	p.list.Refresh()
	p.on.refreshMenu()
}

// words says in short what the failures do.
func (p *whatIfPanel) words() string {
	lost := 0
	for _, e := range p.report.Effects {
		if e.Before && !e.Runs() {
			lost++
		}
	}
	text := fmt.Sprintf("%d of %s would not run as before", lost, plural(len(p.report.Effects), "step"))
	if n := len(p.report.Mixes); n > 0 {
		text += ", " + plural(n, "mixing") + " of supplies"
	}
	return text + fmt.Sprintf("; %s come, %d go.", plural(len(p.came), "finding"), len(p.went))
}

// lines tells the failures, then what they do.
func (p *whatIfPanel) lines() []flowLine {
	w := p.on
	name := func(id model.ID) string { return nameOf(w.circuit().Record(id), w.cat) }
	names := func(ids []model.ID) string {
		var out []string
		for _, id := range ids {
			out = append(out, name(id))
		}
		return strings.Join(out, ", ")
	}
	out := []flowLine{{head: true, name: "Fails", text: "a click takes it back"}}
	for _, f := range p.failures {
		text := "lost"
		switch part := w.circuit().Part(f.Part).(type) {
		case *model.Valve:
			text = "stuck " + w.drawing().PositionWords(part, f.Position)
		case *model.Pump:
			text = "does not run"
		}
		out = append(out, flowLine{icon: iconStop, name: name(f.Part), text: sentence(text), run: func() {
			p.failures = slices.DeleteFunc(slices.Clone(p.failures), func(o outage.Failure) bool { return o == f })
			p.want(0)
		}})
	}
	if p.report == nil || p.err != nil || p.work.busy {
		return out
	}
	add := func(head string, text string, lines []flowLine) {
		if len(lines) > 0 {
			out = append(append(out, flowLine{head: true, wide: lines[0].wide, name: head, text: text}), lines...)
		}
	}
	var group, same []flowLine
	for _, e := range p.report.Effects {
		step := w.circuit().Step(e.Step)
		if step == nil {
			continue
		}
		line := flowLine{wide: true, name: stepLabel(w.circuit(), step), run: func() { w.showStep(e.Step) }}
		var says []string
		switch {
		case !e.Before:
			says = append(says, "had no way before either")
		case !e.After:
			line.icon = iconStop
			says = append(says, "does not run: "+e.Why)
		}
		if e.Drives {
			line.icon = iconStop
			says = append(says, "a pump that it runs fails")
		}
		if len(e.Reaches) > 0 {
			line.icon = iconStop
			says = append(says, "now reaches "+names(e.Reaches))
		}
		if len(e.Misses) > 0 {
			if line.icon == nil {
				line.icon = iconFix
			}
			says = append(says, "runs unseen by "+names(e.Misses))
		}
		if len(says) == 0 {
			line.text = "Runs as before."
			same = append(same, line)
			continue
		}
		line.text = sentence(strings.Join(says, "; ")) + "."
		group = append(group, line)
	}
	add("Steps", "what they do now", group)
	group = nil
	for i := range p.report.Mixes {
		m := &p.report.Mixes[i]
		line := flowLine{icon: iconStop, name: "Mixes", text: sentence(m.Text(p.plant)), run: w.shower(m.First)}
		if m.Step != nil {
			line.name = stepName(m.Step)
		}
		group = append(group, line)
	}
	add("What mixes", "supplies that stand open to one line now", group)
	findings := func(list []checks.Finding) []flowLine {
		var lines []flowLine
		for i := range list {
			f := &list[i]
			lines = append(lines, flowLine{icon: severityIcon(f.Severity), name: f.Where, text: f.Title + ": " + f.Text(w.system), run: func() { w.gotoPlace(f.At) }})
		}
		return lines
	}
	add("Findings that come", "checked as the circuit then is", findings(p.came))
	add("Findings that go", "", findings(p.went))
	if p.opened > 0 {
		add("Not assessed", "", []flowLine{{icon: iconOpen, text: plural(p.opened, "thing") + " more could not be assessed."}})
	}
	add("Steps that run as before", "", same)
	return out
}
