package checks

import (
	"rinsewright/model"
	"rinsewright/model/network"
)

// EdgePlace gives the place of an edge: a stretch of a run, or a part.
func EdgePlace(plant *network.Plant, edge int) model.Place {
	e := &plant.Edges[edge]
	if e.Run != "" {
		if len(plant.RunOfEdge(edge).Stretches) == 0 {
			return model.PlaceOf(e.Run)
		}
		return model.PlaceOfStretch(e.Run, e.Stretch)
	}
	return model.PlaceOf(e.Part)
}

// EdgePlaces gives the places of a way in order: neighbouring stretches of one
// run as one place, each part once.
func EdgePlaces(plant *network.Plant, edges []int) []model.Place {
	if len(edges) == 0 {
		return nil
	}
	out := make([]model.Place, 0, len(edges))
	for _, e := range edges {
		at := EdgePlace(plant, e)
		if n := len(out); n > 0 && out[n-1].Element == at.Element {
			last := &out[n-1]
			last.First, last.Last = min(last.First, at.First), max(last.Last, at.Last)
			continue
		}
		out = append(out, at)
	}
	return out
}

// NodePlace gives the place of a node: a port or inner point of a part, the
// stretch before a joint, or a run at its loose end.
func NodePlace(plant *network.Plant, node int) model.Place {
	n := &plant.Nodes[node]
	if n.Part != "" {
		return model.PlaceOfPort(n.Part, n.Point)
	}
	if r := plant.Circuit.Run(n.Run); r != nil && len(r.Stretches) > 0 {
		return model.PlaceOfStretch(n.Run, max(n.Joint-1, 0))
	}
	return model.PlaceOf(n.Run)
}
