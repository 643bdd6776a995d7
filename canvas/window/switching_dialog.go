package window

import (
	"fmt"
	"io"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// switchingChoice gives the programme that a switching list is wanted of: the one in
// the grid, or all.
func (w *Window) switchingChoice() programmeChoice {
	c := w.steps.choice
	if name, ok := w.chosenProgramme(); ok && !c.all {
		c.name = name
	}
	return c
}

// switchingLists makes the lists of what is chosen.
func (w *Window) switchingLists(of programmeChoice) []switchingList {
	names := []string{of.name}
	if of.all {
		names = w.drawing().Programmes()
	}
	var out []switchingList
	for _, n := range names {
		out = append(out, switchingOf(w.lines.plant, w.drawing(), w.nameOfID, w.units(), n))
	}
	return out
}

// exportSwitching writes the lists to a file that the user names.
func (w *Window) exportSwitching(of programmeChoice, kind string) {
	lists, c := w.switchingLists(of), w.circuit()
	suffix := "-switching"
	if !of.all {
		suffix += "-" + fileName(of.name)
	}
	w.exportNamed("Export the switching list", suffix, kind, func(out io.Writer) error { return writeSwitching(out, kind, c, lists) })
}

// askSwitching shows the switching list of a programme, to be copied or exported.
func (w *Window) askSwitching() {
	of := w.switchingChoice()
	text := widget.NewLabel("")
	text.TextStyle.Monospace = true
	text.Wrapping = fyne.TextWrapWord
	text.Selectable = true
	scroll := container.NewVScroll(text)
	plain := ""
	show := func() {
		var b strings.Builder
		if err := writeSwitching(&b, ".txt", w.circuit(), w.switchingLists(of)); err != nil {
			text.SetText(sentence(err.Error()))
			return
		}
		plain = b.String()
		text.SetText(plain)
		scroll.ScrollToTop()
	}
	names := w.drawing().Programmes()
	options := make([]string, 0, len(names)+1)
	at := 0
	for i, n := range names {
		if n == of.name {
			at = i
		}
		if n == "" {
			n = "Without a name"
		}
		options = append(options, n)
	}
	if len(names) > 1 {
		options = append(options, allProgrammes)
		if of.all {
			at = len(names)
		}
	}
	pick := newPickList(w, options, nil)
	pick.SetSelectedIndex(at)
	pick.OnChanged = func(string) {
		if i := pick.SelectedIndex(); i >= 0 && i < len(names) {
			of = programmeChoice{name: names[i]}
		} else {
			of = programmeChoice{all: true}
		}
		show()
	}
	show()
	copied := quiet("")
	var down func()
	export := func(kind string) func() {
		return func() {
			down()
			w.exportSwitching(of, kind)
		}
	}
	top := container.NewHBox(withLayout(fixedWidth(240), pick),
		newButton(w, "Copy", theme.ContentCopyIcon(), func() {
			w.app.Clipboard().SetContent(plain)
			copied.SetText(fmt.Sprintf("Copied, %d lines.", strings.Count(plain, "\n")))
			w.events.tell("copied", map[string]any{"bytes": len(plain)})
		}),
		newButton(w, "Text…", theme.DocumentSaveIcon(), export(".txt")),
		newButton(w, "CSV…", theme.DocumentSaveIcon(), export(".csv")),
		newButton(w, "Page to print…", theme.DocumentPrintIcon(), export(".html")), layout.NewSpacer(), copied)
	size := w.win.Canvas().Size()
	scroll.SetMinSize(fyne.NewSize(min(820, size.Width-100), min(560, size.Height-190)))
	down = w.askWith("Switching list", container.NewBorder(top, nil, nil, nil, scroll), fyne.NewSize(min(820, size.Width-100), 0), answer{"Close", nil})
	pick.onEscape = down
	w.focus(pick)
}
