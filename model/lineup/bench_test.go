package lineup_test

import (
	"fmt"
	"testing"

	"rinsewright/model"
	"rinsewright/model/lineup"
	"rinsewright/model/network/networktest"
)

// matrix is a supply header and a return header joined by rows of objects, each
// behind shut valves, with cross joints that are open by themselves. It has about
// as many runs as told.
func matrix(t testing.TB, runs int) *networktest.Sketch {
	s := networktest.New(t)
	s.Part("W", "water-supply", "")
	s.Part("D", "sewer-drain", "")
	up, down := "W.a", "D.a"
	for i := 0; i*12 < runs; i++ {
		n := func(letter string) string { return fmt.Sprintf("%s%05d", letter, i) }
		for _, tee := range []string{"S", "R", "M", "N"} {
			s.Part(n(tee), "tee", networktest.Stubs)
		}
		s.Part(n("A"), "butterfly-valve", networktest.Seats)
		s.Part(n("B"), "butterfly-valve", networktest.Seats)
		s.Part(n("C"), "divert-valve", networktest.Seats)
		s.Part(n("E"), "butterfly-valve", networktest.Seats+`,"normal":"open"`)
		s.Part(n("K"), "cap", `"size":"`+networktest.DN50+`"`)
		s.Part(n("F"), "filler-line", `"length_m":3`)
		s.Run(up, n("S")+".a", 2)
		s.Run(down, n("R")+".b", 2)
		up, down = n("S")+".b", n("R")+".a"
		s.Run(n("S")+".branch", n("A")+".a", 1)
		s.Run(n("A")+".b", n("M")+".a", 1)
		s.Run(n("M")+".b", n("F")+".a", 1)
		s.Run(n("F")+".b", n("N")+".a", 1)
		s.Run(n("N")+".b", n("C")+".c", 1)
		s.Run(n("C")+".a", n("B")+".a", 1)
		s.Run(n("C")+".b", n("K")+".a", 1)
		s.Run(n("B")+".b", n("R")+".branch", 1)
		s.Run(n("M")+".branch", n("E")+".a", 1)
		s.Run(n("E")+".b", n("N")+".branch", 1) // round the object: to be shut
	}
	return s
}

func BenchmarkFind(b *testing.B) {
	for _, runs := range []int{100, 1000, 10000} {
		p := matrix(b, runs).Plant()
		rows := (runs + 11) / 12
		// The last row, to which the flow passes the whole header; and one in the
		// middle, with half of the header a dead leg, which no other row mends.
		for _, row := range []int{rows - 1, rows / 2} {
			b.Run(fmt.Sprintf("%d/row%d", runs, row), func(b *testing.B) {
				ask := lineup.Ask{Source: "W", Destination: "D", Through: []model.ID{model.ID(fmt.Sprintf("F%05d", row))}}
				b.ReportAllocs()
				for b.Loop() {
					got, err := lineup.Find(p, ask)
					if err != nil || !got[0].Found || got[0].Positions[model.ID(fmt.Sprintf("E%05d", row))] != "closed" {
						b.Fatal(err, got[0].Missing, got[0].Why, got[0].Proven)
					}
				}
			})
		}
	}
	b.Run("demo", func(b *testing.B) {
		p := demo(b, "oat-drink-station")
		ask := lineup.Ask{Source: "p-t-102", Destination: "p-t-102", Through: []model.ID{"p-t-202"}}
		for b.Loop() {
			if got, err := lineup.Find(p, ask); err != nil || !got[0].Found {
				b.Fatal(err)
			}
		}
	})
}
