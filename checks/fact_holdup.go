package checks

import (
	"rinsewright/model"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
	"rinsewright/model/vessel"
)

// circuitVolume is what a step must fill before anything comes back.
type circuitVolume struct {
	tube    quantity.Volume // of lines, machines and objects that the flow passes
	puddles quantity.Volume // that stand in the vessels on the way
	missing []network.Missing
}

// Volumes gives the volume of the circuit of a step: everything that its flow
// passes but the tanks at its ends, and the puddles of the solved flow.
var Volumes = NewStepFact("volume of the circuit", func(s *Snapshot, step *model.Step) circuitVolume {
	var out circuitVolume
	plant, r := Plant.Of(s), Route.Of(s, step)
	if !r.Found {
		return out
	}
	for e := range plant.Edges {
		edge := &plant.Edges[e]
		if !r.InFlow[e] || edge.Path < 0 && edge.Part != "" {
			continue
		}
		if edge.Part == step.Source || edge.Part == step.Destination {
			continue
		}
		if _, inside := s.partOfEdge(e).(*model.Vessel); inside {
			continue // a nozzle
		}
		v, known := edge.Volume.Get()
		if !known {
			out.missing = append(out.missing, edge.Missing...)
		}
		out.tube += v
	}
	sol := Flows.Of(s, step)
	for _, bowl := range sol.Vessels {
		v, ok := s.Circuit.Part(bowl.Vessel).(*model.Vessel)
		level, known := bowl.Level.Get()
		if !ok {
			continue
		}
		body, keys, err := vessel.Of(v)
		switch {
		case !known:
			out.missing = append(out.missing, sol.Missing...)
			out.missing = append(out.missing, bowl.Missing...)
		case level <= 0:
		case err != nil || len(keys) > 0:
			for _, key := range keys {
				out.missing = append(out.missing, missingKey(v, key))
			}
			if err != nil {
				out.missing = append(out.missing, missingKey(v, "height_m"))
			}
		default:
			out.puddles += body.At(level)
		}
	}
	return out
})

// sent gives the litres that a step sends: told as its end, else flow times time.
func sent(step *model.Step) (quantity.Volume, []network.Missing) {
	if v, known := step.EndVolume.Get(); known {
		return v, nil
	}
	flow, flows := step.Flow.Get()
	time, lasts := step.Time.Get()
	var missing []network.Missing
	if !flows {
		missing = append(missing, missingKey(step, "flow_m3h"))
	}
	if !lasts {
		missing = append(missing, missingKey(step, "time_min"))
	}
	return quantity.Volume(float64(flow) * float64(time)), missing
}
