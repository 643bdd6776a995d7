package window

import (
	"net/url"
	"os"
	"path/filepath"

	"fyne.io/fyne/v2"

	"rinsewright/canvas/draw"
)

// print makes the sheets chosen into a PDF and hands it to the program with which
// the system opens one, from which it is printed.
func (d *handOver) print() {
	w := d.on
	d.keep()
	if !d.drawing() {
		w.tellDialog("Lists are not printed from here", "Export the list as XLSX and print it from a spreadsheet, or choose the drawing.")
		return
	}
	if d.book == nil {
		w.tellDialog("Nothing was printed", d.told.Text)
		return
	}
	path, err := printFile(d.book.Pages, w.about())
	if err != nil {
		w.tellDialog("Nothing was printed", sentence(err.Error()))
		return
	}
	w.events.tell("print", map[string]any{"path": path})
	w.openForPrint(path)
}

// printFile writes pages to a PDF among the temporary files of the system.
func printFile(pages []*draw.Picture, about draw.About) (string, error) {
	folder, err := os.MkdirTemp("", "rinsewright-print-")
	if err != nil {
		return "", err
	}
	files, err := draw.Files(filepath.Join(folder, "drawing.pdf"), pages, draw.Light, about, 0)
	if err != nil {
		return "", err
	}
	return files[0].Path, os.WriteFile(files[0].Path, files[0].Data, 0o600)
}

// openForPrint hands a PDF to the system. Where the system has no program for it,
// or does not say, the user is told where the file lies.
func (w *Window) openForPrint(path string) {
	open := w.opener
	if open == nil {
		open = w.app.OpenURL
	}
	address := &url.URL{Scheme: "file", Path: filepath.ToSlash(path)}
	go func() { // the system may take its time
		err := open(address)
		fyne.Do(func() {
			if err != nil {
				w.tellDialog("Print the PDF", "The system has no program that opens it: "+sentence(err.Error())+" Print it from any reader of PDF. It lies at\n"+path)
				return
			}
			w.tellHint("Print from the program that opens; the PDF lies at " + path)
		})
	}()
}
