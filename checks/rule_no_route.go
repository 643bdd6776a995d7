package checks

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/network"
)

var ruleNoRoute = &Rule{
	Name: "no-route",
	Doc: Doc{
		Title:    "No way from source to destination",
		Why:      "The pump runs against closed valves and nothing is washed.",
		How:      "With the valves as the step says, a way is looked for from its source to its destination. A step that holds or drains may name no source. Rules that need a route leave out a step without one; that is told here once as not assessed.",
		Blind:    "Whether the pressure suffices to press the liquid that way.",
		Remedy:   "Open the valves on the way, or correct source and destination.",
		Cites:    []Citation{byComputation},
		Severity: Stop,
		Merge:    AnyStep,
	},
	Run: runNoRoute,
}

func runNoRoute(p *Pass) {
	step, at := p.Step, model.PlaceOf(p.Step.ID)
	if step.Source == "" {
		switch step.Purpose.Or("") {
		case model.Hold, model.Prepare, model.Drain:
			return
		}
	}
	var missing []network.Missing
	if step.Source == "" {
		missing = append(missing, missingKey(step, "source"))
	}
	if step.Destination == "" {
		missing = append(missing, missingKey(step, "destination"))
	}
	if len(missing) > 0 {
		p.leftOut(missing...)
		return
	}
	r := p.Route()
	if r.Found {
		p.unsure()
		return
	}
	if len(r.WrongWay) > 0 { // told by wrong-way
		p.leftOut()
		return
	}
	for _, e := range r.Shut {
		id := p.Plant().Edges[e].Part
		for _, unknown := range r.LineUp.Unknown {
			if id == unknown {
				missing = append(missing, network.Missing{Record: id, Key: "normal"})
			}
		}
	}
	p.leftOut(missing...)
	if len(missing) > 0 {
		return
	}
	places := []model.Place{at}
	for _, id := range []model.ID{step.Source, step.Destination} {
		if p.Circuit.Record(id) != nil {
			places = append(places, model.PlaceOf(id))
		}
	}
	if r.At.Element != "" {
		places = append(places, r.At)
	}
	p.Report(Finding{At: at, Places: append(places, EdgePlaces(p.Plant(), r.Shut)...),
		Message: Say("%v opens no way %v: %v", p.Name(step.ID), p.fromTo(), p.why(r)),
		Fixes:   p.openWay(r)})
}

// unsure says which valves liquid may come to though nobody told where they stand:
// a route was found, but what lies at and behind them is a guess.
func (p *Pass) unsure() {
	doubt := Doubts.Of(p.Snapshot, p.Step)
	if doubt == nil {
		return
	}
	missing := positionsOf(doubt.Valves)
	p.ReportAs(Note, Finding{At: model.PlaceOf(p.Step.ID), NotAssessed: true, Missing: missing,
		Message: Say("%v: what lies at and behind valves of unknown position was not assessed (unknown: %v)", p.Name(p.Step.ID), missingText(p.Snapshot, missing))})
}

// why tells what stands against a route, in the names that findings use.
func (p *Pass) why(r *network.Route) string {
	var shut []string
	for _, e := range r.Shut {
		if name := p.Name(p.Plant().Edges[e].Part); !slices.Contains(shut, name) {
			shut = append(shut, name)
		}
	}
	at := r.At
	kind := p.Kind(p.Circuit.Part(at.Element))
	switch {
	case len(shut) > 0:
		return "shut on the way: " + list(shut)
	case at.Element == "":
		return r.Why
	case p.Circuit.Run(at.Element) != nil:
		return "liquid gets as far as the loose end of " + p.Name(at.Element)
	case at.Port == "":
		return "nothing is joined to " + p.Name(at.Element)
	}
	if kind != nil {
		if port, ok := kind.Port(at.Port); ok && port.Service != "process" {
			return p.Where(at) + " takes no process liquid"
		}
	}
	return "liquid gets as far as " + p.Where(at) + ", to which nothing is joined"
}

// fromTo tells the way of the step of the pass: "from T-1 to X-2", "from T-1 back
// to T-1".
func (p *Pass) fromTo() string {
	back := ""
	if p.Step.Source == p.Step.Destination {
		back = "back "
	}
	return "from " + p.Name(p.Step.Source) + " " + back + "to " + p.Name(p.Step.Destination)
}

// leftOut says once what all other rules leave out for want of a route, and what
// is missing for one.
func (p *Pass) leftOut(missing ...network.Missing) {
	at := model.PlaceOf(p.Step.ID)
	cleans, unsure := cleaningStep(p.Step)
	what := ""
	switch {
	case p.Step.Purpose.Or("") == model.Production:
		what = "what its product touches was"
	case cleans || len(unsure) > 0:
		what = "speed, sensors, dead legs and spray were"
	default:
		p.NotAssessed(at, missing...)
		return
	}
	why := ""
	if len(missing) > 0 {
		why = " (unknown: " + missingText(p.Snapshot, missing) + ")"
	}
	p.ReportAs(Note, Finding{At: at, NotAssessed: true, Missing: missing,
		Message: Say("%v: no route%v, so %v not assessed", p.Name(p.Step.ID), why, what)})
}

// openWay opens the valves that are shut on the shortest way.
func (p *Pass) openWay(r *network.Route) []Remedy {
	after := model.Clone(p.Step)
	if after.Positions == nil {
		after.Positions = map[model.ID]string{}
	}
	moved := map[model.ID]bool{}
	for _, e := range r.Shut {
		edge := p.Plant().Edges[e]
		kind := p.Kind(p.Circuit.Part(edge.Part))
		if kind == nil || edge.Path < 0 || len(kind.Paths[edge.Path].OpenIn) == 0 || moved[edge.Part] {
			return nil // cannot be opened, or two paths of one valve
		}
		after.Positions[edge.Part] = kind.Paths[edge.Path].OpenIn[0]
		moved[edge.Part] = true
	}
	if len(moved) == 0 {
		return nil
	}
	return []Remedy{{Message: "open what is shut on the way",
		Edit: model.Edit{Label: "open the way", Changes: []model.Change{model.Replacing(p.Step, after)}}}}
}
