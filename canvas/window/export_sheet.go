package window

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/scene"
	"rinsewright/canvas/sheet"
	"rinsewright/checks"
	"rinsewright/checks/listing"
	"rinsewright/checks/lists"
	"rinsewright/model/store"
)

const (
	prefPaper = "sheet-paper"
	prefLie   = "sheet-lie"

	contentDrawing = "Drawing"
	contentAll     = "All lists"
	listOfFindings = "Findings"

	paperNone = "No paper: the drawing alone"
	sizeFit   = "As large as fits"
)

// lies are how a sheet lies, in words.
var lies = []struct {
	words string
	is    sheet.Orientation
}{{"As the drawing is larger", sheet.Best}, {"Landscape", sheet.Landscape}, {"Portrait", sheet.Portrait}}

// sizes are sizes of the drawing on the sheet; ISO 5455 knows no others between,
// and a drawing without a scale needs none (own choice).
var sizes = []struct {
	words string
	is    float64
}{{sizeFit, 0}, {"100 %", 1}, {"80 %", 0.8}, {"70 %", 0.7}, {"60 %", 0.6}, {"50 %", 0.5}}

const (
	splitWhole  = "The whole"
	splitFrames = "The whole, then each station frame"
)

// handOver is the dialog in which sheets and lists are chosen, seen and written.
type handOver struct {
	on *Window

	content, format, paper, lie, size, split, dots *sheetSelect
	findings                                       *widget.Check
	ofDrawing                                      []fyne.CanvasObject // shown while the content is the drawing
	paperRows                                      []fyne.CanvasObject // and while there is paper

	preview      *canvas.Image
	told, number *widget.Label
	table        *widget.Label
	turn         *fyne.Container
	book         *sheet.Book
	page         int
	ready        bool
	down         func()
}

// sheetSelect is a select that Escape leaves the dialog from.
type sheetSelect struct {
	widget.Select
	escape func()
}

func (s *sheetSelect) TypedKey(e *fyne.KeyEvent) {
	if e.Name == fyne.KeyEscape {
		s.escape()
		return
	}
	s.Select.TypedKey(e)
}

func (d *handOver) choose(options []string, first string, changed func()) *sheetSelect {
	s := &sheetSelect{escape: func() { d.down() }}
	s.Options = options
	s.ExtendBaseWidget(s)
	s.SetSelected(first)
	if s.SelectedIndex() < 0 {
		s.SetSelectedIndex(0)
	}
	s.OnChanged = func(string) {
		if d.ready {
			d.on.guard("Export", changed)
		}
	}
	return s
}

