// Package scene tells how a circuit looks while one step's line-up stands: where
// its valves are, which runs flow and which way, what is in runs and parts, and
// how full its vessels are. The window and the terminal command draw the same
// scene.
package scene

import (
	"rinsewright/canvas/draw"
	"rinsewright/model"
	"rinsewright/model/network"
)

// Of gives the drawing options for a step of a plant. A nil step is the circuit
// at rest: every valve in its normal position, no flow shown, and vessels as full
// as their records say.
//
// Beside the route of the step it shows what drains in a step of purpose drain,
// steam and condensate behind the valves that are open, and in production the
// product lines that are open to a supply of product.
func Of(plant *network.Plant, step *model.Step) draw.Options {
	lineUp := plant.LineUp(step)
	if step == nil {
		return draw.Options{Positions: lineUp.Positions, Levels: restLevels(plant.Circuit)}
	}
	return OfRoute(plant, plant.Route(lineUp))
}

// OfRoute is [Of] for a step whose route is known already.
func OfRoute(plant *network.Plant, route *network.Route) draw.Options {
	step := route.LineUp.Step
	opt := draw.Options{Positions: route.LineUp.Positions, Levels: restLevels(plant.Circuit)}
	s := newScene(plant, route.LineUp)
	s.route(route)
	switch step.Purpose.Or("") {
	case model.Drain:
		s.drain()
	case model.Production:
		s.product()
	}
	s.steam()
	opt.Flow, opt.Media = map[model.ID]draw.Flow{}, map[model.ID]model.Medium{}
	s.runs(opt)
	s.parts(opt)
	s.vessels(opt)
	return opt
}

// scene is what is shown, by edge of the plant.
type scene struct {
	plant  *network.Plant
	lineUp *network.LineUp
	step   *model.Step
	flow   []draw.Flow
	medium []model.Medium // empty: not known
}

func newScene(plant *network.Plant, lineUp *network.LineUp) *scene {
	n := len(plant.Edges)
	return &scene{plant: plant, lineUp: lineUp, step: lineUp.Step, flow: make([]draw.Flow, n), medium: make([]model.Medium, n)}
}

// route shows what the step itself moves and wets.
func (s *scene) route(r *network.Route) {
	medium := s.step.Medium.Or("")
	for e := range s.flow {
		switch {
		case r.InFlow[e]:
			s.put(e, toward(r.Forward[e]), medium)
		case r.Wet[e]:
			s.put(e, draw.Still, medium)
		}
	}
}

// toward gives the flow of an edge that liquid passes from From to To (+1), from
// To to From (-1) or either way (0).
func toward(way int8) draw.Flow {
	switch {
	case way > 0:
		return draw.Forward
	case way < 0:
		return draw.Backward
	}
	return draw.Undecided
}

// put shows an edge unless something is shown there that says more.
func (s *scene) put(e int, flow draw.Flow, medium model.Medium) {
	if s.flow[e] == draw.Dry || s.flow[e] == draw.Still && flow != draw.Still {
		s.flow[e], s.medium[e] = flow, medium
	}
}

// runs gives each run what its stretches show: it flows if all of them do, and
// stands if some are wet. Where they disagree about the way it is left open.
func (s *scene) runs(opt draw.Options) {
	for _, run := range s.plant.Circuit.Runs() {
		flowing, wet, way, medium := true, false, draw.Dry, model.Medium("")
		for _, e := range s.plant.RunEdges(run.ID) {
			f := s.flow[e]
			if f == draw.Dry {
				flowing = false
				continue
			}
			wet = true
			if medium == "" {
				medium = s.medium[e]
			}
			switch {
			case f == draw.Still:
				flowing = false
			case way == draw.Dry:
				way = f
			case way != f:
				way = draw.Undecided
			}
		}
		switch {
		case !wet:
			continue
		case flowing:
			opt.Flow[run.ID] = way
		default:
			opt.Flow[run.ID] = draw.Still
		}
		if medium != "" {
			opt.Media[run.ID] = medium
		}
	}
}

// parts gives each part but vessels the medium in it. Of an exchanger it is what
// is heated.
func (s *scene) parts(opt draw.Options) {
	for _, p := range s.plant.Circuit.Parts() {
		if p.Class() == model.ClassVessel {
			continue
		}
		for _, e := range s.plant.PartEdges(p.RecordID()) {
			if s.flow[e] == draw.Dry || s.medium[e] == "" || p.Class() == model.ClassExchanger && s.plant.Dry(e) {
				continue
			}
			opt.Media[p.RecordID()] = s.medium[e]
			break
		}
	}
}
