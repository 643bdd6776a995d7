package window

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/checks"
	"rinsewright/model"
)

// findingsPanel lists findings, or what could not be assessed; picking one leads
// to its place and tells all about it.
type findingsPanel struct {
	on     *Window
	open   bool // lists what could not be assessed
	root   fyne.CanvasObject
	list   *keyList
	search *searchEntry
	rule   *pickList
	marks  map[checks.Severity]*toggle
	empty  *widget.Label
	detail *findingDetail
	all    []checks.Finding
	shown  []checks.Finding
	titles map[string]string // of rules
	head   *findingRow
	picked string // id of the finding picked

	register *toggle          // lists the accepted ones; nil in a list of what is open
	accepted []checks.Finding // and those whose acceptance does not hold
	judged   map[model.ID]checks.Judgement

	resume  int // row to go on from when the picked finding is gone; -1: none
	quietly bool
}

const anyRule = "All rules"

func newFindingsPanel(on *Window, open bool) *findingsPanel {
	p := &findingsPanel{on: on, open: open, search: newSearchEntry("Find"), titles: map[string]string{}, marks: map[checks.Severity]*toggle{}, resume: -1}
	for _, r := range on.checker.rules {
		p.titles[r.Name] = r.Doc.Title
	}
	p.search.OnChanged = func(string) { p.filter() }
	p.search.onKey = on.function
	p.search.onEscape = func() { p.search.SetText("") }
	p.rule = newPickList(on, []string{anyRule}, func(string) {
		if !p.quietly {
			p.filter()
		}
	})
	p.rule.PlaceHolder = anyRule
	p.list = newKeyList(on, func() int { return len(p.shown) }, p.newRow, p.fillRow)
	p.list.OnSelected = p.pick
	p.list.HideSeparators = true
	p.empty = widget.NewLabel("")
	p.empty.Wrapping = fyne.TextWrapWord
	p.empty.Alignment = fyne.TextAlignCenter
	p.detail = newFindingDetail(on)
	filters := container.NewHBox()
	if !open {
		for _, s := range []checks.Severity{checks.Stop, checks.Fix, checks.Note} {
			t := newToggle(on, severityIcon(s), sentence(s.String())+" 0", true, func(bool) { p.filter() })
			p.marks[s] = t
			filters.Add(t)
		}
		p.register = newToggle(on, theme.ConfirmIcon(), "Accepted 0", false, p.showRegister)
		filters.Add(p.register)
	}
	row := container.NewBorder(nil, nil, filters, nil,
		withLayout(shares{0.5, 0.5}, container.NewThemeOverride(p.search, barless{}), p.rule))
	head := newFindingRow(on, open)
	p.head, head.head, head.of = head, true, p
	head.icon.Hide()
	titles := [cells]string{"Where", "What", "Measured", "Limit"}
	if open {
		titles[cellText] = "What is missing"
	}
	head.set(nil, titles)
	left := container.NewBorder(container.NewVBox(row, head), nil, nil, nil,
		container.NewStack(p.list, container.New(layout.NewCustomPaddedLayout(24, 0, 20, 20), p.empty)))
	p.root = newBeside(left, p.detail.root, 0.62).box
	return p
}

func (p *findingsPanel) newRow() fyne.CanvasObject {
	r := newFindingRow(p.on, p.open)
	r.of = p
	return r
}

func (p *findingsPanel) fillRow(i widget.ListItemID, o fyne.CanvasObject) {
	if i >= len(p.shown) {
		return
	}
	f := &p.shown[i]
	icon := severityIcon(f.Severity)
	o.(*findingRow).at = i
	if p.open {
		icon = iconOpen
	} else if p.register.lit {
		icon, texts := p.acceptedCells(f)
		o.(*findingRow).set(icon, texts)
		return
	}
	o.(*findingRow).set(icon, [cells]string{
		cellWhere:    sentence(f.Where),
		cellText:     sentence(f.Text(p.on.units())),
		cellMeasured: f.Measured.Text(p.on.units()),
		cellLimit:    f.Limit.Text(p.on.units()),
	})
}

func (p *findingsPanel) title(f *checks.Finding) string {
	if t := p.titles[f.Rule]; t != "" {
		return t
	}
	return plainWords(f.Rule)
}

// set lists the findings of a result.
func (p *findingsPanel) set(all []checks.Finding) {
	p.all = all
	count := map[checks.Severity]int{}
	var rules []string
	for i := range all {
		count[all[i].Severity]++
		if t := p.title(&all[i]); !slices.Contains(rules, t) {
			rules = append(rules, t)
		}
	}
	slices.Sort(rules)
	for s, t := range p.marks {
		t.setText(fmt.Sprintf("%s %d", sentence(s.String()), count[s]))
	}
	p.quietly = true
	was := p.rule.Selected
	p.rule.SetOptions(append([]string{anyRule}, rules...))
	if was != "" && was != anyRule && !slices.Contains(rules, was) {
		p.rule.SetSelected(anyRule)
	}
	p.quietly = false
	p.filter()
}