// askExport opens the dialog with the drawing or, of a title of a list, that list.
func (w *Window) askExport(content string) {
	d := &handOver{on: w}
	w.handOver = d
	papers := []string{paperNone}
	for _, f := range sheet.Formats() {
		papers = append(papers, f.Name)
	}
	contents := []string{contentDrawing}
	for _, name := range lists.Names() {
		contents = append(contents, lists.Title(name))
	}
	if w.result != nil {
		contents = append(contents, listOfFindings)
	}
	contents = append(contents, contentAll)
	var lieWords, sizeWords []string
	for _, l := range lies {
		lieWords = append(lieWords, l.words)
	}
	for _, s := range sizes {
		sizeWords = append(sizeWords, s.words)
	}
	prefs := w.app.Preferences()
	d.content = d.choose(contents, content, d.contentChanged)
	d.format = d.choose(nil, "", d.refresh)
	d.paper = d.choose(papers, prefs.StringWithFallback(prefPaper, "A3"), d.refresh)
	d.lie = d.choose(lieWords, prefs.StringWithFallback(prefLie, lieWords[0]), d.refresh)
	d.size = d.choose(sizeWords, sizeFit, d.refresh)
	d.split = d.choose([]string{splitWhole, splitFrames}, splitWhole, d.refresh)
	d.dots = d.choose([]string{"100", "200", "300", "600"}, "200", d.refresh)
	d.findings = widget.NewCheck("Mark the findings and list them", func(bool) { d.refresh() })
	if w.result == nil {
		d.findings.Disable()
	}
	row := func(label string, o fyne.CanvasObject) fyne.CanvasObject {
		l := widget.NewLabel(label)
		l.SizeName = theme.SizeNameCaptionText
		return container.New(layout.NewCustomPaddedVBoxLayout(0), l, o)
	}
	paper, lie, size, split, dots := row("Paper", d.paper), row("Lies", d.lie), row("Size of the drawing", d.size), row("Sheets", d.split), row("Dots per inch", d.dots)
	d.paperRows = []fyne.CanvasObject{lie, size, split}
	d.ofDrawing = []fyne.CanvasObject{paper, d.findings, dots}
	form := container.New(layout.NewCustomPaddedVBoxLayout(2), row("Content", d.content), row("Format", d.format), paper, lie, size, split, dots, d.findings)

	window := w.win.Canvas().Size()
	room := canvas.NewRectangle(color.Transparent)
	room.SetMinSize(fyne.NewSize(min(600, window.Width-420), min(430, window.Height-300)))
	d.preview = &canvas.Image{FillMode: canvas.ImageFillContain, ScaleMode: canvas.ImageScaleFastest}
	d.table = widget.NewLabel("")
	d.table.TextStyle.Monospace = true
	d.table.SizeName = theme.SizeNameCaptionText
	d.told = widget.NewLabel("")
	d.told.Wrapping = fyne.TextWrapWord
	d.told.SizeName = theme.SizeNameCaptionText
	d.number = widget.NewLabel("")
	turn := func(by int) func() {
		return func() {
			if d.book != nil {
				d.page = min(max(d.page+by, 0), len(d.book.Pages)-1)
				d.paint()
			}
		}
	}
	d.turn = container.NewHBox(layout.NewSpacer(), widget.NewButtonWithIcon("", theme.NavigateBackIcon(), turn(-1)), d.number,
		widget.NewButtonWithIcon("", theme.NavigateNextIcon(), turn(1)), layout.NewSpacer())
	wide := canvas.NewRectangle(color.Transparent)
	wide.SetMinSize(fyne.NewSize(270, 0))
	body := container.NewBorder(nil, nil, container.NewBorder(wide, nil, nil, nil, form), nil,
		container.NewBorder(nil, container.NewVBox(d.turn, d.told), nil, nil, container.NewStack(room, d.preview, container.NewScroll(d.table))))
	d.down = w.askWith("Export and print", body, fyne.NewSize(0, 0),
		answer{"Export…", d.export}, answer{"Print…", d.print}, answer{"Cancel", nil})
	d.ready = true
	d.contentChanged()
}

func (d *handOver) drawing() bool { return d.content.Selected == contentDrawing }

// contentChanged offers the formats of the content.
func (d *handOver) contentChanged() {
	d.ready = false
	switch {
	case d.drawing():
		d.format.Options = []string{"PDF", "SVG", "PNG", "DXF"}
	case d.content.Selected == contentAll:
		d.format.Options = []string{"XLSX"}
	default:
		d.format.Options = []string{"XLSX", "CSV", "JSON"}
	}
	if !slices.Contains(d.format.Options, d.format.Selected) {
		d.format.SetSelectedIndex(0)
	}
	d.format.Refresh()
	d.ready = true
	d.refresh()
}

// refresh shows what would be written.
func (d *handOver) refresh() {
	if !d.ready {
		return
	}
	show := func(on bool, objects ...fyne.CanvasObject) {
		for _, o := range objects {
			if on {
				o.Show()
			} else {
				o.Hide()
			}
		}
	}
	show(d.drawing(), d.ofDrawing...)
	show(d.drawing() && d.paper.Selected != paperNone, d.paperRows...)
	show(d.drawing() && d.format.Selected == "PNG", d.ofDrawing[2])
	show(d.drawing(), d.preview, d.turn)
	show(!d.drawing(), d.table)
	d.told.SetText("")
	if !d.drawing() {
		d.showTable()
		return
	}
	book, err := d.on.sheets(d.options(d.findings.Checked))
	d.book, d.page = book, 0
	if err != nil {
		d.told.SetText(sentence(err.Error()))
		d.preview.Image = nil
		d.preview.Refresh()
		d.number.SetText("")
		return
	}
	if len(book.Notes) > 0 {
		d.told.SetText(sentence(strings.Join(book.Notes, "; ")) + ".")
	}
	d.paint()
}

// choices of how a drawing is set.
type sheetChoice struct {
	sheet.Options
	paper, findings bool
}

func (d *handOver) options(findings bool) sheetChoice {
	out := sheetChoice{findings: findings}
	f, err := sheet.Find(d.paper.Selected)
	out.paper = err == nil
	out.Format = f
	out.Orientation = lies[max(d.lie.SelectedIndex(), 0)].is
	out.Scale = sizes[max(d.size.SelectedIndex(), 0)].is
	if d.split.Selected == splitFrames {
		out.Split = sheet.ByFrame
	}
	return out
}

