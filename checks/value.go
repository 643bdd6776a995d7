package checks

import (
	"encoding/json"
	"math"
	"reflect"

	"rinsewright/model/quantity"
)

// Value is a number with its unit: what a rule measured, or what is allowed.
// The zero Value is no value.
type Value struct {
	si   float64
	unit *unit
	of   string // what it is of, where its unit does not tell: "difference"
}

// unit is how one sort of number is written, in the file and in each display
// system. Its key names it in profiles.
type unit struct {
	sort       string // numbers of one sort can be compared
	key        string
	metric, us quantity.Unit
}

// units are those that limits and findings use. A profile may give a limit in
// any of them; the display unit follows the sort.
var units = []*unit{
	ofQuantity[quantity.Velocity]("velocity"),
	ofQuantity[quantity.Bore]("bore"),
	ofQuantity[quantity.Length]("length"),
	ofQuantity[quantity.Volume]("volume"),
	ofQuantity[quantity.Flow]("flow"),
	ofQuantity[quantity.Pressure]("pressure"),
	ofQuantity[quantity.Temperature]("temperature"),
	ofQuantity[quantity.Duration]("time"),
	ofQuantity[quantity.Power]("power"),
	shaftPower, diameters, percent, number, wetting, shear, seconds, coolingRate, kelvins,
}

var (
	diameters = plain("diameters", "D", " D", 1)
	percent   = plain("share", "pct", " %", 0.01)
	number    = plain("number", "", "", 1)
	shear     = plain("shear", "Pa", "Pa", 1)
	seconds   = plain("closing time", "s", "s", 1)
	// shaftPower has the file's unit of power, and its own to a reader of US units.
	shaftPower  = ofQuantity[quantity.ShaftPower]("shaft power")
	coolingRate = &unit{sort: "cooling rate", key: "Ks",
		metric: quantity.Unit{Name: "K/s", Factor: 1}, us: quantity.Unit{Name: "°F/s", Factor: 1 / 1.8}}
	// kelvins is a difference of temperatures.
	kelvins = &unit{sort: "temperature difference", key: "K",
		metric: quantity.Unit{Name: "K", Factor: 1}, us: quantity.Unit{Name: "°F", Factor: 1 / 1.8}}
	// wetting is flow per length of a vessel's circumference, m²/s in SI.
	wetting = &unit{sort: "wetting", key: "Lminm",
		metric: quantity.Unit{Name: "L/min·m", Factor: 1e-3 / 60},
		us:     quantity.Unit{Name: "gpm/ft", Factor: 3.785411784e-3 / 60 / 0.3048}} // NIST SP 811, appendix B.8
)

func plain(sort, key, name string, factor float64) *unit {
	u := quantity.Unit{Name: name, Key: key, Factor: factor}
	return &unit{sort: sort, key: key, metric: u, us: u}
}

func ofQuantity[T ~float64](sort string) *unit {
	t := reflect.TypeFor[T]()
	file, _ := quantity.FileUnit(t)
	return &unit{sort: sort, key: file.Key, metric: quantity.DisplayUnit[T](quantity.Metric), us: quantity.DisplayUnit[T](quantity.US)}
}

func unitFor(key string) *unit {
	for _, u := range units {
		if u.key == key {
			return u
		}
	}
	return nil
}

// Of gives a quantity as a Value. A quantity.Ratio becomes a bare number.
func Of[T ~float64](q T) Value {
	t := reflect.TypeFor[T]()
	if t == reflect.TypeFor[quantity.ShaftPower]() {
		return Value{si: float64(q), unit: shaftPower}
	}
	if file, ok := quantity.FileUnit(t); ok && file.Key != "" {
		if u := unitFor(file.Key); u != nil {
			return Value{si: float64(q), unit: u}
		}
	}
	return Value{si: float64(q), unit: number}
}

// Number gives a count or other bare number as a Value.
func Number(x float64) Value { return Value{si: x, unit: number} }

// Diameters gives x times a diameter as a Value: "1.5 D".
func Diameters(x float64) Value { return Value{si: x, unit: diameters} }

// Percent gives a share (0.01 is 1 %) as a Value.
func Percent(share float64) Value { return Value{si: share, unit: percent} }

// Shear gives a shear stress of a wall, in Pa, as a Value. It is far below what
// pressures are written in.
func Shear(p quantity.Pressure) Value { return Value{si: float64(p), unit: shear} }

// Difference says that the value is one between two others: "12.7 mm difference".
func (v Value) Difference() Value {
	v.of = "difference"
	return v
}

// Wetting gives a flow per length of circumference, in m²/s, as a Value.
func Wetting(x float64) Value { return Value{si: x, unit: wetting} }

// Kelvins gives a difference of temperatures as a Value.
func Kelvins(x float64) Value { return Value{si: x, unit: kelvins} }

// Known says whether there is a value.
func (v Value) Known() bool { return v.unit != nil }

// SI gives the number in SI units; 0 if there is no value.
func (v Value) SI() float64 { return v.si }

// Text writes the value with its unit under s, to three significant figures;
// empty if there is no value.
func (v Value) Text(s quantity.System) string {
	if v.unit == nil {
		return ""
	}
	u := v.unit.metric
	if s == quantity.US {
		u = v.unit.us
	}
	text := quantity.Number(u.FromSI(v.si))
	switch {
	case u.Name == "":
	case u.Name[0] == ' ':
		text += u.Name
	default:
		text += " " + u.Name
	}
	if v.of != "" {
		text += " " + v.of
	}
	return text
}

// valueJSON is a value in JSON output: the number in the unit of the circuit
// file, that unit's key, the number in SI, and the text in both systems.
type valueJSON struct {
	Value  float64 `json:"value"`
	Unit   string  `json:"unit"`
	SI     float64 `json:"si"`
	Text   string  `json:"text"`
	TextUS string  `json:"text_us"`
}

// MarshalJSON writes null if there is no value.
func (v Value) MarshalJSON() ([]byte, error) {
	if v.unit == nil || math.IsNaN(v.si) || math.IsInf(v.si, 0) {
		return []byte("null"), nil
	}
	return json.Marshal(valueJSON{rounded(v.unit.metric.FromSI(v.si)), v.unit.key, rounded(v.si), v.Text(quantity.Metric), v.Text(quantity.US)})
}

// rounded keeps nine significant digits, so that output does not change with
// the last bit of a computation.
func rounded(x float64) float64 {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return x
	}
	scale := math.Pow(10, 8-math.Floor(math.Log10(math.Abs(x))))
	if math.IsInf(scale, 0) || scale == 0 {
		return x
	}
	return math.Round(x*scale) / scale
}
