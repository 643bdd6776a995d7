package window

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

// propertyPanel shows and edits what is selected, or the circuit's header.
type propertyPanel struct {
	on         *Window
	root       fyne.CanvasObject
	title      *widget.Label
	sub        *widget.Label
	help       *widget.Label
	foot       *fyne.Container // of the help; hidden while there is none
	scroll     *container.Scroll
	form       *form
	typedCurve model.ID // pump of which the curve has an empty line for a next point
	shape      string   // of the form that stands: what must be the same for its rows to fit
}

func newPropertyPanel(on *Window) *propertyPanel {
	p := &propertyPanel{on: on}
	p.title = widget.NewLabel("")
	p.title.SizeName = theme.SizeNameSubHeadingText
	p.title.TextStyle.Bold = true
	p.title.Truncation = fyne.TextTruncateEllipsis
	p.sub = quiet("")
	p.sub.Wrapping = fyne.TextWrapWord
	p.help = quiet("")
	p.help.Wrapping = fyne.TextWrapWord
	p.help.SizeName = theme.SizeNameCaptionText
	p.scroll = container.NewVScroll(container.NewVBox())
	head := container.New(tight, p.title, p.sub)
	p.foot = container.NewVBox(widget.NewSeparator(), p.help)
	p.foot.Hide()
	foot := p.foot
	p.root = panel(container.NewBorder(container.NewVBox(head, widget.NewSeparator()), foot, nil, nil, scrolledForm(p.scroll)))
	return p
}

// refresh shows the present selection as the circuit holds it.
func (p *propertyPanel) refresh() {
	records := p.on.selectedRecords()
	if shape := p.shapeOf(records); shape != p.shape || p.form == nil {
		p.rebuild(records)
		p.shape = shape
	}
	p.title.SetText(p.titleOf(records))
	p.sub.SetText(p.subOf(records))
	p.form.refresh()
}

// again builds the form anew: the units or the theme have changed.
func (p *propertyPanel) again() {
	p.shape = ""
	p.form = nil
	p.refresh()
}

func (p *propertyPanel) shapeOf(records []model.Record) string {
	s := fmt.Sprint(p.on.units(), p.on.shownStep() != nil, len(records) == 0 && p.on.lacksLimits())
	if step := p.on.shownStep(); step != nil {
		s += fmt.Sprint(step.Source, step.Destination)
	}
	for _, r := range records {
		s += " " + string(r.RecordID())
		switch r := r.(type) {
		case *model.Pump:
			s += fmt.Sprint(r.Kind, len(r.Curve), p.typedCurve == r.ID)
		case *model.Valve:
			s += r.Kind + p.on.drawing().Beyond(r.ID, "a") + p.on.drawing().Beyond(r.ID, "b")
		case model.Part:
			s += r.Meta().Kind
		case *model.Run:
			s += fmt.Sprint(len(r.Stretches))
		}
	}
	return s
}

func (p *propertyPanel) titleOf(records []model.Record) string {
	switch len(records) {
	case 0:
		return "This circuit"
	case 1:
		switch r := records[0].(type) {
		case model.Part:
			return titleOf(r, p.on.cat)
		case *model.Run:
			return "Pipe run"
		}
	}
	return p.countOf(records) + " selected"
}

// countOf counts what is selected: "2 parts and 1 run".
func (p *propertyPanel) countOf(records []model.Record) string {
	parts, runs := 0, 0
	for _, r := range records {
		if _, ok := r.(*model.Run); ok {
			runs++
		} else {
			parts++
		}
	}
	var words []string
	if parts > 0 {
		words = append(words, plural(parts, "part"))
	}
	if runs > 0 {
		words = append(words, plural(runs, "run"))
	}
	return strings.Join(words, " and ")
}

// plural counts things: "1 part", "2 parts".
func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