// sheets sets the drawing as it is shown.
func (w *Window) sheets(choice sheetChoice) (*sheet.Book, error) {
	p := draw.Circuit(w.circuit(), w.cat, w.lines.options)
	remark := scene.Remark(w.solution, w.values, w.system)
	var marks []draw.Mark
	heading := ""
	if choice.findings && w.result != nil {
		marks, heading = w.paperMarks()
		draw.Findings(p, marks)
	}
	w.pinPictures(p)
	if !choice.paper {
		if remark != "" {
			draw.Remark(p, remark)
		}
		if heading != "" {
			draw.FindingList(p, heading, marks)
		}
		draw.Caption(p, w.circuit(), w.shownStep(), w.system)
		return &sheet.Book{Pages: []*draw.Picture{p}}, nil
	}
	opt := choice.Options
	opt.Step, opt.Flow = w.shownStep(), w.lines.options.Flow
	opt.Marks, opt.Heading = marks, heading
	words := draw.StepWords(w.shownStep(), w.system)
	if remark != "" {
		words = append(words, remark)
	}
	opt.Shown = strings.Join(words, "  ·  ")
	return sheet.Set(w.circuit(), w.cat, p, opt)
}

// paperMarks numbers the findings that hold in the step shown, worst first.
func (w *Window) paperMarks() ([]draw.Mark, string) {
	severities := map[checks.Severity]draw.Severity{checks.Stop: draw.Stop, checks.Fix: draw.Fix, checks.Note: draw.Note}
	var marks []draw.Mark
	count := map[draw.Severity]int{}
	step := w.shownStep()
	for i := range w.result.Findings {
		f := &w.result.Findings[i]
		if step != nil && len(f.Steps) > 0 && !slices.Contains(f.Steps, step.ID) {
			continue
		}
		title := f.Rule
		if rule := checks.Find(w.checker.rules, f.Rule); rule != nil {
			title = rule.Doc.Title
		}
		s := severities[f.Severity]
		marks = append(marks, draw.Mark{Place: f.At, Severity: s, Number: len(marks) + 1, Text: title + " – " + f.Where})
		count[s]++
	}
	heading := fmt.Sprintf("Findings against limits profile %s: %d stop, %d fix, %d note", w.result.Profile, count[draw.Stop], count[draw.Fix], count[draw.Note])
	if n := len(w.result.NotAssessed); n > 0 {
		heading += fmt.Sprintf("; %d not assessed", n)
	}
	return marks, heading
}

// paint shows the present page on a ground that tells paper from window.
func (d *handOver) paint() {
	page := d.book.Pages[d.page]
	const long = 1100.0 // px
	b := page.Bounds
	zoom := long / max(b.Width(), b.Height(), 1)
	m := image.NewRGBA(image.Rect(0, 0, max(int(b.Width()*zoom), 2), max(int(b.Height()*zoom), 2)))
	draw.NewScreen().Draw(m, page, draw.Light, draw.View{Zoom: zoom, Offset: b.Min})
	edge := color.RGBA{0x8B, 0x91, 0x99, 0xFF}
	for x := range m.Rect.Dx() {
		m.SetRGBA(x, 0, edge)
		m.SetRGBA(x, m.Rect.Dy()-1, edge)
	}
	for y := range m.Rect.Dy() {
		m.SetRGBA(0, y, edge)
		m.SetRGBA(m.Rect.Dx()-1, y, edge)
	}
	d.preview.Image = m
	d.preview.Refresh()
	text := fmt.Sprintf("Sheet %d of %d", d.page+1, len(d.book.Pages))
	if d.book.Paper != "" {
		text += ", " + d.book.Paper + fmt.Sprintf(", drawing at %.0f %%", 100*d.book.Scale)
	}
	d.number.SetText(text)
}

// tables gives the lists of the content chosen.
func (d *handOver) tables() []*lists.Table {
	w := d.on
	s := &checks.Snapshot{Circuit: w.circuit(), Catalogue: w.cat}
	var out []*lists.Table
	for _, name := range lists.Names() {
		if c := d.content.Selected; c == contentAll || c == lists.Title(name) {
			out = append(out, lists.Make(name, s, w.system))
		}
	}
	if c := d.content.Selected; w.result != nil && (c == contentAll || c == listOfFindings) {
		out = append(out, listing.FindingTable(w.circuit(), w.result, w.checker.rules, w.system))
	}
	return out
}

