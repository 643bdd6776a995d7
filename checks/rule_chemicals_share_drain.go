package checks

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
)

var ruleChemicalsShareDrain = &Rule{
	Name: "chemicals-share-drain",
	Doc: Doc{
		Title: "Chemicals that react share a drain, a vent or a bund",
		Why:   "A leak, an overflow or two drains opened together bring them to meet where nobody looks: acid on hypochlorite gives chlorine gas, acid on alkali boils up.",
		How: "Tanks and supplies of alkali, acid, peracetic acid and hypochlorite are taken in pairs that react. Each pair must not be told to stand in one bund, nor breathe through one vent, nor overflow into one drain, nor run to the same sewer drain in one drain step. " +
			"Alkali counts as sodium hydroxide and acid as nitric acid where nobody tells; of a disinfectant the chemical must be told.",
		Blind:    "Gullies that join below the floor; drums that are changed; what a cleaner carries in. Who works there needs the safety data sheets and the site's rules.",
		Remedy:   "Give each chemical a bund, a vent and an overflow of its own, and drain one after the other with water between.",
		Cites:    []Citation{{Source: "OSHA accident report", Clause: "acid and hypochlorite in one sewer", Standing: StandingRead}, handbook27},
		Severity: Stop,
	},
	Run: runChemicalsShareDrain,
}

func runChemicalsShareDrain(p *Pass) {
	all := Holders.Of(p.Snapshot)
	outs := make([]outlets, len(all))
	worked := make([]bool, len(all))
	for i, a := range all {
		for j := i + 1; j < len(all); j++ {
			b := all[j]
			if a.agent == "" || b.agent == "" {
				if a.medium != b.medium {
					p.NotAssessed(model.PlaceOf(a.part.RecordID()), append(a.missing, b.missing...)...)
				}
				continue
			}
			gives := reaction(a.agent, b.agent)
			if gives == "" {
				continue
			}
			for _, k := range []int{i, j} {
				if !worked[k] {
					outs[k], worked[k] = p.outletsOf(all[k].part), true
				}
			}
			p.judgePair(a, b, outs[i], outs[j], gives)
		}
	}
}

// outlets are the ways by which a chemical may leave its tank or supply.
type outlets struct {
	bund      string
	vents     []model.ID
	overflows []model.ID                 // sewer drains
	drains    map[*model.Step][]model.ID // sewer drains, by drain step
	missing   []network.Missing
}

func (p *Pass) outletsOf(part model.Part) outlets {
	out := outlets{drains: map[*model.Step][]model.ID{}}
	switch part := part.(type) {
	case *model.Terminal:
		out.bund = part.Bund.Or("")
	case *model.Vessel:
		out.bund = part.Bund.Or("")
		out.vents = p.breathes(part, atRest.Of(p.Snapshot).Open).by
		out.overflows = p.overflowsTo(part)
		p.drainsOf(part, &out)
	}
	if out.bund == "" {
		out.missing = append(out.missing, missingKey(part, "bund"))
	}
	return out
}

// drainsOf adds the sewer drains that the outlet of a tank is open to in drain steps.
func (p *Pass) drainsOf(tank *model.Vessel, out *outlets) {
	draw, ok := p.Plant().PortNode(tank.ID, network.Draw)
	if !ok {
		return
	}
	for _, step := range p.Circuit.Steps() {
		if step.Purpose.Or("") == model.Drain {
			if ends := p.sewersBelow(draw, lineUps.Of(p.Snapshot).of[step].Open); len(ends) > 0 {
				out.drains[step] = ends
			}
		}
	}
}

// sewersBelow gives the sewer drains that open ways lead to from a node, without
// passing another vessel.
func (p *Pass) sewersBelow(from int, open []bool) []model.ID {
	plant := p.Plant()
	seen := map[int]bool{from: true}
	queue := []int{from}
	var out []model.ID
	for i := 0; i < len(queue); i++ {
		n := queue[i]
		if part := p.partOfNode(n); plant.Nodes[n].Role == catalogue.RoleAir && p.Has(part, catalogue.TraitSewer) {
			out = append(out, part.RecordID())
		}
		if plant.Nodes[n].Role == catalogue.RoleVessel && n != from {
			continue
		}
		for _, a := range plant.Graph().Incident(n) {
			if open[a.Edge] && !plant.Dry(int(a.Edge)) && !seen[int(a.Node)] {
				seen[int(a.Node)] = true
				queue = append(queue, int(a.Node))
			}
		}
	}
	slices.Sort(out)
	return out
}

// overflowsTo gives the sewer drains that the overflow of a tank leads to.
func (p *Pass) overflowsTo(tank *model.Vessel) []model.ID {
	plant := p.Plant()
	n, ok := plant.PortNode(tank.ID, "overflow")
	if !ok {
		return nil
	}
	seen := map[int]bool{n: true}
	queue := []int{n}
	var out []model.ID
	for i := 0; i < len(queue); i++ {
		if part := p.partOfNode(queue[i]); p.Has(part, catalogue.TraitSewer) && !slices.Contains(out, part.RecordID()) {
			out = append(out, part.RecordID())
		}
		for _, a := range plant.Graph().Incident(queue[i]) {
			if !seen[int(a.Node)] && plant.Edges[a.Edge].Part != tank.ID && leadsOn(p.Snapshot, plant, int(a.Edge)) {
				seen[int(a.Node)] = true
				queue = append(queue, int(a.Node))
			}
		}
	}
	return out
}

func (p *Pass) judgePair(a, b holder, x, y outlets, gives string) {
	one, two := a.part.RecordID(), b.part.RecordID()
	report := func(at model.ID, says Text, steps ...model.ID) {
		p.Report(Finding{At: model.PlaceOf(at), Places: []model.Place{model.PlaceOf(at), model.PlaceOf(one), model.PlaceOf(two)}, Steps: steps,
			Message: Say("%v of %v and %v of %v %v: where they meet they give %v", chemicalName(string(a.agent)), p.Name(one), chemicalName(string(b.agent)), p.Name(two), says, gives)})
	}
	switch {
	case x.bund != "" && x.bund == y.bund:
		report(one, Say("stand in one bund, %v", x.bund))
	case len(x.missing)+len(y.missing) > 0:
		p.NotAssessed(model.PlaceOf(one), append(slices.Clone(x.missing), y.missing...)...)
	}
	for _, id := range x.vents {
		if slices.Contains(y.vents, id) {
			report(id, Say("breathe through one vent, %v", p.Name(id)))
		}
	}
	for _, id := range x.overflows {
		if slices.Contains(y.overflows, id) {
			report(id, Say("overflow into one drain, %v", p.Name(id)))
		}
	}
	for _, step := range p.Circuit.Steps() {
		for _, id := range x.drains[step] {
			if slices.Contains(y.drains[step], id) {
				report(id, Say("run to one drain, %v, in %v", p.Name(id), p.Name(step.ID)), step.ID)
			}
		}
	}
}
