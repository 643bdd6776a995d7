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

	"rinsewright/canvas/scene"
	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
	"rinsewright/model/trace"
)

const traceTitle = "Trace"

// mostWays bounds how many ways between two parts are told.
const mostWays = 40

// traceSenses are the ways in which one can look.
var traceSenses = []struct {
	words string
	is    trace.Sense
}{{"Both ways", trace.Both}, {"Upstream", trace.Upstream}, {"Downstream", trace.Downstream}}

const (
	scopeShown = iota
	scopeSteps
	scopeAll
)

var traceScopes = []string{"In the step shown", "In all steps", "All valves as they could open"}

// traceKey is what a trace was worked out for.
type traceKey struct {
	circuit  *model.Circuit
	from, to model.ID
	sense    trace.Sense
	scope    int
	step     model.ID // shown; empty where the scope does not ask for it
	past     bool
}

// tracePanel follows the circuit from what is selected.
type tracePanel struct {
	on        *Window
	root      fyne.CanvasObject
	sense     *pickList
	scope     *pickList
	past      *check
	onDrawing *toggle
	toOther   *button
	sum       *widget.Label
	list      *keyList
	rows      []flowLine
	empty     *widget.Label
	stack     *fyne.Container
	work      besideWork
	quietly   bool

	from, to model.ID
	wanted   traceKey
	found    traceKey // of what is shown; the zero key: nothing is
	plant    *network.Plant
	trace    *trace.Trace
	uses     []trace.Use
	ways     []trace.Way
	more     bool
	way      int // that the drawing shows
	err      error
}

func newTracePanel(on *Window) *tracePanel {
	p := &tracePanel{on: on, work: besideWork{on: on}}
	changed := func(string) {
		if !p.quietly {
			on.guard("trace", func() { p.want(0) })
		}
	}
	var words []string
	for _, s := range traceSenses {
		words = append(words, s.words)
	}
	p.quietly = true
	p.sense, p.scope = newPickList(on, words, changed), newPickList(on, traceScopes, changed)
	p.sense.SetSelectedIndex(0)
	p.scope.SetSelectedIndex(scopeShown)
	p.past = newCheck(on, "Past vessels", func(bool) { changed("") })
	p.quietly = false
	p.onDrawing = newToggle(on, theme.VisibilityIcon(), "On the drawing", false, func(bool) { on.do(on.actions.upkeep.traceShow); on.lensChanged() })
	p.toOther = newButton(on, "All ways to…", theme.NavigateNextIcon(), func() { on.do(on.actions.upkeep.traceTo) })
	copy := newButton(on, "Copy", theme.ContentCopyIcon(), func() { on.do(on.actions.upkeep.traceCopy) })
	p.sum = widget.NewLabel("")
	p.sum.Truncation = fyne.TextTruncateEllipsis
	p.list = newLineList(on, func() []flowLine { return p.rows })
	p.empty = widget.NewLabel("")
	p.empty.Wrapping = fyne.TextWrapWord
	p.empty.Alignment = fyne.TextAlignCenter
	bar := container.NewHBox(p.onDrawing, withLayout(fixedWidth(130), p.sense), withLayout(fixedWidth(250), p.scope), p.past, p.toOther, copy)
	caution := quiet("Worked out from the drawing: verify on site before anything is opened or relied on.")
	caution.Importance = widget.WarningImportance
	caution.Truncation = fyne.TextTruncateEllipsis
	p.stack = container.NewStack(container.NewBorder(p.sum, caution, nil, nil, p.list), p.empty)
	p.root = container.NewBorder(bar, nil, nil, nil, p.stack)
	return p
}

func (p *tracePanel) body() fyne.CanvasObject { return p.root }

// ready says whether what is shown is of the present state.
func (p *tracePanel) ready() bool { return p.found == p.key() && p.found.from != "" && p.err == nil }

// key gives what is asked for now.
func (p *tracePanel) key() traceKey {
	k := traceKey{circuit: p.on.circuit(), from: p.from, to: p.to, scope: p.scope.SelectedIndex(), past: p.past.Checked, sense: traceSenses[max(p.sense.SelectedIndex(), 0)].is}
	if k.scope == scopeShown {
		k.step = p.on.stepID
	}
	return k
}