func (p *propertyPanel) subOf(records []model.Record) string {
	if len(records) == 0 {
		c := p.on.circuit()
		return plural(len(c.Parts()), "part") + ", " + plural(len(c.Runs()), "run") + ", " + plural(len(c.Steps()), "step")
	}
	if len(records) == 1 {
		switch r := records[0].(type) {
		case model.Part:
			if k := p.on.cat.Kind(r.Meta().Kind); k != nil {
				return k.Help
			}
		case *model.Run:
			return p.endName(r.From) + " to " + p.endName(r.To)
		}
	}
	return "A value typed here is set for all of them."
}

// endName says on what a run ends: "V-231 a", "tee branch".
func (p *propertyPanel) endName(e model.End) string {
	part := p.on.circuit().Part(e.Part)
	if part == nil {
		return "a loose end"
	}
	name := part.Meta().Tag
	if name == "" {
		name = strings.ToLower(titleOf(part, p.on.cat))
	}
	if k := p.on.cat.Kind(part.Meta().Kind); k != nil && len(k.Ports) > 1 {
		if port, ok := k.Port(e.Port); ok && port.Title != "" {
			return name + " " + strings.ToLower(port.Title)
		}
		return name + " " + plainWords(e.Port)
	}
	return name
}

func (p *propertyPanel) rebuild(records []model.Record) {
	var ids []model.ID
	for _, r := range records {
		ids = append(ids, r.RecordID())
	}
	if len(ids) == 0 {
		ids = []model.ID{model.HeaderID}
		p.form = newForm(p.on, ids)
		p.headerRows()
	} else {
		p.form = newForm(p.on, ids)
		p.recordRows(records)
	}
	p.scroll.Content = container.New(sidePadding{}, p.form.box)
	p.scroll.Offset = fyne.Position{}
	p.scroll.Refresh()
	p.on.tellHelp("")
}

func (p *propertyPanel) headerRows() {
	f := p.form
	f.words("name", "Name", "What the circuit is called on drawings and reports.", 1)
	f.words("plant", "Plant", "Where it stands.", 1)
	f.words("author", "Author", "Who drew it.", 1)
	f.words("revision", "Revision", "Letter or number of this state of the drawing.", 1)
	f.words("date", "Date", "Of the revision.", 1)
	f.choice("Limits", "The set of limits that the circuit is checked against.", p.on.limitsNames(), false, p.on.limitsTitle,
		func() string {
			if pr := p.on.profileNamed(p.on.circuit().Header().Profile); pr != nil {
				return pr.Name
			}
			return ""
		},
		p.on.setProfile)
	f.fact("Limits from", func() string { return p.on.limitsSource(p.on.circuit().Header().Profile) })
	if p.on.lacksLimits() {
		f.remark(fmt.Sprintf("The circuit names the limits %q, which are not at hand: it is checked against %s instead. Limits from file, in the menu Check, loads them.",
			p.on.circuit().Header().Profile, p.on.profile().Title))
	}
	f.words("note", "Note", "Anything a reader should know.", 3)
	if len(p.on.circuit().Parts()) == 0 {
		f.remark("Nothing is drawn yet. Drag a tank from the left onto the board to begin, then a pump, and pull a run from one port to the other.")
	}
}

func (p *propertyPanel) recordRows(records []model.Record) {
	f := p.form
	parts, runs := 0, 0
	for _, r := range records {
		switch r.(type) {
		case model.Part:
			parts++
		case *model.Run:
			runs++
		}
	}
	one := len(records) == 1
	if one {
		p.tagRow()
		if part, ok := records[0].(model.Part); ok {
			p.stateRow(part)
		}
	}
	for _, key := range p.commonKeys(records) {
		f.property(key)
	}
	switch {
	case one && runs == 1:
		p.runRows()
	case one && parts == 1:
		p.partRows(records[0].(model.Part))
	}
	if parts == len(records) || runs == len(records) {
		f.words("note", "Note", "Anything a reader should know.", 2)
	}
}

func (p *propertyPanel) tagRow() {
	p.form.words("tag", "Tag", "How it is named on drawings and lists. No two may be the same.", 1)
}

