package scene

import (
	"fmt"
	"math"
	"strings"

	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/heat"
	"rinsewright/model/quantity"
)

// Value is what is written beside the runs of a step that was solved.
type Value string

const (
	NoValue  Value = ""
	Velocity Value = "velocity"
	Flow     Value = "flow"
	Pressure Value = "pressure"
	Reynolds Value = "reynolds"
	Shear    Value = "shear"
	// Temperature is that of the liquid while the wash runs.
	Temperature Value = "temperature"
)

// ValueNames lists the values that can be chosen, NoValue left out.
func ValueNames() []Value { return []Value{Velocity, Flow, Pressure, Reynolds, Shear, Temperature} }

// Title gives a value as a menu names it: "Velocity".
func (v Value) Title() string {
	switch v {
	case Velocity:
		return "Velocity"
	case Flow:
		return "Flow"
	case Pressure:
		return "Pressure"
	case Reynolds:
		return "Reynolds number"
	case Shear:
		return "Wall shear"
	case Temperature:
		return "Temperature"
	}
	return "None"
}

// Told says what is written beside the runs, for a reader of the drawing.
func (v Value) Told() string {
	switch v {
	case NoValue:
		return ""
	case Velocity:
		return "Beside runs: mean velocity"
	case Pressure:
		return "Beside runs: gauge pressure at both ends, in the direction of the flow"
	case Reynolds:
		return "Beside runs: Reynolds number Re"
	case Shear:
		return "Beside runs: shear stress of the wall"
	case Temperature:
		return "Beside runs: temperature of the liquid while the wash runs, in the direction of the flow"
	}
	return "Beside runs: " + strings.ToLower(v.Title())
}

// Remark tells under a drawing what its values are and that they are computed, or
// why there are none, in a reader's units.
func Remark(s *flow.Solution, v Value, system quantity.System) string {
	switch {
	case v == NoValue || s == nil:
		return ""
	case s.Solved():
		return v.Told() + "; computed, not measured."
	case len(s.Failures) > 0:
		return v.Told() + "; not all of it was solved: " + s.Failures[0].Told(system) + "."
	case len(s.Missing) > 0:
		return v.Told() + "; not all of it was solved, data is missing."
	}
	return v.Told() + "; not all of it was solved."
}

// Values gives the text of a value for each run in which liquid moves, in the
// units of a system. A value that was not found is "?"; what stands or is dry
// has none.
func Values(s *flow.Solution, v Value, system quantity.System) map[model.ID]string {
	if v == NoValue || s == nil {
		return nil
	}
	out := map[model.ID]string{}
	var warm *heat.State
	if v == Temperature {
		warm = heat.Of(s, heat.Options{})
	}
	for _, run := range s.Plant.Circuit.Runs() {
		edges := s.Plant.RunEdges(run.ID)
		if len(edges) == 0 || !s.Route.Wet[edges[0]] {
			continue
		}
		state := s.Edges[slowest(s, edges)]
		q, known := state.Flow.Get()
		if known && q == 0 || !known && !s.Route.InFlow[edges[0]] {
			continue
		}
		text := "?"
		if v == Pressure {
			text = ends(s, edges, q < 0, system)
		} else if v == Temperature {
			text, _ = Warmth(warm, run.ID, system)
		} else if t := StateText(state, v, system); t != "" {
			text = t
		}
		if state.PartFull && text != "?" && v != Flow && v != Temperature {
			text += ", part-full"
		}
		out[run.ID] = text
	}
	return out
}

// slowest gives of the edges of a run the one with the least velocity, which counts for
// cleaning: stretches of one run differ where it runs part-full.
func slowest(s *flow.Solution, edges []int) int {
	at, least := edges[0], math.Inf(1)
	for _, e := range edges {
		if v, known := s.Edges[e].Velocity.Get(); known && math.Abs(float64(v)) < least {
			at, least = e, math.Abs(float64(v))
		}
	}
	return at
}

