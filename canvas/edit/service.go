package edit

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

// plainNumber reads a number of 0 or more; empty text is unknown.
func plainNumber(text, what, key string) (quantity.Opt[model.Plain], error) {
	var none quantity.Opt[model.Plain]
	text = strings.TrimSpace(strings.Replace(text, ",", ".", 1))
	if text == "" {
		return none, nil
	}
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return none, fmt.Errorf("%s: expected a number, found %q", what, text)
	}
	least, most, _ := model.Bounds(key, reflect.TypeFor[model.Plain]())
	if !(x >= least && x <= most) {
		return none, fmt.Errorf("%s: expected a number from %s to %s", what, quantity.Number(least), quantity.Number(most))
	}
	return quantity.Some(model.Plain(x)), nil
}

// SetPerWeek says how often a programme runs in a week; empty text says that nobody
// told.
func (d *Drawing) SetPerWeek(programme, text string) (model.Edit, error) {
	n, err := plainNumber(text, "Runs a week", "per_week")
	if err != nil {
		return model.Edit{}, err
	}
	h := model.Clone(d.circuit.Header())
	h.Programmes = slices.DeleteFunc(h.Programmes, func(f model.Frequency) bool { return f.Name == programme })
	if n.Known() {
		h.Programmes = append(h.Programmes, model.Frequency{Name: programme, PerWeek: n})
		slices.SortFunc(h.Programmes, func(a, b model.Frequency) int { return strings.Compare(a.Name, b.Name) })
	}
	if len(h.Programmes) == 0 {
		h.Programmes = nil
	}
	return d.replacing(h, "set how often programme "+programmeWords(programme)+" runs"), nil
}

// SetInterval sets the service interval of a kind: running hours, switchings and
// months, each empty where it does not count. With all three empty there is none.
func (d *Drawing) SetInterval(kind, hours, switchings, months string) (model.Edit, error) {
	k := d.cat.Kind(kind)
	if k == nil {
		return model.Edit{}, fmt.Errorf("there is no kind %s", kind)
	}
	iv := model.Interval{Kind: kind}
	for _, x := range []struct {
		to              *quantity.Opt[model.Plain]
		text, what, key string
	}{{&iv.Hours, hours, "Running hours", "hours"}, {&iv.Switchings, switchings, "Switchings", "switchings"}, {&iv.Months, months, "Months", "months"}} {
		n, err := plainNumber(x.text, x.what, x.key)
		if err != nil {
			return model.Edit{}, err
		}
		if v, ok := n.Get(); ok && v == 0 {
			return model.Edit{}, fmt.Errorf("%s: an interval is more than 0; leave it empty where it does not count", x.what)
		}
		*x.to = n
	}
	h := model.Clone(d.circuit.Header())
	h.Service = slices.DeleteFunc(h.Service, func(o model.Interval) bool { return o.Kind == kind })
	if iv.Hours.Known() || iv.Switchings.Known() || iv.Months.Known() {
		h.Service = append(h.Service, iv)
		slices.SortFunc(h.Service, func(a, b model.Interval) int { return strings.Compare(a.Kind, b.Kind) })
	}
	if len(h.Service) == 0 {
		h.Service = nil
	}
	return d.replacing(h, "set service interval of "+lowerFirst(k.Title)), nil
}

// renameFrequency lets what is told of how often a programme runs follow its name.
func (f *draft) renameFrequency(from, to string) {
	h := f.circuit.Header()
	if !slices.ContainsFunc(h.Programmes, func(o model.Frequency) bool { return o.Name == from }) {
		return
	}
	next := model.Clone(h)
	next.Programmes = slices.DeleteFunc(next.Programmes, func(o model.Frequency) bool { return o.Name == to })
	for i := range next.Programmes {
		if next.Programmes[i].Name == from {
			next.Programmes[i].Name = to
		}
	}
	f.put(next)
}
