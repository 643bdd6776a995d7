package window

import (
	"fmt"
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
	side    *container.Scroll
	form    *form
	shape   string
	steps   []*model.Step
	columns []model.Part
	marked  model.ID // part selected on the board, whose column is lit
	movers  *toggle  // shows only what a step moves
	details *toggle
	buttons []stepButton
	wide    float32   // of the step names
	widths  []float32 // of the columns
}

// stepButton is a button for one action.
type stepButton struct {
	*button
	does *action
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
	bar := container.NewHBox()
	a := on.actions
	for _, x := range []struct {
		text string
		icon fyne.Resource
		do   *action
	}{
		{"Add step", theme.ContentAddIcon(), a.addStep},
		{"Duplicate", theme.ContentCopyIcon(), a.duplicateStep},
		{"Earlier", theme.MoveUpIcon(), a.stepUp},
		{"Later", theme.MoveDownIcon(), a.stepDown},
		{"Delete", theme.DeleteIcon(), a.deleteStep},
	} {
		b := newButton(on, x.text, x.icon, func() { on.do(x.do) })
		p.buttons = append(p.buttons, stepButton{b, x.do})
		bar.Add(b)
	}
	p.movers = newToggle(on, nil, "Only what moves", false, func(bool) { p.refresh() })
	shown := !on.app.Preferences().Bool(prefNoDetails)
	p.details = newToggle(on, nil, "Step details", shown, func(shown bool) {
		p.halves.fold(!shown)
		on.app.Preferences().SetBool(prefNoDetails, !shown)
	})
	bar.Add(widget.NewSeparator())
	bar.Add(p.movers)
	hint := quiet("A click moves the valve or the pump. Pale: rest position. Bold: set by the step.")
	hint.Truncation = fyne.TextTruncateEllipsis
	p.side = container.NewVScroll(container.NewVBox())
	left := container.NewBorder(container.NewBorder(nil, nil, bar, p.details, hint), nil, nil, nil,
		container.NewStack(p.table, container.NewPadded(p.empty)))
	p.halves = newBeside(left, scrolledForm(p.side), 0.7)
	p.halves.fold(!shown)
	p.root = p.halves.box
	return p
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

// refresh shows the steps as the circuit holds them.
func (p *stepsPanel) refresh() {
	p.steps = p.on.circuit().Steps()
	p.columns = movable(p.on.circuit(), p.on.cat)
	if p.movers.lit {
		p.columns = slices.DeleteFunc(p.columns, func(part model.Part) bool { return !movedInAny(part, p.on.cat, p.steps) })
	}
	p.measure()
	p.table.Refresh()
	switch {
	case len(p.steps) == 0:
		p.empty.SetText("No steps yet. Add a step for each phase of the wash: rinse, alkali, rinse, acid, final rinse. Then click in the grid which valves open and which pumps run.")
		p.empty.Show()
	case len(p.columns) == 0 && p.movers.lit:
		p.empty.SetText("No step moves a valve or runs a pump.")
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
	for _, b := range p.buttons {
		b.able(b.does.can())
	}
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
		wide = max(wide, fyne.MeasureText(stepLabel(p.on.circuit(), s), theme.TextSize(), bold).Width+16)
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
	step := p.steps[at.Row]
	text, moved := "", false
	switch part := p.columns[at.Col].(type) {
	case *model.Pump:
		text = pumpStopped
		if slices.Contains(step.Running, part.ID) {
			text, moved = pumpRuns, true
		}
	case *model.Valve:
		text, moved = positionOf(part, p.on.cat.Kind(part.Kind), step)
		text = p.on.drawing().PositionWords(part, text)
	}
	shown := p.on.shownStep()
	c.set(text, moved, shown != nil && shown.ID == step.ID, p.columns[at.Col].RecordID() == p.marked)
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
		h.set(stepLabel(p.on.circuit(), s), shown != nil && shown.ID == s.ID, false, func() { p.on.showStep(s.ID) })
	}
}

// cycle moves the valve or the pump of a column to its next position in the step
// of a row.
func (p *stepsPanel) cycle(row, col int) {
	if row < 0 || col < 0 || row >= len(p.steps) || col >= len(p.columns) {
		return
	}
	step := p.steps[row]
	switch part := p.columns[col].(type) {
	case *model.Pump:
		p.on.try(p.on.drawing().SetRunning(step.ID, part.ID, !slices.Contains(step.Running, part.ID)))
	case *model.Valve:
		if next := nextPosition(part, p.on.cat.Kind(part.Kind), step); next != "" {
			p.on.try(p.on.drawing().SetPosition(step.ID, part.ID, next))
		}
	}
}

// refreshSide shows the properties of the step that is shown on the drawing.
func (p *stepsPanel) refreshSide() {
	step := p.on.shownStep()
	shape := fmt.Sprint(p.on.units())
	if step != nil {
		shape += string(step.ID)
	}
	for _, p := range washables(p.on.circuit()) {
		shape += " " + string(p.RecordID()) + p.Meta().Tag
	}
	if shape != p.shape || p.form == nil && step != nil {
		p.shape = shape
		p.rebuildSide(step)
	}
	if p.form != nil {
		p.form.refresh()
	}
}

func (p *stepsPanel) rebuildSide(step *model.Step) {
	if step == nil {
		p.form = nil
		l := quiet("Pick a step at the left edge of the grid to see its line-up on the drawing and to say what it sends where.")
		l.Wrapping = fyne.TextWrapWord
		p.side.Content = container.NewPadded(l)
		p.side.Refresh()
		return
	}
	f := newForm(p.on, []model.ID{step.ID})
	p.form = f
	id := step.ID
	now := func() *model.Step { return p.on.circuit().Step(id) }
	f.words("name", "Name", "What the step is called.", 1)
	f.words("programme", "Programme", "Steps of one programme run one after the other.", 1)
	f.property("purpose")
	f.property("medium")
	p.placeRow(f, "From", "Vessel or supply that the liquid comes from.", true, func() model.ID { return now().Source },
		func(v string) error { return p.on.tried(p.on.drawing().SetSource(id, model.ID(v))) })
	p.placeRow(f, "To", "Vessel, drain or end that the liquid goes to.", false, func() model.ID { return now().Destination },
		func(v string) error { return p.on.tried(p.on.drawing().SetDestination(id, model.ID(v))) })
	f.heading("Washed in this step")
	if list := washables(p.on.circuit()); len(list) == 0 {
		f.remark("Place a process vessel or another object to be cleaned.")
	} else {
		for _, part := range list {
			p.cleansRow(f, id, part)
		}
	}
	for _, key := range []string{"strength_pct", "temperature_C", "flow_m3h", "time_min"} {
		f.property(key)
	}
	f.words("ends_on", "Ends on", "What ends the step, in words: conductivity below a value, level low.", 1)
	f.words("note", "Note", "Anything a reader should know.", 2)
	p.side.Content = container.New(sidePadding{}, f.box)
	p.side.Refresh()
}

// placeRow adds a row for where a step draws from or sends to.
func (p *stepsPanel) placeRow(f *form, label, help string, from bool, get func() model.ID, set func(string) error) {
	c := newSearchField(p.on, "Tag or name", func() []choiceOf {
		var out []choiceOf
		for _, part := range ends(p.on.circuit(), p.on.cat, from) {
			out = append(out, choiceOf{string(part.RecordID()), nameOf(part, p.on.cat), titleOf(part, p.on.cat)})
		}
		return out
	}, set)
	c.onFocus = f.helpOn(label, help)
	row := newFieldRow(label, "", c)
	c.problem = tellRow(row)
	f.add(row, func() {
		text := ""
		if part := p.on.circuit().Part(get()); part != nil {
			text = nameOf(part, p.on.cat) + ", " + titleOf(part, p.on.cat)
		}
		c.setShown(text, false)
	})
}

func (p *stepsPanel) cleansRow(f *form, step model.ID, part model.Part) {
	quietly := false
	c := newCheck(p.on, nameOf(part, p.on.cat)+", "+titleOf(part, p.on.cat), nil)
	c.OnChanged = func(on bool) {
		if !quietly {
			p.on.try(p.on.drawing().SetCleans(step, part.RecordID(), on))
		}
	}
	f.box.Add(c)
	refresh := func() {
		quietly = true
		if s := p.on.circuit().Step(step); s != nil {
			c.SetChecked(slices.Contains(s.Cleans, part.RecordID()))
		}
		quietly = false
	}
	f.rows = append(f.rows, refresh)
	refresh()
}
