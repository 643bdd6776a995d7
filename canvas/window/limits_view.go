package window

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/checks"
	"rinsewright/model"
)

// limitsView lists the limits that the circuit is checked against: what the profile
// says and what the circuit says instead. Beneath, the one that is picked can be
// changed for the circuit.
type limitsView struct {
	on      *Window
	head    *widget.Label
	search  *searchEntry
	changed *toggle
	list    *keyList
	empty   *widget.Label
	shown   []checks.Limit // of the profile
	picked  string
	readers map[string][]*checks.Rule // that read a limit
	editor  *limitEditor
	resets  *button
	down    func()
}

var limitColumns = columns{0.42, 0.22, 96, 118, 0.36}

// openLimits opens the limits at one of them; at the first for an empty name.
func (w *Window) openLimits(name string) {
	v := &limitsView{on: w, head: widget.NewLabel(""), search: newSearchEntry("Find a limit or a rule"), empty: quiet(""), readers: map[string][]*checks.Rule{}}
	for _, r := range w.checker.rules {
		for _, l := range r.Doc.Limits {
			v.readers[l] = append(v.readers[l], r)
		}
	}
	v.head.Wrapping = fyne.TextWrapWord
	v.empty.Alignment = fyne.TextAlignCenter
	v.empty.Wrapping = fyne.TextWrapWord
	v.changed = newToggle(w, nil, "Changed 0", false, func(bool) { v.filter() })
	v.list = newKeyList(w, func() int { return len(v.shown) }, func() fyne.CanvasObject { return newTableRow(w, limitColumns) }, v.fill)
	v.list.HideSeparators = true
	v.list.OnSelected = func(i widget.ListItemID) {
		if i < len(v.shown) && v.shown[i].Name != v.picked {
			v.picked = v.shown[i].Name
			v.editor.show(v.picked)
		}
	}
	v.list.onArrow = func(by int) { v.list.Select(v.at() + by) }
	v.search.OnChanged = func(string) { v.filter() }
	v.search.onDown = func() { w.focus(v.list) }
	v.search.OnSubmitted = func(string) { w.focus(v.list) }
	v.editor = newLimitEditor(v)
	v.resets = newButton(w, "All back to the profile", theme.ContentUndoIcon(), func() { v.apply(v.editor.without("")) })
	save := newButton(w, "Save as own limits…", theme.DocumentSaveIcon(), func() { v.down(); w.askOwnName() })
	load := newButton(w, "Limits from file…", theme.FolderOpenIcon(), func() { v.down(); w.askLimits() })
	filters := container.NewBorder(nil, nil, v.changed, container.NewHBox(v.resets, save, load), container.NewThemeOverride(v.search, barless{}))
	top := container.NewVBox(v.head, filters, newTableHead(w, limitColumns, "Limit", "Rule", "Profile", "This circuit", "Source and standing"))
	room := w.room(container.NewBorder(top, v.editor.root, nil, nil, container.NewStack(v.list, v.empty)))
	v.down = w.askWith("Limits of the checks", room, fyne.NewSize(0, 0), answer{"Close", nil})
	v.search.onEscape, v.list.onEscape = v.down, v.down
	v.editor.escape(v.down)
	w.limitsView = v
	if name != "" {
		v.picked = name
	}
	v.refresh()
	w.focus(v.search)
	w.events.tell("limits", map[string]any{"profile": w.profile().Name, "changed": len(w.circuit().Header().Limits)})
}

func (v *limitsView) at() int {
	i := slices.IndexFunc(v.shown, func(l checks.Limit) bool { return l.Name == v.picked })
	return max(i, 0)
}

// changes gives what the circuit changes, by limit.
func (v *limitsView) changes() (*checks.Profile, map[string]checks.ChangedLimit) {
	next, all := v.on.profile().With(v.on.circuit().Header().Limits)
	out := map[string]checks.ChangedLimit{}
	for _, c := range all {
		if old, twice := out[c.Name]; !twice || old.Refused != "" {
			out[c.Name] = c
		}
	}
	return next, out
}

