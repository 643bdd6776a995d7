package lineup_test

import (
	"fmt"
	"testing"

	"rinsewright/model/lineup"
)

// A short way by two valves and a long one by two others lead to the drain; product
// lies behind a bend.
func ExampleFind() {
	p := twoWays(&testing.T{}).Plant()
	proposals, err := lineup.Find(p, lineup.Ask{Source: "W", Destination: "D"})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, x := range proposals {
		fmt.Println(x.Moved, x.Why)
	}
	// Output:
	// map[V1:open V2:open] 7 m of way, 2 valves moved, 0 pumps, 3 dead legs of which 3 at shut seats; product is kept apart by SB
	// map[V3:open V4:open] 23.4 m of way, 2 valves moved, 0 pumps, 2 dead legs of which 2 at shut seats
}
