package window

import (
	"io"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/scene/rulecase"
)

// exportExample writes the drawing of a rule's bad and good case, as the terminal
// does.
func (w *Window) exportExample(e *rulecase.Example) {
	w.exportNamed("Export the example of "+plainWords(e.Rule.Name), " "+e.Rule.Name, ".svg", func(out io.Writer) error {
		return draw.WriteSVG(out, e.Picture(w.units()), draw.Light)
	})
}