// showTable shows the beginning of a list.
func (d *handOver) showTable() {
	const rows, columns, wide = 14, 4, 22
	var b strings.Builder
	cell := func(s string) {
		r := []rune(strings.Join(strings.Fields(s), " "))
		if len(r) > wide {
			r = append(r[:wide-1], '…')
		}
		fmt.Fprintf(&b, "%-*s  ", wide, string(r))
	}
	tables := d.tables()
	for _, t := range tables {
		if len(tables) > 1 {
			fmt.Fprintf(&b, "%-14s %4d rows, %d columns\n", t.Title, len(t.Rows), len(t.Columns))
			continue
		}
		for _, c := range t.Columns[:min(columns, len(t.Columns))] {
			cell(c.Words())
		}
		b.WriteString("\n")
		for _, r := range t.Rows[:min(rows, len(t.Rows))] {
			for _, c := range r[:min(columns, len(r))] {
				text := c.Text
				if v, ok := c.Number.Get(); ok {
					text = fmt.Sprintf("%.5g", v)
				}
				cell(text)
			}
			b.WriteString("\n")
		}
		fmt.Fprintf(&b, "\n%d rows, %d columns in all\n", len(t.Rows), len(t.Columns))
		d.told.SetText(strings.Join(t.Remarks, " "))
	}
	d.table.SetText(b.String())
}

// keep remembers the paper for the next time.
func (d *handOver) keep() {
	d.on.app.Preferences().SetString(prefPaper, d.paper.Selected)
	d.on.app.Preferences().SetString(prefLie, d.lie.Selected)
}

// export asks for a file and writes what is chosen.
func (d *handOver) export() {
	w := d.on
	d.keep()
	ending := "." + strings.ToLower(d.format.Selected)
	if d.drawing() {
		if d.book == nil {
			w.tellDialog("Nothing was exported", d.told.Text)
			return
		}
		pages := d.book.Pages
		dots := map[string]float64{"100": 100, "200": 200, "300": 300, "600": 600}[d.dots.Selected]
		w.exportFiles("Export the drawing", "", ending, func(path string) ([]draw.File, error) {
			return draw.Files(path, pages, draw.Light, w.about(), dots)
		})
		return
	}
	tables := d.tables()
	suffix := " lists"
	if len(tables) == 1 {
		suffix = " " + tables[0].Name
	}
	h := w.circuit().Header()
	w.exportFiles("Export "+strings.ToLower(d.content.Selected), suffix, ending, func(path string) ([]draw.File, error) {
		var b bytes.Buffer
		var err error
		switch ending {
		case ".xlsx":
			err = listing.WriteXLSX(&b, h, tables)
		case ".csv":
			err = listing.WriteTableCSV(&b, tables[0])
		default:
			err = listing.WriteTableJSON(&b, tables[0])
		}
		return []draw.File{{Path: path, Data: b.Bytes()}}, err
	})
}

func (w *Window) about() draw.About {
	h := w.circuit().Header()
	return draw.About{Title: h.Name, Author: h.Author, Subject: strings.Join(draw.StepWords(w.shownStep(), w.system), ", ")}
}

// exportFiles asks for a path and writes the files made for it.
func (w *Window) exportFiles(title, suffix, ending string, make func(path string) ([]draw.File, error)) {
	name := fileName(w.circuit().Header().Name + suffix)
	w.chooseFile(choice{title: title, confirm: "Export", start: filepath.Join(w.folder(), name+ending), ending: ending, save: true}, func(path string) {
		files, err := make(path)
		if err != nil {
			w.tellDialog("Nothing was exported", sentence(err.Error()))
			return
		}
		put := func() {
			bytes := 0
			for i, f := range files {
				if err := store.Save(f.Path, f.Data); err != nil {
					w.tellDialog(fmt.Sprintf("%d of %d files were exported", i, len(files)), sentence(err.Error()))
					return
				}
				bytes += len(f.Data)
			}
			told := "Exported " + filepath.Base(files[0].Path)
			if n := len(files); n > 1 {
				told += " to " + filepath.Base(files[n-1].Path)
			}
			w.tellHint(told)
			w.events.tell("exported", map[string]any{"path": files[0].Path, "files": len(files), "bytes": bytes})
		}
		for _, f := range files {
			if seen, err := store.Fingerprint(f.Path); err == nil && seen != "" {
				w.ask("Write over the file?", filepath.Base(f.Path)+" is there already.", answer{"Write over", put}, answer{"Cancel", nil})
				return
			}
		}
		put()
	})
}
