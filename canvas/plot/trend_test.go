package plot_test

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"rinsewright/assets"
	"rinsewright/canvas/draw"
	"rinsewright/canvas/plot"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
	"rinsewright/model/wash"
)

func record(t testing.TB) (*network.Plant, *wash.Record) {
	t.Helper()
	b, err := assets.Files.ReadFile("demo/oat-drink-station.circuit.json")
	if err != nil {
		t.Fatal(err)
	}
	c, err := circuitfile.Decode("demo", b)
	if err != nil {
		t.Fatal(err)
	}
	p := network.Build(c, catalogue.Builtin())
	var steps []*model.Step
	for _, s := range c.Steps() {
		if s.Programme == "Vessel T-201" {
			steps = append(steps, s)
		}
	}
	r, err := wash.Run(p, p.Heights(), steps, wash.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return p, r
}

func trendOptions(p *network.Plant, r *wash.Record, s quantity.System) plot.TrendOptions {
	return plot.TrendOptions{Places: plot.TrendPlaces(r), System: s, Name: func(id model.ID) string { return p.Circuit.Part(id).Meta().Tag }}
}

// The values of a chart are those of the record, in the units of its axis; Fahrenheit
// is by its definition, 1.8 t + 32.
func TestTrendsAreThoseOfTheRecord(t *testing.T) {
	p, r := record(t)
	if got := plot.TrendPlaces(r)[:2]; !slices.Equal(got, []string{plot.Supply, plot.Return}) {
		t.Fatalf("places %v", got)
	}
	metric := plot.TrendChart(r, plot.Temperature, trendOptions(p, r, quantity.Metric))
	us := plot.TrendChart(r, plot.Temperature, trendOptions(p, r, quantity.US))
	checked := 0
	for _, trend := range r.Trends {
		if trend.What != plot.Supply {
			continue
		}
		for i, x := range trend.Points {
			k, ok := x.Temperature.Get()
			if !ok || i%97 != 0 {
				continue
			}
			at := float64(x.Time) / 60
			c, f := metric.ValuesAt(at)[0], us.ValuesAt(at)[0]
			if math.Abs(c-(float64(k)-273.15)) > 0.05 || math.Abs(f-(1.8*c+32)) > 0.05 {
				t.Errorf("at %.2f min %.2f °C and %.2f °F, the record has %v K", at, c, f, k)
			}
			checked++
		}
	}
	if checked < 5 {
		t.Errorf("%d values looked at", checked)
	}
	if metric.Y.Name != "Temperature, °C" || us.Y.Name != "Temperature, °F" {
		t.Errorf("axes %q and %q", metric.Y.Name, us.Y.Name)
	}
}

// Steps are marked where they begin; a curve has a gap where nothing flows.
func TestTrendStepsAndGaps(t *testing.T) {
	p, r := record(t)
	for _, of := range plot.Trends() {
		c := plot.TrendChart(r, of, trendOptions(p, r, quantity.Metric))
		if len(c.Lines) == 0 {
			t.Errorf("%s has no line", of)
		}
		if len(c.Uprights) != len(r.Steps) {
			t.Errorf("%s: %d steps are marked of %d", of, len(c.Uprights), len(r.Steps))
		}
		for i, u := range c.Uprights {
			if math.Abs(u.At*60-float64(r.Steps[i].Start)) > 1e-6 {
				t.Errorf("%s: step %d is marked at %v min", of, i+1, u.At)
			}
		}
	}
	last := r.Steps[len(r.Steps)-1] // drains: nothing passes
	middle := float64(last.Start+last.Time/2) / 60
	flow := plot.TrendChart(r, plot.Flow, trendOptions(p, r, quantity.Metric))
	for i, v := range flow.ValuesAt(middle) {
		if !math.IsNaN(v) {
			t.Errorf("%s: %v m³/h while the line drains", flow.Lines[i].Name, v)
		}
	}
	for i, v := range flow.ValuesAt(float64(r.Steps[1].Start+60) / 60) {
		if math.Abs(v-12) > 0.1 {
			t.Errorf("%s: %v m³/h in the alkali wash, 12 are asked for", flow.Lines[i].Name, v)
		}
	}
}

// Where the cursor lies is where the pointer reads the same time.
func TestUprightIsWhereTheValueLies(t *testing.T) {
	p, r := record(t)
	c := plot.TrendChart(r, plot.Level, trendOptions(p, r, quantity.Metric))
	for _, x := range []float64{0, 7.5, 40} {
		at, top, bottom := c.Upright(120, 60, x)
		got, _, ok := c.ValueAt(120, 60, model.Point{X: at, Y: (top + bottom) / 2})
		if !ok || math.Abs(got-x) > 1e-9 {
			t.Errorf("%v min lies where %v is read", x, got)
		}
	}
}

func TestStackedHoldsAllCharts(t *testing.T) {
	p, r := record(t)
	var charts []plot.Chart
	for _, of := range plot.Trends() {
		charts = append(charts, plot.TrendChart(r, of, trendOptions(p, r, quantity.Metric)))
	}
	pic := plot.Stacked(charts, "Vessel T-201", "Computed, not measured.", 180, 60)
	var b bytes.Buffer
	if err := draw.WriteSVG(&b, pic, draw.Light); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Vessel T-201", "Temperature, °C", "Conductivity at 25 °C, mS/cm", "Flow, m³/h", "Level, m", "Computed, not measured.", "Time, min"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("%q is not in the picture", want)
		}
	}
	// The charts line up: all axes of time begin at one place.
	axes := map[float64]bool{}
	for _, it := range pic.Items {
		if path, ok := it.Figure.(draw.Path); ok && path.Style.Stroke == draw.Ink && len(path.Segments) == 3 && path.Style.Dash == nil {
			axes[math.Round(1000*path.Segments[0].P[0][0])] = true
		}
	}
	if len(axes) != 1 {
		t.Errorf("the axes begin at %v", axes)
	}
	lowest := 0.0
	for _, it := range pic.Items {
		if text, ok := it.Figure.(draw.Text); ok && text.String == "Level, m" {
			lowest = text.At.Y
		}
	}
	if lowest < 3*60 {
		t.Errorf("the last chart lies at %.0f mm", lowest)
	}
}
