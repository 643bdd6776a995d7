package window

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/checks/listing"
	"rinsewright/checks/lists"
	"rinsewright/model/programme"
	"rinsewright/model/quantity"
	"rinsewright/model/sizing"
)

const sizingTitle = "Sizing"

// sizingPanel proposes a station for what is to be cleaned: the objects with their
// figures, the assumptions, and the calculation sheet, which follows at once.
type sizingPanel struct {
	on      *Window
	root    fyne.CanvasObject
	project *sizing.Project
	sheet   *sizing.Sheet // nil while there is nothing to size
	why     string        // there is none
	at      int           // object that is shown
	tab     int

	objects *keyList
	fields  *fyne.Container // of the object
	figures *fyne.Container // assumptions and prices
	sum     *widget.Label
	results *keyList
	rows    []flowLine
	detail  *widget.Label // formula, inputs and source of the line that was clicked
	told    string        // which
	empty   *widget.Label
	stack   *fyne.Container
}

func newSizingPanel(on *Window) *sizingPanel {
	p := &sizingPanel{on: on, project: sizing.NewProject()}
	p.objects = newKeyList(on, func() int { return len(p.project.Objects) }, func() fyne.CanvasObject {
		l := widget.NewLabel("")
		l.Truncation = fyne.TextTruncateEllipsis
		return l
	}, func(i widget.ListItemID, o fyne.CanvasObject) {
		if i < len(p.project.Objects) {
			o.(*widget.Label).SetText(p.project.Objects[i].Name + "  " + string(p.project.Objects[i].Sort))
		}
	})
	p.objects.OnSelected = func(i widget.ListItemID) { p.at = i; p.showObject() }
	p.objects.onArrow = func(by int) {
		if to := p.at + by; to >= 0 && to < len(p.project.Objects) {
			p.objects.Select(to)
		}
	}
	p.fields, p.figures = container.NewVBox(), container.NewVBox()
	p.sum = widget.NewLabel("")
	p.sum.Truncation = fyne.TextTruncateEllipsis
	p.sum.TextStyle.Bold = true
	p.results = newLineList(on, func() []flowLine { return p.rows })
	p.detail = quiet("")
	p.detail.Wrapping = fyne.TextWrapWord
	p.detail.Hide()
	p.empty = quiet("")
	p.empty.Wrapping = fyne.TextWrapWord
	a := func(text string, icon fyne.Resource, of func() *action) *button {
		return newButton(on, text, icon, func() { on.do(of()) })
	}
	left := container.NewHBox(a("From the drawing", theme.ViewRefreshIcon(), func() *action { return on.actions.sizing.take }),
		newButton(on, "Add", theme.ContentAddIcon(), p.askSort),
		a("Remove", theme.DeleteIcon(), func() *action { return on.actions.sizing.remove }))
	right := container.NewHBox(a("Place the station", theme.ConfirmIcon(), func() *action { return on.actions.sizing.place }),
		a("CSV", theme.DocumentSaveIcon(), func() *action { return on.actions.sizing.csv }),
		a("Workbook", theme.DocumentSaveIcon(), func() *action { return on.actions.sizing.xlsx }))
	caution := quiet("A first sizing, no design. Click a line for its formula, inputs and source.")
	caution.Importance = widget.WarningImportance
	caution.Truncation = fyne.TextTruncateEllipsis
	objects := container.NewBorder(left, nil, nil, nil, withLayout(sizingHalves{}, p.objects, scrolledForm(container.NewVScroll(container.New(sidePadding{}, p.fields)))))
	figures := container.NewBorder(heading("Assumptions"), nil, nil, nil, scrolledForm(container.NewVScroll(container.New(sidePadding{}, p.figures))))
	sheet := container.NewBorder(container.NewVBox(right, p.sum), container.NewVBox(widget.NewSeparator(), p.detail, caution), nil, nil, container.NewStack(p.results, container.NewCenter(withLayout(fixedWidth(360), p.empty))))
	p.root = withLayout(sizingColumns{}, objects, figures, sheet)
	p.size()
	return p
}

// sizingColumns lays objects, assumptions and the sheet side by side.
type sizingColumns struct{}

