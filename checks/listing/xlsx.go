package listing

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"rinsewright/checks/lists"
	"rinsewright/model"
)

const (
	leastColumn = 6.0  // width in letters
	mostColumn  = 42.0 // longer texts are wrapped
	mostCell    = 32767
)

// WriteXLSX writes tables as the sheets of one workbook (Office Open XML): a row
// of headings that stays while one scrolls and can be filtered by, numbers as
// numbers, texts as texts. Texts that a spreadsheet would take for a formula if
// they were typed anew get an apostrophe before them. Remarks stand beneath.
func WriteXLSX(w io.Writer, h *model.Header, tables []*lists.Table) error {
	f := excelize.NewFile()
	defer f.Close()
	if err := f.SetDocProps(&excelize.DocProperties{Title: h.Name, Creator: h.Author, Subject: h.Plant, Version: ""}); err != nil {
		return fmt.Errorf("lists as XLSX: %w", err)
	}
	for i, t := range tables {
		if i == 0 {
			if err := f.SetSheetName("Sheet1", t.Title); err != nil {
				return fmt.Errorf("lists as XLSX: %w", err)
			}
		} else if _, err := f.NewSheet(t.Title); err != nil {
			return fmt.Errorf("lists as XLSX: %w", err)
		}
		if err := sheetOf(f, h, t); err != nil {
			return fmt.Errorf("%s as XLSX: %w", t.Name, err)
		}
	}
	if err := f.Write(w); err != nil {
		return fmt.Errorf("lists as XLSX: %w", err)
	}
	return nil
}

func sheetOf(f *excelize.File, h *model.Header, t *lists.Table) error {
	head, err := f.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}, Alignment: &excelize.Alignment{WrapText: true, Vertical: "bottom"},
		Border: []excelize.Border{{Type: "bottom", Style: 2, Color: "000000"}}})
	if err != nil {
		return err
	}
	body, err := f.NewStyle(&excelize.Style{Alignment: &excelize.Alignment{WrapText: true, Vertical: "top"}})
	if err != nil {
		return err
	}
	put := func(column, row int, c lists.Cell) error {
		name, err := excelize.CoordinatesToCellName(column, row)
		if err != nil {
			return err
		}
		if v, ok := c.Number.Get(); ok {
			return f.SetCellValue(t.Title, name, rounded(v))
		}
		if c.Text == "" {
			return nil
		}
		return f.SetCellStr(t.Title, name, cut(plainText(c.Text)))
	}
	for i, c := range t.Columns {
		if err := put(i+1, 1, lists.Text(c.Words())); err != nil {
			return err
		}
		name, err := excelize.ColumnNumberToName(i + 1)
		if err != nil {
			return err
		}
		if err := f.SetColWidth(t.Title, name, name, widthOf(t, i)); err != nil {
			return err
		}
	}
	for n, cells := range t.Rows {
		for i, c := range cells {
			if err := put(i+1, n+2, c); err != nil {
				return err
			}
		}
	}
	for i, s := range t.Remarks {
		if err := put(1, len(t.Rows)+3+i, lists.Text(s)); err != nil {
			return err
		}
	}
	if err := f.SetPanes(t.Title, &excelize.Panes{Freeze: true, XSplit: 1, YSplit: 1, TopLeftCell: "B2", ActivePane: "bottomRight"}); err != nil {
		return err
	}
	last, err := excelize.CoordinatesToCellName(len(t.Columns), max(len(t.Rows)+1, 2))
	if err != nil {
		return err
	}
	if err := f.SetCellStyle(t.Title, "A2", last, body); err != nil {
		return err
	}
	lastHead, err := excelize.CoordinatesToCellName(len(t.Columns), 1)
	if err != nil {
		return err
	}
	if err := f.SetCellStyle(t.Title, "A1", lastHead, head); err != nil {
		return err
	}
	if err := f.AutoFilter(t.Title, "A1:"+last, nil); err != nil {
		return err
	}
	landscape, one, all := "landscape", 1, 0
	if err := f.SetPageLayout(t.Title, &excelize.PageLayoutOptions{Orientation: &landscape, FitToWidth: &one, FitToHeight: &all}); err != nil {
		return err
	}
	fit := true
	if err := f.SetSheetProps(t.Title, &excelize.SheetPropsOptions{FitToPage: &fit}); err != nil {
		return err
	}
	foot := strings.ReplaceAll(fmt.Sprintf("%s  %s  Revision %s", t.Title, h.Name, h.Revision), "&", "&&")
	if r := []rune(foot); len(r) > 200 {
		foot = string(r[:200])
	}
	return f.SetHeaderFooter(t.Title, &excelize.HeaderFooterOptions{OddFooter: "&L" + foot + "&RPage &P of &N"})
}

// cut keeps a text to what a cell holds.
func cut(s string) string {
	if utf8.RuneCountInString(s) <= mostCell {
		return s
	}
	return string([]rune(s)[:mostCell])
}

// widthOf gives the width of a column in letters. A heading may take two lines.
func widthOf(t *lists.Table, i int) float64 {
	w := leastColumn
	for _, word := range strings.Fields(t.Columns[i].Words()) {
		w = max(w, float64(utf8.RuneCountInString(word))+3)
	}
	w = max(w, float64(utf8.RuneCountInString(t.Columns[i].Words()))/2+2)
	for _, row := range t.Rows {
		w = max(w, float64(utf8.RuneCountInString(row[i].Text))+1.5)
	}
	return min(w, mostColumn)
}
