package window

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"rinsewright/assets"
	"rinsewright/model/catalogue"
	"rinsewright/model/store"
)

// ownKinds are the kinds of parts that the user has added.
type ownKinds struct {
	folder string // where their files lie; empty: the system gives the program none
	count  int
	wrong  []*catalogue.KindError
}

// readKinds takes the user's own kinds to those of the program. It is done once,
// before anything is built: all that is shown goes by one catalogue.
func (w *Window) readKinds() {
	root := w.app.Storage().RootURI()
	if root == nil || root.Scheme() != "file" {
		return
	}
	w.own.folder = filepath.Join(root.Path(), "kinds")
	if info, err := os.Stat(w.own.folder); err != nil || !info.IsDir() {
		return
	}
	before := len(w.cat.Kinds())
	w.cat, w.own.wrong = w.cat.WithOwn(os.DirFS(w.own.folder))
	w.own.count = len(w.cat.Kinds()) - before
}

// tellKinds tells what of the user's own kinds is in the store, what is wrong
// with the others, and how one is added.
func (w *Window) tellKinds() {
	if w.own.folder == "" {
		w.tellDialog("Own kinds of parts", "This system gives the program no folder of its own.")
		return
	}
	var b strings.Builder
	fmt.Fprintf(&b, "Kinds of your own come from the files *.json in the folder\n%s\n\n", w.own.folder)
	fmt.Fprintf(&b, "%s of your own in the store, under %q.\n", plural(w.own.count, "kind"), catalogue.OwnGroup)
	for _, e := range w.own.wrong {
		fmt.Fprintf(&b, "\n%s", e.Error())
	}
	if len(w.own.wrong) > 0 {
		b.WriteString("\n\nWhat is wrong was left out; put it right and start the program again.\n")
	}
	b.WriteString(ownKindsHelp)
	w.ask("Own kinds of parts", b.String(), answer{"Write an example", w.writeExampleKind}, answer{"Close", nil})
}

const ownKindsHelp = `
A file is a list of kinds. Each has a name (kind), a title, a class (vessel, pump, valve, exchanger, spray, instrument, fitting, terminal, object or frame), a line of help, ports on a grid of 2.5 mm, the ways inside (paths between ports and inner points, with the positions in which they are open), the properties that are asked for, and a symbol: a box, figures (path, circle or text) and the place of its tag. The program's own kinds have the same form. A line of the example says more than a page: write one and change it.`

// exampleKind is the file that is written to begin with.
const exampleKind = "example.json"

// writeExampleKind writes a file with one kind, taken from those of the program.
func (w *Window) writeExampleKind() {
	path := filepath.Join(w.own.folder, exampleKind)
	if _, err := os.Stat(path); err == nil {
		w.tellDialog("Nothing was written", path+" is there already.")
		return
	}
	data, err := assets.Files.ReadFile("example/own-kinds.json")
	if err == nil {
		err = os.MkdirAll(w.own.folder, 0o755)
	}
	if err == nil {
		err = store.Save(path, data)
	}
	if err != nil {
		w.tellDialog("Nothing was written", sentence(err.Error()))
		return
	}
	w.tellDialog("An example is written", path+" holds one kind. Change it, and start the program again: it stands in the store under "+catalogue.OwnGroup+".")
}

// tellWrongKinds says at the start that something of the own kinds was left out.
func (w *Window) tellWrongKinds() {
	if n := len(w.own.wrong); n > 0 {
		w.tellHint(fmt.Sprintf("Own kinds of parts: %s. Draw, Own kinds of parts tells more", w.own.wrong[0].Error()))
		w.status.warn(true)
	}
}
