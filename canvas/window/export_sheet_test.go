package window

import (
	"errors"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/sheet"
)

// exporting opens a demo and the dialog.
func exporting(t *testing.T, content string) (*bench, *handOver) {
	t.Helper()
	b := newBench(t)
	b.OpenCopy(demos()[0].file, demos()[0].data)
	b.checks()
	if content == contentDrawing {
		b.do(b.actions.exportSheets)
	} else {
		b.do(b.actions.exportLists)
	}
	if !b.overlayOpen() {
		t.Fatal("no dialog")
	}
	return b, b.handOver
}

// What is chosen is what the preview shows and what is written.
func TestExportOnSheets(t *testing.T) {
	b, d := exporting(t, contentDrawing)
	d.paper.SetSelected("A2")
	d.lie.SetSelected("Portrait")
	if d.book == nil || d.book.Paper != "A2 portrait" || !strings.Contains(d.number.Text, "Sheet 1 of 1") {
		t.Fatalf("the book %+v, %q", d.book, d.number.Text)
	}
	if d.preview.Image == nil || d.preview.Image.Bounds().Dx() >= d.preview.Image.Bounds().Dy() {
		t.Error("the preview does not stand upright")
	}
	d.lie.SetSelected("Landscape")
	d.paper.SetSelected("A3")
	d.size.SetSelected("80 %")
	if len(d.book.Pages) < 2 || !strings.Contains(d.number.Text, "Sheet 1 of") {
		t.Fatalf("%d sheets", len(d.book.Pages))
	}
	pages := len(d.book.Pages)
	d.findings.SetChecked(true)
	if len(d.book.Pages) != pages+1 {
		t.Errorf("%d sheets with the list of findings, want %d", len(d.book.Pages), pages+1)
	}
	dir := t.TempDir()
	d.export()
	entry := b.chooser.path
	entry.SetText(filepath.Join(dir, "out.pdf"))
	entry.OnSubmitted(entry.Text)
	if got := mustRead(t, filepath.Join(dir, "out.pdf")); !strings.HasPrefix(got, "%PDF-") {
		t.Error("no PDF")
	}
}

func TestExportFilesByFormat(t *testing.T) {
	for format, has := range map[string]string{"SVG": "<svg", "PNG": "\x89PNG", "DXF": "AC1015"} {
		b, d := exporting(t, contentDrawing)
		d.format.SetSelected(format)
		d.lie.SetSelected("Landscape")
		d.size.SetSelected("80 %")
		name := "out." + strings.ToLower(format)
		dir := t.TempDir()
		d.export()
		b.chooser.path.SetText(filepath.Join(dir, name))
		b.chooser.path.OnSubmitted("")
		numbered := strings.Replace(name, ".", "-1.", 1)
		if got := mustRead(t, filepath.Join(dir, numbered)); !strings.Contains(got, has) {
			t.Errorf("%s does not hold %q", numbered, has)
		}
	}
}

func TestExportLists(t *testing.T) {
	b, d := exporting(t, contentAll)
	if !strings.Contains(d.table.Text, "Valves") || !strings.Contains(d.table.Text, listOfFindings) {
		t.Errorf("the preview says %q", d.table.Text)
	}
	d.content.SetSelected("Pumps")
	if !strings.Contains(d.table.Text, "P-101") {
		t.Errorf("the preview of the pumps says %q", d.table.Text)
	}
	d.format.SetSelected("CSV")
	dir := t.TempDir()
	d.export()
	b.chooser.path.SetText(filepath.Join(dir, "pumps.csv"))
	b.chooser.path.OnSubmitted("")
	if got := mustRead(t, filepath.Join(dir, "pumps.csv")); !strings.Contains(got, "P-101") {
		t.Errorf("the list:\n%s", got)
	}
}

// Printing hands a PDF to the system, or says where it lies.
func TestPrint(t *testing.T) {
	b, d := exporting(t, contentDrawing)
	asked := make(chan *url.URL, 1)
	b.opener = func(u *url.URL) error {
		asked <- u
		return errors.New("nothing opens it")
	}
	d.down()
	d.print()
	var path string
	select {
	case u := <-asked:
		path = filepath.FromSlash(u.Path)
	case <-time.After(10 * time.Second):
		t.Fatal("the system was not asked")
	}
	t.Cleanup(func() { os.RemoveAll(filepath.Dir(path)) })
	if got := mustRead(t, path); !strings.HasPrefix(got, "%PDF-") {
		t.Error("no PDF")
	}
	for range 100 {
		if b.overlayOpen() {
			break
		}
		time.Sleep(20 * time.Millisecond)
	}
	if !strings.Contains(b.dialogText(), path) {
		t.Errorf("the dialog says %q, not where %s lies", b.dialogText(), path)
	}
}

// The sheet shows the same figures as the board.
func TestSheetHoldsWhatTheBoardShows(t *testing.T) {
	b, d := exporting(t, contentDrawing)
	d.lie.SetSelected("Landscape")
	count := func(items []draw.Item) (n int) {
		for _, it := range items {
			if _, ok := it.Figure.(draw.Symbol); ok && it.Layer == draw.LayerPart {
				n++
			}
		}
		return n
	}
	f, err := sheet.Find("A3")
	if err != nil {
		t.Fatal(err)
	}
	book, err := b.sheets(sheetChoice{Options: sheet.Options{Format: f}, paper: true})
	if err != nil {
		t.Fatal(err)
	}
	if got, want := count(book.Pages[0].Items), count(b.board.draw().Items); got != want || want == 0 {
		t.Errorf("%d symbols on the sheet, %d on the board", got, want)
	}
}
