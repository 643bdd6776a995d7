package report

import (
	"strings"

	"rinsewright/canvas/draw"
)

const (
	columnGap  = 2.4
	mostColumn = 100.0 // mm that a column asks for
	mostWord   = 34.0  // mm that a long word, such as an id, holds together
)

// grid sets a table. Columns without a single value are left out and named; one
// that is wider than the paper is set in bands that begin with the same column.
func (p *pager) grid(t Table) {
	if len(t.Rows) == 0 {
		p.paragraph(paragraph{text: "Nothing to list.", quiet: true})
		p.remarks(t)
		return
	}
	columns, empty := usedColumns(t)
	widths, least := columnWidths(t, columns)
	for len(columns) > 0 {
		n := 1
		sum := least[0]
		for n < len(columns) && sum+columnGap+least[n] <= bodyWide {
			sum += columnGap + least[n]
			n++
		}
		p.band(t, columns[:n], shared(widths[:n], least[:n]))
		if n >= len(columns) {
			break
		}
		if n < 2 {
			n = 2
		}
		columns = append(columns[:1:1], columns[n:]...)
		widths = append(widths[:1:1], widths[n:]...)
		least = append(least[:1:1], least[n:]...)
	}
	if len(empty) > 0 {
		p.paragraph(paragraph{text: "Columns without a value: " + strings.Join(empty, ", ") + ".", quiet: true})
	}
	p.remarks(t)
}

func (p *pager) remarks(t Table) {
	for _, r := range t.Remarks {
		p.paragraph(paragraph{text: r, quiet: true})
	}
}

// usedColumns tells which columns hold something, and names the others.
func usedColumns(t Table) (used []int, empty []string) {
	for i, c := range t.Columns {
		some := i == 0
		for _, row := range t.Rows {
			some = some || cellText(row[i]) != ""
		}
		if some {
			used = append(used, i)
		} else {
			empty = append(empty, c.Words())
		}
	}
	return used, empty
}

// columnWidths gives what each column asks for, and the least it can do with: its
// longest word.
func columnWidths(t Table, columns []int) (widths, least []float64) {
	for _, i := range columns {
		wide, word := 0.0, 0.0
		look := func(s string) {
			wide = max(wide, draw.TextWidth(s, cellLetter))
			for _, w := range strings.Fields(s) {
				word = max(word, draw.TextWidth(w, cellLetter))
			}
		}
		for _, w := range strings.Fields(t.Columns[i].Words()) {
			look(w)
		}
		for _, row := range t.Rows {
			look(cellText(row[i]))
		}
		widths, least = append(widths, min(wide, mostColumn)), append(least, min(word, mostWord))
	}
	return widths, least
}

// shared gives columns what they ask for, or what there is beyond their least by
// what they ask for beyond it.
func shared(widths, least []float64) []float64 {
	room := bodyWide - float64(len(widths)-1)*columnGap
	ask, need := 0.0, 0.0
	for i := range widths {
		ask += widths[i]
		need += least[i]
	}
	out := make([]float64, len(widths))
	for i := range widths {
		switch {
		case ask <= room:
			out[i] = widths[i]
			if len(widths) > 1 && i == len(widths)-1 && ask > room*0.75 {
				out[i] += room - ask
			}
		default:
			out[i] = least[i] + (widths[i]-least[i])*max(0, room-need)/max(ask-need, 1e-9)
		}
	}
	return out
}

func (p *pager) band(t Table, columns []int, widths []float64) {
	const pitch = cellLetter * 1.8
	number := make([]bool, len(columns))
	for k, i := range columns {
		number[k] = numeric(t, i)
	}
	set := func(texts [][]string, role draw.Role) {
		x := sideEdge
		for k, lines := range texts {
			for j, l := range lines {
				at, anchor := x, draw.Start
				if number[k] {
					at, anchor = x+widths[k], draw.End
				}
				p.text(at, p.y+float64(j)*pitch, l, cellLetter, role, anchor)
			}
			x += widths[k] + columnGap
		}
	}
	wide := float64(len(widths)-1) * columnGap
	for _, w := range widths {
		wide += w
	}
	tall := func(texts [][]string) float64 {
		n := 1
		for _, l := range texts {
			n = max(n, len(l))
		}
		return float64(n)*pitch + 1.3
	}
	heads := make([][]string, len(columns))
	for k, i := range columns {
		heads[k] = wrapped(t.Columns[i].Words(), cellLetter, widths[k]+0.01)
	}
	head := func() {
		set(heads, draw.Faint)
		p.y += tall(heads) - 0.5
		p.line(sideEdge, p.y, sideEdge+wide, p.y, 0.35, draw.Ink)
		p.y += 1.5
	}
	p.room(tall(heads) + 12)
	head()
	for _, row := range t.Rows {
		texts := make([][]string, len(columns))
		for k, i := range columns {
			texts[k] = wrapped(cellText(row[i]), cellLetter, widths[k]+0.01)
		}
		high := tall(texts)
		page := len(p.pages)
		if p.room(high); len(p.pages) > page {
			head()
		}
		set(texts, draw.Ink)
		p.y += high - 0.4
		p.line(sideEdge, p.y, sideEdge+wide, p.y, 0.08, draw.Faint)
		p.y += 0.9
	}
	p.y += 3
}

// numeric says whether a column holds numbers alone.
func numeric(t Table, column int) bool {
	any := false
	for _, row := range t.Rows {
		if row[column].Number.Known() {
			any = true
		} else if row[column].Text != "" {
			return false
		}
	}
	return any
}
