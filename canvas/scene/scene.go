// Package scene tells how a circuit looks while one step's line-up stands: where
// its valves are, which runs flow and which way, what is in runs and parts. The
// window and the terminal command draw the same scene.
package scene

import (
	"rinsewright/canvas/draw"
	"rinsewright/model"
	"rinsewright/model/network"
)

// Of gives the drawing options for a step of a plant. A nil step is the circuit
// at rest: every valve in its normal position and no flow shown.
func Of(plant *network.Plant, step *model.Step) draw.Options {
	lineUp := plant.LineUp(step)
	opt := draw.Options{Positions: lineUp.Positions}
	if step == nil {
		return opt
	}
	route := plant.Route(lineUp)
	opt.Flow = flows(plant, route)
	opt.Media = media(plant, route)
	return opt
}

// flows tells what liquid does in each run: it flows if all its stretches do,
// stands if some are wet.
func flows(plant *network.Plant, route *network.Route) map[model.ID]draw.Flow {
	out := map[model.ID]draw.Flow{}
	for _, run := range plant.Circuit.Runs() {
		edges := plant.RunEdges(run.ID)
		if len(edges) == 0 {
			continue
		}
		flowing, wet, way := true, false, int8(0)
		for _, e := range edges {
			flowing = flowing && route.InFlow[e]
			wet = wet || route.Wet[e]
			if way == 0 {
				way = route.Forward[e]
			}
		}
		switch {
		case flowing && way < 0:
			out[run.ID] = draw.Backward
		case flowing:
			out[run.ID] = draw.Forward
		case wet:
			out[run.ID] = draw.Still
		}
	}
	return out
}

// media gives the step's medium to all that it wets. A vessel that is not
// washed keeps what it holds: liquid is drawn from it or returns to it.
func media(plant *network.Plant, route *network.Route) map[model.ID]model.Medium {
	out := map[model.ID]model.Medium{}
	medium, known := route.LineUp.Step.Medium.Get()
	if !known {
		return out
	}
	washed := map[model.ID]bool{}
	for _, id := range route.LineUp.Step.Cleans {
		washed[id] = true
	}
	for e, wet := range route.Wet {
		if !wet {
			continue
		}
		edge := &plant.Edges[e]
		switch {
		case edge.Run != "":
			out[edge.Run] = medium
		case edge.Part != "":
			if _, vessel := plant.Circuit.Part(edge.Part).(*model.Vessel); !vessel || washed[edge.Part] {
				out[edge.Part] = medium
			}
		}
	}
	return out
}