// commonKeys lists the properties that all records have, in the order of the
// first one's kind. What no kind lists but is known is shown too.
func (p *propertyPanel) commonKeys(records []model.Record) []string {
	out := p.keysOf(records[0])
	for _, r := range records[1:] {
		other := p.keysOf(r)
		out = slices.DeleteFunc(out, func(key string) bool {
			a, okA := model.FindProperty(records[0], key)
			b, okB := model.FindProperty(r, key)
			return !slices.Contains(other, key) || !okA || !okB || a.Type != b.Type
		})
	}
	return out
}

func (p *propertyPanel) keysOf(r model.Record) []string {
	var out []string
	part, isPart := r.(model.Part)
	if isPart {
		out = append(out, "elevation_m")
		if k := p.on.cat.Kind(part.Meta().Kind); k != nil {
			for _, info := range k.Properties {
				if !slices.Contains(out, info.Key) {
					out = append(out, info.Key)
				}
			}
		}
	}
	for _, prop := range model.Properties(r) {
		_, known := prop.Value(r)
		if (!isPart || known) && !slices.Contains(out, prop.Key) {
			out = append(out, prop.Key)
		}
	}
	// A list such as a pump's curve is no single value to type.
	return slices.DeleteFunc(out, func(key string) bool {
		prop, ok := model.FindProperty(r, key)
		return !ok || prop.Type.Kind() == reflect.Slice
	})
}

// partRows adds what stands beside the properties of one part: its position in
// the shown step and what is computed.
func (p *propertyPanel) partRows(part model.Part) {
	f := p.form
	if pump, ok := part.(*model.Pump); ok {
		p.curveRows(pump.ID)
	}
	if prop, ok := model.FindProperty(part, "size"); ok && prop.Type == reflect.TypeFor[model.TubeSize]() {
		f.fact("Inside diameter", func() string {
			return quantity.OptText(p.on.cat.Bore(p.form.records()[0].(model.Part), "size"), p.on.units())
		})
	}
	p.stepRows(part)
}

func (p *propertyPanel) positionRow(id model.ID) {
	valve, _ := p.on.circuit().Part(id).(*model.Valve)
	kind := p.on.cat.Kind(valve.Kind)
	words := func(pos string) string {
		if v, ok := p.on.circuit().Part(id).(*model.Valve); ok {
			return p.on.drawing().PositionWords(v, pos)
		}
		return plainWords(pos)
	}
	c := newChoiceField(kind.Positions, false, words, func(pos string) error {
		s := p.on.shownStep()
		v, ok := p.on.circuit().Part(id).(*model.Valve)
		if s == nil || !ok {
			return nil
		}
		return p.on.setPosition(s, v, pos)
	})
	row := newFieldRow("Position in step", "", c)
	c.problem = tellRow(row)
	c.onKey = p.on.function
	c.onFocus = p.form.helpOn("Position", "Where the valve stands in the step that is shown on the drawing.")
	p.form.add(row, func() {
		if v, ok := p.on.circuit().Part(id).(*model.Valve); ok {
			pos, _ := positionOf(v, kind, p.on.shownStep())
			c.setShown(pos, false)
		}
	})
}

func (p *propertyPanel) runningRow(id model.ID) {
	c := newChoiceField([]string{pumpRuns, pumpStopped}, false, nil, func(v string) error {
		s := p.on.shownStep()
		if s == nil {
			return nil
		}
		return p.on.setRunning(s, id, v == pumpRuns)
	})
	row := newFieldRow("Pump in step", "", c)
	c.problem = tellRow(row)
	c.onKey = p.on.function
	c.onFocus = p.form.helpOn("Pump", "Whether it runs in the step that is shown on the drawing.")
	p.form.add(row, func() {
		s := p.on.shownStep()
		state := pumpStopped
		if s != nil && slices.Contains(s.Running, id) {
			state = pumpRuns
		}
		c.setShown(state, false)
	})
}
