package window

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/model"
)

// stepsPanel is the wash programme as a grid: a row for each step, a column for
// each pump and valve that a step can move. Beside it stand the properties of
// the step picked.
type stepsPanel struct {
	on      *Window
	root    fyne.CanvasObject
	table   *widget.Table
	empty   *widget.Label
	side    *container.Scroll
	form    *form
	shape   string
	steps   []*model.Step
	columns []model.Part
	rename  *widget.Button
	quietly bool
}

func newStepsPanel(on *Window) *stepsPanel {
	p := &stepsPanel{on: on}
	p.table = widget.NewTable(
		func() (int, int) { return len(p.steps), len(p.columns) },
		func() fyne.CanvasObject { return newStepCell() },
		func(at widget.TableCellID, o fyne.CanvasObject) { p.fill(at, o.(*stepCell)) })
	p.table.ShowHeaderRow, p.table.ShowHeaderColumn = true, true
	p.table.CreateHeader = func() fyne.CanvasObject { return newStepHead() }
	p.table.UpdateHeader = func(at widget.TableCellID, o fyne.CanvasObject) { p.head(at, o.(*stepHead)) }
	p.table.OnSelected = func(at widget.TableCellID) {
		p.table.UnselectAll()
		if !p.quietly {
			p.cycle(at.Row, at.Col)
		}
	}
	p.empty = widget.NewLabel("")
	p.empty.Wrapping = fyne.TextWrapWord
	p.empty.Alignment = fyne.TextAlignCenter
	button := func(text string, icon fyne.Resource, a *action) fyne.CanvasObject {
		b := widget.NewButtonWithIcon(text, icon, func() { on.do(a) })
		b.Importance = widget.LowImportance
		return b
	}
	a := on.actions
	bar := container.NewHBox(
		button("Add step", theme.ContentAddIcon(), a.addStep),
		button("Duplicate", theme.ContentCopyIcon(), a.duplicateStep),
		button("Earlier", theme.MoveUpIcon(), a.stepUp),
		button("Later", theme.MoveDownIcon(), a.stepDown),
		button("Delete", theme.DeleteIcon(), a.deleteStep),
	)
	hint := quiet("Click a cell to move the valve or the pump. Pale: where it stands anyway. Bold: moved by the step.")
	hint.Truncation = fyne.TextTruncateEllipsis
	p.side = container.NewVScroll(container.NewVBox())
	left := container.NewBorder(container.NewBorder(nil, nil, bar, nil, hint), nil, nil, nil,
		container.NewStack(p.table, container.NewPadded(p.empty)))
	p.root = newBeside(left, scrolledForm(p.side), 0.68).box
	return p
}

// refresh shows the steps as the circuit holds them.
func (p *stepsPanel) refresh() {
	p.steps = p.on.circuit().Steps()
	p.columns = movable(p.on.circuit(), p.on.cat)
	wide := float32(140)
	for _, s := range p.steps {
		wide = max(wide, fyne.MeasureText(stepLabel(p.on.circuit(), s), theme.TextSize(), fyne.TextStyle{Bold: true}).Width+16)
	}
	p.table.SetColumnWidth(-1, min(wide, 260))
	p.table.SetRowHeight(-1, 30)
	for i, part := range p.columns {
		wide := float32(66)
		tag := fyne.MeasureText(nameOf(part, p.on.cat), theme.TextSize(), fyne.TextStyle{Bold: true}).Width
		if k := p.on.cat.Kind(part.Meta().Kind); k != nil {
			for _, pos := range k.Positions {
				wide = max(wide, fyne.MeasureText(plainWords(pos), theme.TextSize(), fyne.TextStyle{Bold: true}).Width+14)
			}
		}
		p.table.SetColumnWidth(i, min(max(wide, tag+14), 130))
	}
	p.table.Refresh()
	switch {
	case len(p.steps) == 0:
		p.empty.SetText("No steps yet. Add a step for each phase of the wash: rinse, alkali, rinse, acid, final rinse. Then click in the grid which valves open and which pumps run.")
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
	p.refreshSide()
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
		text = "stands"
		if slices.Contains(step.Running, part.ID) {
			text, moved = "runs", true
		}
	case *model.Valve:
		text, moved = positionOf(part, p.on.cat.Kind(part.Kind), step)
		text = plainWords(text)
	}
	shown := p.on.shownStep()
	c.set(text, moved, shown != nil && shown.ID == step.ID)
}

func (p *stepsPanel) head(at widget.TableCellID, h *stepHead) {
	switch {
	case at.Row < 0 && at.Col < 0:
		h.set("Step", false, nil)
	case at.Row < 0 && at.Col < len(p.columns):
		part := p.columns[at.Col]
		h.set(nameOf(part, p.on.cat), false, func() { p.on.selectAndShow(part.RecordID()) })
	case at.Row >= 0 && at.Row < len(p.steps):
		s := p.steps[at.Row]
		shown := p.on.shownStep()
		h.set(stepLabel(p.on.circuit(), s), shown != nil && shown.ID == s.ID, func() { p.on.showStep(s.ID) })
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
	for _, r := range reservoirs(p.on.circuit()) {
		shape += " " + string(r.RecordID()) + r.Meta().Tag
	}
	for _, r := range washables(p.on.circuit()) {
		shape += " " + string(r.RecordID()) + r.Meta().Tag
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
	for _, key := range []string{"purpose", "medium", "strength_pct", "temperature_C", "flow_m3h", "time_min"} {
		f.property(key)
	}
	f.words("ends_on", "Ends on", "What ends the step, in words: conductivity below a value, level low.", 1)
	places := reservoirs(p.on.circuit())
	f.choice("From", "Vessel or supply that the liquid comes from.", idsOf(places), true, p.tagOf,
		func() string { return string(now().Source) },
		func(v string) error { return p.on.tried(p.on.drawing().SetSource(id, model.ID(v))) })
	f.choice("To", "Vessel, drain or end that the liquid goes to.", idsOf(places), true, p.tagOf,
		func() string { return string(now().Destination) },
		func(v string) error { return p.on.tried(p.on.drawing().SetDestination(id, model.ID(v))) })
	f.heading("Washed in this step")
	if list := washables(p.on.circuit()); len(list) == 0 {
		f.remark("Place a process vessel or another object to be cleaned.")
	} else {
		for _, part := range list {
			p.cleansRow(f, id, part)
		}
	}
	f.words("note", "Note", "Anything a reader should know.", 2)
	p.side.Content = container.New(sidePadding{}, f.box)
	p.side.Refresh()
}

func (p *stepsPanel) cleansRow(f *form, step model.ID, part model.Part) {
	quietly := false
	c := widget.NewCheck(nameOf(part, p.on.cat)+", "+titleOf(part, p.on.cat), nil)
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

func (p *stepsPanel) tagOf(id string) string {
	if part := p.on.circuit().Part(model.ID(id)); part != nil {
		return nameOf(part, p.on.cat) + ", " + titleOf(part, p.on.cat)
	}
	return id
}

func idsOf(parts []model.Part) []string {
	out := make([]string, len(parts))
	for i, p := range parts {
		out[i] = string(p.RecordID())
	}
	return out
}
