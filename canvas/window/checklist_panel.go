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

	"rinsewright/model"
	"rinsewright/model/checklist"
)

// Signs of answers, told apart by shape: a tick, a cross, a bar, an empty box.
var replyIcons = map[model.Reply]fyne.Resource{
	model.ReplyYes:  svg("reply-yes", `<path d="M2.5 12.5 L5 10 L9.5 14.5 L19 4.5 L21.5 7 L9.5 19.5 Z" fill="#000000"/>`, theme.ColorNamePrimary),
	model.ReplyNo:   svg("reply-no", `<path d="M4.5 2 L12 9.5 L19.5 2 L22 4.5 L14.5 12 L22 19.5 L19.5 22 L12 14.5 L4.5 22 L2 19.5 L9.5 12 L2 4.5 Z" fill="#000000"/>`, colorStop),
	model.ReplyNone: svg("reply-none", `<path d="M3 10 H21 V14 H3 Z" fill="#000000"/>`, colorQuiet),
	model.ReplyOpen: svg("reply-open", `<path d="M3 3 H21 V21 H3 Z M5.5 5.5 V18.5 H18.5 V5.5 Z" fill="#000000" fill-rule="evenodd"/>`, colorFix),
}

func replyText(r model.Reply) string {
	if r == model.ReplyNone {
		return "not applicable"
	}
	return string(r)
}

// checklistPanel lists the questions that no computation can answer.
type checklistPanel struct {
	of      *audit
	on      *Window
	root    fyne.CanvasObject
	list    *keyList
	search  *searchEntry
	group   *pickList
	onlyOpe *toggle
	told    *widget.Label
	empty   *widget.Label
	detail  *answerDetail
	items   []checklist.Item
	shown   []checklist.Item
	open    int
	picked  string // question and what it is asked of
	quietly bool
}

const anyGroup = "All questions"

func itemKey(it *checklist.Item) string { return it.Question.ID + "@" + string(it.On) }

func newChecklistPanel(of *audit) *checklistPanel {
	on := of.on
	p := &checklistPanel{of: of, on: on, search: newSearchEntry("Find")}
	p.search.OnChanged = func(string) { p.filter() }
	p.search.onKey = on.function
	p.search.onEscape = func() { p.search.SetText("") }
	p.group = newPickList(on, []string{anyGroup}, func(string) {
		if !p.quietly {
			p.filter()
		}
	})
	p.group.PlaceHolder = anyGroup
	p.onlyOpe = newToggle(on, replyIcons[model.ReplyOpen], "Only open", false, func(bool) { p.filter() })
	p.list = newKeyList(on, func() int { return len(p.shown) }, func() fyne.CanvasObject { return newFindingRow(on, false) }, p.fillRow)
	p.list.OnSelected = p.pick
	p.list.HideSeparators = true
	p.empty = widget.NewLabel("")
	p.empty.Wrapping = fyne.TextWrapWord
	p.empty.Alignment = fyne.TextAlignCenter
	p.detail = newAnswerDetail(of)
	row := container.NewBorder(nil, nil, p.onlyOpe, nil, withLayout(shares{0.5, 0.5}, container.NewThemeOverride(p.search, barless{}), p.group))
	head := newFindingRow(on, false)
	head.head = true
	head.icon.Hide()
	head.set(nil, [cells]string{"Of", "Question", "Answer", "By"})
	left := container.NewBorder(container.NewVBox(row, head), nil, nil, nil,
		container.NewStack(p.list, container.New(layout.NewCustomPaddedLayout(24, 0, 20, 20), p.empty)))
	p.root = newBeside(left, p.detail.root, 0.6).box
	return p
}

func (p *checklistPanel) whose(it *checklist.Item) string {
	if it.On == "" {
		return "the circuit"
	}
	return nameOf(p.on.circuit().Record(it.On), p.on.cat)
}

