package window

import (
	"io/fs"
	"path"
	"strings"
	"sync"

	"rinsewright/assets"
	"rinsewright/model/circuitfile"
)

// demo is a circuit that the program carries with it.
type demo struct {
	file, title string
	data        []byte
}

// demos gives the circuits that the program carries, in order of their files.
// One that cannot be read is left out here; a test of the data refuses it.
var demos = sync.OnceValue(func() []demo {
	names, _ := fs.Glob(assets.Files, "demo/*"+ending) // the pattern is constant
	var out []demo
	for _, name := range names {
		data, err := fs.ReadFile(assets.Files, name)
		if err != nil {
			continue
		}
		c, err := circuitfile.Decode(path.Base(name), data)
		if err != nil {
			continue
		}
		title := c.Header().Name
		if title == "" {
			title = strings.TrimSuffix(path.Base(name), ending)
		}
		out = append(out, demo{path.Base(name), title, data})
	}
	return out
})

// Start opens what the program should begin with: the file given, else unsaved
// work that a crash left behind, else the first demo circuit.
func (w *Window) Start(given string) {
	if given != "" {
		if w.Open(given) {
			return
		}
	} else if w.offerAutosave(w.unnamedPath()) {
		return
	}
	if list := demos(); len(list) > 0 && given == "" {
		w.OpenCopy(list[0].file, list[0].data)
	}
}

// Begin is Start once the window stands on the screen, so that the drawing can
// be fitted into it and questions can be asked.
func (w *Window) Begin(given string) {
	w.fitScreen()
	w.guard("start", func() { w.Start(given) })
	w.board.tellView()
	w.events.tell("ready", map[string]any{"width": w.win.Canvas().Size().Width, "height": w.win.Canvas().Size().Height, "scale": w.win.Canvas().Scale()})
}
