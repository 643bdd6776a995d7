package draw_test

import (
	"image"
	"math"
	"testing"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

// The direction of a part that passes one way is in its symbol and goes with it,
// however it is turned and mirrored: a triangle that points to the outlet (ISO
// 10628-2 and ISO 14617-8, from memory), and at a check valve a dot at the inlet.
func TestDirectionIsInTheSymbol(t *testing.T) {
	cat := catalogue.Builtin()
	for _, name := range []string{"check-valve", "steam-trap", "centrifugal-pump", "self-priming-pump", "lobe-pump", "dosing-pump", "flow-transmitter"} {
		kind := cat.Kind(name)
		for turn := range model.Turn(4) {
			for _, mirrored := range []bool{false, true} {
				p := &model.Fitting{Item: model.Item{ID: "p", Kind: name, At: model.Point{X: 50, Y: 70}, Turn: turn, Mirrored: mirrored}}
				ports := place.Ports(p, kind)
				in, out := ports[0].Place, ports[1].Place
				s := draw.Symbol{Kind: kind, At: p.At, Turn: turn, Mirrored: mirrored}
				if !pointsAlong(s, in, out) {
					t.Errorf("%s, turn %d, mirrored %v: nothing points from %v to %v", name, turn, mirrored, in, out)
				}
				if name == "check-valve" && !dotNear(s, in, out) {
					t.Errorf("turn %d, mirrored %v: no dot at the inlet", turn, mirrored)
				}
			}
		}
	}
	// A reducer has its wide end at port a.
	for _, name := range []string{"concentric-reducer", "eccentric-reducer"} {
		s := draw.Symbol{Kind: cat.Kind(name), Mirrored: true}
		wide := map[bool]float64{}
		for _, f := range s.Figures() {
			for _, g := range f.(draw.Path).Segments {
				if g.Op != 'Z' {
					wide[g.P[0][0] > 0] = max(wide[g.P[0][0] > 0], math.Abs(g.P[0][1]))
				}
			}
		}
		if wide[true] <= wide[false] { // mirrored: port a is on the right
			t.Errorf("mirrored %s is %v high at port a, %v at port b", name, wide[true], wide[false])
		}
	}
}

// pointsAlong says whether a figure of three corners has its tip towards out.
func pointsAlong(s draw.Symbol, in, out model.Point) bool {
	for _, f := range s.Figures() {
		p, ok := f.(draw.Path)
		if !ok {
			continue
		}
		var corners []model.Point
		for _, g := range p.Segments {
			if g.Op == 'C' {
				corners = nil
				break
			}
			if g.Op != 'Z' {
				corners = append(corners, model.Point{X: g.P[0][0], Y: g.P[0][1]})
			}
		}
		if len(corners) < 3 {
			continue
		}
		for i := range 3 {
			tip, a, b := corners[i], corners[(i+1)%3], corners[(i+2)%3]
			even := math.Abs(math.Hypot(tip.X-a.X, tip.Y-a.Y)-math.Hypot(tip.X-b.X, tip.Y-b.Y)) < 1e-9
			along := (tip.X-(a.X+b.X)/2)*(out.X-in.X) + (tip.Y-(a.Y+b.Y)/2)*(out.Y-in.Y)
			onAxis := math.Abs((tip.X-in.X)*(out.Y-in.Y)-(tip.Y-in.Y)*(out.X-in.X)) < 1e-6
			if even && onAxis && along > 0 {
				return true
			}
		}
	}
	return false
}

// dotNear says whether a filled circle lies nearer to in than to out.
func dotNear(s draw.Symbol, in, out model.Point) bool {
	for _, f := range s.Figures() {
		p, ok := f.(draw.Path)
		if !ok || p.Style.Fill != draw.Ink || len(p.Segments) != 6 || p.Segments[1].Op != 'C' {
			continue
		}
		var r place.Rect
		for _, g := range p.Segments[1:5] {
			r = r.Union(place.Around([]model.Point{{X: g.P[2][0], Y: g.P[2][1]}}).Grown(1e-6))
		}
		c := r.Centre()
		return math.Hypot(c.X-in.X, c.Y-in.Y) < 2 && math.Hypot(c.X-out.X, c.Y-out.Y) > 5
	}
	return false
}

// The surface stands at the share of the height, level however the vessel is
// turned: heights worked out by hand.
func TestLevels(t *testing.T) {
	cat := testKinds(t)
	kind := cat.Kind("tank") // 30 mm by 40 mm, its bottom round
	for turn := range model.Turn(4) {
		for _, share := range []float64{0, 0.1, 0.25, 0.5, 0.99, 1, 2, -1} {
			s := draw.Symbol{Kind: kind, Turn: turn, Medium: draw.OfMedium(model.Water), Level: draw.Filled(share)}
			fill, lines := liquid(s)
			want := min(max(share, 0), 1)
			half := 20.0
			if turn%2 == 1 {
				half = 15
			}
			switch {
			case want == 0:
				if !fill.Empty() {
					t.Errorf("turn %d: an empty vessel is painted in %v", turn, fill)
				}
			case math.Abs(fill.Min.Y-(half-2*half*want)) > 0.02 || math.Abs(fill.Max.Y-half) > 0.02:
				t.Errorf("turn %d, %v full: painted from %v to %v, want from %v to %v", turn, share, fill.Min.Y, fill.Max.Y, half-2*half*want, half)
			}
			if (lines == 1) != (want > 0 && want < 1) {
				t.Errorf("turn %d, %v full: %d surfaces", turn, share, lines)
			}
		}
	}
	if fill, lines := liquid(draw.Symbol{Kind: kind}); fill.Empty() || lines != 1 {
		t.Error("a vessel of unknown level shows no surface")
	}
	if fill, _ := liquid(draw.Symbol{Kind: kind, Level: draw.Filled(math.NaN())}); fill.Empty() {
		t.Error("what is not a number is taken for empty")
	}
	v := &model.Vessel{Item: item("p1", "tank", "T-1", 0, 0), Holds: quantity.Some(model.Water)}
	p := draw.Circuit(apply(t, model.New("x"), v), cat, draw.Options{Levels: map[model.ID]float64{"p1": 0.25}})
	if fill, _ := liquid(symbolOf(t, p, "p1")); math.Abs(fill.Min.Y-10) > 0.02 {
		t.Errorf("a quarter full: painted from %v, want 10", fill.Min.Y)
	}
}

// liquid gives the box of what is painted without a line, and how many dashed
// lines there are.
func liquid(s draw.Symbol) (fill place.Rect, dashed int) {
	for _, f := range s.Figures() {
		p := f.(draw.Path)
		if len(p.Style.Dash) > 0 {
			dashed++
		}
		if p.Style.Stroke != draw.None {
			continue
		}
		var points []model.Point
		for _, g := range p.Segments {
			if g.Op != 'Z' {
				points = append(points, model.Point{X: g.P[0][0], Y: g.P[0][1]})
			}
		}
		fill = fill.Union(place.Around(points))
	}
	return fill, dashed
}

// Zoomed out, the tags of vessels and valves are still painted while that of a
// meter is given up, and the screen repeats itself.
func TestTagsStayLegible(t *testing.T) {
	cat := testKinds(t)
	one := func(p model.Part) float64 {
		c := apply(t, model.New("x"), p)
		m := image.NewRGBA(image.Rect(0, 0, 100, 100))
		const zoom = 1.1 // capitals of 2.75 px
		v := draw.View{Zoom: zoom, Offset: model.Point{X: -50 / zoom, Y: -50 / zoom}}
		paint := func(opt draw.Options) float64 {
			s := draw.NewScreen()
			s.Draw(m, draw.Circuit(c, cat, opt), draw.Light, v)
			return inked(m) * 100 * 100
		}
		return paint(draw.Options{}) - paint(draw.Options{HideTags: true})
	}
	vessel := one(&model.Vessel{Item: item("p1", "tank", "T-1", 0, 0)})
	valve := one(&model.Valve{Item: item("p1", "valve", "V-1", 0, 0)})
	meter := one(&model.Instrument{Item: item("p1", "meter", "Q-1", 0, 0)})
	if vessel < 20 || valve < 20 || meter != 0 {
		t.Errorf("tags paint %v px of a vessel, %v of a valve, %v of a meter", vessel, valve, meter)
	}
}

// Two valves so near that their enlarged tags would cover each other: one is left,
// and the same wherever the view looks.
func TestTagsThatCollideAreGivenUp(t *testing.T) {
	cat := testKinds(t)
	ink := func(n int, offset float64) float64 {
		var records []model.Record
		for i := range n {
			records = append(records, &model.Valve{Item: item(model.ID("p"+string(rune('1'+i))), "valve", "V-1", 10*float64(i), 0)})
		}
		c := apply(t, model.New("x"), records...)
		m := image.NewRGBA(image.Rect(0, 0, 120, 100))
		v := draw.View{Zoom: 1.1, Offset: model.Point{X: -40 + offset, Y: -40}}
		s := draw.NewScreen()
		s.Draw(m, draw.Circuit(c, cat, draw.Options{HideTags: true}), draw.Light, v)
		bare := inked(m)
		s.Draw(m, draw.Circuit(c, cat, draw.Options{}), draw.Light, v)
		return (inked(m) - bare) * 100 * 120
	}
	alone, both, aside := ink(1, 0), ink(2, 0), ink(2, 7)
	if both > alone*1.2 || both < alone*0.8 || math.Abs(aside-both) > 3 {
		t.Errorf("one tag paints %v px, of two %v, aside %v; want about one's", alone, both, aside)
	}
}

// Where a valve goes without air or current shows on its stem: an arrow away from
// the body if it opens, towards it if it shuts, two bars across if it stays (ISA-5.1
// and ISO 10628-2, from memory). A hand moved one shows nothing of it.
func TestFailPosition(t *testing.T) {
	cat := catalogue.Builtin()
	drawn := 0
	for _, kind := range cat.Kinds() {
		if _, ok := kind.Property("fails_to"); !ok || kind.Name == "divert-valve" {
			continue
		}
		drawn++
		plain := len(draw.Symbol{Kind: kind, Moved: model.Pneumatic}.Figures())
		tips := map[model.FailsTo]float64{}
		for _, fails := range []model.FailsTo{model.FailsOpen, model.FailsClosed, model.FailsStay} {
			for _, turn := range []model.Turn{0, 2} {
				s := draw.Symbol{Kind: kind, Moved: model.Pneumatic, Fails: fails, Turn: turn}
				if n := len(s.Figures()); n != plain+1 {
					t.Errorf("%s fails to %s: %d figures, %d without", kind.Name, fails, n, plain)
				}
			}
			if n, m := len(draw.Symbol{Kind: kind, Moved: model.Manual, Fails: fails}.Figures()), len(draw.Symbol{Kind: kind, Moved: model.Manual}.Figures()); n != m {
				t.Errorf("%s by hand shows where it fails to", kind.Name)
			}
			for _, shape := range kind.Symbol.Draw {
				if len(shape.Fails) == 1 && shape.Fails[0] == fails && fails != model.FailsStay {
					segments, err := catalogue.ParsePath(shape.Path)
					if err != nil {
						t.Fatal(err)
					}
					tips[fails] = segments[0].P[0][1] - segments[1].P[0][1] // the tip, then the base
				}
			}
		}
		// The body lies below the stem: up is away from it.
		if tips[model.FailsOpen] >= 0 || tips[model.FailsClosed] <= 0 {
			t.Errorf("%s: arrows point %v", kind.Name, tips)
		}
	}
	if drawn < 10 {
		t.Errorf("only %d kinds show where they fail to", drawn)
	}
}
