package window

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// choice says what file is to be chosen.
type choice struct {
	title, confirm string
	start          string // path that stands there at first; of a folder it ends in a separator
	ending         string // ".circuit.json": files that are listed, and what a new name gets
	save           bool   // the file need not be there
}

// fileEntry is one line of a folder.
type fileEntry struct {
	name   string
	folder bool
}

// chooser asks for a file: by its typed path, or by leading through folders.
type chooser struct {
	on     *Window
	want   choice
	path   *searchEntry
	list   *widget.List
	here   *widget.Label
	wrong  *widget.Label
	folder string
	rows   []fileEntry
	name   *searchEntry // of a new folder; hidden until it is asked for
	down   func()
	done   func(path string)
}

// chooseFile asks for a file and calls done with its absolute path.
func (w *Window) chooseFile(want choice, done func(path string)) {
	w.chooser = &chooser{on: w, want: want, done: done, path: newSearchEntry("Path of the file"), here: quiet(""), wrong: widget.NewLabel("")}
	c := w.chooser
	c.path.Icon = nil
	c.path.SetText(want.start)
	c.path.OnChanged = func(string) { c.follow() }
	c.path.OnSubmitted = func(string) { c.take() }
	c.here.Truncation = fyne.TextTruncateEllipsis
	c.wrong.Importance = widget.DangerImportance
	c.wrong.SizeName = theme.SizeNameCaptionText
	c.wrong.Wrapping = fyne.TextWrapWord
	c.list = widget.NewList(func() int { return len(c.rows) },
		func() fyne.CanvasObject {
			return container.NewBorder(nil, nil, widget.NewIcon(theme.FileIcon()), nil, widget.NewLabel(""))
		},
		func(i widget.ListItemID, o fyne.CanvasObject) {
			row := o.(*fyne.Container).Objects
			row[0].(*widget.Label).SetText(c.rows[i].name)
			icon := theme.FileIcon()
			if c.rows[i].folder {
				icon = theme.FolderIcon()
			}
			row[1].(*widget.Icon).SetResource(icon)
		})
	c.list.OnSelected = func(i widget.ListItemID) {
		c.list.UnselectAll()
		c.enter(c.rows[i])
	}
	up := widget.NewButtonWithIcon("Up", theme.MoveUpIcon(), func() { c.goTo(filepath.Dir(c.folder)) })
	home := widget.NewButtonWithIcon("Home", theme.HomeIcon(), func() {
		if h, err := os.UserHomeDir(); err == nil {
			c.goTo(h)
		}
	})
	room := canvas.NewRectangle(nil)
	size := w.win.Canvas().Size()
	room.SetMinSize(fyne.NewSize(min(620, size.Width-120), min(320, size.Height-260)))
	body := container.NewBorder(
		container.NewVBox(c.path, c.wrong, container.NewBorder(nil, nil, container.NewHBox(up, home, c.newFolder()), nil, c.here), c.name),
		nil, nil, nil, container.NewStack(room, c.list))
	var closed bool
	cancel := func() {
		if !closed {
			closed = true
			c.down()
		}
	}
	c.path.onEscape = cancel
	c.path.onDown = func() { w.focus(c.list) }
	c.down = w.askStaying(want.title, body, want.confirm, c.take)
	c.follow()
	w.focus(c.path)
	w.selectName(c.path, want)
}

// selectName selects the name in a path, so that typing replaces it.
func (w *Window) selectName(e *searchEntry, want choice) {
	if !want.save {
		e.CursorColumn = len([]rune(e.Text))
		e.Refresh()
		return
	}
	e.TypedShortcut(&fyne.ShortcutSelectAll{})
}

func withSlash(folder string) string {
	if strings.HasSuffix(folder, string(filepath.Separator)) {
		return folder
	}
	return folder + string(filepath.Separator)
}

