package network_test

import (
	"encoding/json"
	"fmt"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
)

// A supply line with a shut valve on a tee: the branch is a dead leg of stub, run
// and the way to the seat.
func ExamplePlant_DeadLegs() {
	var edit model.Edit
	add := func(id, kind, properties string) {
		part, _ := catalogue.Builtin().Kind(kind).New(model.ID(id), model.Point{})
		json.Unmarshal([]byte(properties), part)
		edit.Changes = append(edit.Changes, model.Adding(part))
	}
	run := func(id, from, fromPort, to, toPort, stretches string) {
		r := &model.Run{ID: model.ID(id), From: model.End{Part: model.ID(from), Port: fromPort}, To: model.End{Part: model.ID(to), Port: toPort}}
		json.Unmarshal([]byte(`{"size":"EN 10357-A DN50","stretches":[`+stretches+`]}`), r)
		edit.Changes = append(edit.Changes, model.Adding(r))
	}
	add("W1", "water-supply", `{}`)
	add("T1", "tee", `{"size":"EN 10357-A DN50","second_size":"EN 10357-A DN50","stub_mm":40,"run_mm":120}`)
	add("V1", "butterfly-valve", `{"size":"EN 10357-A DN50","seat_a_mm":25,"seat_b_mm":25,"normal":"closed"}`)
	add("D1", "sewer-drain", `{}`)
	run("r1", "W1", "a", "T1", "a", `{"length_m":5}`)
	run("r2", "T1", "b", "D1", "a", `{"length_m":5}`)
	run("r3", "T1", "branch", "V1", "a", `{"length_m":0.3}`)
	circuit, _ := model.New("oat drink line").Apply(edit)

	plant := network.Build(circuit, catalogue.Builtin())
	route := plant.Route(plant.LineUp(&model.Step{ID: "s1", Source: "W1", Destination: "D1"}))
	for _, leg := range plant.DeadLegs(route) {
		fmt.Printf("%s to %s: %.3f m long, %.0f mm wide\n", plant.Nodes[leg.Root].Part, plant.Nodes[leg.End].Part,
			leg.Length.Or(0), leg.Bore.Or(0).Millimetres())
	}
	// Output: T1 to V1: 0.365 m long, 50 mm wide
}
