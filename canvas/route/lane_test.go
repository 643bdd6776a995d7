package route_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"rinsewright/canvas/place"
	"rinsewright/canvas/route"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// Two runs whose jogs would lie on each other get lanes 2.5 mm apart; a line with
// a bend by hand stays where it is.
func TestLanes(t *testing.T) {
	cat := testKinds(t)
	c := apply(t, model.New("lanes"),
		model.Adding(part("valve", "a", 0, 0, 0)), model.Adding(part("valve", "b", 100, 40, 0)),
		model.Adding(part("valve", "d", 0, 20, 0)), model.Adding(part("valve", "e", 100, 60, 0)),
		model.Adding(run("r1", on("a", "b"), on("b", "a"))), model.Adding(run("r2", on("d", "b"), on("e", "a"))))
	lines := route.All(c, cat)
	x := func(line []model.Point) float64 { return line[1].X }
	if got := math.Abs(x(lines[0]) - x(lines[1])); got < 2.5-1e-9 {
		t.Errorf("upright pieces %v mm apart: %v and %v", got, lines[0], lines[1])
	}
	alone := route.Line(c, cat, c.Run("r1"))
	if x(alone) != x(lines[0]) {
		t.Errorf("the earlier run moved from %v to %v", alone, lines[0])
	}
	byHand := model.Clone(c.Run("r2"))
	byHand.Bends = []model.Point{{X: x(alone), Y: 40}}
	c = apply(t, c, model.Change{Before: c.Run("r2"), After: byHand})
	lines = route.All(c, cat)
	if x(lines[1]) != x(alone) || x(lines[0]) == x(alone) {
		t.Errorf("the line bent by hand %v, the other %v", lines[1], lines[0])
	}
}

// On random layouts: lanes take nothing from a line but its place. Its ends stay,
// it is right-angled, has no more corners, passes through no more symbols than
// alone, and of all lines less lies on another than without lanes.
func TestLanesOnRandomLayouts(t *testing.T) {
	cat := testKinds(t)
	rng := rand.New(rand.NewPCG(7, 8))
	before, after := 0.0, 0.0
	for range 60 {
		c := model.New("random")
		n := 12 + rng.IntN(20)
		var changes []model.Change
		var ids []model.ID
		for i := range n {
			id := model.ID(string(rune('a'+i/26)) + string(rune('a'+i%26)))
			ids = append(ids, id)
			changes = append(changes, model.Adding(part("valve", id, 2.5*float64(rng.IntN(80)), 2.5*float64(rng.IntN(60)), 0)))
		}
		for i := 0; i+1 < n; i += 2 {
			changes = append(changes, model.Adding(run("r"+ids[i], on(ids[i], "b"), on(ids[i+1], "a"))))
		}
		c = apply(t, c, changes...)
		router := route.New(c, cat)
		lines := route.All(c, cat)
		cached := route.NewCache(cat).Lines(c)
		var alone [][]model.Point
		for i, r := range c.Runs() {
			line := router.Line(r)
			alone = append(alone, line)
			got := lines[i]
			if len(got) != len(line) || got[0] != line[0] || got[len(got)-1] != line[len(line)-1] {
				t.Fatalf("%v became %v", line, got)
			}
			for k := 1; k < len(got); k++ {
				if d := got[k].Sub(got[k-1]); math.Min(math.Abs(d.X), math.Abs(d.Y)) > 1e-9 {
					t.Fatalf("a slanting piece in %v", got)
				}
				if cached[i][k] != got[k] {
					t.Fatalf("the cache gives %v, not %v", cached[i], got)
				}
			}
			if a, b := crossed(c, cat, line), crossed(c, cat, got); b > a {
				t.Errorf("passes %d symbols, alone %d", b, a)
			}
		}
		before += onEachOther(alone)
		after += onEachOther(lines)
	}
	if before == 0 || after > before/4 {
		t.Errorf("%.0f mm of lines lie on each other, %.0f without lanes", after, before)
	}
	t.Logf("%.0f mm of lines lie on each other, %.0f without lanes", after, before)
}

// onEachOther measures how much of lines lies on other lines, mm.
func onEachOther(lines [][]model.Point) float64 {
	sum := 0.0
	for i := range lines {
		for j := range lines[:i] {
			for a := 1; a < len(lines[i]); a++ {
				for b := 1; b < len(lines[j]); b++ {
					p, q := place.Spanned(lines[i][a-1], lines[i][a]), place.Spanned(lines[j][b-1], lines[j][b])
					wide, high := min(p.Max.X, q.Max.X)-max(p.Min.X, q.Min.X), min(p.Max.Y, q.Max.Y)-max(p.Min.Y, q.Min.Y)
					if wide >= 0 && high >= 0 {
						sum += max(wide, high)
					}
				}
			}
		}
	}
	return sum
}

// crossed counts the symbols whose inside a line passes through, those at its ends
// left out.
func crossed(c *model.Circuit, cat *catalogue.Catalogue, line []model.Point) int {
	n := 0
	for _, p := range c.Parts() {
		box := place.Box(p, cat.Kind(p.Meta().Kind))
		if box.Contains(line[0]) || box.Contains(line[len(line)-1]) {
			continue
		}
		for k := 1; k < len(line); k++ {
			s := place.Spanned(line[k-1], line[k])
			if s.Min.X < box.Max.X-1e-9 && s.Max.X > box.Min.X+1e-9 && s.Min.Y < box.Max.Y-1e-9 && s.Max.Y > box.Min.Y+1e-9 {
				n++
				break
			}
		}
	}
	return n
}
