package model

import (
	"reflect"

	"rinsewright/model/quantity"
)

// Bounds gives the least and the most that a number can be at all, in its file
// unit; ok is false for what is no number. They keep nonsense out of a circuit
// (a pipe of -3 m, a strength of 400 %), not what is merely unusual: that is a
// matter of the checks and of the kind.
func Bounds(key string, t reflect.Type) (least, most float64, ok bool) {
	if b, special := boundsOfKey[key]; special {
		return b[0], b[1], true
	}
	if b, special := boundsOfType[t]; special {
		return b[0], b[1], true
	}
	if _, ok := quantity.FileUnit(t); ok {
		return 0, immense, true
	}
	return 0, immense, t.Kind() == reflect.Int
}

// immense is far beyond any plant in any file unit and far below what a
// conversion of units could make infinite.
const immense = 1e9

// vacuum is the least gauge pressure: one standard atmosphere (101325 Pa,
// CGPM 1954) below the air around. In bar.
const vacuum = -1.01325

var boundsOfType = map[reflect.Type][2]float64{
	reflect.TypeFor[quantity.Temperature](): {-quantity.ZeroCelsius, immense}, // absolute zero, °C
	reflect.TypeFor[quantity.Strength]():    {0, 100},
	reflect.TypeFor[Turn]():                 {0, 3},
	reflect.TypeFor[Plain]():                {-immense, immense},
}

// boundsOfKey holds the numbers whose sense depends on more than their type.
var boundsOfKey = map[string][2]float64{
	"elevation_m":  {-immense, immense}, // above the plant's zero
	"rise_m":       {-immense, immense},
	"gas_bar":      {vacuum, immense}, // gauge
	"pressure_bar": {vacuum, immense}, // gauge
	"set_bar":      {vacuum, immense}, // gauge; a vacuum breaker opens below the air
	"order":        {-immense, immense},
	"per_week":     {0, 1000},
	"hours":        {0, immense},
	"switchings":   {0, immense},
	"months":       {0, 1200},
	"elbows":       {0, 10000},
	"at_mm":        {-immense, immense},
	"bends_mm":     {-immense, immense},
	"label_mm":     {-immense, immense},
	"to_mm":        {-immense, immense},
}
