package checks

import (
	"math"
	"slices"
	"sync"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/flow"
	"rinsewright/model/fluid"
	"rinsewright/model/hydraulic"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

var ruleUndersizedBranch = &Rule{
	Name: "undersized-branch",
	Doc: Doc{
		Title: "Branch of the wrong size for what its object needs",
		Why:   "A branch that is too narrow starves the spray device or the machine it feeds; one that is too wide is not swept at the flow that is needed.",
		How: "What is cleaned needs a flow: told for an object; for a vessel the rated flow of its spray devices, else its circumference times the wetting figure, which may be lower where the vessel is told to have no agitator. " +
			"In every run that feeds this one alone, in every step that cleans it, the velocity at that flow must lie between least and most, and the head lost by friction, of water at 20 °C, on its length below the limit. The smallest tube of the series that would do is named. " +
			"Where a cleaning step asks for enough and the solved flow to it is less all the same, because the flow divides or leaves on the way, that is told too; a pump that does not give what is asked is told by pump-too-small.",
		Blind:    "Lines that several objects share: these are sized for the most demanding.",
		Remedy:   "Take the tube size named, and the parts in the branch with it.",
		Cites:    []Citation{byComputation, handbook27},
		Severity: Fix,
		Limits:   []string{"velocity-least", "velocity-most", "gradient-most", "spray-wetting", "spray-wetting-plain"},
	},
	Run: runUndersizedBranch,
}

func runUndersizedBranch(p *Pass) {
	branches := branchesOf(p.Snapshot)
	var ids []model.ID
	for id := range branches {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	for _, id := range ids {
		if len(branches[id]) == 0 {
			continue
		}
		need, missing := p.needs(id)
		if len(missing) > 0 {
			p.NotAssessed(model.PlaceOf(id), missing...)
			continue
		}
		for _, run := range branches[id] {
			p.judgeBranch(id, run, need)
		}
	}
	p.shortFlows()
}

// shortFlows tells what gets less than it needs though the step asks for enough.
func (p *Pass) shortFlows() {
	told := map[model.ID]bool{}
	for _, step := range p.Circuit.Steps() {
		asked, known := step.Flow.Get()
		if cleans, _ := cleaningStep(step); !cleans || !known || !Route.Of(p.Snapshot, step).Found {
			continue
		}
		sol := Flows.Of(p.Snapshot, step)
		for _, id := range Sides.Of(p.Snapshot, step).cleaned {
			need, missing := p.needs(id)
			gets, solved := p.getsOf(sol, id)
			if told[id] || len(missing) > 0 || !solved || below(float64(asked), float64(need)) || float64(gets) >= (1-flowSlack)*float64(need) {
				continue
			}
			if short, falls := sol.Supply.Short.Get(); falls && float64(gets) >= (1-flowSlack)*float64(asked-short) {
				continue // it gets all that the pump gives
			}
			told[id] = true
			p.Report(Finding{At: model.PlaceOf(id), Steps: []model.ID{step.ID}, Measured: Of(gets), Limit: Of(need),
				Message: Say("%v gets %v of the %v that %v asks for; it needs %v", p.Name(id), Of(gets), Of(asked), p.Name(step.ID), Of(need))})
		}
	}
}

// flowSlack is the share by which a solved flow may miss what is needed.
const flowSlack = 1e-3

// getsOf gives the solved flow into what is cleaned.
func (p *Pass) getsOf(sol *flow.Solution, id model.ID) (quantity.Flow, bool) {
	for _, v := range sol.Vessels {
		if v.Vessel == id {
			return v.Inflow.Get()
		}
	}
	if _, ok := p.Circuit.Part(id).(*model.Object); !ok {
		return 0, false
	}
	for _, e := range p.Plant().PartEdges(id) {
		if q, known := sol.Edges[e].Flow.Get(); known {
			return magnitude(q), true
		}
	}
	return 0, false
}

// branchesOf gives, by what is cleaned, the runs that feed it alone: on the
// supply side of some step that cleans it, and of no step that does not.
func branchesOf(s *Snapshot) map[model.ID][]*model.Run {
	runs := s.runEdges()
	feeds := make([]model.ID, len(runs))
	shared := make([]bool, len(runs))
	for _, step := range s.Circuit.Steps() {
		if cleans, _ := cleaningStep(step); !cleans {
			continue
		}
		sides := Sides.Of(s, step)
		if sides.notApplicable || len(sides.cleaned) == 0 {
			continue
		}
		r := Route.Of(s, step)
		for i, run := range runs {
			e := run.first
			if !sides.supply.in[e] {
				continue
			}
			for _, id := range sides.cleaned {
				shared[i] = shared[i] || feeds[i] != "" && feeds[i] != id
				feeds[i] = id
			}
			shared[i] = shared[i] || !r.Whole[e]
		}
	}
	out := map[model.ID][]*model.Run{}
	for i, run := range runs {
		if id := feeds[i]; id != "" && !shared[i] && !run.face {
			out[id] = append(out[id], run.Run)
		}
	}
	return out
}

// needs gives the flow that something to be cleaned needs.
func (p *Pass) needs(id model.ID) (quantity.Flow, []network.Missing) {
	switch part := p.Circuit.Part(id).(type) {
	case *model.Object:
		if q, known := part.NeedsFlow.Get(); known {
			return q, nil
		}
		return 0, []network.Missing{missingKey(part, "needs_flow_m3h")}
	case *model.Vessel:
		return p.vesselNeeds(part)
	}
	return 0, []network.Missing{{Record: id, Key: "needs_flow_m3h"}}
}

func (p *Pass) vesselNeeds(v *model.Vessel) (quantity.Flow, []network.Missing) {
	var sum quantity.Flow
	told := true
	sprays := spraysOf(p.Snapshot, v.ID)
	for _, spray := range sprays {
		q, known := spray.RatedFlow.Get()
		sum += q
		told = told && known
	}
	if told && len(sprays) > 0 {
		return sum, nil
	}
	if d, known := v.Diameter.Get(); known {
		wetting := p.Limit("spray-wetting")
		if agitated, told := v.Agitated.Get(); told && !agitated {
			wetting = p.Limit("spray-wetting-plain")
		}
		return quantity.Flow(math.Pi * float64(d) * wetting.Is()), nil
	}
	var missing []network.Missing
	for _, spray := range sprays {
		if !spray.RatedFlow.Known() {
			missing = append(missing, missingKey(spray, "rated_flow_m3h"))
		}
	}
	return 0, append(missing, missingKey(v, "diameter_m"))
}

// spraysOf gives the spray devices whose outlet is joined to a vessel, across
// runs and plain fittings, in order of id.
func spraysOf(s *Snapshot, vessel model.ID) []*model.Spray {
	var out []*model.Spray
	seen := map[model.ID]bool{vessel: true}
	queue := []model.ID{vessel}
	for len(queue) > 0 {
		id := queue[0]
		queue = queue[1:]
		for _, run := range s.Circuit.RunsAt(id) {
			for _, end := range []model.End{run.From, run.To} {
				if seen[end.Part] {
					continue
				}
				switch part := s.Circuit.Part(end.Part).(type) {
				case *model.Spray:
					if gives(s.Kind(part), end.Port) {
						out = append(out, part)
						seen[end.Part] = true
					}
				case *model.Fitting:
					if len(s.Circuit.RunsAt(part.ID)) == 2 {
						seen[end.Part] = true
						queue = append(queue, part.ID)
					}
				}
			}
		}
	}
	slices.SortFunc(out, func(a, b *model.Spray) int {
		switch {
		case a.ID < b.ID:
			return -1
		case a.ID > b.ID:
			return 1
		}
		return 0
	})
	return out
}

func (p *Pass) judgeBranch(id model.ID, run *model.Run, need quantity.Flow) {
	at := model.PlaceOf(run.ID)
	size, known := run.Size.Get()
	tube, inTable := p.Catalogue.Tube(size)
	if !known || !inTable {
		p.NotAssessed(at, missingKey(run, "size"))
		return
	}
	least, most := p.Limit("velocity-least"), p.Limit("velocity-most")
	v := float64(need) / tube.Area()
	lost := gradient(tube, need)
	name, says := "velocity-most", "too narrow"
	measured := Of(quantity.Velocity(v))
	runs := Say("run at %v", measured)
	switch {
	case above(v, most.Is()):
	case below(v, least.Is()):
		name, says = "velocity-least", "too wide"
	case above(lost, p.Limit("gradient-most").Is()):
		name, measured = "gradient-most", Percent(lost)
		runs = Say("lose %v of its length in head", measured)
	default:
		return
	}
	would, ok := p.branchFor(size, need)
	var fixes []Remedy
	advice := "no size of its series would do"
	if ok {
		fixes = []Remedy{resize(run, would)}
		advice = string(would) + " would do"
	}
	p.Report(Finding{At: at, Places: []model.Place{at, model.PlaceOf(id)}, Measured: measured, LimitName: name, Fixes: fixes,
		Message: Say("%v is %v for %v: the %v that it needs %v, the limit is %v; %v", p.Name(run.ID), says, p.Name(id), Of(need), runs,
			p.Limit(name).Value, advice)})
}

// branchFor gives the smallest tube of the series of a size that passes a flow
// within the limits; false if there is none.
func (p *Pass) branchFor(size model.TubeSize, need quantity.Flow) (model.TubeSize, bool) {
	for _, t := range p.Catalogue.Series(size) {
		v := float64(need) / t.Area()
		if !above(v, p.Limit("velocity-most").Is()) && !above(gradient(t, need), p.Limit("gradient-most").Is()) {
			return t.Size, !below(v, p.Limit("velocity-least").Is())
		}
	}
	return "", false
}

// gradient gives the head that water at 20 °C loses by friction on the length of a
// tube.
func gradient(tube catalogue.Tube, q quantity.Flow) float64 {
	pipe := hydraulic.Pipe{Bore: tube.Inside(), Roughness: flow.Roughness}
	return float64(pipe.At(q, waterAt20()).Gradient)
}

// waterAt20 is water at 20 °C.
var waterAt20 = sync.OnceValue(func() hydraulic.Fluid {
	w, err := fluid.Water(quantity.Celsius(20))
	if err != nil {
		panic("checks: water at 20 °C: " + err.Error()) // within the range of the formulation
	}
	return hydraulic.Fluid{Density: float64(w.Density()), Viscosity: float64(w.Viscosity())}
})

// gives says whether liquid leaves a part through a port.
func gives(k *catalogue.Kind, port string) bool {
	if k == nil {
		return false
	}
	p, ok := k.Port(port)
	return ok && p.Role == "out"
}