// refresh shows what the circuit says now.
func (v *limitsView) refresh() {
	w := v.on
	profile := w.profile()
	_, changes := v.changes()
	counted, unknown := 0, 0
	for name, c := range changes {
		if c.Refused == "" {
			counted++
		} else if _, ok := profile.Limit(name); !ok {
			unknown++
		}
	}
	text := fmt.Sprintf("%s, from %s. ", w.limitsTitle(profile.Name), w.limitsSource(profile.Name))
	if w.lacksLimits() {
		text = fmt.Sprintf("The circuit names the limits %q, which are not at hand; those of %s serve until they are loaded. ", w.circuit().Header().Profile, profile.Title)
	}
	if counted > 0 {
		text += plural(counted, "limit") + " changed for this circuit; the changes are saved in its file with their reasons."
	} else {
		text += "None is changed for this circuit."
	}
	if unknown > 0 {
		text += fmt.Sprintf(" %s of limits that this profile does not have.", plural(unknown, "change"))
	}
	v.head.SetText(text)
	v.changed.setText(fmt.Sprintf("Changed %d", len(changes)))
	v.resets.able(len(changes) > 0)
	v.filter()
}

// filter lists the limits with all words of the search in their label, name or rules.
func (v *limitsView) filter() {
	_, changes := v.changes()
	words := strings.Fields(strings.ToLower(v.search.Text))
	v.shown = v.shown[:0:0]
	for _, l := range v.on.profile().Limits() {
		text := strings.ToLower(l.Label + " " + l.Name + " " + v.rulesOf(l.Name) + " " + l.Source.String())
		if _, is := changes[l.Name]; v.changed.lit && !is || slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(text, w) }) {
			continue
		}
		v.shown = append(v.shown, l)
	}
	if !slices.ContainsFunc(v.shown, func(l checks.Limit) bool { return l.Name == v.picked }) {
		v.picked = ""
		if len(v.shown) > 0 {
			v.picked = v.shown[0].Name
		}
	}
	v.list.UnselectAll()
	v.list.Refresh()
	v.editor.show(v.picked)
	if len(v.shown) > 0 {
		v.empty.Hide()
		v.list.Select(v.at())
		v.list.ScrollTo(v.at())
		return
	}
	v.empty.SetText("No limit has these words.")
	if v.changed.lit && len(words) == 0 {
		v.empty.SetText("No limit is changed for this circuit. Pick one of all and change it with a reason.")
	}
	v.empty.Show()
}

// rulesOf names the rules that read a limit.
func (v *limitsView) rulesOf(limit string) string {
	var out []string
	for _, r := range v.readers[limit] {
		out = append(out, r.Doc.Title)
	}
	return strings.Join(out, "; ")
}

func (v *limitsView) fill(i widget.ListItemID, o fyne.CanvasObject) {
	if i >= len(v.shown) {
		return
	}
	l, s := v.shown[i], v.on.units()
	_, changes := v.changes()
	now, source := "as profile", sentence(l.Source.String())
	c, changed := changes[l.Name]
	var icon fyne.Resource
	if changed {
		now, icon = c.Is.Text(s), theme.DocumentCreateIcon()
		source = fmt.Sprintf("Changed by %s on %s: %s", orWord(c.By, "nobody named"), orWord(string(c.Date), "a day not told"), c.Reason)
		if c.Refused != "" {
			now, icon, source = "refused", iconFix, "The change does not count: "+c.Refused
		}
	}
	o.(*tableRow).set(icon, changed, sentence(l.Label), v.rulesOf(l.Name), l.Value.Text(s), now, source)
}

// orWord gives a text, or a word where there is none.
func orWord(text, word string) string {
	if text == "" {
		return word
	}
	return text
}

// apply makes the circuit's list of changed limits another one.
func (v *limitsView) apply(label string, next []model.LimitChange) {
	w := v.on
	w.guard(label, func() {
		h := w.circuit().Header()
		changed := model.Clone(h)
		changed.Limits = next
		if err := w.apply(model.Edit{Label: label, Changes: []model.Change{model.Replacing(h, changed)}}); err != nil {
			v.editor.tell(err)
			return
		}
		v.editor.shown = ""
		v.refresh()
	})
}

// today is the day of the computer's clock.
func today() model.Date { return model.DateOf(time.Now()) }
