package lists

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/quantity"
)

// Table is one list: a row of headings and rows of cells, each row as long as
// Columns.
type Table struct {
	Name    string // "parts", as it is asked for
	Title   string // "Parts"
	Columns []Column
	Rows    [][]Cell
	Remarks []string // sentences beneath it
}

// Column is the heading of a column. Unit is that of its numbers, empty for words
// and plain numbers.
type Column struct{ Heading, Unit string }

// Words gives the heading with its unit: "Length, m".
func (c Column) Words() string {
	if c.Unit == "" {
		return c.Heading
	}
	return c.Heading + ", " + c.Unit
}

// Cell is a text or a number; the zero Cell is empty. Text comes from users and
// may hold anything.
type Cell struct {
	Text   string
	Number quantity.Opt[float64]
}

// Text gives the cell of a text.
func Text(s string) Cell { return Cell{Text: s} }

// Number gives the cell of a number; empty for one that is not finite.
func Number(v float64) Cell {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return Cell{}
	}
	return Cell{Number: quantity.Some(v)}
}

// of gives the cell of a quantity in the unit in which it is shown; empty while it
// is unknown.
func of[T ~float64](v quantity.Opt[T], s quantity.System) Cell {
	x, ok := v.Get()
	if !ok {
		return Cell{}
	}
	return Number(quantity.DisplayUnit[T](s).FromSI(float64(x)))
}

// in gives a column of quantities.
func in[T ~float64](heading string, s quantity.System) Column {
	return Column{heading, quantity.DisplayUnit[T](s).Name}
}

func choice[T ~string](v quantity.Opt[T]) Cell {
	return Text(strings.ReplaceAll(string(v.Or("")), "-", " "))
}

func yesNo(v quantity.Opt[bool]) Cell {
	x, ok := v.Get()
	switch {
	case !ok:
		return Cell{}
	case x:
		return Text("yes")
	}
	return Text("no")
}

// maker makes one list of a circuit.
type maker struct {
	name, title string
	make        func(s *checks.Snapshot, system quantity.System) *Table
}

var makers = []maker{
	{"parts", "Parts", parts},
	{"valves", "Valves", valves},
	{"lines", "Lines", lines},
	{"instruments", "Instruments", instruments},
	{"nozzles", "Nozzles", nozzles},
	{"pumps", "Pumps", pumps},
}

// Names lists what [Make] makes, in the order of a set of documents.
func Names() []string {
	var out []string
	for _, m := range makers {
		out = append(out, m.name)
	}
	return out
}

// Title gives the title of a list; empty for one that there is not.
func Title(name string) string {
	for _, m := range makers {
		if m.name == name {
			return m.title
		}
	}
	return ""
}

// Make makes the list of a name; nil for one that there is not. Steps are solved
// where the list tells what flows.
func Make(name string, s *checks.Snapshot, system quantity.System) *Table {
	for _, m := range makers {
		if m.name == name {
			t := m.make(s, system)
			t.Name, t.Title = m.name, m.title
			return t
		}
	}
	return nil
}

// ofClass gives the parts of a class in order of their tags.
func ofClass[T model.Part](s *checks.Snapshot) []T {
	var out []T
	for _, p := range s.Circuit.Parts() {
		if v, ok := p.(T); ok {
			out = append(out, v)
		}
	}
	slices.SortStableFunc(out, func(a, b T) int { return byTag(a.Meta().Tag, b.Meta().Tag) })
	return out
}

// byTag orders tags as people read them: V-2 before V-10, none last.
func byTag(a, b string) int {
	if (a == "") != (b == "") {
		if a == "" {
			return 1
		}
		return -1
	}
	for a != "" && b != "" {
		na, nb := digits(a), digits(b)
		if na > 0 && nb > 0 {
			x, y := strings.TrimLeft(a[:na], "0"), strings.TrimLeft(b[:nb], "0")
			if c := cmp.Or(cmp.Compare(len(x), len(y)), strings.Compare(x, y), cmp.Compare(na, nb)); c != 0 {
				return c
			}
			a, b = a[na:], b[nb:]
			continue
		}
		if a[0] != b[0] {
			return cmp.Compare(a[0], b[0])
		}
		a, b = a[1:], b[1:]
	}
	return cmp.Compare(len(a), len(b))
}

func digits(s string) int {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n
}

// kindTitle tells what a part is.
func kindTitle(s *checks.Snapshot, p model.Part) string {
	if k := s.Kind(p); k != nil {
		return k.Title
	}
	return p.Meta().Kind
}

// sizeOf gives a property of a part that is a tube size.
func sizeOf(p model.Part, key string) string {
	prop, ok := model.FindProperty(p, key)
	if !ok {
		return ""
	}
	v, known := prop.Value(p)
	size, isSize := v.(model.TubeSize)
	if !known || !isSize {
		return ""
	}
	return string(size)
}

// stepName names a step: "Vessel T-201 / Alkali wash".
func stepName(step *model.Step) string {
	switch {
	case step == nil:
		return ""
	case step.Programme == "":
		return step.Name
	}
	return step.Programme + " / " + step.Name
}
