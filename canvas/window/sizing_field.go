package window

import (
	"errors"
	"fmt"
	"reflect"
	"strings"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
	"rinsewright/model/sizing"
)

// sizingField is one field of an object that is to be cleaned.
type sizingField struct {
	label, help string
	unit        func(quantity.System) string
	choices     []string // a select; nil: an entry
	words       func(string) string
	text        func(*sizing.Object, quantity.System) string // empty: not known
	read        func(*sizing.Object, string, quantity.System) error
}

// sizingQuantity is a field of a quantity. Its SI value must lie within the two.
func sizingQuantity[T ~float64](label, help string, least, most float64, at func(*sizing.Object) *quantity.Opt[T]) sizingField {
	unit := func(s quantity.System) quantity.Unit { return quantity.DisplayUnit[T](s) }
	return sizingField{label: label, help: help,
		unit: func(s quantity.System) string { return unit(s).Name },
		text: func(o *sizing.Object, s quantity.System) string {
			v, ok := at(o).Get()
			if !ok {
				return ""
			}
			return quantity.Number(unit(s).FromSI(float64(v)))
		},
		read: func(o *sizing.Object, text string, s quantity.System) error {
			if strings.TrimSpace(text) == "" {
				*at(o) = quantity.Opt[T]{}
				return nil
			}
			x, err := quantity.Parse(text, reflect.TypeFor[T](), s)
			if err != nil {
				return err
			}
			if x < least || x > most {
				return fmt.Errorf("give %s to %s", quantity.Text(T(least), s), quantity.Text(T(most), s))
			}
			*at(o) = quantity.Some(T(x))
			return nil
		}}
}

// sizingChoice is a field with some values to choose from.
func sizingChoice[T ~string](label, help string, values []T, words func(string) string, at func(*sizing.Object) *quantity.Opt[T]) sizingField {
	f := sizingField{label: label, help: help, words: words,
		text: func(o *sizing.Object, _ quantity.System) string { return string(at(o).Or("")) },
		read: func(o *sizing.Object, text string, _ quantity.System) error {
			*at(o) = quantity.Opt[T]{}
			if text != "" {
				*at(o) = quantity.Some(T(text))
			}
			return nil
		}}
	for _, v := range values {
		f.choices = append(f.choices, string(v))
	}
	return f
}

var deviceWords = map[string]string{string(sizing.Static): "spray ball", string(sizing.Rotary): "rotary spray head", string(sizing.Jet): "rotary jet head"}

// sizingFields lists the fields of an object, by its sort.
func sizingFields(o *sizing.Object, p *sizing.Project, cat *catalogue.Catalogue) []sizingField {
	m3h := 1.0 / 3600
	var shapes []model.Shape
	for _, s := range model.Shape("").Choices() {
		shapes = append(shapes, model.Shape(s))
	}
	var sizes []model.TubeSize
	for _, t := range cat.Tubes() {
		if t.Series == p.Series || t.Size == o.Size.Or("") {
			sizes = append(sizes, t.Size)
		}
	}
	name := sizingField{label: "Name", help: "Of the object in the sheet.",
		text: func(o *sizing.Object, _ quantity.System) string { return o.Name },
		read: func(o *sizing.Object, text string, _ quantity.System) error {
			text = strings.TrimSpace(text)
			for i := range p.Objects {
				if &p.Objects[i] != o && p.Objects[i].Name == text {
					return errors.New("another object has that name")
				}
			}
			if text == "" {
				return errors.New("give the object a name")
			}
			o.Name = text
			return nil
		}}
	out := []sizingField{name}
	switch o.Sort {
	case sizing.VesselSort:
		out = append(out,
			sizingQuantity("Inside diameter", "Of the vessel: its circumference sets the flow.", 0.1, 12, func(o *sizing.Object) *quantity.Opt[quantity.Length] { return &o.Diameter }),
			sizingChoice("Spray device", "Sort of spray device: it sets flow on the circumference and pressure.", sizing.Devices(), func(v string) string { return deviceWords[v] },
				func(o *sizing.Object) *quantity.Opt[sizing.Device] { return &o.Device }),
			sizingQuantity("Rated flow", "Of all its spray devices together; without it the circumference counts.", 0.1*m3h, 500*m3h, func(o *sizing.Object) *quantity.Opt[quantity.Flow] { return &o.Rated }),
			sizingChoice("Bottom", "Form of the bottom: it sets the puddle.", shapes, nil, func(o *sizing.Object) *quantity.Opt[model.Shape] { return &o.Bottom }))
	case sizing.LineSort:
		out = append(out,
			sizingChoice("Tube", "Size of the line: the velocity in it sets the flow.", sizes, func(v string) string { return v }, func(o *sizing.Object) *quantity.Opt[model.TubeSize] { return &o.Size }),
			sizingQuantity("Length", "Of the line itself.", 0.1, 5000, func(o *sizing.Object) *quantity.Opt[quantity.Length] { return &o.Length }))
	case sizing.MachineSort:
		out = append(out,
			sizingQuantity("Flow needed", "Least flow that washes it, by its maker.", 0.01*m3h, 500*m3h, func(o *sizing.Object) *quantity.Opt[quantity.Flow] { return &o.Needs }),
			sizingQuantity("Length", "Of the way through it, where its pressure is not told.", 0.01, 5000, func(o *sizing.Object) *quantity.Opt[quantity.Length] { return &o.Length }),
			sizingQuantity("Bore", "Narrowest on the way through it.", 0.0005, 0.5, func(o *sizing.Object) *quantity.Opt[quantity.Bore] { return &o.Bore }),
			sizingQuantity("Hold-up", "What it holds when full.", 0, 5, func(o *sizing.Object) *quantity.Opt[quantity.Volume] { return &o.HoldUp }))
	}
	out = append(out,
		sizingQuantity("Pressure", "That it needs at its inlet, gauge; without it the usual one of its spray device, or the friction through it.", 0, 20e5, func(o *sizing.Object) *quantity.Opt[quantity.Pressure] { return &o.Pressure }),
		sizingQuantity("Supply line", "Tube from the station to the object.", 0, 2000, func(o *sizing.Object) *quantity.Opt[quantity.Length] { return &o.Supply }),
		sizingQuantity("Return line", "Tube from the object back to the station.", 0, 2000, func(o *sizing.Object) *quantity.Opt[quantity.Length] { return &o.Return }),
		sizingQuantity("Rise", "Of the highest point on the way over the supply pump.", -50, 100, func(o *sizing.Object) *quantity.Opt[quantity.Length] { return &o.Rise }))
	washes := sizingQuantity("Washes a day", "On average.", 0, 100, func(o *sizing.Object) *quantity.Opt[quantity.Ratio] { return (*quantity.Opt[quantity.Ratio])(nil) })
	washes.text = func(o *sizing.Object, _ quantity.System) string {
		if n, ok := o.PerDay.Get(); ok {
			return quantity.Number(n)
		}
		return ""
	}
	washes.read = func(o *sizing.Object, text string, s quantity.System) error {
		if strings.TrimSpace(text) == "" {
			o.PerDay = quantity.Opt[float64]{}
			return nil
		}
		x, err := quantity.Parse(text, reflect.TypeFor[quantity.Ratio](), s)
		if err != nil {
			return err
		}
		if x < 0 || x > 100 {
			return errors.New("give 0 to 100")
		}
		o.PerDay = quantity.Some(x)
		return nil
	}
	return append(out, washes)
}
