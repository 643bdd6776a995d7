package window

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/canvas/edit"
	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/compare"
)

// Signs of what became of something, told apart by shape.
var statusIcons = map[string]fyne.Resource{
	string(compare.Added):   svg("cmp-added", `<path d="M10 2 H14 V10 H22 V14 H14 V22 H10 V14 H2 V10 H10 Z" fill="#000000"/>`, theme.ColorNamePrimary),
	string(compare.Removed): svg("cmp-removed", `<path d="M2 10 H22 V14 H2 Z" fill="#000000"/>`, colorStop),
	string(compare.Moved):   svg("cmp-moved", `<path d="M2 10 H14 V4 L22 12 L14 20 V14 H2 Z" fill="#000000"/>`, colorQuiet),
	string(compare.Changed): svg("cmp-changed", `<path d="M12 2 L22 20 H2 Z M12 7.5 L6.2 17.6 H17.8 Z" fill="#000000" fill-rule="evenodd"/>`, colorFix),
	"finding":               svg("cmp-finding", `<path d="M12 2 C6.5 2 2 6.5 2 12 C2 17.5 6.5 22 12 22 C17.5 22 22 17.5 22 12 C22 6.5 17.5 2 12 2 Z M12 5 C15.9 5 19 8.1 19 12 C19 15.9 15.9 19 12 19 C8.1 19 5 15.9 5 12 C5 8.1 8.1 5 12 5 Z" fill="#000000" fill-rule="evenodd"/>`, colorNote),
	"mark":                  svg("cmp-mark", `<path d="M3 3 H21 V21 H3 Z M6 6 V18 H18 V6 Z" fill="#000000" fill-rule="evenodd"/>`, theme.ColorNamePrimary),
}

// compareLine is one line of the list: a record, one property of it, a finding or
// a mark.
type compareLine struct {
	what, status   string // "part", "added"
	name, label    string
	old, new       string
	id             string
	key, element   string
	at             model.Place // where to look; zero: nowhere
	deep           bool        // a property
	severity, rule string
}

// comparePanel tells what the circuit differs in from another one.
type comparePanel struct {
	of      *audit
	on      *Window
	root    fyne.CanvasObject
	list    *keyList
	head    *widget.Label
	search  *searchEntry
	kinds   map[string]*toggle
	empty   *widget.Label
	old     *model.Circuit // compared with; nil: nothing is
	oldName string
	oldLook *edit.Drawing
	before  *checks.Result // of old; nil while awaited
	between *checks.Between
	is      *compare.Comparison
	lines   []compareLine
	shown   []compareLine
	cancel  context.CancelFunc
}

var compareKinds = []string{string(compare.Added), string(compare.Removed), string(compare.Moved), string(compare.Changed), "finding", "mark"}

func newComparePanel(of *audit) *comparePanel {
	on := of.on
	p := &comparePanel{of: of, on: on, head: quiet(""), search: newSearchEntry("Find"), kinds: map[string]*toggle{}, is: &compare.Comparison{}, cancel: func() {}}
	p.head.Truncation = fyne.TextTruncateEllipsis
	p.search.OnChanged = func(string) { p.filter() }
	p.search.onKey = on.function
	p.search.onEscape = func() { p.search.SetText("") }
	filters := container.NewHBox()
	for _, k := range compareKinds {
		t := newToggle(on, statusIcons[k], "", true, func(bool) { p.filter() })
		p.kinds[k] = t
		filters.Add(t)
	}
	p.list = newKeyList(on, func() int { return len(p.shown) }, func() fyne.CanvasObject { return newFindingRow(on, false) }, p.fillRow)
	p.list.OnSelected = p.pick
	p.list.HideSeparators = true
	p.empty = widget.NewLabel("")
	p.empty.Wrapping = fyne.TextWrapWord
	p.empty.Alignment = fyne.TextAlignCenter
	csv := newButton(on, "CSV…", nil, func() { on.do(on.actions.audit.compareCSV) })
	json := newButton(on, "JSON…", nil, func() { on.do(on.actions.audit.compareJSON) })
	end := newButton(on, "End comparing", theme.CancelIcon(), func() { on.do(on.actions.audit.compareEnd) })
	row := container.NewBorder(nil, nil, filters, container.NewHBox(csv, json, end), container.NewThemeOverride(p.search, barless{}))
	head := newFindingRow(on, false)
	head.head = true
	head.icon.Hide()
	head.set(nil, [cells]string{"Where", "What", "Was", "Is"})
	p.root = container.NewBorder(container.NewVBox(row, p.head, head), nil, nil, nil,
		container.NewStack(p.list, container.New(layout.NewCustomPaddedLayout(24, 0, 20, 20), p.empty)))
	return p
}

