package window

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// stepsPanel is the wash programme as a grid: a row for each step, a column for
// each pump and valve that a step can move. Beside it stand the properties of
// the step picked.
type stepsPanel struct {
	on      *Window
	root    fyne.CanvasObject
	halves  *beside
	table   *keyTable
	empty   *widget.Label
	side    *container.Scroll // of the form
	sideBox fyne.CanvasObject // it and what turns it
	form    *form
	finder  *lineUpFinder // beside the form; one of them is seen
	shape   string
	steps   []*model.Step
	columns []model.Part
	marked  model.ID // part selected on the board, whose column is lit

	choice  programmeChoice
	bar     *stepsBar
	foot    *stepsFoot
	meeting *meetings

	wide   float32   // of the step names
	widths []float32 // of the columns
}

func newStepsPanel(on *Window) *stepsPanel {
	p := &stepsPanel{on: on}
	p.table = &keyTable{on: on}
	p.table.Length = func() (int, int) { return len(p.steps), len(p.columns) }
	p.table.CreateCell = func() fyne.CanvasObject { return newStepCell() }
	p.table.UpdateCell = func(at widget.TableCellID, o fyne.CanvasObject) { p.fill(at, o.(*stepCell)) }
	p.table.ShowHeaderRow, p.table.ShowHeaderColumn = true, true
	p.table.CreateHeader = func() fyne.CanvasObject { return newStepHead() }
	p.table.UpdateHeader = func(at widget.TableCellID, o fyne.CanvasObject) { p.head(at, o.(*stepHead)) }
	p.table.OnSelected = func(at widget.TableCellID) {
		p.table.UnselectAll()
		p.cycle(at.Row, at.Col)
	}
	p.table.ExtendBaseWidget(p.table)
	p.empty = widget.NewLabel("")
	p.empty.Wrapping = fyne.TextWrapWord
	p.empty.Alignment = fyne.TextAlignCenter
	p.finder, p.meeting = newLineUpFinder(on), newMeetings(on)
	p.bar, p.foot = newStepsBar(p), newStepsFoot(on)
	p.side = container.NewVScroll(container.NewVBox())
	p.sideBox = scrolledForm(p.side)
	left := container.NewBorder(p.bar.root, p.foot.root, nil, nil, container.NewStack(p.table, container.NewPadded(p.empty)))
	p.halves = newBeside(left, container.NewStack(p.sideBox, p.finder.root), 0.7)
	p.halves.fold(!p.bar.details.lit)
	p.root = p.halves.box
	return p
}

// showSlot shows the finder while it is open, or else the form.
func (p *stepsPanel) showSlot() {
	if p.finder.open {
		p.sideBox.Hide()
		p.finder.root.Show()
	} else {
		p.finder.root.Hide()
		p.sideBox.Show()
	}
	p.halves.fold(!p.finder.open && !p.bar.details.lit)
}

// Widths of the grid, in fyne's units. Names and positions are written small so
// that a station's valves fit beside each other.
const (
	leastCell = 46
	mostCell  = 100
	leastName = 120
	mostName  = 210
	cellRoom  = 10
)

// refresh shows the steps of the programme chosen as the circuit holds them.
func (p *stepsPanel) refresh() {
	p.finder.stale()
	p.choice.follow(p.on)
	p.steps = p.choice.steps(p.on.circuit())
	if x := p.finder.preview; x != nil {
		for i, s := range p.steps {
			if s.ID == x.ID {
				p.steps[i] = x
			}
		}
	}
	p.columns = movable(p.on.circuit(), p.on.cat)
	if p.bar.movers.lit {
		p.columns = slices.DeleteFunc(p.columns, func(part model.Part) bool { return !movedInAny(part, p.on.cat, p.steps) })
	}
	p.measure()
	p.table.Refresh()
	switch {
	case len(p.steps) == 0:
		p.empty.SetText("No steps yet. New programme, in the menu Programme, makes one from a ready programme; Add step begins one by hand. Then the program finds the line-ups, or a click in the grid moves a valve or a pump.")
		p.empty.Show()
	case len(p.columns) == 0 && p.bar.movers.lit:
		p.empty.SetText("No step moves a valve or runs a pump. Find line-ups, in the menu Line-up, works out what has to be moved.")
		p.empty.Show()
	case len(p.columns) == 0:
		p.empty.SetText("Place valves and pumps on the board: each becomes a column here.")
		p.empty.Show()
	default:
		p.empty.Hide()
	}
	if len(p.steps) == 0 {
		p.table.Hide()
	} else {
		p.table.Show()
	}
	p.bar.refresh()
	p.meeting.want()
	p.foot.refresh()
	p.showSlot()
	p.refreshSide()
}

// measure gives the columns the widths that they need.
func (p *stepsPanel) measure() {
	p.widths = p.widths[:0]
	if len(p.steps) == 0 {
		return // the grid is not shown
	}
	size := theme.CaptionTextSize()
	bold := fyne.TextStyle{Bold: true}
	wide := float32(leastName)
	for _, s := range p.steps {
		wide = max(wide, fyne.MeasureText(p.label(s), theme.TextSize(), bold).Width+16+cellSign)
	}
	p.wide = min(wide, mostName)
	p.table.SetColumnWidth(-1, p.wide)
	p.table.SetRowHeight(-1, 24)
	for i, part := range p.columns {
		wide := fyne.MeasureText(nameOf(part, p.on.cat), size, bold).Width
		for _, word := range p.wordsOf(part) {
			wide = max(wide, fyne.MeasureText(word, size, bold).Width)
		}
		p.widths = append(p.widths, min(max(wide+cellRoom, leastCell), mostCell))
		p.table.SetColumnWidth(i, p.widths[i])
	}
}