// start begins at one selected thing; with two it asks for the ways from the first
// to the second.
func (p *tracePanel) start(ids []model.ID) {
	var list []model.ID
	for _, id := range ids {
		if c := p.on.circuit(); c.Part(id) != nil && c.Part(id).Class() != model.ClassFrame || c.Run(id) != nil {
			list = append(list, id)
		}
	}
	switch len(list) {
	case 1:
		p.from, p.to = list[0], ""
	case 2:
		p.from, p.to = list[0], list[1]
	}
}

// want traces what is selected, if it is to be seen.
func (p *tracePanel) want(wait time.Duration) {
	w := p.on
	if w.upkeep == nil {
		return
	}
	p.start(w.doc.Selection())
	if c := w.circuit(); c.Record(p.from) == nil {
		p.from, p.to = "", ""
	} else if c.Record(p.to) == nil {
		p.to = ""
	}
	k := p.key()
	if !w.upkeep.seen(traceTitle) || k == p.found || p.work.busy && k == p.wanted {
		return
	}
	p.wanted = k
	if k.from == "" {
		p.work.stop()
		p.found, p.err, p.trace, p.ways = k, nil, nil, nil
		p.refresh()
		return
	}
	c, cat := k.circuit, w.cat
	p.work.begin("show the trace", wait, func(ctx context.Context) func() {
		done, ok := w.upkeep.alone(ctx)
		if !ok {
			return nil
		}
		defer done()
		plant, heights := w.upkeep.built.of(c, cat)
		ask := trace.Ask{From: k.from, Sense: k.sense, Past: k.past}
		var step *model.Step
		switch k.scope {
		case scopeShown:
			if step = c.Step(k.step); step != nil {
				ask.Steps = []*model.Step{step}
				ask.Flow = solvedFlow(plant, heights)
			}
		case scopeSteps:
			ask.Steps = c.Steps()
		}
		var tr *trace.Trace
		var err error
		var ways []trace.Way
		var more bool
		idle := k.scope == scopeShown && step == nil || k.scope == scopeSteps && len(ask.Steps) == 0
		switch {
		case idle:
		case k.to != "" && k.scope == scopeSteps:
			ways, more = waysInSteps(plant, ask.Steps, k.from, k.to)
		case k.to != "":
			ways, more = trace.Ways(plant, step, k.from, k.to, mostWays)
		default:
			tr, err = trace.Of(plant, ask)
		}
		uses := trace.Uses(plant, k.from)
		return func() {
			p.found, p.plant, p.trace, p.uses, p.ways, p.more, p.err, p.way = k, plant, tr, uses, ways, more, err, 0
			p.refresh()
			if w.lensOf(traceTitle) {
				p.show()
			}
			fields := map[string]any{"from": string(k.from), "to": string(k.to), "ways": len(ways)}
			if tr != nil {
				fields["stops"] = len(tr.Stops)
			}
			w.events.tell("trace", fields)
		}
	})
}

// waysInSteps gives the ways that any of some steps opens, the shortest first.
func waysInSteps(plant *network.Plant, steps []*model.Step, from, to model.ID) (ways []trace.Way, more bool) {
	for _, s := range steps {
		list, rest := trace.Ways(plant, s, from, to, mostWays)
		more = more || rest
		for _, x := range list {
			if !slices.ContainsFunc(ways, func(o trace.Way) bool { return slices.Equal(o.Edges, x.Edges) }) {
				ways = append(ways, x)
			}
		}
	}
	slices.SortStableFunc(ways, func(a, b trace.Way) int { return cmp.Compare(a.Least, b.Least) })
	if len(ways) > mostWays {
		return ways[:mostWays], true
	}
	return ways, more
}

// solvedFlow gives the flows of one step, solved once.
func solvedFlow(p *network.Plant, h *network.Heights) func(*model.Step, int) (quantity.Flow, bool) {
	var sol *flow.Solution
	var of *model.Step
	return func(s *model.Step, edge int) (quantity.Flow, bool) {
		if of != s {
			of = s
			sol, _ = flow.Solve(p, h, s, flow.Options{}) // what cannot be solved has no flow
		}
		if sol == nil {
			return 0, false
		}
		q, ok := sol.Edges[edge].Flow.Get()
		return max(q, -q), ok
	}
}