// follow lists the folder of what is typed.
func (c *chooser) follow() {
	c.tell("")
	path := absolute(c.path.Text)
	folder, begun := filepath.Dir(path), filepath.Base(path)
	if strings.HasSuffix(c.path.Text, string(filepath.Separator)) || c.path.Text == "" {
		folder, begun = path, ""
	}
	if c.want.save {
		begun = ""
	}
	c.folder = folder
	c.here.SetText(folder)
	c.rows = nil
	entries, err := os.ReadDir(folder)
	if err != nil {
		c.here.SetText(folder + ": no such folder")
	}
	for _, e := range entries {
		name := e.Name()
		folder := e.IsDir()
		switch {
		case strings.HasPrefix(name, "."):
		case !folder && !strings.HasSuffix(name, c.want.ending):
		case begun != "" && !strings.HasPrefix(strings.ToLower(name), strings.ToLower(begun)):
		default:
			c.rows = append(c.rows, fileEntry{name, folder})
		}
	}
	slices.SortStableFunc(c.rows, func(a, b fileEntry) int {
		if a.folder != b.folder {
			if a.folder {
				return -1
			}
			return 1
		}
		return strings.Compare(strings.ToLower(a.name), strings.ToLower(b.name))
	})
	c.list.Refresh()
}

func (c *chooser) enter(e fileEntry) {
	path := filepath.Join(c.folder, e.name)
	if e.folder {
		c.goTo(path)
		c.on.focus(c.path)
		c.path.CursorColumn = len([]rune(c.path.Text))
		c.path.Refresh()
		return
	}
	c.path.SetText(path)
	c.on.focus(c.path)
}

// goTo lists another folder. The name that was typed for a file to be saved is
// kept.
func (c *chooser) goTo(folder string) {
	name := ""
	if c.want.save && !strings.HasSuffix(c.path.Text, string(filepath.Separator)) {
		name = filepath.Base(c.path.Text)
	}
	c.path.SetText(withSlash(folder) + name)
}

// newFolder makes the button and the hidden field for a new folder.
func (c *chooser) newFolder() fyne.CanvasObject {
	c.name = newSearchEntry("Name of the new folder; Return makes it")
	c.name.Icon = nil
	c.name.Hide()
	c.name.onEscape = func() { c.name.Hide(); c.on.focus(c.path) }
	c.name.OnSubmitted = func(name string) { c.makeFolder(name) }
	return widget.NewButtonWithIcon("New folder", theme.FolderNewIcon(), func() {
		c.name.SetText("")
		c.name.Show()
		c.on.focus(c.name)
	})
}

// makeFolder makes a folder in the one that is listed and goes there.
func (c *chooser) makeFolder(name string) {
	name = strings.TrimSpace(name)
	if name == "" || name != filepath.Base(name) || name == "." || name == ".." {
		c.tell("Type a plain name for the folder.")
		return
	}
	path := filepath.Join(c.folder, name)
	if err := os.Mkdir(path, 0o755); err != nil {
		switch {
		case errors.Is(err, os.ErrExist):
			c.tell(name + " is there already.")
		case errors.Is(err, os.ErrPermission):
			c.tell("You have no permission to make a folder here.")
		default:
			c.tell(sentence(err.Error()))
		}
		return
	}
	c.name.Hide()
	c.goTo(path)
	c.on.focus(c.path)
}

// take accepts the path if it can be one.
func (c *chooser) take() {
	text := strings.TrimSpace(c.path.Text)
	path := absolute(text)
	info, err := os.Stat(path)
	switch {
	case text == "" || strings.HasSuffix(text, string(filepath.Separator)):
		c.tell("Type a name for the file, or pick one from the list.")
		return
	case err == nil && info.IsDir():
		c.path.SetText(withSlash(path))
		return
	case err != nil && !c.want.save:
		if _, err := os.Stat(path + c.want.ending); err != nil {
			c.tell("There is no such file.")
			return
		}
		path += c.want.ending
	case c.want.save && !strings.HasSuffix(path, c.want.ending):
		path += c.want.ending
	}
	if info, err := os.Stat(filepath.Dir(path)); err != nil || !info.IsDir() {
		c.tell("There is no folder " + filepath.Dir(path) + ".")
		return
	}
	c.down()
	c.on.guard(c.want.title, func() { c.done(path) })
}

func (c *chooser) tell(text string) {
	c.wrong.SetText(text)
	if text == "" {
		c.wrong.Hide()
	} else {
		c.wrong.Show()
	}
}

func (w *Window) askOpen() {
	w.unlessDirty("They are lost when another one is opened.", func() {
		w.chooseFile(choice{title: "Open a circuit", confirm: "Open", start: withSlash(w.folder()), ending: ending}, func(path string) { w.Open(path) })
	})
}
