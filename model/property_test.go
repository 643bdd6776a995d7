package model_test

import (
	"reflect"
	"strings"
	"testing"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

// Every key that holds a quantity must end in the key of its file unit, so that
// nobody has to guess what a number in a file means.
func TestPropertyKeysCarryTheirUnit(t *testing.T) {
	records := []model.Record{new(model.Run), new(model.Step)}
	for _, c := range model.Classes() {
		records = append(records, model.NewPart(c))
	}
	for _, r := range records {
		props := model.Properties(r)
		if len(props) == 0 {
			t.Errorf("%T has no properties", r)
		}
		for _, p := range props {
			u, ok := quantity.FileUnit(p.Type)
			if ok && !strings.HasSuffix(p.Key, "_"+u.Key) {
				t.Errorf("%T: key %q does not end in _%s", r, p.Key, u.Key)
			}
		}
	}
}

func TestPropertyText(t *testing.T) {
	v := &model.Vessel{}
	tests := []struct {
		key, text string
		system    quantity.System
		want      any
		metric    string
	}{
		{"diameter_m", "1.6", quantity.Metric, quantity.Length(1.6), "1.6"},
		{"diameter_m", "10 ft", quantity.Metric, quantity.Length(3.048), "3.048"}, // 1 ft = 0.3048 m by definition
		{"working_volume_L", "1000", quantity.US, quantity.Volume(3.785411784), "3785.41"},
		{"bottom", "cone", quantity.Metric, model.Cone, "cone"},
		{"vented", "yes", quantity.Metric, true, "yes"},
		{"elevation_m", "0,45", quantity.Metric, quantity.Length(0.45), "0.45"},
	}
	for _, tt := range tests {
		p, ok := model.FindProperty(v, tt.key)
		if !ok {
			t.Fatalf("no property %q", tt.key)
		}
		next, err := p.WithText(v, tt.text, tt.system)
		if err != nil {
			t.Errorf("%s = %q: %v", tt.key, tt.text, err)
			continue
		}
		got, known := p.Value(next)
		if !known || !near(got, tt.want) {
			t.Errorf("%s = %q: got %v (%v), want %v", tt.key, tt.text, got, known, tt.want)
		}
		if text := p.Text(next, quantity.Metric); text != tt.metric {
			t.Errorf("%s = %q reads back as %q, want %q", tt.key, tt.text, text, tt.metric)
		}
		if _, known := p.Value(v); known {
			t.Errorf("%s: setting a copy changed the original", tt.key)
		}
		cleared, err := p.WithText(next, " ", tt.system)
		if err != nil {
			t.Fatal(err)
		}
		if _, known := p.Value(cleared); known {
			t.Errorf("%s: empty text does not make it unknown", tt.key)
		}
	}
}

func near(a, b any) bool {
	x, y := reflect.ValueOf(a), reflect.ValueOf(b)
	if x.Kind() == reflect.Float64 {
		d := x.Float() - y.Float()
		return d < 1e-12 && d > -1e-12
	}
	return reflect.DeepEqual(a, b)
}

func TestPropertyTextRefused(t *testing.T) {
	tests := []struct{ key, text, want string }{
		{"diameter_m", "wide", "number"},
		{"diameter_m", "-5", "expected 0 m or more"},
		{"diameter_m", "3 kg", "not a unit"},
		{"bottom", "round", "one of flat, cone"},
		{"vented", "perhaps", "yes or no"},
	}
	for _, tt := range tests {
		p, _ := model.FindProperty(new(model.Vessel), tt.key)
		if _, err := p.WithText(new(model.Vessel), tt.text, quantity.Metric); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s = %q: error %v, want one with %q", tt.key, tt.text, err, tt.want)
		}
	}
}