func (p *tracePanel) again() { p.refresh() }

// refresh tells what was found.
func (p *tracePanel) refresh() {
	w := p.on
	why := ""
	switch {
	case p.found.from == "":
		why = "Select a part or a run on the drawing: what feeds it and what it feeds is told here, with distances, volumes and times. Select two parts for all ways from one to the other."
	case p.err != nil:
		why = sentence(p.err.Error()) + "."
	case p.trace == nil && p.found.to == "":
		why = "No step is shown. Choose a line-up above the drawing, or look at all steps or all valves as they could open."
	}
	list, empty := p.stack.Objects[0], p.stack.Objects[1]
	if why != "" {
		p.empty.SetText(why)
		list.Hide()
		empty.Show()
		w.refreshMenu()
		return
	}
	list.Show()
	empty.Hide()
	p.sum.SetText(p.words())
	p.rows = p.lines()
	p.list.Refresh()
	p.list.ScrollToTop()
	w.refreshMenu()
}

// words says what is told.
func (p *tracePanel) words() string {
	name := sentence(p.on.names().Name(p.found.from))
	where := strings.ToLower(traceScopes[max(p.found.scope, 0)])
	if s := p.on.circuit().Step(p.found.step); s != nil {
		where += " (" + stepName(s) + ")"
	}
	if p.found.to == "" {
		return name + ", " + where
	}
	text := fmt.Sprintf("%s to %s, %s: ", name, p.on.names().Name(p.found.to), where)
	switch {
	case len(p.ways) == 0:
		return text + "no way."
	case p.more:
		return text + fmt.Sprintf("the %d shortest of more ways. A click shows one on the drawing.", len(p.ways))
	}
	return text + plural(len(p.ways), "way") + ". A click shows one on the drawing."
}

// lines tells stops or ways, then what the steps do.
func (p *tracePanel) lines() []flowLine {
	w := p.on
	s := w.system
	var out []flowLine
	if p.found.to != "" {
		out = append(out, flowLine{head: true, name: "Ways", cells: []string{"Distance", "Volume", "Parts", "Through"}})
		for i := range p.ways {
			x := &p.ways[i]
			through := x.Through(p.plant)
			line := flowLine{name: fmt.Sprintf("Way %d", i+1), cells: []string{cell(x.Length, s), cell(x.Volume, s), fmt.Sprint(len(through)), strings.Join(through, ", ")}}
			line.full = line.name + ", " + line.cells[0] + ", " + line.cells[1] + ": " + line.cells[3]
			line.run = func() { p.way = i; p.show() }
			out = append(out, line)
		}
		if len(p.ways) == 0 {
			out = append(out, flowLine{text: "No way leads there. Try all valves as they could open."})
		}
	}
	if p.trace != nil {
		for _, x := range traceSenses[1:] {
			if p.found.sense != trace.Both && p.found.sense != x.is {
				continue
			}
			out = append(out, flowLine{head: true, name: x.words, cells: []string{"Distance", "Volume", "Time", "", "What it is"}})
			none := true
			for i := range p.trace.Stops {
				stop := &p.trace.Stops[i]
				if stop.Sense != x.is {
					continue
				}
				none = false
				out = append(out, p.stopLine(stop))
			}
			if none {
				out = append(out, flowLine{text: "Nothing."})
			}
		}
	}
	out = append(out, flowLine{head: true, wide: true, name: "In the steps", cells: []string{"It", "Medium", "Temperature", "Washes"}})
	for i := range p.uses {
		u := &p.uses[i]
		step := w.circuit().Step(u.Step)
		if step == nil {
			continue
		}
		state := string(u.State)
		if u.Whole {
			state += ", all of it"
		}
		if u.Runs {
			state += ", runs"
		}
		var washed []string
		for _, id := range u.Washes {
			washed = append(washed, nameOf(w.circuit().Record(id), w.cat))
		}
		line := flowLine{wide: true, name: stepLabel(w.circuit(), step), cells: []string{state, plainWords(string(u.Medium.Or("?"))), cell(u.Temperature, s), strings.Join(washed, ", ")},
			run: func() { w.showStep(u.Step) }}
		line.full = line.name + ": " + strings.Join(line.cells, ", ")
		out = append(out, line)
	}
	if len(p.uses) == 0 {
		out = append(out, flowLine{text: "The circuit has no steps yet."})
	}
	if also := trace.Shared(p.uses); len(also) > 0 {
		out = append(out, flowLine{head: true, name: "Washed through it", text: "what shares it"})
		for _, id := range also {
			out = append(out, flowLine{name: sentence(w.names().Name(id)), text: w.whatIs(w.circuit().Record(id)), run: func() { p.look(id) }})
		}
	}
	return out
}

