package plot_test

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"rinsewright/assets"
	"rinsewright/canvas/draw"
	"rinsewright/canvas/plot"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/flow"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

func alkaliWash(t *testing.T) *flow.Solution {
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
	for _, step := range c.Steps() {
		if step.Programme == "Vessel T-201" && step.Name == "Alkali wash" {
			s, err := flow.Solve(p, p.Heights(), step, flow.Options{})
			if err != nil || !s.Solved() {
				t.Fatalf("not solved: %v %v %v", err, s.Failures, s.Missing)
			}
			return s
		}
	}
	t.Fatal("the step is not there")
	return nil
}

func idOf(t *testing.T, s *flow.Solution, tag string) model.ID {
	t.Helper()
	found := s.Plant.Circuit.Tagged(tag)
	if len(found) != 1 {
		t.Fatalf("%d things are called %s", len(found), tag)
	}
	return found[0].RecordID()
}

// at reads a curve at x by straight lines between its points.
func at(t *testing.T, l plot.Line, x float64) float64 {
	t.Helper()
	for i := 1; i < len(l.Points); i++ {
		a, b := l.Points[i-1], l.Points[i]
		if a[0] <= x && x <= b[0] && b[0] > a[0] {
			return a[1] + (b[1]-a[1])*(x-a[0])/(b[0]-a[0])
		}
	}
	t.Fatalf("%s is not told at %v", l.Name, x)
	return 0
}

// The duty is where the curve of the pump at its speed meets that of the system:
// the definition of a duty point.
func TestPumpDutyLiesOnBothCurves(t *testing.T) {
	s := alkaliWash(t)
	for _, system := range []quantity.System{quantity.Metric, quantity.US} {
		c, err := plot.Pump(s, idOf(t, s, "P-101"), "P-101", system)
		if err != nil {
			t.Fatal(err)
		}
		if len(c.Lines) != 3 || len(c.Dots) != 1 {
			t.Fatalf("%d lines and %d dots", len(c.Lines), len(c.Dots))
		}
		duty := c.Dots[0].At
		for _, l := range c.Lines[1:] {
			if got := at(t, l, duty[0]); math.Abs(got-duty[1]) > 0.02*duty[1] {
				t.Errorf("%s is at %v where the duty is %v", l.Name, got, duty[1])
			}
		}
		if rated := at(t, c.Lines[0], duty[0]); rated <= duty[1] {
			t.Errorf("a slowed pump gives %v at a duty of %v", rated, duty[1])
		}
	}
	if _, err := plot.Pump(s, idOf(t, s, "T-101"), "T-101", quantity.Metric); err == nil {
		t.Error("a tank has a pump curve")
	}
}

// The head line lies above the tube by the pressure over ρg, and never rises
// along the flow but in a pump.
func TestHeadsAgreeWithPressures(t *testing.T) {
	s := alkaliWash(t)
	heads, pressures := plot.Heads(s, "", quantity.Metric), plot.Pressure(s, "", quantity.Metric)
	line, tube, bar := heads.Lines[0].Points, heads.Lines[1].Points, pressures.Lines[0].Points
	props, _ := s.Properties.Get()
	n := 0
	for _, h := range line {
		for _, z := range tube {
			for _, p := range bar {
				if h[0] != z[0] || h[0] != p[0] || math.IsNaN(h[1]) || len(at1(line, h[0]))+len(at1(tube, h[0]))+len(at1(bar, h[0])) != 3 {
					continue
				}
				n++
				if want := p[1] * 1e5 / (float64(props.Density) * 9.80665); math.Abs(h[1]-z[1]-want) > 1e-3 {
					t.Errorf("at %.2f m the head stands %.3f m above the tube, the pressure says %.3f m", h[0], h[1]-z[1], want)
				}
			}
		}
	}
	if n < 5 {
		t.Errorf("only %d points compared", n)
	}
}

// at1 gives the values of a line at exactly x.
func at1(points [][2]float64, x float64) []float64 {
	var out []float64
	for _, p := range points {
		if p[0] == x {
			out = append(out, p[1])
		}
	}
	return out
}

func TestPictureIsWholeAndWithinItsBox(t *testing.T) {
	s := alkaliWash(t)
	pump, err := plot.Pump(s, idOf(t, s, "P-201"), "P-201", quantity.US)
	if err != nil {
		t.Fatal(err)
	}
	charts := []plot.Chart{pump, plot.Pressure(s, "Pressure along the way", quantity.Metric), plot.Heads(s, "Heads", quantity.Metric),
		{Title: "nothing", X: plot.Axis{Name: "x"}, Y: plot.Axis{Name: "y"}},
		{Title: "one value", Lines: []plot.Line{{Name: "a", Points: [][2]float64{{3, 7}, {3, 7}}, Role: draw.Ink}}},
		{Title: "small and negative", Lines: []plot.Line{{Points: [][2]float64{{-0.002, -5e-4}, {0.001, 9e-4}}, Role: draw.Ink}}},
	}
	for _, c := range charts {
		p := c.Picture(160, 90)
		if b := p.Bounds; b.Min.X < -0.5 || b.Min.Y < -0.5 || b.Max.X > 160.5 || b.Max.Y > 90.5 {
			t.Errorf("%s: lies in %v", c.Title, b)
		}
		var svg bytes.Buffer
		if err := draw.WriteSVG(&svg, p, draw.Dark); err != nil {
			t.Errorf("%s: %v", c.Title, err)
		}
		if strings.Contains(svg.String(), "NaN") || !strings.Contains(svg.String(), c.Title) {
			t.Errorf("%s: the picture holds NaN or lacks its title", c.Title)
		}
	}
}
