package draw_test

import (
	"math"
	"testing"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/route"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

// handCircuit is two valves joined by a run of a known line.
func handCircuit(t *testing.T) *model.Circuit {
	t.Helper()
	c := model.New("labels")
	add := func(r model.Record) model.Change { return model.Change{After: r} }
	e := model.Edit{Label: "draw", Changes: []model.Change{
		add(&model.Valve{Item: model.Item{ID: "a", Kind: "ball-valve", Tag: "V-1", At: model.Point{X: 0, Y: 0}}}),
		add(&model.Valve{Item: model.Item{ID: "b", Kind: "ball-valve", Tag: "V-2", At: model.Point{X: 80, Y: 0}}}),
		add(&model.Run{ID: "r", From: model.End{Part: "a", Port: "b"}, To: model.End{Part: "b", Port: "a"},
			Size: quantity.Some[model.TubeSize]("EN 10357-A DN50")}),
	}}
	next, err := c.Apply(e)
	if err != nil {
		t.Fatal(err)
	}
	return next
}

func with(t *testing.T, c *model.Circuit, id model.ID, change func(model.Record)) *model.Circuit {
	t.Helper()
	before := c.Record(id)
	after := model.Clone(before)
	change(after)
	next, err := c.Apply(model.Edit{Label: "change", Changes: []model.Change{{Before: before, After: after}}})
	if err != nil {
		t.Fatal(err)
	}
	return next
}

func textOf(p *draw.Picture, layer draw.Layer, record model.ID) (draw.Text, bool) {
	for _, it := range p.Items {
		if text, ok := it.Figure.(draw.Text); ok && it.Layer == layer && it.Record == record {
			return text, true
		}
	}
	return draw.Text{}, false
}

func TestLabelsByHand(t *testing.T) {
	cat := catalogue.Builtin()
	c := handCircuit(t)
	off := model.Point{X: 12, Y: -15}
	c = with(t, c, "a", func(r model.Record) { r.(model.Part).Meta().Label = &off })
	c = with(t, c, "r", func(r model.Record) { r.(*model.Run).Label = &off })
	p := draw.Circuit(c, cat, draw.Options{})
	tag, ok := textOf(p, draw.LayerTag, "a")
	if want := (model.Point{X: 12, Y: -15}); !ok || tag.At != want || tag.Anchor != draw.Middle {
		t.Errorf("tag %+v", tag)
	}
	half := route.Half(route.Line(c, cat, c.Run("r")))
	label, ok := textOf(p, draw.LayerLabel, "r")
	if !ok || label.At != half.Add(off) || label.String != "DN50" {
		t.Errorf("label %+v, half way is %v", label, half)
	}
	// Moved with its part, and turned away from nothing.
	c = with(t, c, "a", func(r model.Record) { r.(model.Part).Meta().At = model.Point{X: 5, Y: 40} })
	tag, _ = textOf(draw.Circuit(c, cat, draw.Options{}), draw.LayerTag, "a")
	if want := (model.Point{X: 17, Y: 25}); tag.At != want {
		t.Errorf("tag of the moved part at %v, want %v", tag.At, want)
	}
	// A tag that finds its own place keeps off one that was put there.
	own, _ := textOf(draw.Circuit(handCircuit(t), cat, draw.Options{}), draw.LayerTag, "b")
	onto := own.At
	c = with(t, handCircuit(t), "a", func(r model.Record) { r.(model.Part).Meta().Label = &onto }) // a lies at the zero point
	now, _ := textOf(draw.Circuit(c, cat, draw.Options{}), draw.LayerTag, "b")
	if math.Hypot(now.At.X-own.At.X, now.At.Y-own.At.Y) < 1 {
		t.Errorf("the tag of b stays at %v, where that of a was put", now.At)
	}
}

func TestLayers(t *testing.T) {
	cat := catalogue.Builtin()
	c := with(t, handCircuit(t), "r", func(r model.Record) { r.(*model.Run).Carries = quantity.Some(model.Water) })
	label := func(opt draw.Options) string {
		text, _ := textOf(draw.Circuit(c, cat, opt), draw.LayerLabel, "r")
		return text.String
	}
	for _, tt := range []struct {
		name string
		opt  draw.Options
		want string
	}{
		{"all", draw.Options{}, "DN50 W"},
		{"no sizes", draw.Options{HideSizes: true}, "W"},
		{"no media", draw.Options{HideMedia: true}, "DN50"},
		{"neither", draw.Options{HideSizes: true, HideMedia: true}, ""},
		{"no labels", draw.Options{HideLabels: true}, ""},
	} {
		if got := label(tt.opt); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
	p := draw.Circuit(c, cat, draw.Options{Heights: map[model.ID]string{"a": "+1.20 m"}})
	if text, ok := textOf(p, draw.LayerLabel, "a"); !ok || text.String != "+1.20 m" {
		t.Errorf("height %+v", text)
	}
}
