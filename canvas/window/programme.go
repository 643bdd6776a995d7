package window

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"rinsewright/model"
)

// programmeChoice says which programmes the grid shows: all, or one by its name.
type programmeChoice struct {
	all  bool
	name string
}

// follow keeps to a programme that there is: the one of the step shown, else the one
// chosen before, else the first.
func (c *programmeChoice) follow(w *Window) {
	if s := w.shownStep(); s != nil {
		c.name = s.Programme
		return
	}
	if names := w.drawing().Programmes(); len(names) > 0 && !slices.Contains(names, c.name) {
		c.name = names[0]
	}
}

// steps gives the steps that are shown, in order.
func (c *programmeChoice) steps(of *model.Circuit) []*model.Step {
	var out []*model.Step
	for _, s := range of.Steps() {
		if c.all || s.Programme == c.name {
			out = append(out, s)
		}
	}
	return out
}

// chosenProgramme gives the programme that actions are for.
func (w *Window) chosenProgramme() (name string, ok bool) {
	if s := w.shownStep(); s != nil {
		return s.Programme, true
	}
	name = w.steps.choice.name
	return name, slices.Contains(w.drawing().Programmes(), name)
}

// showProgramme chooses what the grid shows and shows the first step of it.
func (w *Window) showProgramme(c programmeChoice) {
	w.steps.choice = c
	if s := w.shownStep(); !c.all && (s == nil || s.Programme != c.name) {
		if list := w.drawing().StepsOf(c.name); len(list) > 0 {
			w.tabs.pick(2)
			w.showStep(list[0].ID)
		}
	}
	w.steps.refresh()
	w.events.tell("programme", map[string]any{"name": c.name, "all": c.all, "steps": len(w.steps.steps)})
}

// turnProgramme shows the next programme, or the one before.
func (w *Window) turnProgramme(by int) {
	names := w.drawing().Programmes()
	if len(names) == 0 {
		return
	}
	at := slices.Index(names, w.steps.choice.name)
	w.showProgramme(programmeChoice{name: names[(at+by+len(names))%len(names)]})
}

// programmeActions are what can be done with programmes and line-ups.
type programmeActions struct {
	add, rename, duplicate, remove, all, before, after *action
	find, findAll, steam, empty                        *action
	list, listText, listCSV, listPage                  *action
}

func (w *Window) programmeActions() programmeActions {
	some := func() bool { _, ok := w.chosenProgramme(); return ok }
	shown := func() bool { return w.shownStep() != nil }
	of := func(run func(name string)) func() {
		return func() {
			if name, ok := w.chosenProgramme(); ok {
				run(name)
			}
		}
	}
	var a programmeActions
	a.add = &action{label: "New programme…", shortcut: ctrlShift(fyne.KeyN), run: w.askProgramme}
	a.rename = &action{label: "Rename programme…", enabled: some, run: of(w.askRename)}
	a.duplicate = &action{label: "Duplicate programme", enabled: some, run: of(func(name string) {
		d := w.drawing()
		free := d.FreeProgramme(name)
		e, err := d.DuplicateProgramme(name, free)
		if w.tellIf(w.tried(e, err)); err == nil {
			w.showProgramme(programmeChoice{name: free})
		}
	})}
	a.remove = &action{label: "Delete programme", enabled: some, run: of(w.deleteProgramme)}
	a.all = &action{label: "Show all programmes", checked: func() bool { return w.steps != nil && w.steps.choice.all }, run: func() {
		w.showProgramme(programmeChoice{all: !w.steps.choice.all, name: w.steps.choice.name})
	}}
	several := func() bool { return len(w.drawing().Programmes()) > 1 }
	a.before = &action{label: "Show the programme before", shortcut: ctrlShift(fyne.KeyPageUp), enabled: several, run: func() { w.turnProgramme(-1) }}
	a.after = &action{label: "Show the programme after", shortcut: ctrlShift(fyne.KeyPageDown), enabled: several, run: func() { w.turnProgramme(1) }}

	a.find = &action{label: "Find line-up…", shortcut: ctrlShift(fyne.KeyL), enabled: shown, run: func() { w.steps.finder.forStep() }}
	a.findAll = &action{label: "Find line-ups for all steps…", shortcut: ctrlShift(fyne.KeyP), enabled: some, run: of(func(name string) { w.steps.finder.forProgramme(name) })}
	a.steam = &action{label: "Open steam to the heaters", enabled: func() bool { return shown() && w.lines.found() }, run: w.openSteam}
	a.empty = &action{label: "Empty the line after this step", enabled: w.canEmpty, run: w.emptyAfter}

	a.list = &action{label: "Switching list…", shortcut: ctrlShift(fyne.KeyW), enabled: some, run: w.askSwitching}
	a.listText = &action{label: "Export switching list as text…", short: "As text…", enabled: some, run: func() { w.exportSwitching(w.switchingChoice(), ".txt") }}
	a.listCSV = &action{label: "Export switching list as CSV…", short: "As CSV…", enabled: some, run: func() { w.exportSwitching(w.switchingChoice(), ".csv") }}
	a.listPage = &action{label: "Export switching list as a page to print…", short: "As a page to print (HTML)…", enabled: some, run: func() { w.exportSwitching(w.switchingChoice(), ".html") }}
	return a
}

// deleteProgramme takes a programme out and shows another one.
func (w *Window) deleteProgramme(name string) {
	n := len(w.drawing().StepsOf(name))
	e, err := w.drawing().DeleteProgramme(name)
	if err := w.tried(e, err); err != nil {
		w.tellIf(err)
		return
	}
	w.showStep("")
	w.steps.choice = programmeChoice{all: w.steps.choice.all}
	if names := w.drawing().Programmes(); len(names) > 0 {
		w.showProgramme(programmeChoice{all: w.steps.choice.all, name: names[0]})
		w.showStep(w.drawing().StepsOf(names[0])[0].ID)
	}
	w.steps.refresh()
	w.tellHint("Deleted " + programmeTitle(name) + " with " + plural(n, "step") + ". Ctrl+Z brings it back.")
}

// askRename asks for another name of a programme.
func (w *Window) askRename(name string) {
	e := newSearchEntry("Name of the programme")
	e.Icon = nil
	e.SetText(name)
	wrong := widget.NewLabel("")
	wrong.Importance = widget.DangerImportance
	wrong.Wrapping = fyne.TextWrapWord
	wrong.Hide()
	var down func()
	take := func() {
		edit, err := w.drawing().RenameProgramme(name, e.Text)
		if err == nil {
			err = w.apply(edit)
		}
		if err != nil {
			wrong.SetText(sentence(plainError(err).Error()) + ".")
			wrong.Show()
			return
		}
		w.steps.choice.name = strings.TrimSpace(e.Text)
		w.steps.refresh()
		down()
	}
	e.OnSubmitted = func(string) { w.guard("rename", take) }
	e.onEscape = func() { down() }
	down = w.askStaying("Rename programme", container.NewVBox(withLayout(fixedWidth(420), e), wrong), "Rename", take)
	w.focus(e)
	e.TypedShortcut(&fyne.ShortcutSelectAll{})
}
