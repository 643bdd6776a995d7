package model_test

import (
	"reflect"
	"testing"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

func TestBounds(t *testing.T) {
	tests := []struct {
		key   string
		t     reflect.Type
		least float64
		ok    bool
	}{
		{"length_m", reflect.TypeFor[quantity.Length](), 0, true},
		{"rise_m", reflect.TypeFor[quantity.Length](), -1e9, true},
		{"gas_bar", reflect.TypeFor[quantity.Pressure](), -1.01325, true}, // standard atmosphere: 101325 Pa, CGPM 1954
		{"pressure_drop_bar", reflect.TypeFor[quantity.Pressure](), 0, true},
		{"temperature_C", reflect.TypeFor[quantity.Temperature](), -273.15, true}, // SI brochure
		{"turn", reflect.TypeFor[model.Turn](), 0, true},
		{"elbows", reflect.TypeFor[int](), 0, true},
		{"tag", reflect.TypeFor[string](), 0, false},
		{"vented", reflect.TypeFor[bool](), 0, false},
	}
	for _, tt := range tests {
		least, most, ok := model.Bounds(tt.key, tt.t)
		if ok != tt.ok || ok && (least != tt.least || most <= least) {
			t.Errorf("%s: from %v to %v (%v), want from %v (%v)", tt.key, least, most, ok, tt.least, tt.ok)
		}
	}
}
