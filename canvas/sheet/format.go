package sheet

import (
	"fmt"
	"strings"

	"rinsewright/canvas/place"
	"rinsewright/model"
)

// Format is a size of paper. Wide and High are those of a sheet that lies on its
// long side, in mm.
type Format struct {
	Name       string // "A3", "ANSI B"
	Wide, High float64

	margins       margins
	columns, rows int  // zones of a sheet on its long side
	letterUp      bool // zones are told from the right lower corner
}

// margins are from the edge of the paper to the frame, in mm.
type margins struct{ left, right, top, bottom float64 }

const inch = 25.4

// formats are ISO 216 (A4 to A0) with the frames and the numbers of zones of
// ISO 5457:1999, and ANSI/ASME Y14.1 (A to E) with the margins and zones of its
// tables; both sets of frames and zones from memory of the standards.
var formats = []Format{
	iso("A4", 297, 210, 6, 4), iso("A3", 420, 297, 8, 6), iso("A2", 594, 420, 12, 8), iso("A1", 841, 594, 16, 12), iso("A0", 1189, 841, 24, 16),
	ansi("ANSI A", 11, 8.5, 0.38, 0.25, 2, 2), ansi("ANSI B", 17, 11, 0.62, 0.38, 4, 2), ansi("ANSI C", 22, 17, 0.50, 0.75, 4, 4),
	ansi("ANSI D", 34, 22, 1.00, 0.50, 8, 4), ansi("ANSI E", 44, 34, 0.50, 1.00, 8, 8),
}

func iso(name string, wide, high float64, columns, rows int) Format {
	return Format{Name: name, Wide: wide, High: high, margins: margins{left: 20, right: 10, top: 10, bottom: 10}, columns: columns, rows: rows}
}

// ansi takes inches; across are the margins left and right, along those above and
// beneath.
func ansi(name string, wide, high, across, along float64, columns, rows int) Format {
	a, b := max(across*inch, leastMargin), max(along*inch, leastMargin)
	return Format{Name: name, Wide: wide * inch, High: high * inch, margins: margins{a, a, b, b}, columns: columns, rows: rows, letterUp: true}
}

// leastMargin is what the letters of the zones need, in mm.
const leastMargin = 6.35

// Formats lists all formats, the small ones of each set first.
func Formats() []Format { return formats }

// Find gives the format of a name: "A3", "a3", "ANSI B", "ansi-b". The error names
// those there are.
func Find(name string) (Format, error) {
	key := func(s string) string {
		return strings.ToLower(strings.NewReplacer(" ", "", "-", "", "_", "").Replace(s))
	}
	var names []string
	for _, f := range formats {
		if key(f.Name) == key(name) {
			return f, nil
		}
		names = append(names, f.Name)
	}
	return Format{}, fmt.Errorf("%q is no format of paper that is known; there are %s", name, strings.Join(names, ", "))
}

// paper is a format as it is used: lying or standing.
type paper struct {
	Format
	size          place.Rect
	frame         place.Rect
	columns, rows int
}

func (f Format) paper(standing bool) paper {
	p := paper{Format: f, columns: f.columns, rows: f.rows}
	w, h, m := f.Wide, f.High, f.margins
	if standing {
		w, h = h, w
		p.columns, p.rows = f.rows, f.columns
		if f.letterUp { // the margins go with the edges
			m = margins{m.bottom, m.top, m.left, m.right}
		}
	}
	p.size = place.Rect{Max: model.Point{X: w, Y: h}}
	p.frame = place.Rect{Min: model.Point{X: m.left, Y: m.top}, Max: model.Point{X: w - m.right, Y: h - m.bottom}}
	return p
}

// zoneLength is the length of a zone after ISO 5457, counted from the middle of
// the frame; what is left falls to the outermost zones.
const zoneLength = 50.0

// edges gives the borders of n zones between two coordinates, n + 1 of them.
func (p paper) edges(n int, from, to float64) []float64 {
	out := make([]float64, n+1)
	out[0], out[n] = from, to
	for i := 1; i < n; i++ {
		if p.letterUp { // all alike
			out[i] = from + (to-from)*float64(i)/float64(n)
		} else {
			out[i] = (from+to)/2 + (float64(i)-float64(n)/2)*zoneLength
		}
	}
	return out
}

// zone tells in which zone a place of the sheet lies: "C4".
func (p paper) zone(at model.Point) string {
	find := func(edges []float64, v float64) int {
		for i := 1; i < len(edges)-1; i++ {
			if v < edges[i] {
				return i - 1
			}
		}
		return len(edges) - 2
	}
	column := find(p.edges(p.columns, p.frame.Min.X, p.frame.Max.X), at.X)
	row := find(p.edges(p.rows, p.frame.Min.Y, p.frame.Max.Y), at.Y)
	return p.rowName(row) + p.columnName(column)
}

func (p paper) columnName(i int) string {
	if p.letterUp {
		i = p.columns - 1 - i
	}
	return fmt.Sprint(i + 1)
}

// rowName gives the letter of a row; I and O are not used.
func (p paper) rowName(i int) string {
	if p.letterUp {
		i = p.rows - 1 - i
	}
	return string("ABCDEFGHJKLMNPQRSTUVWXYZ"[i])
}