func (sizingColumns) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(700, 120) }

func (sizingColumns) Layout(o []fyne.CanvasObject, s fyne.Size) {
	x := float32(0)
	for i, share := range []float32{0.34, 0.25, 0.41} {
		w := float32(int(s.Width*share)) - 10
		o[i].Move(fyne.NewPos(x, 0))
		o[i].Resize(fyne.NewSize(w, s.Height))
		x += w + 10
	}
}

// sizingHalves lays the list of objects beside the fields of the one that is shown.
type sizingHalves struct{}

func (sizingHalves) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(300, 80) }

func (sizingHalves) Layout(o []fyne.CanvasObject, s fyne.Size) {
	list := float32(int(s.Width * 0.36))
	o[0].Resize(fyne.NewSize(list, s.Height))
	o[1].Move(fyne.NewPos(list+6, 0))
	o[1].Resize(fyne.NewSize(s.Width-list-6, s.Height))
}

// addTab puts the panel behind the other tabs.
func (p *sizingPanel) addTab(t *tabs) {
	p.tab = len(t.titles)
	t.add(sizingTitle, p.root)
}

// looked makes the fields and takes the objects of the drawing the first time that the
// tab is seen.
func (p *sizingPanel) looked() {
	if p == nil || p.on.tabs.at != p.tab {
		return
	}
	if len(p.figures.Objects) == 0 {
		p.showFigures()
	}
	if len(p.project.Objects) > 0 {
		return
	}
	if found := sizing.Objects(p.on.circuit(), p.on.cat); len(found) > 0 {
		p.project.Objects = found
		p.changed()
		p.objects.Select(0)
	}
}

// take reads the objects of the drawing, in the place of those that came from it;
// washes a day that were typed stay, and so do objects that were typed.
func (p *sizingPanel) take() {
	var next []sizing.Object
	for _, o := range sizing.Objects(p.on.circuit(), p.on.cat) {
		for _, old := range p.project.Objects {
			if old.Part == o.Part {
				o.PerDay = old.PerDay
			}
		}
		next = append(next, o)
	}
	n := len(next)
	for _, o := range p.project.Objects {
		if o.Part == "" {
			next = append(next, o)
		}
	}
	p.project.Objects = next
	p.at = min(p.at, max(len(next)-1, 0))
	p.changed()
	p.showObject()
	if n == 0 {
		p.on.tellHint("The drawing has no vessel or machine to clean; add one here")
	} else {
		p.on.tellHint("Taken from the drawing: " + plural(n, "object"))
	}
}

// askSort offers the sorts of objects.
func (p *sizingPanel) askSort() {
	m := fyne.NewMenu("")
	for _, x := range []struct {
		text string
		sort sizing.Sort
	}{{"A vessel, by spray devices", sizing.VesselSort}, {"A line, by velocity", sizing.LineSort}, {"A machine, by the flow it needs", sizing.MachineSort}} {
		m.Items = append(m.Items, fyne.NewMenuItem(x.text, func() { p.add(x.sort) }))
	}
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(p.root)
	widget.ShowPopUpMenuAtPosition(m, p.on.win.Canvas(), at.Add(fyne.NewPos(120, 30)))
}

// add puts an object of a sort at the end, of which nothing is known yet.
func (p *sizingPanel) add(sort sizing.Sort) {
	name := ""
	for n := 1; ; n++ {
		name = sentence(string(sort)) + " " + strconv.Itoa(n)
		if !slices.ContainsFunc(p.project.Objects, func(o sizing.Object) bool { return o.Name == name }) {
			break
		}
	}
	p.project.Objects = append(p.project.Objects, sizing.Object{Name: name, Sort: sort})
	p.at = len(p.project.Objects) - 1
	p.changed()
	p.objects.Select(p.at)
	p.showObject()
}

func (p *sizingPanel) remove() {
	if p.at < len(p.project.Objects) {
		p.project.Objects = slices.Delete(slices.Clone(p.project.Objects), p.at, p.at+1)
		p.at = max(0, min(p.at, len(p.project.Objects)-1))
		p.changed()
		p.showObject()
	}
}