// label names a step in the grid: with its programme only where several are shown.
func (p *stepsPanel) label(s *model.Step) string {
	if p.choice.all {
		return stepLabel(p.on.circuit(), s)
	}
	return stepOnly(p.on.circuit(), s)
}

// wordsOf gives what may stand in a part's column.
func (p *stepsPanel) wordsOf(part model.Part) []string {
	v, ok := part.(*model.Valve)
	if !ok {
		return []string{pumpRuns, pumpStopped}
	}
	var out []string
	if k := p.on.cat.Kind(v.Kind); k != nil {
		for _, pos := range k.Positions {
			out = append(out, p.on.drawing().PositionWords(v, pos))
		}
	}
	return out
}

// How a pump is told to be.
const (
	pumpRuns    = "running"
	pumpStopped = "stopped"
)

// movedInAny says whether a step moves a valve out of its rest position, or runs a
// pump.
func movedInAny(part model.Part, cat *catalogue.Catalogue, steps []*model.Step) bool {
	return slices.ContainsFunc(steps, func(s *model.Step) bool {
		if v, ok := part.(*model.Valve); ok {
			_, moved := positionOf(v, cat.Kind(v.Kind), s)
			return moved
		}
		return slices.Contains(s.Running, part.RecordID())
	})
}

// markPart lights the column of a part and brings it into view; none for an id
// that has no column.
func (p *stepsPanel) markPart(id model.ID) {
	col := slices.IndexFunc(p.columns, func(part model.Part) bool { return part.RecordID() == id })
	if col < 0 {
		id = ""
	}
	if id == p.marked {
		return
	}
	p.marked = id
	if col >= 0 {
		p.table.ScrollTo(widget.TableCellID{Row: -1, Col: col})
	}
	p.table.Refresh()
}

// showRow brings the row of the step shown into view.
func (p *stepsPanel) showRow() {
	if row := slices.IndexFunc(p.steps, func(s *model.Step) bool { return s.ID == p.on.stepID }); row >= 0 {
		p.table.ScrollTo(widget.TableCellID{Row: row, Col: -1})
	}
}

// again builds all anew: units or theme have changed.
func (p *stepsPanel) again() {
	p.shape, p.form = "", nil
	p.refresh()
}

func (p *stepsPanel) fill(at widget.TableCellID, c *stepCell) {
	if at.Row >= len(p.steps) || at.Col >= len(p.columns) {
		return
	}
	step, part := p.steps[at.Row], p.columns[at.Col]
	now := p.stateOf(part, step)
	var before cellState
	if at.Row > 0 && p.steps[at.Row-1].Programme == step.Programme {
		before = p.stateOf(part, p.steps[at.Row-1])
	} else {
		before = p.stateOf(part, nil) // before the first step all is at rest
	}
	now.changed = now.text != before.text
	shown := p.on.shownStep()
	now.shown = shown != nil && shown.ID == step.ID
	now.under = part.RecordID() == p.marked
	now.meets = p.meeting.through(step.ID, part.RecordID())
	c.set(now)
}

// stateOf tells how a part stands in a step; nil is at rest.
func (p *stepsPanel) stateOf(part model.Part, step *model.Step) cellState {
	switch part := part.(type) {
	case *model.Pump:
		if step != nil && slices.Contains(step.Running, part.ID) {
			return cellState{text: pumpRuns, moved: true}
		}
		return cellState{text: pumpStopped}
	case *model.Valve:
		at, moved := positionOf(part, p.on.cat.Kind(part.Kind), step)
		return cellState{text: p.on.drawing().PositionWords(part, at), moved: moved}
	}
	return cellState{}
}

func (p *stepsPanel) head(at widget.TableCellID, h *stepHead) {
	switch {
	case at.Row < 0 && at.Col < 0:
		h.set("Step", false, true, nil)
	case at.Row < 0 && at.Col < len(p.columns):
		part := p.columns[at.Col]
		h.set(nameOf(part, p.on.cat), part.RecordID() == p.marked, true, func() { p.on.selectAndShow(part.RecordID()) })
	case at.Row >= 0 && at.Row < len(p.steps):
		s := p.steps[at.Row]
		shown := p.on.shownStep()
		h.set(p.label(s), shown != nil && shown.ID == s.ID, false, func() { p.on.showStep(s.ID) })
		if sign := p.meeting.sign(s.ID); sign != nil {
			h.mark(sign)
		}
	}
}

// cycle moves the valve or the pump of a column to its next position in the step
// of a row.
func (p *stepsPanel) cycle(row, col int) {
	if row < 0 || col < 0 || row >= len(p.steps) || col >= len(p.columns) {
		return
	}
	step := p.on.circuit().Step(p.steps[row].ID) // not the one that is previewed
	if step == nil {
		return
	}
	switch part := p.columns[col].(type) {
	case *model.Pump:
		p.on.try(p.on.drawing().SetRunning(step.ID, part.ID, !slices.Contains(step.Running, part.ID)))
	case *model.Valve:
		if next := nextPosition(part, p.on.cat.Kind(part.Kind), step); next != "" {
			p.on.try(p.on.drawing().SetPosition(step.ID, part.ID, next))
		}
	}
}
