package draw_test

import (
	"image"
	"testing"

	"rinsewright/assets"
	"rinsewright/canvas/draw"
	"rinsewright/canvas/place"
	"rinsewright/canvas/route"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
)

func station(t *testing.T) *model.Circuit {
	t.Helper()
	b, err := assets.Files.ReadFile("demo/oat-drink-station.circuit.json")
	if err != nil {
		t.Fatal(err)
	}
	c, err := circuitfile.Decode("demo", b)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// labelled gives the labels of a picture with a text.
func labelled(p *draw.Picture, text string) []draw.Item {
	var out []draw.Item
	for _, it := range p.Items {
		if l, ok := it.Figure.(draw.Text); ok && it.Layer == draw.LayerLabel && l.String == text {
			out = append(out, it)
		}
	}
	return out
}

// capitals gives the box of a text without the room for accents and tails that its
// bounds have.
func capitals(it draw.Item) place.Rect {
	t := it.Figure.(draw.Text)
	r := it.Bounds
	if t.Turn%2 == 0 {
		r.Min.Y, r.Max.Y = t.At.Y-t.Height/2, t.At.Y+t.Height/2
	} else {
		r.Min.X, r.Max.X = t.At.X-t.Height/2, t.At.X+t.Height/2
	}
	return r
}

func cross(a, b place.Rect) bool {
	return a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y
}

// Every run of the station has a value of its own: none of those that are written
// lies over another one, a tag, a label, a line or the box of a symbol's figure.
func TestValuesLieOverNothing(t *testing.T) {
	c, cat := station(t), catalogue.Builtin()
	values := map[model.ID]string{}
	for _, r := range c.Runs() {
		values[r.ID] = "1.7 m/s " + string(r.ID[len(r.ID)-1:])
	}
	p := draw.Circuit(c, cat, draw.Options{Values: values})
	written := map[model.ID]bool{}
	for i, it := range p.Items {
		if l, ok := it.Figure.(draw.Text); !ok || it.Layer != draw.LayerLabel || l.String != values[it.Record] {
			continue
		}
		written[it.Record] = true
		box := capitals(it)
		for j, other := range p.Items {
			switch f := other.Figure.(type) {
			case draw.Text:
				if i != j && cross(box, capitals(other)) {
					t.Errorf("the value of run %s lies over %q", it.Record, f.String)
				}
			case draw.Path:
				if other.Layer != draw.LayerRun {
					continue
				}
				for k := 1; k < len(f.Segments); k++ {
					a, b := f.Segments[k-1], f.Segments[k]
					if a.Op != 'C' && b.Op == 'L' && cross(box, place.Spanned(model.Point{X: a.P[0][0], Y: a.P[0][1]}, model.Point{X: b.P[0][0], Y: b.P[0][1]}).Grown(0.3)) {
						t.Errorf("the value of run %s lies over run %s", it.Record, other.Record)
					}
				}
			}
		}
	}
	// A run has room for its value where its longest straight piece is at least as
	// long as the value is wide.
	room, have := 0, 0
	for i, line := range route.All(c, cat) {
		run := c.Runs()[i].ID
		if _, length := place.Longest(line); length >= draw.TextWidth(values[run], 2) {
			room++
			if written[run] {
				have++
			}
		}
	}
	if room < 30 || have < room*4/5 {
		t.Errorf("%d of %d runs with room for it have their value", have, room)
	}
}

// What is alike along runs that follow one another is said once, farther off again;
// sizes stay where there is room, and a run without a value has none.
func TestValuesAreSaidOnce(t *testing.T) {
	c, cat := sample(t), testKinds(t)
	p := draw.Circuit(c, cat, draw.Options{Values: map[model.ID]string{"r1": "2 m/s", "r2": "2 m/s"}})
	if n := len(labelled(p, "2 m/s")); n != 1 {
		t.Errorf("two runs in a row have their value %d times, want once", n)
	}
	if n := len(labelled(p, "DN50 W")); n != 1 {
		t.Errorf("the size of the run without a value stands %d times", n)
	}
	p = draw.Circuit(c, cat, draw.Options{Values: map[model.ID]string{"r1": "2 m/s", "r2": "3 m/s"}})
	if a, b := len(labelled(p, "2 m/s")), len(labelled(p, "3 m/s")); a != 1 || b != 1 {
		t.Errorf("two runs with values of their own: %d and %d", a, b)
	}
	if n := len(labelled(draw.Circuit(c, cat, draw.Options{HideLabels: true, Values: map[model.ID]string{"r1": "2 m/s"}}), "2 m/s")); n != 0 {
		t.Errorf("%d values while labels are hidden", n)
	}

	long := func(to float64) int {
		a, b := model.Point{X: 0, Y: 0}, model.Point{X: to, Y: 0}
		bend := model.Point{X: to, Y: 60}
		r := &model.Run{ID: "r9", From: model.End{At: &a}, To: model.End{At: &bend}, Bends: []model.Point{b}}
		return len(labelled(draw.Circuit(apply(t, model.New("x"), r), cat, draw.Options{Values: map[model.ID]string{"r9": "2 m/s"}}), "2 m/s"))
	}
	if short, far := long(30), long(400); short != 1 || far != 2 {
		t.Errorf("%d values on a short level piece and %d on a long one, want 1 and 2", short, far)
	}
}

func TestRemarkStandsBeneath(t *testing.T) {
	c, cat := sample(t), testKinds(t)
	p := draw.Circuit(c, cat, draw.Options{})
	bottom := p.Bounds.Max.Y
	draw.Remark(p, "Beside runs: mean velocity.")
	last := p.Items[len(p.Items)-1]
	if text, ok := last.Figure.(draw.Text); !ok || text.String != "Beside runs: mean velocity." || text.At.Y <= bottom {
		t.Errorf("the remark is %+v", last)
	}
}

// A value that is painted larger than it is, so that it can be read, makes way for
// its line.
func TestLargerValueKeepsOffItsLine(t *testing.T) {
	const zoom, y = 0.9, 60.0
	lowest := func(away float64) int {
		p := &draw.Picture{}
		p.Add(draw.LayerLabel, "r1", draw.Text{At: model.Point{X: 60, Y: y - 2.65}, String: "2 m/s", Height: 2, Role: draw.Accent, Rank: draw.RankMachine, Away: model.Point{Y: away}})
		img := image.NewRGBA(image.Rect(0, 0, 120, 120))
		draw.NewScreen().Draw(img, p, draw.Light, draw.View{Zoom: zoom})
		last := 0
		for py := range 120 {
			for px := range 120 {
				if img.RGBAAt(px, py) != draw.Light.Colour(draw.Paper) {
					last = py
				}
			}
		}
		return last
	}
	line := int(y * zoom)
	if got := lowest(-1); got == 0 || got >= line {
		t.Errorf("the value reaches down to pixel %d, its line is at %d", got, line)
	}
	if got := lowest(0); got < line {
		t.Errorf("a value that does not make way reaches only to %d: the test shows nothing", got)
	}
}
