package window

import (
	"errors"
	"reflect"
	"slices"
	"strconv"

	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

// curveRows adds a pump's curve: a line of flow and head for each point.
func (p *propertyPanel) curveRows(id model.ID) {
	f := p.form
	pump := func() *model.Pump { x, _ := p.on.circuit().Part(id).(*model.Pump); return x }
	f.heading("Curve at rated speed")
	n := len(pump().Curve)
	if n > 0 || p.typedCurve == id {
		flow := quantity.DisplayUnit[quantity.Flow](p.on.units()).Name
		head := quantity.DisplayUnit[quantity.Length](p.on.units()).Name
		f.box.Add(withLayout(stretchLayout{}, quiet(""), quiet("Flow, "+flow), quiet("Head, "+head), widget.NewLabel("")))
	} else {
		f.remark("None given: the rated flow and head stand for it.")
	}
	for i := range n {
		p.curvePoint(id, pump, i)
	}
	if p.typedCurve == id {
		p.curvePoint(id, pump, n)
	}
	add := newButton(p.on, "Add point", theme.ContentAddIcon(), func() {
		p.typedCurve = id
		p.refresh()
	})
	f.box.Add(container.NewHBox(add))
}

// curvePoint adds the line of one point. The last one may be new: it becomes part
// of the curve with its first number.
func (p *propertyPanel) curvePoint(id model.ID, pump func() *model.Pump, i int) {
	f := p.form
	point := func() model.CurvePoint {
		if x := pump(); x != nil && i < len(x.Curve) {
			return x.Curve[i]
		}
		return model.CurvePoint{}
	}
	set := func(next model.CurvePoint) error {
		curve := slices.Clone(pump().Curve)
		if i < len(curve) {
			curve[i] = next
		} else {
			curve = append(curve, next)
			p.typedCurve = ""
		}
		return p.on.tried(p.on.drawing().SetCurve(id, curve))
	}
	cell := func(text func() string, commit func(string) error) *fieldEntry {
		e := newFieldEntry(commit)
		e.onKey = p.on.function
		e.PlaceHolder = unknownWord
		show := func() { e.setShown(text()) }
		f.rows = append(f.rows, show)
		show()
		return e
	}
	flow := cell(func() string { return curveText(point().Flow, p.on.units()) }, func(text string) error {
		v, err := typedNumber[quantity.Flow](text, p.on.units())
		if err != nil {
			return err
		}
		next := point()
		next.Flow = v
		return set(next)
	})
	head := cell(func() string { return curveText(point().Head, p.on.units()) }, func(text string) error {
		v, err := typedNumber[quantity.Length](text, p.on.units())
		if err != nil {
			return err
		}
		next := point()
		next.Head = v
		return set(next)
	})
	flow.onFocus = f.helpOn("Flow", "Of this point of the curve, at the rated speed.")
	head.onFocus = f.helpOn("Head", "That the pump gives at this flow.")
	remove := newButton(p.on, "", theme.ContentRemoveIcon(), func() {
		p.typedCurve = ""
		curve := slices.Clone(pump().Curve)
		if i < len(curve) {
			p.on.try(p.on.drawing().SetCurve(id, slices.Delete(curve, i, i+1)))
			return
		}
		p.refresh()
	})
	row := newFieldRow("", "", widget.NewLabel(""))
	row.box.Objects[0] = withLayout(stretchLayout{}, quiet(quantity.Number(float64(i+1))), flow, head, remove)
	flow.problem, head.problem = tellRow(row), tellRow(row)
	f.box.Add(row.box)
}

var errNegative = errors.New("must not be negative")

// curveText writes a number as it is typed, without its unit; nothing for an
// unknown one.
func curveText[T ~float64](v quantity.Opt[T], s quantity.System) string {
	x, ok := v.Get()
	if !ok {
		return ""
	}
	digits := 6
	if s == quantity.US {
		digits = 4 // as in the other fields: more is what the conversion makes of it
	}
	t := strconv.FormatFloat(quantity.DisplayUnit[T](s).FromSI(float64(x)), 'g', digits, 64)
	if r, err := strconv.ParseFloat(t, 64); err == nil {
		t = strconv.FormatFloat(r, 'f', -1, 64)
	}
	return t
}

// typedNumber reads a number that is not negative; empty text is unknown.
func typedNumber[T ~float64](text string, s quantity.System) (out quantity.Opt[T], err error) {
	if text == "" {
		return out, nil
	}
	x, err := quantity.Parse(text, reflect.TypeFor[T](), s)
	if err != nil {
		return out, err
	}
	if x < 0 {
		return out, errNegative
	}
	return quantity.Some(T(x)), nil
}
