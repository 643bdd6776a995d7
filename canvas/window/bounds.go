package window

import (
	"fmt"
	"reflect"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

// doubt is a value that can be but is unusual; it is taken and said.
type doubt struct{ text string }

func (d doubt) Error() string { return d.text }

// checkBounds gives an error for a value that cannot be, a doubt for one beyond
// what is usual for the kind, and nil otherwise.
func checkBounds(r model.Record, p model.Property, cat *catalogue.Catalogue, s quantity.System) error {
	v, known := p.Value(r)
	if !known {
		return nil
	}
	var file float64
	toShown := func(x float64) string { return quantity.Number(x) }
	switch rv := reflect.ValueOf(v); rv.Kind() {
	case reflect.Float64:
		unit, ok := quantity.FileUnit(p.Type)
		if !ok {
			return nil
		}
		file = unit.FromSI(rv.Float())
		shown, _ := quantity.UnitOf(p.Type, s)
		toShown = func(x float64) string {
			t := quantity.Number(shown.FromSI(unit.ToSI(x)))
			if shown.Name != "" {
				t += " " + shown.Name
			}
			return t
		}
	case reflect.Int:
		file = float64(rv.Int())
	default:
		return nil
	}
	if least, most, ok := model.Bounds(p.Key, p.Type); ok {
		switch {
		case file < least-1e-9:
			return fmt.Errorf("cannot be below %s", toShown(least))
		case file > most+1e-9:
			return fmt.Errorf("cannot be above %s", toShown(most))
		}
	}
	part, ok := r.(model.Part)
	if !ok {
		return nil
	}
	kind := cat.Kind(part.Meta().Kind)
	if kind == nil {
		return nil
	}
	info, ok := kind.Property(p.Key)
	switch {
	case !ok:
	case info.Least != nil && file < *info.Least-1e-9:
		return doubt{fmt.Sprintf("unusual: below %s; kept as typed", toShown(*info.Least))}
	case info.Most != nil && file > *info.Most+1e-9:
		return doubt{fmt.Sprintf("unusual: above %s; kept as typed", toShown(*info.Most))}
	}
	return nil
}
