package window

import (
	"fmt"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"rinsewright/canvas/edit"
	"rinsewright/model"
	"rinsewright/model/compare"
)

// mergeDialog puts somebody else's changes of a common base and one's own together.
type mergeDialog struct {
	on     *Window
	mine   *model.Circuit
	merge  *compare.Merge
	box    *fyne.Container
	told   *widget.Label
	down   func()
	choose []*pickList // of the conflicts, in their order
}

// askMerge asks for the common base and for the other's file.
func (w *Window) askMerge() {
	w.ask("Merge somebody's changes", "Two people have changed the same circuit. The program needs the file that both began with, and then the file of the other one; your own changes are those on the board. The result is one edit that Undo takes back.",
		answer{"Choose the common base…", func() {
			w.chooseFile(choice{title: "The file that both began with", confirm: "Go on", start: withSlash(w.folder()), ending: ending}, func(base string) {
				from := w.readOther(base)
				if from == nil {
					return
				}
				w.chooseFile(choice{title: "The file of the other one", confirm: "Merge", start: withSlash(filepath.Dir(base)), ending: ending}, func(path string) {
					if theirs := w.readOther(path); theirs != nil {
						w.mergeWith(from, theirs)
					}
				})
			})
		}}, answer{"Cancel", nil})
}

func (w *Window) mergeWith(base, theirs *model.Circuit) {
	d := &mergeDialog{on: w, mine: w.circuit(), merge: compare.Three(base, w.circuit(), theirs, w.cat), box: container.NewVBox(), told: widget.NewLabel("")}
	w.audit.merging = d
	d.told.Wrapping = fyne.TextWrapWord
	d.told.TextStyle.Bold = true
	all := func(text string, c compare.Choice) *button {
		return newButton(w, text, nil, func() { d.merge.ChooseAll(c); d.refresh() })
	}
	buttons := buttonRow(w, all("All as mine", compare.Mine), all("All as theirs", compare.Theirs), all("All as in the base", compare.Base))
	size := w.win.Canvas().Size()
	scroll := container.NewVScroll(d.box)
	scroll.SetMinSize(fyne.NewSize(min(760, size.Width-80), min(420, size.Height-260)))
	d.refresh()
	d.down = w.askStaying("Merge", container.NewBorder(container.NewVBox(d.told, buttons), nil, nil, nil, scroll), "Take the result over", d.take)
	w.events.tell("merge", map[string]any{"conflicts": len(d.merge.Conflicts())})
}

var choiceWords = []struct {
	c    compare.Choice
	text string
}{{compare.Unchosen, "choose"}, {compare.Mine, "mine"}, {compare.Theirs, "theirs"}, {compare.Base, "as in the base"}}

// refresh lists the conflicts as they stand; a choice can raise or settle others.
func (d *mergeDialog) refresh() {
	w := d.on
	d.box.RemoveAll()
	d.choose = nil
	list := d.merge.Conflicts()
	n := compare.Circuits(d.mine, d.merge.Circuit(), w.cat).Counts()
	text := fmt.Sprintf("From the other one come %d added, %d removed, %d changed, %d moved on the drawing. ", n[compare.Added], n[compare.Removed], n[compare.Changed], n[compare.Moved])
	switch left := d.merge.Unresolved(); {
	case len(list) == 0:
		text += "There is no conflict."
	case left > 0:
		text += fmt.Sprintf("%s, %d still to be decided.", plural(len(list), "conflict"), left)
	default:
		text += plural(len(list), "conflict") + ", all decided."
	}
	d.told.SetText(text)
	for i := range list {
		c := list[i]
		name := widget.NewLabel(sentence(fmt.Sprintf("%s %s: %s", c.Sort, c.Name, c.Label)))
		name.TextStyle.Bold, name.Wrapping = true, fyne.TextWrapWord
		values := widget.NewLabel(fmt.Sprintf("mine: %s\ntheirs: %s\nbase: %s", orNothing(c.Mine.In(w.system)), orNothing(c.Theirs.In(w.system)), orNothing(c.Base.In(w.system))))
		values.Wrapping = fyne.TextWrapWord
		var options []string
		for _, x := range choiceWords {
			options = append(options, x.text)
		}
		pick := newPickList(w, options, nil)
		for k, x := range choiceWords {
			if x.c == c.Choice {
				pick.SetSelectedIndex(k)
			}
		}
		pick.onEscape = func() { d.down() }
		pick.OnChanged = func(string) {
			w.guard("merge", func() {
				d.merge.Choose(c, choiceWords[max(pick.SelectedIndex(), 0)].c)
				d.refresh()
			})
		}
		d.choose = append(d.choose, pick)
		d.box.Add(container.NewVBox(name, container.NewBorder(nil, nil, nil, withLayout(fixedWidth(170), container.NewVBox(pick)), values), widget.NewSeparator()))
	}
	d.box.Refresh()
}

// take makes the merged circuit one edit of the board's.
func (d *mergeDialog) take() {
	w := d.on
	if w.circuit() != d.mine {
		d.told.SetText("The circuit on the board has changed meanwhile. Close this and merge again.")
		return
	}
	e, err := d.merge.Edit("merge somebody's changes")
	if err != nil {
		d.told.SetText(fmt.Sprintf("Decide all conflicts first: %d are open.", d.merge.Unresolved()))
		return
	}
	d.down()
	if e.Empty() {
		w.tellHint("The other file holds nothing that is not here already.")
		return
	}
	if err := w.apply(e); err != nil {
		w.tellIf(err)
		return
	}
	w.board.flash(edit.Added(e)...)
	w.tellHint("Merged. Undo takes all of it back.")
	w.events.tell("merged", map[string]any{"changes": len(e.Changes)})
}