// Warmth gives the temperature of the liquid that comes into a run and that leaves it, to
// a tenth: "75.0 to 74.2 °C", or one number where both are written alike; "?" where it is
// not known. Not ok for a run in which nothing moves.
func Warmth(h *heat.State, run model.ID, system quantity.System) (string, bool) {
	edges := h.Solution.Plant.RunEdges(run)
	if len(edges) == 0 {
		return "", false
	}
	q, known := h.Solution.Edges[edges[0]].Flow.Get()
	if known && q == 0 || !known && !h.Solution.Route.InFlow[edges[0]] {
		return "", false
	}
	first, last := edges[0], edges[len(edges)-1]
	if q < 0 {
		first, last = last, first
	}
	in, okIn := h.Edges[first].In.Get()
	out, okOut := h.Edges[last].Out.Get()
	if !okIn || !okOut {
		return "?", true
	}
	return Span(in, out, system), true
}

// Span writes two temperatures to a tenth of a degree, or one where both are alike.
func Span(from, to quantity.Temperature, system quantity.System) string {
	u := quantity.DisplayUnit[quantity.Temperature](system)
	a, b := fmt.Sprintf("%.1f", u.FromSI(float64(from))), fmt.Sprintf("%.1f", u.FromSI(float64(to)))
	if a == b {
		return a + " " + u.Name
	}
	return a + " to " + b + " " + u.Name
}

// StateText gives a value of an edge; empty for one that is not known and for
// pressure and temperature, which are of its ends.
func StateText(e flow.Edge, v Value, system quantity.System) string {
	switch v {
	case Velocity:
		return magnitude(e.Velocity, system)
	case Flow:
		return magnitude(e.Flow, system)
	case Reynolds:
		if re, ok := e.Reynolds.Get(); ok {
			return "Re " + Grouped(float64(re))
		}
	case Shear:
		if t, ok := e.Shear.Get(); ok {
			return Pascals(t)
		}
	}
	return ""
}

// Pascals writes a shear stress, which is told in Pa everywhere.
func Pascals(t quantity.Pressure) string { return quantity.Number(math.Abs(float64(t))) + " Pa" }

func magnitude[T ~float64](o quantity.Opt[T], system quantity.System) string {
	x, ok := o.Get()
	if !ok {
		return ""
	}
	return quantity.Text(max(x, -x), system)
}

// ends gives the pressure where liquid comes into a run and where it leaves it:
// "2.3–2.1 bar", or one number where both are written alike.
func ends(s *flow.Solution, edges []int, backward bool, system quantity.System) string {
	in, out := s.Plant.Edges[edges[0]].From, s.Plant.Edges[edges[len(edges)-1]].To
	if backward {
		in, out = out, in
	}
	u := quantity.DisplayUnit[quantity.Pressure](system)
	number := func(node int) string {
		p, ok := s.Nodes[node].Pressure.Get()
		if !ok {
			return "?"
		}
		// A hundredth of a bar, a tenth of a psi: more would not be true.
		digits := 2
		if system == quantity.US {
			digits = 1
		}
		t := fmt.Sprintf("%.*f", digits, u.FromSI(float64(p)))
		if strings.Trim(t, "-0.") == "" {
			t = strings.TrimPrefix(t, "-")
		}
		return strings.Replace(t, "-", "−", 1)
	}
	a, b := number(in), number(out)
	switch {
	case a == "?" && b == "?":
		return "?"
	case a == b:
		return a + " " + u.Name
	}
	return a + " to " + b + " " + u.Name
}

// Grouped writes a number to three significant figures with its thousands apart:
// "145 000".
func Grouped(x float64) string {
	if math.Abs(x) < 1000 {
		return quantity.Number(x)
	}
	step := math.Pow(10, math.Floor(math.Log10(math.Abs(x)))-2)
	digits := fmt.Sprintf("%.0f", math.Abs(math.Round(x/step)*step))
	var out []byte
	for i := range len(digits) {
		if i > 0 && (len(digits)-i)%3 == 0 {
			out = append(out, ' ')
		}
		out = append(out, digits[i])
	}
	if x < 0 {
		return "-" + string(out)
	}
	return string(out)
}