// filter shows what passes severity, rule and words. The finding that was picked
// stays picked.
func (p *findingsPanel) filter() {
	words := strings.Fields(strings.ToLower(p.search.Text))
	p.shown = p.shown[:0:0]
	at := -1
	all := p.listed()
	for i := range all {
		f := &all[i]
		if t := p.marks[f.Severity]; t != nil && !t.lit && !p.open {
			continue
		}
		if r := p.rule.Selected; r != "" && r != anyRule && p.title(f) != r {
			continue
		}
		text := strings.ToLower(p.title(f) + " " + f.Where + " " + f.Rule + " " + f.ID + " " + f.Text(p.on.units()))
		if slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(text, w) }) {
			continue
		}
		if f.ID == p.picked {
			at = len(p.shown)
		}
		p.shown = append(p.shown, *f)
	}
	p.quietly = true
	p.list.UnselectAll()
	next := -1
	switch {
	case at >= 0:
		p.list.Select(at)
		p.list.ScrollTo(at)
		p.detail.show(&p.shown[at])
	case p.resume >= 0 && len(p.shown) > 0:
		next = min(p.resume, len(p.shown)-1)
	case p.picked != "":
		p.picked = ""
		p.detail.show(nil)
		p.on.findingPicked(nil)
	}
	p.quietly = false
	p.list.Refresh()
	p.tellEmpty()
	p.resume = -1
	if next >= 0 {
		p.goOn(next)
	}
}

// goOn picks the finding that has taken the place of one that was put right. The
// view stays a moment where the remedy is to be seen.
func (p *findingsPanel) goOn(at int) {
	f := p.shown[at]
	p.picked = f.ID
	p.quietly = true
	p.list.Select(at)
	p.list.ScrollTo(at)
	p.quietly = false
	p.detail.show(&f)
	p.on.board.markHere(&f)
	p.on.later(flashFor, func() {
		if p.picked == f.ID {
			p.on.board.mark(p.on.board.picked)
		}
	})
}

func (p *findingsPanel) tellEmpty() {
	switch {
	case len(p.shown) > 0:
		p.empty.Hide()
		return
	case len(p.listed()) > 0:
		p.empty.SetText("Nothing in the list passes these filters.")
	case p.on.result == nil:
		p.empty.SetText("Checking…")
	case len(p.on.circuit().Parts()) == 0:
		p.empty.SetText("Nothing is drawn yet, so there is nothing to check.")
	case p.register != nil && p.register.lit:
		p.empty.SetText("No finding of this circuit is accepted.\nPick one that has to stay as it is, and accept it with a reason: it is then listed here and no longer counts.")
	case p.open:
		p.empty.SetText("Everything that the rules ask for is known.")
	case len(p.on.result.NotAssessed) > 0:
		p.empty.SetText("No findings: every rule that could be assessed is met.\nOpen because data is missing: " + plural(len(p.on.result.NotAssessed), "judgement") + ", see \"Not assessed\".")
	default:
		p.empty.SetText("No findings: every rule is met.")
	}
	p.empty.Show()
}

func (p *findingsPanel) pick(i widget.ListItemID) {
	if p.quietly || i >= len(p.shown) {
		return
	}
	f := p.shown[i]
	p.picked = f.ID
	p.detail.show(&f)
	p.on.findingPicked(&f)
}

// step picks the next or the previous finding.
func (p *findingsPanel) step(by int) {
	if len(p.shown) == 0 {
		return
	}
	at := slices.IndexFunc(p.shown, func(f checks.Finding) bool { return f.ID == p.picked })
	switch {
	case at < 0 && by < 0:
		at = len(p.shown) - 1
	case at < 0:
		at = 0
	default:
		at = (at + by + len(p.shown)) % len(p.shown)
	}
	p.list.Unselect(at)
	p.list.Select(at)
	p.list.ScrollTo(at)
}

// again writes all anew: the units have changed.
func (p *findingsPanel) again() {
	p.filter()
}

// markLayout sets a small icon before a word.
type markLayout struct{}

func (markLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(70, o[1].MinSize().Height)
}

func (markLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	const side = 15
	o[0].Move(fyne.NewPos(6, (s.Height-side)/2))
	o[0].Resize(fyne.NewSize(side, side))
	o[1].Move(fyne.NewPos(side+5, 0))
	o[1].Resize(fyne.NewSize(s.Width-side-5, s.Height))
}

// shares gives each object a part of the width.
type shares []float32

func (h shares) MinSize(o []fyne.CanvasObject) fyne.Size {
	height := float32(0)
	for _, x := range o {
		height = max(height, x.MinSize().Height)
	}
	return fyne.NewSize(float32(100*len(o)), height)
}

func (h shares) Layout(o []fyne.CanvasObject, s fyne.Size) {
	x := float32(0)
	for i, obj := range o {
		w := s.Width * h[i]
		obj.Move(fyne.NewPos(x, 0))
		obj.Resize(fyne.NewSize(w-theme.Padding(), s.Height))
		x += w
	}
}