// showObject shows the fields of the object that is picked.
func (p *sizingPanel) showObject() {
	var rows []fyne.CanvasObject
	if p.at < len(p.project.Objects) {
		o := &p.project.Objects[p.at]
		for _, f := range sizingFields(o, p.project, p.on.cat) {
			rows = append(rows, p.field(o, f))
		}
	}
	p.fields.Objects = rows
	p.fields.Refresh()
}

func (p *sizingPanel) field(o *sizing.Object, f sizingField) fyne.CanvasObject {
	unit := ""
	if f.unit != nil {
		unit = f.unit(p.on.system)
	}
	if f.choices != nil {
		c := newChoiceField(f.choices, true, f.words, func(v string) error {
			if err := f.read(o, v, p.on.system); err != nil {
				return err
			}
			p.changed()
			return nil
		})
		c.onKey = p.on.function
		c.setShown(f.text(o, p.on.system), false)
		return newFieldRow(f.label, unit, c).box
	}
	e := newFieldEntry(nil)
	e.onCommit = func(text string) error {
		if err := f.read(o, text, p.on.system); err != nil {
			return err
		}
		e.shown = f.text(o, p.on.system)
		p.changed()
		return nil
	}
	e.onKey = p.on.function
	e.onFocus = func(focused bool) {
		p.on.tellHint("")
		if focused {
			p.on.tellHint(f.label + ": " + f.help)
		}
	}
	e.SetPlaceHolder(sizing.NotKnown)
	e.setShown(f.text(o, p.on.system))
	row := newFieldRow(f.label, unit, e)
	e.problem = tellRow(row)
	return row.box
}

// showFigures shows programme, tanks, tubes, assumptions and prices.
func (p *sizingPanel) showFigures() {
	var rows []fyne.CanvasObject
	choose := func(label string, options []string, at int, pick func(i int)) {
		s := newPickList(p.on, options, nil)
		s.SetSelectedIndex(at)
		s.OnChanged = func(string) { pick(s.SelectedIndex()); p.changed() }
		rows = append(rows, newFieldRow(label, "", s).box)
	}
	var titles, names []string
	at := 0
	for _, t := range programme.All() {
		if strings.HasPrefix(t.Name, "make-up") {
			continue
		}
		if t.Name == p.project.Programme {
			at = len(names)
		}
		titles, names = append(titles, t.Title), append(names, t.Name)
	}
	choose("Programme", titles, at, func(i int) { p.project.Programme = names[i] })
	choose("Tanks", []string{"by programme", "1", "2", "3", "4"}, p.project.Tanks, func(i int) { p.project.Tanks = i })
	var series []string
	for _, t := range p.on.cat.Tubes() {
		if !slices.Contains(series, t.Series) {
			series = append(series, t.Series)
		}
	}
	choose("Tubes", series, max(slices.Index(series, p.project.Series), 0), func(i int) { p.project.Series = series[i]; p.showObject() })
	section := ""
	for i := range p.project.Assumptions {
		if s := p.project.Assumptions[i].Section; s != section {
			section = s
			rows = append(rows, heading(s))
		}
		rows = append(rows, p.assumption(i))
	}
	rows = append(rows, heading("Unit prices, "+p.project.Prices.Standing))
	for _, price := range p.project.Prices.Items {
		rows = append(rows, p.price(price.Key, price.Label, price.Unit))
	}
	p.figures.Objects = rows // at once: each one added by itself would lay out all
	p.figures.Refresh()
}

func (p *sizingPanel) assumption(i int) fyne.CanvasObject {
	now := func() sizing.Assumption { return p.project.Assumptions[i] }
	text := func() string {
		x, _ := now().Value.Number(p.on.system)
		return quantity.Number(x)
	}
	e := newFieldEntry(nil)
	row := newFieldRow(now().Label, now().Value.Unit(p.on.system).Name, e)
	e.problem = tellRow(row)
	e.onCommit = func(typed string) error {
		next, err := now().Read(typed, p.on.system)
		if err != nil {
			return err
		}
		p.project.Assumptions[i] = next
		e.shown = text()
		p.changed()
		return nil
	}
	e.onKey = p.on.function
	e.onFocus = func(focused bool) {
		a := now()
		told := ""
		if focused {
			told = fmt.Sprintf("%s: usual %s to %s; %s", a.Label, a.Least.Text(p.on.system), a.Most.Text(p.on.system), a.Basis)
			if a.Unusual() {
				told += "; outside the usual range"
			}
		}
		p.on.tellHint(told)
	}
	e.setShown(text())
	return row.box
}

