package window

import (
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/store"
)

// askOwnName asks how the limits in use are to be called as limits of the user's own.
func (w *Window) askOwnName() {
	name := newSearchEntry("Name of these limits")
	name.Icon = nil
	name.SetText(w.profile().Title + ", our own")
	words := widget.NewLabel("All limits go into a file of your own, the changed ones with their reasons. This circuit is then checked against that file, and other circuits can be.")
	words.Wrapping = fyne.TextWrapWord
	wrong := widget.NewLabel("")
	wrong.SizeName, wrong.Importance, wrong.Wrapping = theme.SizeNameCaptionText, widget.DangerImportance, fyne.TextWrapWord
	room := canvas.NewRectangle(nil)
	room.SetMinSize(fyne.NewSize(440, 0))
	var down func()
	take := func() {
		title := trimmed(name)
		switch {
		case title == "":
			wrong.SetText("Give them a name.")
		case checks.Builtin(fileName(title)) != nil:
			wrong.SetText("The program carries limits of this name: give yours another one.")
		default:
			down()
			w.askOwnFile(title)
		}
	}
	name.OnSubmitted = func(string) { w.guard("save the limits", take) }
	down = w.askStaying("Save as own limits", container.NewVBox(room, words, name, wrong), "Choose the file…", take)
	name.onEscape = down
	w.focus(name)
	name.TypedShortcut(&fyne.ShortcutSelectAll{})
}

func (w *Window) askOwnFile(title string) {
	start := filepath.Join(w.folder(), fileName(title)+".json")
	w.chooseFile(choice{title: "Save the limits as", confirm: "Save", start: start, ending: ".json", save: true}, func(path string) {
		put := func() { w.saveOwnLimits(path, title) }
		if seen, err := store.Fingerprint(path); err == nil && seen != "" {
			w.ask("Write over the file?", filepath.Base(path)+" is there already.", answer{"Write over", put}, answer{"Cancel", nil})
			return
		}
		put()
	})
}

// saveOwnLimits writes the limits in use with the changes of the circuit, and checks
// the circuit against the file from now on: one edit that names it and takes the
// changes out, which are in it.
func (w *Window) saveOwnLimits(path, title string) {
	h := w.circuit().Header()
	own, _ := w.profile().With(h.Limits)
	data, err := own.Own(fileName(title), title, strings.TrimSpace("Made from the limits "+w.profile().Title+". "+w.profile().About))
	if err == nil {
		err = store.Save(path, data)
	}
	if err != nil {
		w.tellDialog("The limits were not saved", sentence(err.Error()))
		return
	}
	p, err := loadLimits(path)
	if err != nil {
		w.tellDialog("These limits cannot be used", filepath.Base(path)+": "+err.Error())
		return
	}
	next := model.Clone(h)
	next.Profile, next.Limits = p.Name, nil
	w.takeLimits(ownLimits{path, p})
	w.try(model.Edit{Label: "use the limits " + title, Changes: []model.Change{model.Replacing(h, next)}}, nil)
	w.props.again()
	w.tellHint("Saved the limits " + filepath.Base(path))
	w.events.tell("limits-saved", map[string]any{"path": path, "name": p.Name})
}
