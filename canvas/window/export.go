package window

import (
	"bytes"
	"io"
	"path/filepath"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/scene"
	"rinsewright/checks/listing"
	"rinsewright/model/store"
)

// exportDots is the resolution of an exported image, dots per inch.
const exportDots = 200

// exportDrawing writes the drawing as it is shown, on white paper.
func (w *Window) exportDrawing(kind string) {
	w.export("Export the drawing", kind, func(out io.Writer) error {
		p := draw.Circuit(w.circuit(), w.cat, w.lines.options)
		w.pinPictures(p)
		if remark := scene.Remark(w.solution, w.values, w.system); remark != "" {
			draw.Remark(p, remark)
		}
		draw.Caption(p, w.circuit(), w.shownStep(), w.system)
		if kind == ".svg" {
			return draw.WriteSVG(out, p, draw.Light)
		}
		return draw.WritePNG(out, p, draw.Light, exportDots)
	})
}

// exportFindings writes the findings of the present circuit.
func (w *Window) exportFindings(kind string) {
	c, result := w.circuit(), w.result
	w.export("Export the findings", kind, func(out io.Writer) error {
		if kind == ".csv" {
			return listing.WriteCSV(out, c, result, w.checker.rules, w.system)
		}
		return listing.WriteJSON(out, result)
	})
}

func (w *Window) export(title, ending string, write func(io.Writer) error) {
	w.exportNamed(title, "", ending, write)
}

// exportNamed is export with something added to the name that is offered.
func (w *Window) exportNamed(title, suffix, ending string, write func(io.Writer) error) {
	name := fileName(w.circuit().Header().Name + suffix)
	w.chooseFile(choice{title: title, confirm: "Export", start: filepath.Join(w.folder(), name+ending), ending: ending, save: true}, func(path string) {
		put := func() {
			var b bytes.Buffer
			if err := write(&b); err != nil {
				w.tellDialog("Nothing was exported", sentence(err.Error()))
				return
			}
			if err := store.Save(path, b.Bytes()); err != nil {
				w.tellDialog("Nothing was exported", sentence(err.Error()))
				return
			}
			w.tellHint("Exported " + filepath.Base(path))
			w.events.tell("exported", map[string]any{"path": path, "bytes": b.Len()})
		}
		if seen, err := store.Fingerprint(path); err == nil && seen != "" {
			w.ask("Write over the file?", filepath.Base(path)+" is there already.", answer{"Write over", put}, answer{"Cancel", nil})
			return
		}
		put()
	})
}
