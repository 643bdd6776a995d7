package checks

import (
	"strings"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// tanksWithout reports the storing tanks that no switch with a trait protects.
// A level transmitter counts where its switching point is told.
func (p *Pass) tanksWithout(trait, port, says, remedy string) {
	for _, part := range p.ofTrait(catalogue.TraitStorage) {
		tank, ok := part.(*model.Vessel)
		if !ok || len(p.attached(tank.ID, trait)) > 0 || p.transmitterTrips(tank.ID) {
			continue
		}
		p.Report(Finding{At: model.PlaceOf(tank.ID), Message: Say("%v %v", p.Name(tank.ID), says), Fixes: p.addSwitch(tank, trait, port, remedy)})
	}
}

func (p *Pass) transmitterTrips(tank model.ID) bool {
	for _, id := range p.attached(tank, catalogue.TraitLevel) {
		if i, ok := p.Circuit.Part(id).(*model.Instrument); ok && i.SetAt.Known() {
			return true
		}
	}
	return false
}

// addSwitch mounts a level switch face to face on a free nozzle of a tank.
func (p *Pass) addSwitch(tank *model.Vessel, trait, nozzle, says string) []Remedy {
	kind, on := p.kindWith(model.ClassInstrument, trait), p.Kind(tank)
	if kind == nil || on == nil || len(kind.Ports) == 0 {
		return nil
	}
	port, ok := on.Port(nozzle)
	if !ok || p.portUsed(tank.ID, nozzle) {
		return nil
	}
	at, way := port.PortAt(tank.Meta())
	part, err := kind.New(model.NewID("p"), at.Add(model.Point{X: 15 * way.X, Y: 15 * way.Y}))
	if err != nil {
		return nil
	}
	part.Meta().Tag = newTagger(p.Snapshot).tag(part)
	face := faceRun(model.End{Part: tank.ID, Port: nozzle}, model.End{Part: part.RecordID(), Port: kind.Ports[0].Name})
	return []Remedy{{Message: says, Edit: model.Edit{Label: strings.TrimSuffix(says, " to it") + " on " + p.Name(tank.ID),
		Changes: []model.Change{model.Adding(part), model.Adding(face)}}}}
}

func (s *Snapshot) portUsed(id model.ID, port string) bool {
	n, ok := Plant.Of(s).PortNode(id, port)
	return ok && rollOf.Of(s).ends[n] > 0
}
