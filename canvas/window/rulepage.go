package window

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/scene/rulecase"
	"rinsewright/checks"
)

// rulePages lists the rules and shows the page of the one that is picked.
type rulePages struct {
	on     *Window
	search *searchEntry
	list   *keyList
	empty  *widget.Label
	shown  []*checks.Rule
	page   *fyne.Container
	scroll *container.Scroll
	wide   float32 // of a drawing
	picked string
	down   func()
}

const rulesTitle = "Rules of the checks"

// openRules opens the pages of the rules at one of them; at the first for an empty
// name.
func (w *Window) openRules(name string) {
	p := &rulePages{on: w, search: newSearchEntry("Find a rule"), page: container.NewVBox(), empty: quiet("No rule has these words.\nTry one word of what is wrong: leg, air, rinse.")}
	p.empty.Wrapping = fyne.TextWrapWord
	p.empty.Hide()
	p.list = newKeyList(w, func() int { return len(p.shown) },
		func() fyne.CanvasObject { return newTableRow(w, columns{1}) },
		func(i widget.ListItemID, o fyne.CanvasObject) {
			if i < len(p.shown) {
				r := p.shown[i]
				o.(*tableRow).set(severityIcon(r.Doc.Severity), false, r.Doc.Title)
			}
		})
	p.list.HideSeparators = true
	p.list.OnSelected = func(i widget.ListItemID) {
		if i < len(p.shown) {
			p.show(p.shown[i])
		}
	}
	p.list.onArrow = func(by int) { p.list.Select(p.at() + by) } // beyond the ends it does nothing
	p.scroll = container.NewVScroll(container.New(sidePadding{}, p.page))
	p.search.OnChanged = func(string) { p.filter() }
	p.search.onDown = func() { w.focus(p.list) }
	p.search.OnSubmitted = func(string) {
		if len(p.shown) > 0 {
			p.pick(p.shown[0].Name)
			w.focus(p.list)
		}
	}
	body := newBeside(container.NewBorder(p.search, nil, nil, nil, container.NewStack(p.list, p.empty)), p.scroll, 0.32)
	room := w.room(body.box)
	p.wide = room.MinSize().Width*0.68 - 40
	p.down = w.askWith(rulesTitle, room, fyne.NewSize(0, 0), answer{"Close", nil})
	p.search.onEscape, p.list.onEscape = p.down, p.down
	p.filter()
	if name == "" && len(p.shown) > 0 {
		name = p.shown[0].Name
	}
	w.focus(p.search)
	p.pick(name)
	w.rulePages = p
	w.events.tell("rules", map[string]any{"rule": name})
}

// at gives the row of the rule that is shown.
func (p *rulePages) at() int {
	i := slices.IndexFunc(p.shown, func(r *checks.Rule) bool { return r.Name == p.picked })
	return max(i, 0)
}

// filter lists the rules that have all words of the search in name, title or text.
func (p *rulePages) filter() {
	words := strings.Fields(strings.ToLower(p.search.Text))
	p.shown = p.shown[:0:0]
	for _, r := range p.on.checker.rules {
		text := strings.ToLower(strings.Join([]string{r.Name, r.Doc.Title, r.Doc.Why, r.Doc.How, r.Doc.Remedy, strings.Join(r.Doc.Limits, " ")}, " "))
		if !slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(text, w) }) {
			p.shown = append(p.shown, r)
		}
	}
	slices.SortStableFunc(p.shown, func(a, b *checks.Rule) int {
		return strings.Compare(strings.ToLower(a.Doc.Title), strings.ToLower(b.Doc.Title))
	})
	p.list.UnselectAll()
	p.list.Refresh()
	if len(p.shown) == 0 {
		p.empty.Show()
	} else {
		p.empty.Hide()
	}
	p.mark()
}

// pick shows a rule and marks it in the list.
func (p *rulePages) pick(name string) {
	if r := checks.Find(p.on.checker.rules, name); r != nil {
		p.show(r)
		p.mark()
	}
}

func (p *rulePages) mark() {
	if i := slices.IndexFunc(p.shown, func(r *checks.Rule) bool { return r.Name == p.picked }); i >= 0 {
		p.list.Select(i)
		p.list.ScrollTo(i)
	}
}

// show tells all about a rule.
func (p *rulePages) show(r *checks.Rule) {
	if p.picked == r.Name {
		return
	}
	p.picked = r.Name
	w := p.on
	profile, _ := w.profile().With(w.circuit().Header().Limits)
	page := checks.PageOf(r, profile, w.units())
	p.page.RemoveAll()
	title := widget.NewLabel(page.Title)
	title.TextStyle.Bold = true
	title.SizeName = theme.SizeNameSubHeadingText
	title.Wrapping = fyne.TextWrapWord
	mark := withLayout(fixedWidth(20), widget.NewIcon(severityIcon(page.Severity)))
	p.page.Add(container.NewBorder(nil, nil, mark, nil, title))
	p.page.Add(quiet(fmt.Sprintf("rule %s, usually a %s", page.Name, page.Severity)))
	p.pair(page.Sections[0].Head, page.Sections[0].Text)
	p.example(r)
	for _, s := range page.Sections[1:] {
		p.pair(s.Head, sentence(s.Text))
	}
	for _, l := range page.Limits {
		text := fmt.Sprintf("%s: %s", sentence(l.Label), l.Value)
		if l.Changed {
			text += "\nChanged for this circuit: "
		} else {
			text += "\n"
		}
		text += sentence(l.Source)
		p.pair("Limit, from "+w.limitsTitle(profile.Name), text)
		b := newButton(w, "Show among the limits", theme.NavigateNextIcon(), func() { p.down(); w.openLimits(l.Name) })
		p.page.Add(container.NewHBox(b))
	}
	if len(page.Limits) == 0 {
		p.pair("Limits", "It reads none: what it asks for is not a number that could be set.")
	}
	for _, s := range page.Sources {
		p.pair("Source", sentence(s))
	}
	p.page.Refresh()
	p.scroll.ScrollToTop()
	p.scroll.Refresh()
}

// example shows the bad and the good case of a rule.
func (p *rulePages) example(r *checks.Rule) {
	e, err := rulecase.Of(context.Background(), r)
	if err != nil {
		p.pair("Example", sentence(err.Error()))
		return
	}
	s := p.on.units()
	for _, x := range []struct {
		head    string
		picture *draw.Picture
		words   []string
	}{{"Bad", e.BadDrawing(), e.BadWords(s)}, {"Good", e.GoodDrawing(), e.GoodWords(s)}} {
		p.page.Add(heading(x.head))
		if len(x.picture.Items) > 0 {
			p.page.Add(newSmallDrawing(x.picture, p.wide))
		}
		lines := container.New(tight)
		for i, words := range x.words {
			l := widget.NewLabel(words)
			if i == 0 && len(x.words) > 1 {
				l = quiet(words) // the step that is drawn
			}
			l.Wrapping = fyne.TextWrapWord
			lines.Add(l)
		}
		p.page.Add(lines)
	}
	save := newButton(p.on, "Export this example…", theme.DownloadIcon(), func() { p.down(); p.on.exportExample(e) })
	p.page.Add(container.NewHBox(save))
}

func (p *rulePages) pair(name, text string) {
	if text == "" {
		return
	}
	l := widget.NewLabel(text)
	l.Wrapping = fyne.TextWrapWord
	p.page.Add(container.New(tight, quiet(name), l))
}
