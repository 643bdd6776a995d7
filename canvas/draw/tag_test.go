package draw_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"rinsewright/assets"
	"rinsewright/canvas/draw"
	"rinsewright/canvas/place"
	"rinsewright/canvas/scene"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

func demo(t testing.TB, name string) *model.Circuit {
	t.Helper()
	b, err := assets.Files.ReadFile("demo/" + name + ".circuit.json")
	if err != nil {
		t.Fatal(err)
	}
	c, err := circuitfile.Decode(name, b)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// boxOf gives the box of a text's capitals, worked out apart from the program's.
func boxOf(t draw.Text) place.Rect {
	w := draw.TextWidth(t.String, t.Height)
	from, to := -w/2, w/2
	switch t.Anchor {
	case draw.Start:
		from, to = 0, w
	case draw.End:
		from, to = -w, 0
	}
	h := t.Height / 2
	if t.Turn == 3 { // reads upwards
		return place.Spanned(model.Point{X: t.At.X - h, Y: t.At.Y - to}, model.Point{X: t.At.X + h, Y: t.At.Y - from})
	}
	return place.Spanned(model.Point{X: t.At.X + from, Y: t.At.Y - h}, model.Point{X: t.At.X + to, Y: t.At.Y + h})
}

// obstacles gives the boxes of all straight pieces of what a picture paints, each
// with its record.
func obstacles(p *draw.Picture) (boxes []place.Rect, of []model.ID) {
	add := func(path draw.Path, id model.ID) {
		var at model.Point
		for _, s := range path.Segments {
			switch s.Op {
			case 'M':
				at = model.Point{X: s.P[0][0], Y: s.P[0][1]}
			case 'L', 'C':
				i := map[byte]int{'L': 0, 'C': 2}[s.Op]
				to := model.Point{X: s.P[i][0], Y: s.P[i][1]}
				boxes, of = append(boxes, place.Spanned(at, to)), append(of, id)
				at = to
			}
		}
	}
	for _, it := range p.Items {
		if it.Layer == draw.LayerLabel || it.Layer == draw.LayerTag {
			continue
		}
		switch f := it.Figure.(type) {
		case draw.Path:
			add(f, it.Record)
		case draw.Symbol:
			for _, g := range f.Figures() {
				if path, ok := g.(draw.Path); ok {
					add(path, it.Record)
				}
			}
		}
	}
	return boxes, of
}

// On the demo circuits, at rest and in every step, no tag or label may lie on
// another or on a line, but for the tags of vessels and loop numbers, which stand
// inside their symbols.
func TestTagsAndLabelsKeepClear(t *testing.T) {
	cat := catalogue.Builtin()
	for _, name := range []string{"oat-drink-station", "oat-drink-station-faults", "pharma-loop", "pharma-loop-draft"} {
		c := demo(t, name)
		plant := network.Build(c, cat)
		for _, step := range append([]*model.Step{nil}, c.Steps()...) {
			p := draw.Circuit(c, cat, scene.Of(plant, step))
			where := name
			if step != nil {
				where += ", " + step.Programme + "/" + step.Name
			}
			for _, fault := range collisions(c, p) {
				t.Errorf("%s: %s", where, fault)
			}
		}
	}
}

func collisions(c *model.Circuit, p *draw.Picture) (out []string) {
	type text struct {
		box    place.Rect
		string string
		record model.ID
	}
	var texts []text
	for _, it := range p.Items {
		if f, ok := it.Figure.(draw.Text); ok && (it.Layer == draw.LayerTag || it.Layer == draw.LayerLabel) {
			texts = append(texts, text{boxOf(f), f.String, it.Record})
		}
	}
	boxes, of := obstacles(p)
	for i, a := range texts {
		for _, b := range texts[:i] {
			if meet(a.box, b.box) {
				out = append(out, fmt.Sprintf("%s lies on %s", a.string, b.string))
			}
		}
		part := c.Part(a.record)
		inside := part != nil && (part.Class() == model.ClassVessel || part.Class() == model.ClassInstrument)
		for j, b := range boxes {
			if meet(a.box, b) && !(inside && of[j] == a.record) {
				out = append(out, fmt.Sprintf("%s lies on %s", a.string, of[j]))
			}
		}
	}
	return out
}

func meet(a, b place.Rect) bool {
	return a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y ||
		b.Width() == 0 && b.Min.X > a.Min.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y ||
		b.Height() == 0 && b.Min.Y > a.Min.Y && b.Min.Y < a.Max.Y && a.Min.X < b.Max.X && b.Min.X < a.Max.X
}

// The check must see what it is to see: with its tag moved onto a run it speaks.
func TestCollisionsAreSeen(t *testing.T) {
	c := demo(t, "pharma-loop")
	p := draw.Circuit(c, catalogue.Builtin(), draw.Options{})
	if found := collisions(c, p); len(found) != 0 {
		t.Fatalf("%v", found)
	}
	for i, it := range p.Items {
		if f, ok := it.Figure.(draw.Text); ok && f.String == "P-10" {
			f.At.Y -= 10
			p.Items[i].Figure = f
		}
	}
	if len(collisions(c, p)) == 0 {
		t.Error("a tag on its pump is not seen")
	}
}

// A tag stays where its kind has it while that is free, and goes to the first
// free place about the symbol otherwise.
func TestTagPlaces(t *testing.T) {
	cat := testKinds(t)
	at := func(c *model.Circuit, tag string) (model.Point, draw.Anchor) {
		for _, it := range draw.Circuit(c, cat, draw.Options{}).Items {
			if f, ok := it.Figure.(draw.Text); ok && f.String == tag {
				return f.At, f.Anchor
			}
		}
		t.Fatalf("no tag %s", tag)
		return model.Point{}, 0
	}
	v := &model.Valve{Item: item("p1", "valve", "V-1", 50, 50)}
	free := apply(t, model.New("x"), v)
	if p, _ := at(free, "V-1"); p != (model.Point{X: 50, Y: 56}) {
		t.Errorf("alone the tag is at %v, want 50, 56", p)
	}
	points := []model.Point{{X: 20, Y: 56}, {X: 80, Y: 56}}
	struck := apply(t, free, &model.Run{ID: "r1", From: model.End{At: &points[0]}, To: model.End{At: &points[1]}})
	if p, a := at(struck, "V-1"); p.Y > 47 || p.X != 50 || a != draw.Middle {
		t.Errorf("with a run through it the tag is at %v, anchor %d; want above the valve", p, a)
	}
}

// A line is labelled once between branches and changes of size: three pieces of
// DN50 through two valves, then one of DN40.
func TestOneLabelALine(t *testing.T) {
	cat := catalogue.Builtin()
	var records []model.Record
	for i := range 5 {
		records = append(records, &model.Valve{Item: item(model.ID(fmt.Sprintf("p%d", i)), "butterfly-valve", "", float64(40*i), 0)})
	}
	for i := range 4 {
		r := pipe(model.ID(fmt.Sprintf("r%d", i)), model.ID(fmt.Sprintf("p%d", i)), "b", model.ID(fmt.Sprintf("p%d", i+1)), "a", model.Alkali)
		if i == 3 {
			r.Size = quantity.Some(model.TubeSize("EN 10357-A DN40"))
		}
		records = append(records, r)
	}
	c := apply(t, model.New("x"), records...)
	got := texts(draw.Circuit(c, cat, draw.Options{}), draw.LayerLabel)
	if len(got) != 2 || got["DN50 ALK"] != 1 || got["DN40 ALK"] != 1 {
		t.Errorf("labels %v, want DN50 ALK and DN40 ALK once each", got)
	}
	// A branch at the second joint parts the line: DN50 left, right and off it.
	branch := []model.Point{{X: 40, Y: 0}, {X: 40, Y: 60}}
	c = apply(t, c, &model.Run{ID: "r9", From: model.End{Part: "p1", Port: "b"}, To: model.End{At: &branch[1]},
		Size: quantity.Some(model.TubeSize("EN 10357-A DN50")), Carries: quantity.Some(model.Alkali)})
	if got := texts(draw.Circuit(c, cat, draw.Options{}), draw.LayerLabel); got["DN50 ALK"] != 3 {
		t.Errorf("with a branch: labels %v, want DN50 ALK three times", got)
	}
}

// Every line that flows has an arrow, and no two of one line are near.
func TestArrowsAreSparse(t *testing.T) {
	cat := catalogue.Builtin()
	c := demo(t, "oat-drink-station")
	plant := network.Build(c, cat)
	var wash *model.Step
	for _, s := range c.Steps() {
		if s.Programme == "Vessel T-201" && s.Name == "Alkali wash" {
			wash = s
		}
	}
	p := draw.Circuit(c, cat, scene.Of(plant, wash))
	var arrows []draw.Symbol
	for _, it := range p.Items {
		if s, ok := it.Figure.(draw.Symbol); ok && it.Layer == draw.LayerRun {
			arrows = append(arrows, s)
		}
	}
	// From the pump to the corner above the flow meter is one line of ten runs,
	// 180 mm long and level at y = 305.
	var on []float64
	for _, a := range arrows {
		if math.Abs(a.At.Y-305) < 8 && a.At.X > 250 && a.At.X < 445 {
			on = append(on, a.At.X)
		}
	}
	if len(on) < 2 || len(on) > 5 {
		t.Errorf("%d arrows on the supply line at %v", len(on), on)
	}
	for i := range on {
		for _, x := range on[:i] {
			if math.Abs(on[i]-x) < 39 {
				t.Errorf("arrows at %v and %v are near", on[i], x)
			}
		}
	}
	for _, it := range p.Items {
		if strings.Contains(string(it.Layer), "run") && !p.Bounds.Holds(it.Bounds) {
			t.Errorf("%s lies outside the bounds", it.Record)
		}
	}
}
