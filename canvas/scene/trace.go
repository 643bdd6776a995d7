package scene

import (
	"rinsewright/canvas/draw"
	"rinsewright/model"
	"rinsewright/model/network"
	"rinsewright/model/trace"
)

var (
	upStyle   = draw.Style{Stroke: draw.Warning, Width: 1, Dash: []float64{4, 1.2}}
	downStyle = draw.Style{Stroke: draw.Accent, Width: 1.3}
	bothStyle = draw.Style{Stroke: draw.Ink, Width: 1.2, Dash: []float64{4, 1, 0.8, 1}}
	otherTube = draw.Style{Stroke: draw.Ink, Width: 0.35}
)

// TraceKey gives the key to a drawing of a trace.
func TraceKey() []draw.KeyEntry {
	return []draw.KeyEntry{{Style: upStyle, Words: "upstream"}, {Style: downStyle, Words: "downstream"},
		{Style: bothStyle, Words: "either way"}, {Style: workStyle, Words: "from here"}}
}

// WayKey gives the key to a drawing of a way.
func WayKey() []draw.KeyEntry {
	return []draw.KeyEntry{{Style: downStyle, Words: "this way"}, {Style: otherTube, Words: "all else"}, {Style: workStyle, Words: "from and to"}}
}

// Trace gives the drawing options that show what a trace reached: upstream,
// downstream, or either way. Valves stand as in a step, or at rest for nil.
func Trace(plant *network.Plant, t *trace.Trace, step *model.Step, from model.ID) draw.Options {
	up, down := make([]bool, len(plant.Edges)), make([]bool, len(plant.Edges))
	for _, s := range t.Stops {
		for _, e := range s.Way {
			if s.Sense == trace.Upstream {
				up[e] = true
			} else {
				down[e] = true
			}
		}
	}
	opt := edgeOptions(plant, func(e int) draw.Style {
		switch {
		case up[e] && down[e], t.Edges[e] && !up[e] && !down[e]:
			return bothStyle
		case up[e]:
			return upStyle
		case down[e]:
			return downStyle
		}
		return otherTube
	})
	opt.Positions = plant.LineUp(step).Positions
	for _, s := range t.Stops {
		opt.Inks[s.Part] = downStyle.Stroke
		if s.Sense == trace.Upstream {
			opt.Inks[s.Part] = upStyle.Stroke
		}
	}
	outline(plant, &opt, from)
	return opt
}

// Way gives the drawing options that show one way between two places.
func Way(plant *network.Plant, edges []int, step *model.Step, ends ...model.ID) draw.Options {
	on := make([]bool, len(plant.Edges))
	for _, e := range edges {
		on[e] = true
	}
	opt := edgeOptions(plant, func(e int) draw.Style {
		if on[e] {
			return downStyle
		}
		return otherTube
	})
	opt.Positions = plant.LineUp(step).Positions
	for _, e := range edges {
		if id := plant.Edges[e].Part; id != "" {
			opt.Inks[id] = downStyle.Stroke
		}
	}
	for _, id := range ends {
		outline(plant, &opt, id)
	}
	return opt
}

// outline draws a part in a frame, a run as a whole.
func outline(plant *network.Plant, opt *draw.Options, id model.ID) {
	opt.Outlines[id] = workStyle
	if plant.Circuit.Run(id) != nil {
		opt.Pieces[id] = []draw.Piece{{From: 0, To: 1, Style: workStyle}}
	}
}
