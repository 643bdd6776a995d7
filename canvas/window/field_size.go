package window

import (
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

// newSizeField shows a tube size and opens a list of all sizes that is searched by
// series, nominal size or diameter.
func newSizeField(on editing, tubes []catalogue.Tube, units func() quantity.System, onCommit func(string) error) *searchField {
	f := newSearchField(on, "Series, size or diameter", nil, onCommit)
	f.list = func() []choiceOf {
		var out []choiceOf
		for _, t := range ownSeriesFirst(tubes, f.Selected) {
			out = append(out, choiceOf{string(t.Size), string(t.Size), "outside " + quantity.Text(t.Outside, units()) + ", bore " + quantity.Text(t.Inside(), units())})
		}
		return out
	}
	return f
}

// ownSeriesFirst puts the table that a size is of before the others.
func ownSeriesFirst(tubes []catalogue.Tube, size string) []catalogue.Tube {
	series := ""
	for _, t := range tubes {
		if string(t.Size) == size {
			series = t.Series
		}
	}
	var own, others []catalogue.Tube
	for _, t := range tubes {
		if t.Series == series {
			own = append(own, t)
		} else {
			others = append(others, t)
		}
	}
	return append(own, others...)
}
