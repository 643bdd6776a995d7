package circuitfile_test

import (
	"fmt"
	"os"

	"rinsewright/model"
	"rinsewright/model/circuitfile"
	"rinsewright/model/quantity"
)

func ExampleEncode() {
	c, err := model.FromRecords(
		&model.Header{Name: "Oat line 2", Revision: "A"},
		[]model.Part{
			&model.Valve{
				Item: model.Item{ID: "p2", Kind: "butterfly-valve", Tag: "V-12", At: model.Point{X: 60, Y: 40}},
				Kv:   quantity.Some(quantity.ValveFlow(118.0 / 3600)),
			},
			&model.Terminal{Item: model.Item{ID: "p1", Kind: "water-supply", At: model.Point{X: 20, Y: 40}}},
		},
		[]*model.Run{{
			ID: "r1", From: model.End{Part: "p1", Port: "out"}, To: model.End{Part: "p2", Port: "a"},
			Stretches: []model.Stretch{
				{Length: quantity.Some(quantity.Length(2.5)), Rise: quantity.Some(quantity.Length(-0.05))},
				{Length: quantity.Some(quantity.Length(1))},
			},
			Bends: []model.Point{{X: 40, Y: 40}},
		}},
		nil,
	)
	if err != nil {
		fmt.Println(err)
		return
	}
	text, err := circuitfile.Encode(c)
	if err != nil {
		fmt.Println(err)
		return
	}
	os.Stdout.Write(text)
	// Output:
	// {
	//   "schema": "rinsewright-circuit",
	//   "version": 1,
	//   "circuit": {
	//     "name": "Oat line 2",
	//     "revision": "A"
	//   },
	//   "parts": [
	//     {
	//       "class": "terminal",
	//       "id": "p1",
	//       "kind": "water-supply",
	//       "at_mm": [20, 40]
	//     },
	//     {
	//       "class": "valve",
	//       "id": "p2",
	//       "kind": "butterfly-valve",
	//       "tag": "V-12",
	//       "at_mm": [60, 40],
	//       "kv_m3h": 118
	//     }
	//   ],
	//   "runs": [
	//     {
	//       "id": "r1",
	//       "from": {"part": "p1", "port": "out"},
	//       "to": {"part": "p2", "port": "a"},
	//       "stretches": [
	//         {"length_m": 2.5, "rise_m": -0.05},
	//         {"length_m": 1}
	//       ],
	//       "bends_mm": [
	//         [40, 40]
	//       ]
	//     }
	//   ],
	//   "steps": []
	// }
}

func ExampleDecode() {
	text := `{
  "schema": "rinsewright-circuit", "version": 1,
  "circuit": {"name": "Oat line 2"},
  "parts": [
    {"class": "valve", "id": "p1", "kind": "butterfly-valve", "tag": "V-12", "kv_m3h": -4},
    {"class": "pump", "id": "p1", "kind": "centrifugal-pump", "efficency_pct": 62}
  ]
}`
	_, err := circuitfile.Decode("oat.circuit.json", []byte(text))
	fmt.Println(err)
	// Output:
	// oat.circuit.json:5:88: parts[0] (V-12): kv_m3h: must not be below 0, found -4
	// oat.circuit.json:6:29: parts[1] (p1): id: the id "p1" is taken by the record at line 5
	// oat.circuit.json:6:63: parts[1] (p1): a pump has no key "efficency_pct"; did you mean "efficiency_pct"?
}
