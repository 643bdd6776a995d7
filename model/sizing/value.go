package sizing

import (
	"fmt"
	"reflect"

	"rinsewright/model/quantity"
)

// Value is a quantity of any sort, in SI; the zero Value is not known.
type Value struct {
	si    float64
	sort  reflect.Type // of the quantity; nil for what has no type of its own
	units [2]quantity.Unit
	text  string // in the place of a number: a tube size, a name
	known bool
}

// Of gives the value of a quantity.
func Of[T ~float64](v T) Value {
	return Value{si: float64(v), sort: reflect.TypeFor[T](), known: true}
}

// Maybe gives the value of a quantity that may be unknown.
func Maybe[T ~float64](v quantity.Opt[T]) Value {
	x, ok := v.Get()
	if !ok {
		return Value{}
	}
	return Of(x)
}

// Word gives a value that is no number: a tube size.
func Word(s string) Value { return Value{text: s, known: s != ""} }

// own are the units of what has no type of its own, metric and US.
var own = map[string][2]quantity.Unit{
	"Lminm":  {{Name: "L/min·m", Key: "Lminm", Factor: 1.0 / 60000}, {Name: "gpm/ft", Key: "gpmft", Factor: 3.785411784 / 60000 / 0.3048}},
	"day":    {{Name: "days", Key: "day", Factor: 1}, {Name: "days", Key: "day", Factor: 1}},
	"perday": {{Name: "a day", Key: "perday", Factor: 1}, {Name: "a day", Key: "perday", Factor: 1}},
	"kWh":    {{Name: "kWh", Key: "kWh", Factor: 3.6e6}, {Name: "kWh", Key: "kWh", Factor: 3.6e6}},
	"m3":     {{Name: "m³", Key: "m3", Factor: 1}, {Name: "gal", Key: "gal", Factor: 3.785411784 / 1000}},
	"each":   {{Key: "each", Factor: 1}, {Key: "each", Factor: 1}},
	"money":  {{Name: "units", Key: "money", Factor: 1}, {Name: "units", Key: "money", Factor: 1}},
}

// In gives a value in SI of what has no type of its own, by the key of its unit.
func In(si float64, key string) Value {
	u, ok := own[key]
	if !ok {
		panic("sizing: there is no unit " + key)
	}
	return Value{si: si, units: u, known: true}
}

// Known says whether there is a value.
func (v Value) Known() bool { return v.known }

// SI gives the number in SI; false if it is not known or no number.
func (v Value) SI() (float64, bool) { return v.si, v.known && v.text == "" }

// Unit gives the unit in which the value is shown; empty for a plain number.
func (v Value) Unit(s quantity.System) quantity.Unit {
	if v.sort == nil {
		if s == quantity.US {
			return v.units[1]
		}
		return v.units[0]
	}
	u, _ := quantity.UnitOf(v.sort, s)
	return u
}

// Number gives the number in the unit in which it is shown; false if it is not known
// or no number.
func (v Value) Number(s quantity.System) (float64, bool) {
	if !v.known || v.text != "" {
		return 0, false
	}
	return v.Unit(s).FromSI(v.si), true
}

// NotKnown is what is written for a value that is not known.
const NotKnown = "not known"

// Text writes the value with its unit, or [NotKnown].
func (v Value) Text(s quantity.System) string {
	if v.text != "" {
		return v.text
	}
	x, ok := v.Number(s)
	if !ok {
		return NotKnown
	}
	if u := v.Unit(s); u.Name != "" {
		return quantity.Number(x) + " " + u.Name
	}
	return quantity.Number(x)
}

// parsed reads what a user typed in place of a value of the same sort.
func (v Value) parsed(text string, s quantity.System) (Value, error) {
	var err error
	if v.sort != nil {
		v.si, err = quantity.Parse(text, v.sort, s)
	} else {
		v.si, err = quantity.ParseIn(text, s, v.Unit(s), v.units[0], v.units[1])
	}
	if err != nil {
		return Value{}, err
	}
	v.known = true
	return v, nil
}

func (v Value) String() string { return fmt.Sprint(v.Text(quantity.Metric)) }
