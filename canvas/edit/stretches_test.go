package edit_test

import (
	"math"
	"testing"

	"rinsewright/canvas/edit"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

func TestStretchesOnOneLine(t *testing.T) {
	c, err := model.New("x").Apply(model.Edit{Label: "add", Changes: []model.Change{model.Adding(&model.Run{ID: "r1"}), model.Adding(&model.Run{ID: "r2"})}})
	if err != nil {
		t.Fatal(err)
	}
	d := edit.NewDrawing(c, catalogue.Builtin())
	type piece struct{ length, rise float64 } // m; NaN: unknown
	unknown := math.NaN()
	for _, tt := range []struct {
		text   string
		system quantity.System
		want   []piece // nil: refused
		back   string
	}{
		{"5 / -0.05; 2 / 0", quantity.Metric, []piece{{5, -0.05}, {2, 0}}, "5 / -0.05; 2 / 0"},
		{" 5/-0.05;2/0 ", quantity.Metric, []piece{{5, -0.05}, {2, 0}}, "5 / -0.05; 2 / 0"},
		{"3", quantity.Metric, []piece{{3, unknown}}, "3 / ?"},
		{"? / 1", quantity.Metric, []piece{{unknown, 1}}, "? / 1"},
		{"10 ft / 0", quantity.Metric, []piece{{3.048, 0}}, "3.048 / 0"}, // 1 ft = 0.3048 m by definition
		{"10 / 0", quantity.US, []piece{{3.048, 0}}, "10 / 0"},
		{"5 / 6", quantity.Metric, nil, ""},
		{"5 / -6", quantity.Metric, nil, ""},
		{"-5 / 0", quantity.Metric, nil, ""},
		{"5 / 0 / 0", quantity.Metric, nil, ""},
		{"5 / 0;", quantity.Metric, nil, ""},
		{"long / 0", quantity.Metric, nil, ""},
	} {
		e, err := d.SetStretches([]model.ID{"r1", "r2"}, tt.text, tt.system)
		if (err != nil) != (tt.want == nil) {
			t.Errorf("%q: error %v", tt.text, err)
			continue
		}
		if err != nil {
			continue
		}
		next, err := c.Apply(e)
		if err != nil {
			t.Fatal(err)
		}
		for _, id := range []model.ID{"r1", "r2"} {
			r := next.Run(id)
			if got := edit.StretchesText(r, tt.system); got != tt.back {
				t.Errorf("%q comes back as %q, want %q", tt.text, got, tt.back)
			}
			if len(r.Stretches) != len(tt.want) {
				t.Fatalf("%q gives %d stretches", tt.text, len(r.Stretches))
			}
			for i, w := range tt.want {
				for _, x := range []struct {
					got  quantity.Opt[quantity.Length]
					want float64
				}{{r.Stretches[i].Length, w.length}, {r.Stretches[i].Rise, w.rise}} {
					v, known := x.got.Get()
					if known == math.IsNaN(x.want) || known && math.Abs(float64(v)-x.want) > 1e-9 {
						t.Errorf("%q, stretch %d: %v (%v), want %v", tt.text, i+1, v, known, x.want)
					}
				}
			}
		}
	}
}
