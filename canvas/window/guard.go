package window

import (
	"fmt"
	"os"
	"runtime/debug"
)

// guard runs what a hand has asked for. A fault in it must not take the drawing
// along: the work is kept beside the file, and the user is told.
func (w *Window) guard(what string, run func()) {
	defer func() {
		x := recover()
		if x == nil {
			return
		}
		fmt.Fprintf(os.Stderr, "rinsewright: fault in %q: %v\n%s", what, x, debug.Stack())
		w.events.tell("fault", map[string]any{"in": what, "fault": fmt.Sprint(x)})
		kept := w.saving.now()
		text := fmt.Sprintf("%q failed inside the program and was not done. The circuit on the board is as it was before.\n\nFault: %v", what, x)
		if kept != "" {
			text += "\n\nA copy of your work lies at\n" + kept
		}
		w.tellDialog("The program has made a mistake", text)
	}()
	run()
}