func (p *tracePanel) stopLine(stop *trace.Stop) flowLine {
	w := p.on
	length := cell(stop.Length, w.system)
	if !stop.Length.Known() && stop.Least > 0 {
		length = "over " + quantity.Text(stop.Least, w.system)
	}
	after := "?"
	if d, ok := stop.Time.Get(); ok {
		if after = fmt.Sprintf("%.1f s", float64(d)); d >= 120 {
			after = fmt.Sprintf("%.0f min", float64(d)/60)
		}
	}
	end := ""
	if stop.End {
		end = "ends here"
	}
	line := flowLine{name: w.names().Name(stop.Part), cells: []string{length, cell(stop.Volume, w.system), after, end, w.whatIs(w.circuit().Record(stop.Part))}, run: func() { p.look(stop.Part) }}
	line.full = fmt.Sprintf("%s: %s away, %s between, %s on the way", line.name, length, line.cells[1], after)
	if stop.End {
		line.full += "; the trace ends here"
	}
	return line
}

// look brings a part into view without making it the start of another trace.
func (p *tracePanel) look(id model.ID) {
	p.on.board.lookAt(p.on.drawing().Bounds(id))
	p.on.board.flash(id)
	p.on.events.tell("place", map[string]any{"id": string(id)})
}

// turn puts the trace on the drawing, or away.
func (p *tracePanel) turn() {
	if p.on.lensOf(traceTitle) {
		p.on.showLens(nil)
		return
	}
	p.show()
}

// show puts what was found on the drawing.
func (p *tracePanel) show() {
	if !p.ready() {
		return
	}
	step := p.on.circuit().Step(p.found.step)
	name := p.on.names().Name
	l := &lens{owner: traceTitle}
	switch {
	case p.found.to != "" && p.way < len(p.ways):
		x := &p.ways[p.way]
		l.opt = scene.Way(p.plant, x.Edges, step, p.found.from, p.found.to)
		l.keys = scene.WayKey()
		l.title = fmt.Sprintf("Way %d of %d from %s to %s, %s", p.way+1, len(p.ways), name(p.found.from), name(p.found.to), quantity.OptText(x.Length, p.on.system))
	case p.trace != nil:
		l.opt = scene.Trace(p.plant, p.trace, step, p.found.from)
		l.keys = scene.TraceKey()
		l.title = "Trace of " + p.words()
	default:
		p.on.showLens(nil)
		return
	}
	p.on.showLens(l)
}

// askTo asks for the other end of ways.
func (p *tracePanel) askTo() {
	w := p.on
	w.pickFrom("All ways from "+w.names().Name(p.from)+" to", "Tag, name, kind or note", "Show", func(text string) []pickable {
		var out []pickable
		for _, id := range w.drawing().Find(text, w.system) {
			r := w.circuit().Record(id)
			if w.circuit().Step(id) != nil || id == p.from {
				continue
			}
			out = append(out, pickable{text: nameOf(r, w.cat), more: w.whatIs(r), run: func() {
				from := p.from
				w.doc.Select(from, id)
				p.from, p.to = from, id
				w.tabs.pick(w.upkeep.tab[traceTitle])
				p.want(0)
			}})
		}
		return out
	})
}

// copy puts what is told on the clipboard as a table.
func (p *tracePanel) copy() {
	var records [][]string
	for _, l := range p.rows {
		if l.cells == nil {
			records = append(records, []string{l.name, l.text})
			continue
		}
		records = append(records, slices.Concat([]string{l.name}, l.cells))
	}
	p.on.app.Clipboard().SetContent(tabbed(records))
	p.on.tellHint("Copied the trace: " + plural(len(records), "row"))
}
