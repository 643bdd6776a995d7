package window

import (
	"io"
	"strings"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/scene"
	"rinsewright/canvas/sheet"
	"rinsewright/checks/listing"
	"rinsewright/checks/lists"
	"rinsewright/model/isolation"
)

// planPages sets the plan chosen on sheets of paper.
func (w *Window) planPages() ([]*draw.Picture, error) {
	p := w.upkeep.isolate
	pl := p.plan()
	format, err := sheet.Find(w.app.Preferences().StringWithFallback(prefPaper, "A3"))
	if err != nil {
		if format, err = sheet.Find("A3"); err != nil {
			return nil, err
		}
	}
	opt, signs := scene.Isolation(p.plant, pl, p.ask.Work)
	picture := draw.Circuit(w.circuit(), w.cat, opt)
	o := sheet.Options{Format: format, Shown: p.title(), SectionsTitle: "points, order of work, signatures",
		Sections: sheet.PlanSections(p.plant, pl, signs, w.system), Caution: isolation.Caution, Keys: scene.IsolationKey(pl)}
	for _, s := range scene.SignWords() {
		o.Signs = append(o.Signs, sheet.SignEntry{Sign: s.Sign, Words: s.Words})
	}
	book, err := sheet.SetSigned(w.circuit(), w.cat, picture, signs, o)
	if err != nil {
		return nil, err
	}
	return book.Pages, nil
}

// exportPlanSheet writes the plan chosen as a PDF to print and sign.
func (w *Window) exportPlanSheet() {
	w.exportNamed("Export the plan sheet", " isolation "+w.workTags(), ".pdf", func(out io.Writer) error {
		pages, err := w.planPages()
		if err != nil {
			return err
		}
		return draw.WritePages(out, pages, draw.Light, draw.About{Title: w.upkeep.isolate.title(), Author: w.circuit().Header().Author, Subject: w.circuit().Header().Name})
	})
}

// exportPlanCSV writes the order of work of the plan chosen as a table.
func (w *Window) exportPlanCSV() {
	p := w.upkeep.isolate
	w.exportNamed("Export the order of work", " isolation "+w.workTags(), ".csv", func(out io.Writer) error {
		t := &lists.Table{Name: "isolation", Title: p.title()}
		for _, c := range isolation.Columns {
			t.Columns = append(t.Columns, lists.Column{Heading: c})
		}
		rows := p.plan().Rows(p.plant, w.system)
		caution := make([]string, len(isolation.Columns))
		caution[4] = isolation.Caution
		for _, r := range append(rows, caution) {
			var cells []lists.Cell
			for _, c := range r {
				cells = append(cells, lists.Text(c))
			}
			t.Rows = append(t.Rows, cells)
		}
		return listing.WriteTableCSV(out, t)
	})
}

// workTags names the work in the name of a file.
func (w *Window) workTags() string {
	var tags []string
	for _, id := range w.upkeep.isolate.ask.Work {
		tags = append(tags, nameOf(w.circuit().Record(id), w.cat))
	}
	if len(tags) > 3 {
		tags = append(tags[:3], "and more")
	}
	return strings.Join(tags, " ")
}