func (p *sizingPanel) price(key, label, unit string) fyne.CanvasObject {
	text := func() string {
		for _, i := range p.project.Prices.Items {
			if i.Key == key {
				return quantity.Number(i.Price)
			}
		}
		return ""
	}
	e := newFieldEntry(nil)
	if unit != "each" {
		unit = "a " + unit
	}
	row := newFieldRow(label, unit, e)
	e.problem = tellRow(row)
	e.onCommit = func(typed string) error {
		x, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(typed), ",", ".", 1), 64)
		if err != nil {
			return fmt.Errorf("%q is not a number", typed)
		}
		next, err := p.project.Prices.Set(key, x)
		if err != nil {
			return err
		}
		p.project.Prices = next
		e.shown = text()
		p.changed()
		return nil
	}
	e.onKey = p.on.function
	e.setShown(text())
	return row.box
}

// changed sizes anew after something was changed.
func (p *sizingPanel) changed() {
	p.objects.Refresh()
	p.size()
}

// size makes the sheet and shows it.
func (p *sizingPanel) size() {
	p.sheet, p.why = nil, ""
	if len(p.project.Objects) == 0 {
		p.why = "There is nothing to clean yet. Take the vessels and machines from the drawing, or add a vessel, a line or a machine: flow, tubes, pumps, tanks, heater, use and cost follow at once."
	} else if sheet, err := sizing.Size(p.project, p.on.cat); err != nil {
		p.why = sentence(strings.TrimPrefix(err.Error(), "sizing: ")) + "."
	} else {
		p.sheet = sheet
	}
	p.show()
}

func (p *sizingPanel) show() {
	p.rows = nil
	p.empty.SetText(p.why)
	if p.sheet == nil {
		p.sum.SetText("")
	} else {
		p.rows = p.lines()
		p.sum.SetText(p.summary())
	}
	if p.detail.Visible() {
		p.detail.Hide()
		p.root.Refresh()
	}
	p.results.Refresh()
	p.on.refreshMenu()
	p.on.events.tell("sizing", map[string]any{"objects": len(p.project.Objects), "lines": len(p.rows), "told": p.sum.Text})
}

// summary tells the station in one line, or what it waits for.
func (p *sizingPanel) summary() string {
	q, s := p.sheet.Proposal, p.on.system
	if flow, size, tank, heater := q.Flow, q.Size, q.TankVolume, q.Heater; flow.Known() && size.Known() && tank.Known() {
		told := fmt.Sprintf("%s in %s, tanks %s", quantity.OptText(flow, s), size.Or(""), quantity.OptText(tank, s))
		if heater.Known() {
			told += ", heater " + quantity.OptText(heater, s)
		}
		return told
	}
	var missing []string
	for _, l := range p.sheet.Lines {
		for _, m := range l.Missing {
			if !slices.Contains(missing, m) {
				missing = append(missing, m)
			}
		}
	}
	if len(missing) > 2 {
		return fmt.Sprintf("Enter: %s and %d more", strings.Join(missing[:2], ", "), len(missing)-2)
	}
	return "Enter: " + strings.Join(missing, ", ")
}

// lines are the rows of the sheet: the station's results first, by section.
func (p *sizingPanel) lines() []flowLine {
	var out []flowLine
	section := ""
	for _, l := range p.sheet.Lines {
		if l.Section != section {
			section = l.Section
			out = append(out, flowLine{head: true, name: section, wider: true})
		}
		name := l.Label
		if l.Of != "" && l.Of != l.Label {
			name = l.Of + ": " + strings.ToLower(l.Label[:1]) + l.Label[1:]
		}
		text := l.Told(p.on.system)
		switch {
		case !l.Value.Known():
			text = sizing.NotKnown // why is told at the foot and beneath
		case l.Why != "":
			text += ", see note"
			if strings.HasPrefix(l.Why, "usual: ") {
				text = l.Value.Text(p.on.system) + ", " + strings.TrimSuffix(strings.SplitN(l.Why, " (", 2)[0], " ")
			}
		}
		row := flowLine{name: name, text: text, wider: true}
		row.full = name + ": " + l.Told(p.on.system) + " = " + l.Formula
		row.run = func() { p.tell(l) }
		if !l.Value.Known() {
			row.icon = iconOpen
		}
		out = append(out, row)
	}
	return out
}

