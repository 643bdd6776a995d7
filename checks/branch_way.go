package checks

import (
	"rinsewright/model"
	"rinsewright/model/network"
)

// legsPointing reports the dead legs that leave their main through the branch
// of a tee in a given direction, save those that point that way for a purpose.
func (p *Pass) legsPointing(way model.Way, says string, purpose func(wayOut) bool) {
	if !p.sweeps() {
		return
	}
	plant := p.Plant()
	for _, leg := range Legs.Of(p.Snapshot, p.Step) {
		if len(leg.Way) == 0 || !plant.Edges[leg.Way[0]].Branch {
			continue
		}
		tee, ok := p.partOfNode(leg.Root).(*model.Fitting)
		if !ok || onlyFlush(plant, leg) {
			continue
		}
		at := model.PlaceOf(tee.ID)
		points, known := tee.BranchWay.Get()
		switch {
		case !known:
			p.NotAssessed(at, missingKey(tee, "branch_way"))
		case points == way && !purpose(p.wayOutOf(leg)):
			p.Report(Finding{At: at, Way: EdgePlaces(plant, leg.Way),
				Message: Say("the branch of %v points %v and no flow passes it: %v", p.Name(tee.ID), string(way), says),
				Fixes:   p.turnBranch(tee)})
		}
	}
}

// onlyFlush says whether a leg has no length at all.
func onlyFlush(plant *network.Plant, leg network.Leg) bool {
	length, known := leg.Length.Get()
	return known && length == 0
}

// turnBranch lets the branch of a tee point to the side.
func (p *Pass) turnBranch(tee *model.Fitting) []Remedy {
	after := model.Clone(tee)
	after.BranchWay.Set(model.Side)
	return []Remedy{{Message: "turn the branch to the side",
		Edit: model.Edit{Label: "turn the branch of " + p.Name(tee.ID), Changes: []model.Change{model.Replacing(tee, after)}}}}
}
