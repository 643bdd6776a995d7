package window

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// action is one thing that the user can ask for, however it is asked: from a
// menu, by its shortcut or from the toolbar.
type action struct {
	label    string
	short    string        // in a submenu whose title says the rest; empty: the label
	labelNow func() string // where the label changes: "Undo move V-12"
	shortcut fyne.Shortcut // shown in the menu and caught by the window
	key      string        // a plain key of the board, for the list of shortcuts
	enabled  func() bool   // nil: always
	checked  func() bool   // nil: no tick
	run      func()
	forEntry bool // a text field that has the focus takes the shortcut itself
}

func (a *action) title() string {
	if a.labelNow != nil {
		return a.labelNow()
	}
	return a.label
}

func (a *action) can() bool { return a.enabled == nil || a.enabled() }

// do runs an action unless a dialog is open or it is disabled: a shortcut
// reaches the window even then.
func (w *Window) do(a *action) {
	if a.forEntry && w.entryTakes(a.shortcut) {
		return
	}
	if w.overlayOpen() || !a.can() {
		return
	}
	w.guard(a.title(), a.run)
}

// entryTakes hands a shortcut of the menu to the text field that has the focus:
// the menu sees it first.
func (w *Window) entryTakes(s fyne.Shortcut) bool {
	field, ok := w.win.Canvas().Focused().(interface {
		fyne.Shortcutable
		SelectedText() string
	})
	if !ok {
		return false
	}
	switch s.(type) {
	case *fyne.ShortcutUndo, *fyne.ShortcutRedo:
		if e, ok := field.(*fieldEntry); ok && e.Text == e.shown {
			return false // nothing is half typed: the last edit is meant
		}
	case *fyne.ShortcutCut:
		s = &fyne.ShortcutCut{Clipboard: w.app.Clipboard()}
	case *fyne.ShortcutCopy:
		s = &fyne.ShortcutCopy{Clipboard: w.app.Clipboard()}
	case *fyne.ShortcutPaste:
		s = &fyne.ShortcutPaste{Clipboard: w.app.Clipboard()}
	}
	field.TypedShortcut(s)
	return true
}

// item makes the menu entry of an action.
func (w *Window) item(a *action) *fyne.MenuItem {
	title := a.title()
	if a.short != "" {
		title = a.short
	}
	m := fyne.NewMenuItem(title, func() { w.do(a) })
	m.Shortcut = a.shortcut
	if a.key != "" && a.shortcut == nil {
		m.Shortcut = plainKey(a.key)
	}
	m.Disabled = !a.can()
	if a.checked != nil {
		m.Checked = a.checked()
	}
	return m
}

// plainKey is a key of the board as a menu shows it, at the right like the other
// shortcuts. Fyne does not act on one without Ctrl or Alt: the board does.
func plainKey(name string) fyne.Shortcut {
	s := &desktop.CustomShortcut{}
	if rest, ok := strings.CutPrefix(name, "Shift+"); ok {
		s.Modifier, name = fyne.KeyModifierShift, rest
	}
	s.KeyName = fyne.KeyName(name)
	return s
}

func ctrl(key fyne.KeyName) fyne.Shortcut {
	return &desktop.CustomShortcut{KeyName: key, Modifier: fyne.KeyModifierShortcutDefault}
}

func ctrlShift(key fyne.KeyName) fyne.Shortcut {
	return &desktop.CustomShortcut{KeyName: key, Modifier: fyne.KeyModifierShortcutDefault | fyne.KeyModifierShift}
}