func (p *comparePanel) fillRow(i widget.ListItemID, o fyne.CanvasObject) {
	if i >= len(p.shown) {
		return
	}
	l := &p.shown[i]
	icon := statusIcons[l.status]
	if x, ok := statusIcons[l.what]; ok {
		icon = x
	}
	text := l.what + " " + l.status
	where := sentence(l.name)
	if l.deep {
		text = l.label + ": " + orNothing(l.old) + " → " + orNothing(l.new)
	} else if l.label != "" {
		text += ": " + l.label
	}
	o.(*findingRow).set(icon, [cells]string{cellWhere: where, cellText: sentence(text), cellMeasured: l.old, cellLimit: l.new})
}

func orNothing(s string) string {
	if s == "" {
		return "nothing"
	}
	return s
}

// askCompare asks for the file to compare with.
func (w *Window) askCompare() {
	w.chooseFile(choice{title: "Compare with a file", confirm: "Compare", start: withSlash(w.folder()), ending: ending}, func(path string) {
		if c := w.readOther(path); c != nil {
			w.audit.compare.begin(c, filepath.Base(path))
		}
	})
}

// compareSaved compares with what the file holds now.
func (w *Window) compareSaved() {
	if c := w.readOther(w.file.path); c != nil {
		w.audit.compare.begin(c, filepath.Base(w.file.path)+", as saved")
	}
}

// begin compares with an older circuit until the comparison is ended.
func (p *comparePanel) begin(old *model.Circuit, name string) {
	w := p.on
	p.cancel()
	p.old, p.oldName, p.before, p.between = old, name, nil, nil
	p.oldLook = edit.NewDrawing(old, w.cat)
	p.refresh()
	p.of.titles()
	p.of.show(p.of.compTab)
	profile := w.profile()
	if own := w.profileNamed(old.Header().Profile); own != nil {
		profile = own
	}
	ctx, cancel := context.WithCancel(context.Background())
	p.cancel = cancel
	rules, onMain := w.checker.rules, w.checker.onMain
	go func() {
		result, err := checks.Run(ctx, old, w.cat, profile, rules)
		if err != nil {
			return // ended
		}
		onMain(func() {
			if p.old == old {
				p.before = result
				p.refresh()
			}
		})
	}()
	n := p.is.Counts()
	w.events.tell("compared", map[string]any{"with": name, "added": n[compare.Added], "removed": n[compare.Removed], "moved": n[compare.Moved], "changed": n[compare.Changed]})
}

// end ends the comparison.
func (p *comparePanel) end() {
	p.cancel()
	p.old, p.before, p.between, p.oldLook, p.is, p.lines, p.shown = nil, nil, nil, nil, &compare.Comparison{}, nil, nil
	p.head.SetText("")
	p.filter()
	t := p.on.tabs
	if t == nil || p.of.compTab >= len(t.titles) {
		return
	}
	t.setTitle(p.of.compTab, "Compare")
	p.on.board.refreshOverlay()
	p.on.refreshMenu()
}

// refresh compares anew.
func (p *comparePanel) refresh() {
	if p.old == nil {
		return
	}
	w := p.on
	p.is = compare.Circuits(p.old, w.circuit(), w.cat)
	p.between = nil
	if p.before != nil && w.result != nil {
		b := checks.Compare(p.before, w.result)
		p.between = &b
	}
	p.lines = p.makeLines()
	n := p.is.Counts()
	count := map[string]int{}
	for s, k := range n {
		count[string(s)] = k
	}
	for _, l := range p.lines {
		if (l.what == "finding" || l.what == "mark" && l.status == "touched") && !l.deep {
			count[l.what]++
		}
	}
	words := map[string]string{"finding": "Findings", "mark": "Marks touched"}
	for k, t := range p.kinds {
		word := words[k]
		if word == "" {
			word = sentence(k)
		}
		t.setText(fmt.Sprintf("%s %d", word, count[k]))
	}
	text := "Compared with " + p.oldName + ", which is drawn with broken lines where it differs."
	if p.between == nil {
		text += " Findings are still being compared."
	}
	p.head.SetText(text)
	p.filter()
	w.board.refreshOverlay()
}

func (p *comparePanel) makeLines() []compareLine {
	s := p.on.system
	var out []compareLine
	for _, d := range p.is.Differences {
		l := compareLine{what: string(d.Sort), status: string(d.Status), name: d.Name, id: string(d.ID), at: model.PlaceOf(d.ID)}
		out = append(out, l)
		for _, q := range d.Properties {
			out = append(out, compareLine{what: l.what, status: l.status, name: d.Name, id: l.id, label: q.Label, key: q.Key, element: q.Element, old: q.Old.In(s), new: q.New.In(s), at: l.at, deep: true})
		}
	}
	if b := p.between; b != nil {
		add := func(status string, list []checks.Finding) {
			for i := range list {
				f := &list[i]
				l := compareLine{what: "finding", status: status, name: f.Where, label: f.Text(s), id: f.ID, at: f.At, severity: f.Severity.String(), rule: f.Rule}
				if status == "went" {
					l.old = f.Severity.String()
				} else {
					l.new = f.Severity.String()
				}
				out = append(out, l)
			}
		}
		add("came", b.Came)
		add("went", b.Went)
		add("accepted", b.Accepted)
		add("counts again", b.Counts)
	}
	for _, k := range p.is.MarksTouched() {
		out = append(out, compareLine{what: "mark", status: "touched", name: markName(k) + "  " + p.on.markPlace(k), label: k.Text, id: string(k.ID), at: model.PlaceOf(k.Pin.On)})
	}
	return out
}

