package scene_test

import (
	"testing"

	"rinsewright/canvas/scene"
	"rinsewright/model/flow"
	"rinsewright/model/quantity"
)

// 12 m³/h in DN50 (50 mm inside, EN 10357 series A) is 1.698 m/s, 52.8 US gpm and
// 5.57 ft/s by arithmetic.
func TestValues(t *testing.T) {
	p := station(t)
	for _, step := range p.Circuit.Steps() {
		if step.Programme != "Vessel T-201" || step.Name != "Alkali wash" {
			continue
		}
		s, err := flow.Solve(p, p.Heights(), step, flow.Options{})
		if err != nil || !s.Solved() {
			t.Fatalf("not solved: %v %v", err, s.Failures)
		}
		run := between(t, p, "P-101", "PT-101").ID
		tests := []struct {
			value  scene.Value
			system quantity.System
			want   string
		}{
			{scene.Velocity, quantity.Metric, "1.7 m/s"},
			{scene.Velocity, quantity.US, "5.57 ft/s"},
			{scene.Flow, quantity.Metric, "12 m³/h"},
			{scene.Flow, quantity.US, "52.8 gpm"},
			{scene.NoValue, quantity.Metric, ""},
		}
		for _, tt := range tests {
			if got := scene.Values(s, tt.value, tt.system)[run]; got != tt.want {
				t.Errorf("%s in system %v: %q, want %q", tt.value, tt.system, got, tt.want)
			}
		}
		for _, v := range scene.ValueNames() {
			values := scene.Values(s, v, quantity.Metric)
			if values[run] == "" || values[run] == "?" {
				t.Errorf("%s of the supply is %q", v, values[run])
			}
			if got, ok := values[between(t, p, "T-101", "V-101").ID]; ok {
				t.Errorf("%s of a dry run is %q", v, got)
			}
			if scene.Remark(s, v) == "" || v.Title() == "None" {
				t.Errorf("%s is not told in words", v)
			}
		}
		return
	}
	t.Fatal("the step is not there")
}

func TestGrouped(t *testing.T) {
	for x, want := range map[float64]string{999: "999", 145123: "145 000", 84595: "84 600", 1234567: "1 230 000", -2104: "-2 100"} {
		if got := scene.Grouped(x); got != want {
			t.Errorf("%v is written %q, want %q", x, got, want)
		}
	}
}