// tell shows where a line comes from.
func (p *sizingPanel) tell(l sizing.Line) {
	s := p.on.system
	if p.told == l.Key+l.Of && p.detail.Visible() {
		p.detail.Hide() // a second click makes room again
		p.root.Refresh()
		return
	}
	p.told = l.Key + l.Of
	text := fmt.Sprintf("%s = %s. %s. Source: %s.", l.Label, l.Formula, sentence(l.InputWords(s)), l.SourceWords())
	if !l.Value.Known() {
		text = sentence(l.Told(s)) + ". " + text
	} else if l.Why != "" {
		text = sentence(l.Why) + ". " + text
	}
	p.detail.SetText(text)
	p.detail.Show()
	p.root.Refresh()
}

// again shows all anew: units or look have changed.
func (p *sizingPanel) again() {
	if p == nil {
		return
	}
	if len(p.figures.Objects) > 0 {
		p.showFigures()
		p.showObject()
	}
	p.show()
}

// place puts the ready station that fits on the drawing, as one step of the history.
func (p *sizingPanel) place() {
	g, err := sizing.Station(p.sheet.Proposal, p.on.cat)
	if err != nil {
		p.on.tellDialog("The station cannot be placed", sentence(err.Error())+".")
		return
	}
	p.on.placeGroupInView(g)
	p.on.tellHint(g.Title + " with the sizes of the sheet; join its supply and return to what is washed")
}

// sizingActions are what the menu has of sizing.
type sizingActions struct{ show, take, add, remove, place, csv, xlsx *action }

func (w *Window) sizingActions() sizingActions {
	some := func() bool { return w.sizing != nil && w.sizing.sheet != nil }
	export := func(ending string) func() {
		return func() {
			sheet, project, s := w.sizing.sheet, w.sizing.project, w.system
			w.exportNamed("Export the sizing", " sizing", ending, func(out io.Writer) error {
				if ending == ".csv" {
					return listing.WriteTableCSV(out, lists.Sizing(sheet, s))
				}
				return listing.WriteXLSX(out, w.circuit().Header(), []*lists.Table{lists.Sizing(sheet, s), lists.SizingAssumptions(project.Assumptions, s)})
			})
		}
	}
	shown := func(run func(p *sizingPanel)) func() {
		return func() {
			if w.tabs.at != w.sizing.tab {
				w.tabs.pick(w.sizing.tab)
			}
			run(w.sizing)
		}
	}
	return sizingActions{
		show:   &action{label: "Sizing of a station", short: "Sizing", shortcut: ctrl(fyne.KeyI), run: shown(func(p *sizingPanel) { w.focus(p.objects) })},
		take:   &action{label: "Sizing: take what is washed from the drawing", short: "Take what is washed from the drawing", run: shown(func(p *sizingPanel) { p.take() })},
		add:    &action{label: "Sizing: add an object…", short: "Add an object…", run: shown(func(p *sizingPanel) { p.askSort() })},
		remove: &action{label: "Sizing: remove the object", short: "Remove the object", enabled: func() bool { return w.sizing != nil && len(w.sizing.project.Objects) > 0 }, run: shown(func(p *sizingPanel) { p.remove() })},
		place:  &action{label: "Place the proposed station", enabled: some, run: func() { w.sizing.place() }},
		csv:    &action{label: "Export the sizing as CSV…", enabled: some, run: export(".csv")},
		xlsx:   &action{label: "Export the sizing as a workbook…", enabled: some, run: export(".xlsx")},
	}
}

// list gives the actions for a menu.
func (a sizingActions) list() []*action {
	return []*action{a.show, a.take, a.add, a.remove, nil, a.place, nil, a.csv, a.xlsx}
}
