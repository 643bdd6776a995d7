package window

import (
	"strings"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/scene"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
)

// passes says how much of a step's flow goes through a run.
type passes int

const (
	passesUnknown passes = iota // the line-up opens no route
	passesNothing
	passesShare // some of it: the flow has parted
	passesWhole
)

// shownLineUp is the line-up that the drawing shows, worked out once for a
// snapshot and a step.
type shownLineUp struct {
	circuit *model.Circuit
	step    *model.Step
	options draw.Options
	plant   *network.Plant
	route   *network.Route // nil while no step is shown
}

// lineUpOf works out what a step does; step nil is the circuit at rest.
func lineUpOf(c *model.Circuit, cat *catalogue.Catalogue, step *model.Step) *shownLineUp {
	l := &shownLineUp{circuit: c, step: step, plant: network.Build(c, cat)}
	if step == nil {
		l.options = scene.Of(l.plant, nil)
		return l
	}
	l.route = l.plant.Route(l.plant.LineUp(step))
	l.options = scene.OfRoute(l.plant, l.route)
	return l
}

// found says whether the step shown has a route.
func (l *shownLineUp) found() bool { return l != nil && l.route != nil && l.route.Found }

// passes tells how much of the flow goes through a run.
func (l *shownLineUp) passes(run model.ID) passes {
	if !l.found() {
		return passesUnknown
	}
	share := passesNothing
	for _, e := range l.plant.RunEdges(run) {
		switch {
		case l.route.Whole[e]:
			return passesWhole
		case l.route.InFlow[e]:
			share = passesShare
		}
	}
	return share
}

// trouble says why the step shown has no route, in short and in full, and where
// to look. A step that drains has none by its nature.
func (l *shownLineUp) trouble() (short, full string, at model.Place) {
	if l == nil || l.route == nil || l.route.Found || l.step.Purpose.Or("") == model.Drain {
		return "", "", at
	}
	full = "No route: " + l.route.Why
	short = l.route.Why
	// What nothing joins is told by where it ends.
	if _, detail, ok := strings.Cut(short, "; "); ok {
		short = detail
	}
	return "No route: " + short, full, l.route.At
}