// kindOf tells by which toggle a line is shown.
func (l *compareLine) kindOf() string {
	if l.what == "finding" || l.what == "mark" && l.status == "touched" {
		return l.what
	}
	return l.status
}

func (p *comparePanel) filter() {
	words := strings.Fields(strings.ToLower(p.search.Text))
	p.shown = p.shown[:0:0]
	for i := range p.lines {
		l := &p.lines[i]
		if t := p.kinds[l.kindOf()]; t != nil && !t.lit {
			continue
		}
		text := strings.ToLower(strings.Join([]string{l.what, l.status, l.name, l.label, l.old, l.new, l.id, l.rule}, " "))
		if slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(text, w) }) {
			continue
		}
		p.shown = append(p.shown, *l)
	}
	p.list.UnselectAll()
	p.list.Refresh()
	switch {
	case len(p.shown) > 0:
		p.empty.Hide()
		return
	case len(p.lines) > 0:
		p.empty.SetText("Nothing passes these filters.")
	case p.old == nil:
		p.empty.SetText("Nothing is being compared. Audit, Compare with a file, or with the last saved version: what differs stands here and on the drawing.")
	default:
		p.empty.SetText("Both circuits are the same.")
	}
	p.empty.Show()
}

// pick leads to the place of a line, in the new circuit or where it was in the old
// one.
func (p *comparePanel) pick(i widget.ListItemID) {
	if i >= len(p.shown) {
		return
	}
	l := &p.shown[i]
	w := p.on
	switch r := w.circuit().Record(l.at.Element).(type) {
	case model.Part, *model.Run:
		w.gotoPlace(l.at)
	case *model.Step:
		w.showStep(r.ID)
	case *model.Mark:
		w.board.lookAt(p.of.marks.boundsOf(r))
	case nil:
		if p.oldLook != nil {
			switch p.old.Record(l.at.Element).(type) {
			case model.Part, *model.Run:
				w.board.lookAt(p.oldLook.Bounds(l.at.Element))
			}
		}
	}
}

// paintCompared draws what differs over the drawing: the old with broken lines, the
// new with a frame, and a line from where something was to where it is.
func (b *board) paintCompared() {
	if b.on.audit == nil || b.on.audit.compare.old == nil {
		return
	}
	p := b.on.audit.compare
	now := b.on.drawing()
	gone, fresh := colour(colorStop), b.accent(255)
	shown := b.view.shown(b.Size()).Grown(20)
	for _, d := range p.is.Differences {
		switch r := d.Old.(type) {
		case model.Part:
			box := p.oldLook.Box(r)
			if d.Status == compare.Removed || d.Status == compare.Moved || placed(d) {
				if shown.Touches(box) {
					c1, c2 := b.corners(box, 3)
					b.dashedBox(c1, c2, gone, 1.5)
				}
			}
			if q, ok := d.New.(model.Part); ok && placed(d) {
				b.dashed([]fyne.Position{b.view.on(box.Centre()), b.view.on(now.Box(q).Centre())}, gone, 1)
			}
		case *model.Run:
			if shown.Touches(p.oldLook.Bounds(r.ID)) && (d.Status == compare.Removed || !slices.Equal(p.oldLook.Line(r), lineNow(now, r.ID))) {
				b.dashed(b.points(p.oldLook.Line(r)), gone, 2)
			}
		}
		switch r := d.New.(type) {
		case model.Part:
			if box := now.Box(r); shown.Touches(box) {
				c1, c2 := b.corners(box, 3)
				b.over.box(c1, c2, fresh, b.accent(20), 1.5)
				b.over.icon(fyne.NewPos(c2.X, c1.Y), 12, statusIcons[string(d.Status)])
			}
		case *model.Run:
			if line := now.Line(r); shown.Touches(now.Bounds(r.ID)) {
				b.over.polyline(b.points(line), b.accent(90), 5)
			}
		}
	}
}

// placed says whether a part stands elsewhere or otherwise on the drawing.
func placed(d compare.Difference) bool {
	old, ok := d.Old.(model.Part)
	now, still := d.New.(model.Part)
	return ok && still && (old.Meta().At != now.Meta().At || old.Meta().Turn != now.Meta().Turn || old.Meta().Mirrored != now.Meta().Mirrored)
}

func lineNow(d *edit.Drawing, id model.ID) []model.Point {
	if r := d.Circuit().Run(id); r != nil {
		return d.Line(r)
	}
	return nil
}