func (p *checklistPanel) fillRow(i widget.ListItemID, o fyne.CanvasObject) {
	if i >= len(p.shown) {
		return
	}
	it := &p.shown[i]
	by := ""
	if it.Answer != nil {
		by = it.Answer.By
	}
	o.(*findingRow).set(replyIcons[it.Reply()], [cells]string{
		cellWhere: sentence(p.whose(it)), cellText: it.Question.Text, cellMeasured: replyText(it.Reply()), cellLimit: by,
	})
}

// refresh lists what the checklists of the limits profile ask of the circuit.
func (p *checklistPanel) refresh() {
	name := p.on.circuit().Header().Profile
	if name == "" {
		name = p.on.profile().Name
	}
	p.items = nil
	if c := p.on.circuit(); len(c.Parts())+len(c.Runs()) > 0 {
		p.items = checklist.Items(c, checklist.For(name))
	}
	p.open = checklist.Counts(p.items)[model.ReplyOpen]
	p.onlyOpe.setText(fmt.Sprintf("Only open, %d", p.open))
	var groups []string
	for i := range p.items {
		if g := p.items[i].Question.Group; !slices.Contains(groups, g) {
			groups = append(groups, g)
		}
	}
	p.quietly = true
	was := p.group.Selected
	p.group.SetOptions(append([]string{anyGroup}, groups...))
	if was != "" && was != anyGroup && !slices.Contains(groups, was) {
		p.group.SetSelected(anyGroup)
	}
	p.quietly = false
	p.filter()
}

func (p *checklistPanel) filter() {
	words := strings.Fields(strings.ToLower(p.search.Text))
	p.shown = p.shown[:0:0]
	at := -1
	for i := range p.items {
		it := &p.items[i]
		key := itemKey(it)
		if p.onlyOpe.lit && it.Reply() != model.ReplyOpen && key != p.picked {
			continue
		}
		if g := p.group.Selected; g != "" && g != anyGroup && g != it.Question.Group {
			continue
		}
		text := strings.ToLower(strings.Join([]string{it.Question.ID, it.Question.Group, it.Question.Text, p.whose(it), string(it.On)}, " "))
		if it.Answer != nil {
			text += " " + strings.ToLower(string(it.Answer.ID)+" "+it.Answer.Evidence+" "+it.Answer.By)
		}
		if slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(text, w) }) {
			continue
		}
		if key == p.picked {
			at = len(p.shown)
		}
		p.shown = append(p.shown, *it)
	}
	p.quietly = true
	p.list.UnselectAll()
	if at >= 0 {
		p.list.Select(at)
		p.list.ScrollTo(at)
		p.detail.show(&p.shown[at])
	} else {
		p.picked = ""
		p.detail.show(nil)
	}
	p.quietly = false
	p.list.Refresh()
	switch {
	case len(p.shown) > 0:
		p.empty.Hide()
		return
	case len(p.items) == 0:
		p.empty.SetText("Nothing is drawn yet, so there is nothing to ask.")
	case p.onlyOpe.lit && p.open == 0:
		p.empty.SetText("No question is open.")
	default:
		p.empty.SetText("No question passes these filters.")
	}
	p.empty.Show()
}

func (p *checklistPanel) pick(i widget.ListItemID) {
	if p.quietly || i >= len(p.shown) {
		return
	}
	it := p.shown[i]
	p.picked = itemKey(&it)
	p.detail.show(&it)
	if it.On != "" {
		p.on.doc.Select(it.On)
		p.on.board.lookAt(p.on.drawing().Bounds(it.On))
	}
	p.on.events.tell("question", map[string]any{"question": it.Question.ID, "on": string(it.On), "answer": string(it.Reply())})
}

// nextOpen picks the next question without an answer.
func (p *checklistPanel) nextOpen() {
	n := len(p.shown)
	if n == 0 {
		return
	}
	at := slices.IndexFunc(p.shown, func(it checklist.Item) bool { return itemKey(&it) == p.picked })
	for k := 1; k <= n; k++ {
		i := (max(at, -1) + k) % n
		if p.shown[i].Reply() == model.ReplyOpen {
			p.list.Unselect(i)
			p.list.Select(i)
			p.list.ScrollTo(i)
			return
		}
	}
	p.on.tellHint("No question in the list is open.")
}
