package plot

import (
	"fmt"
	"math"

	"rinsewright/canvas/draw"
	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/quantity"
)

var dashed = []float64{2.5, 1.2}

// Pump shows the curve of a running pump at its rated speed and, where it runs
// slower, at the speed it runs at, the curve of the system that it works
// against, and its duty. The error says why there is none.
func Pump(s *flow.Solution, pump model.ID, name string, system quantity.System) (Chart, error) {
	var state *flow.Pump
	for i := range s.Pumps {
		if s.Pumps[i].Pump == pump {
			state = &s.Pumps[i]
		}
	}
	if state == nil || !state.Running {
		return Chart{}, fmt.Errorf("%s does not run in this step", name)
	}
	q, h := quantity.DisplayUnit[quantity.Flow](system), quantity.DisplayUnit[quantity.Length](system)
	points := func(d []flow.Duty) [][2]float64 {
		out := make([][2]float64, len(d))
		for i, p := range d {
			out[i] = [2]float64{q.FromSI(float64(p.Flow)), h.FromSI(float64(p.Head))}
		}
		return out
	}
	rated, err := flow.PumpCurve(s, pump, 1)
	if err != nil {
		return Chart{}, err
	}
	load, err := flow.SystemCurve(s, pump)
	if err != nil {
		return Chart{}, err
	}
	c := Chart{
		Title: name + ": pump, system and duty",
		X:     Axis{Name: "Flow, " + q.Name, FromZero: true},
		Y:     Axis{Name: "Head, " + h.Name, FromZero: true},
		Lines: []Line{{Name: "at rated speed", Points: points(rated), Role: draw.Ink}},
	}
	if speed, ok := state.Speed.Get(); ok && math.Abs(float64(speed)-1) > 0.005 {
		now, err := flow.PumpCurve(s, pump, speed)
		if err != nil {
			return Chart{}, err
		}
		c.Lines = append(c.Lines, Line{Name: fmt.Sprintf("at %.0f %%", 100*float64(speed)), Points: points(now), Role: draw.Ink, Dash: dashed})
	}
	c.Lines = append(c.Lines, Line{Name: "system", Points: points(load), Role: draw.Accent})
	if flowNow, ok := state.Flow.Get(); ok {
		if head, ok := state.Head.Get(); ok {
			c.Dots = append(c.Dots, Dot{
				At:   [2]float64{q.FromSI(float64(flowNow)), h.FromSI(float64(head))},
				Text: quantity.Text(flowNow, system) + ", " + quantity.Text(head, system), Role: draw.Error,
			})
		}
	}
	return c, nil
}

// Pressure shows the pressure along the way from source to destination. Behind
// a vessel it begins anew.
func Pressure(s *flow.Solution, title string, system quantity.System) Chart {
	l, p := quantity.DisplayUnit[quantity.Length](system), quantity.DisplayUnit[quantity.Pressure](system)
	return along(s, title, Axis{Name: "Pressure, " + p.Name, FromZero: true}, l, []Line{{
		Name: "pressure above that of the air", Role: draw.Accent,
		Points: values(s, l, func(pt flow.Point) (float64, bool) {
			v, ok := pt.Pressure.Get()
			return p.FromSI(float64(v)), ok
		}),
	}})
}

// Heads shows the head line over the heights of the tube along the way from
// source to destination: where the two meet the pressure is that of the air.
func Heads(s *flow.Solution, title string, system quantity.System) Chart {
	l := quantity.DisplayUnit[quantity.Length](system)
	length := func(get func(flow.Point) quantity.Opt[quantity.Length]) [][2]float64 {
		return values(s, l, func(pt flow.Point) (float64, bool) {
			v, ok := get(pt).Get()
			return l.FromSI(float64(v)), ok
		})
	}
	return along(s, title, Axis{Name: "Height, " + l.Name}, l, []Line{
		{Name: "head line", Role: draw.Accent, Points: length(func(pt flow.Point) quantity.Opt[quantity.Length] { return pt.Head })},
		{Name: "tube", Role: draw.Ink, Dash: dashed, Points: length(func(pt flow.Point) quantity.Opt[quantity.Length] { return pt.Elevation })},
	})
}

func along(s *flow.Solution, title string, y Axis, l quantity.Unit, lines []Line) Chart {
	return Chart{Title: title, X: Axis{Name: "Distance from the source, " + l.Name, FromZero: true}, Y: y, Lines: lines}
}

// values gives a value against the distance; unknown ones and the break behind
// a vessel are gaps.
func values(s *flow.Solution, l quantity.Unit, of func(flow.Point) (float64, bool)) [][2]float64 {
	hole := [2]float64{math.NaN(), math.NaN()}
	var out [][2]float64
	for _, pt := range s.Along {
		d, known := pt.Distance.Get()
		v, ok := of(pt)
		if pt.Break || !known || !ok {
			out = append(out, hole)
		}
		if known && ok {
			out = append(out, [2]float64{l.FromSI(float64(d)), v})
		}
	}
	return out
}
