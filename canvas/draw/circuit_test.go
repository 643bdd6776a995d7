package draw_test

import (
	"image"
	"io"
	"math"
	"reflect"
	"testing"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/route"
	"rinsewright/model"
	"rinsewright/model/quantity"
)

func TestCircuitHoldsEverything(t *testing.T) {
	c, cat := sample(t), testKinds(t)
	p := draw.Circuit(c, cat, draw.Options{})
	if got, want := texts(p, draw.LayerTag), map[string]int{"T-1": 1, "V-2": 1, "V-3": 1, "V-4": 1, "V-5": 1, "6": 1, "X-7": 1}; !reflect.DeepEqual(got, want) {
		t.Errorf("tags %v, want %v", got, want)
	}
	// FT-6 is told by its balloon: letters over loop number.
	// The kind that nobody knows is there by name.
	if got, want := texts(p, draw.LayerPart), map[string]int{"of-tomorrow": 1}; !reflect.DeepEqual(got, want) {
		t.Errorf("texts of parts %v, want %v", got, want)
	}
	if got, want := texts(p, draw.LayerFrame), map[string]int{"S-1 Station": 1}; !reflect.DeepEqual(got, want) {
		t.Errorf("texts of frames %v, want %v", got, want)
	}
	// The run that is crossed in its middle has its label beside the crossing.
	if got, want := texts(p, draw.LayerLabel), map[string]int{"DN50 ALK": 1, "DN50 ACID": 1, "DN50 W": 1}; !reflect.DeepEqual(got, want) {
		t.Errorf("labels %v, want %v", got, want)
	}
	if n := len(texts(draw.Circuit(c, cat, draw.Options{HideTags: true}), draw.LayerTag)); n != 0 {
		t.Errorf("%d tags while tags are hidden", n)
	}
	if n := len(texts(draw.Circuit(c, cat, draw.Options{HideLabels: true}), draw.LayerLabel)); n != 0 {
		t.Errorf("%d labels while labels are hidden", n)
	}
	order := map[draw.Layer]int{draw.LayerFrame: 0, draw.LayerRun: 1, draw.LayerPart: 2, draw.LayerTag: 3, draw.LayerLabel: 4}
	for i := 1; i < len(p.Items); i++ {
		if order[p.Items[i].Layer] < order[p.Items[i-1].Layer] {
			t.Errorf("item %d of layer %s stands in front of layer %s", i, p.Items[i].Layer, p.Items[i-1].Layer)
		}
	}
	for i, it := range p.Items {
		if !p.Bounds.Holds(it.Bounds) {
			t.Errorf("item %d lies outside the picture's bounds", i)
		}
	}
}

func TestCircuitIsTheSameEachTime(t *testing.T) {
	c, cat := plant(t, 300), testKinds(t)
	opt := draw.Options{Routes: route.NewCache(cat)}
	first := draw.Circuit(c, cat, opt)
	for _, again := range []*draw.Picture{draw.Circuit(c, cat, opt), draw.Circuit(c, cat, draw.Options{})} {
		if !reflect.DeepEqual(first, again) {
			t.Fatal("the same circuit gave another picture")
		}
	}
}

func TestPositions(t *testing.T) {
	cat := testKinds(t)
	v := &model.Valve{Item: item("p1", "valve", "V-1", 0, 0)}
	normal := model.Clone(v)
	normal.Normal = quantity.Some("open")
	tests := []struct {
		desc      string
		valve     *model.Valve
		positions map[model.ID]string
		want      draw.Role // of its seats
		figures   int
	}{
		{"unknown: the first of its kind", v, nil, draw.Ink, 1},
		{"its normal position", normal, nil, draw.Paper, 2},
		{"what the step says", normal, map[model.ID]string{"p1": "closed"}, draw.Ink, 1},
		{"a position that the kind does not have", normal, map[model.ID]string{"p1": "ajar"}, draw.Ink, 1},
	}
	for _, tt := range tests {
		p := draw.Circuit(apply(t, model.New("x"), tt.valve), cat, draw.Options{Positions: tt.positions})
		figures := symbolOf(t, p, "p1").Figures()
		if got := figures[0].(draw.Path).Style.Fill; got != tt.want || len(figures) != tt.figures {
			t.Errorf("%s: seats of role %d and %d figures, want %d and %d", tt.desc, got, len(figures), tt.want, tt.figures)
		}
	}
	moved := model.Clone(v)
	moved.Actuation = quantity.Some(model.Pneumatic)
	if n := len(draw.SymbolOf(moved, cat.Kind("valve")).Figures()); n != 2 {
		t.Errorf("pneumatic valve: %d figures, want 2 with its actuator", n)
	}
}

func TestMediaAndFlow(t *testing.T) {
	c, cat := sample(t), testKinds(t)
	plain := runPath(t, draw.Circuit(c, cat, draw.Options{}), "r2")
	if plain.Style.Stroke != draw.OfMedium(model.Acid) || plain.Style.Width != 0.7 || plain.Style.Dash != nil {
		t.Errorf("run as the file has it: %+v", plain.Style)
	}
	p := draw.Circuit(c, cat, draw.Options{
		Media: map[model.ID]model.Medium{"r2": model.Water, "p1": model.Recovered},
		Flow:  map[model.ID]draw.Flow{"r1": draw.Forward, "r2": draw.Still},
	})
	if st := runPath(t, p, "r2").Style; st.Stroke != draw.OfMedium(model.Water) || st.Width >= 0.7 || len(st.Dash) == 0 {
		t.Errorf("run that is wet and does not flow: %+v", st)
	}
	if st := runPath(t, p, "r3").Style; st.Stroke != draw.Faint {
		t.Errorf("dry run: %+v", st)
	}
	if got := symbolOf(t, p, "p1").Medium; got != draw.OfMedium(model.Recovered) {
		t.Errorf("tank has the colour of role %d", got)
	}
	arrows := func(flow map[model.ID]draw.Flow) (out []draw.Symbol) {
		for _, it := range draw.Circuit(c, cat, draw.Options{Flow: flow}).Items {
			if s, ok := it.Figure.(draw.Symbol); ok && it.Layer == draw.LayerRun {
				out = append(out, s)
			}
		}
		return out
	}
	there, back := arrows(map[model.ID]draw.Flow{"r2": draw.Forward}), arrows(map[model.ID]draw.Flow{"r2": draw.Backward})
	if len(there) != 1 || len(back) != 1 || there[0].Turn != 0 || back[0].Turn != 2 {
		t.Errorf("run from left to right: arrows %+v forward, %+v backward", there, back)
	}
	if n := len(arrows(map[model.ID]draw.Flow{"r2": draw.Still})); n != 0 {
		t.Errorf("%d arrows where nothing flows", n)
	}
}

// r2 is level at y = 60 from x = 65 to 95, r3 upright at x = 80 from 25 to 85.
func TestHopAtCrossing(t *testing.T) {
	c, cat := sample(t), testKinds(t)
	p := draw.Circuit(c, cat, draw.Options{})
	if n := curves(runPath(t, p, "r3")); n != 0 {
		t.Errorf("the upright run has %d curves, want none", n)
	}
	level := runPath(t, p, "r2")
	if n := curves(level); n != 2 {
		t.Fatalf("the level run has %d curves, want the two of one arc", n)
	}
	top := math.Inf(1)
	for _, s := range level.Segments {
		if s.Op == 'C' {
			top = min(top, s.P[2][1])
			if math.Abs(s.P[2][0]-80) > 1.25+1e-9 {
				t.Errorf("arc at x = %v, the crossing is at 80", s.P[2][0])
			}
		}
	}
	if math.Abs(top-(60-1.25)) > 1e-9 {
		t.Errorf("the arc rises to %v, want 58.75", top)
	}
}

func TestHopsJoinAndKeepOff(t *testing.T) {
	cat := testKinds(t)
	free := func(id model.ID, points ...model.Point) *model.Run {
		last := len(points) - 1
		return &model.Run{ID: id, From: model.End{At: &points[0]}, To: model.End{At: &points[last]}}
	}
	level := free("r0", model.Point{X: 0, Y: 0}, model.Point{X: 100, Y: 0})
	tests := []struct {
		desc   string
		at     []float64 // where uprights cross
		top    float64   // of the uprights
		curves int
	}{
		{"two far apart", []float64{30, 60}, -20, 4},
		{"two close together are one arc", []float64{30, 31}, -20, 2},
		{"one that only ends on the line", []float64{30}, 0, 0},
		{"none", nil, 0, 0},
	}
	for _, tt := range tests {
		records := []model.Record{level}
		for i, x := range tt.at {
			records = append(records, free(model.ID("r"+string(rune('1'+i))), model.Point{X: x, Y: tt.top}, model.Point{X: x, Y: 20}))
		}
		p := draw.Circuit(apply(t, model.New("x"), records...), cat, draw.Options{})
		if n := curves(runPath(t, p, "r0")); n != tt.curves {
			t.Errorf("%s: %d curves, want %d", tt.desc, n, tt.curves)
		}
	}
}

func curves(p draw.Path) int {
	n := 0
	for _, s := range p.Segments {
		if s.Op == 'C' {
			n++
		}
	}
	return n
}

func BenchmarkCircuit2000(b *testing.B)  { benchmarkCircuit(b, 2000) }
func BenchmarkCircuit10000(b *testing.B) { benchmarkCircuit(b, 10000) }

func benchmarkCircuit(b *testing.B, n int) {
	c, cat := plant(b, n), testKinds(b)
	opt := draw.Options{Routes: route.NewCache(cat)}
	for b.Loop() {
		draw.Circuit(c, cat, opt)
	}
}

// Places beyond all reason must neither hang nor end the program.
func TestFarPlaces(t *testing.T) {
	cat := testKinds(t)
	for _, far := range []float64{1e7, 1e15, 1e300, math.MaxFloat64} {
		c := apply(t, model.New("far"),
			&model.Valve{Item: item("p1", "valve", "V-1", -far, 0)},
			&model.Valve{Item: item("p2", "valve", "V-2", far, far)},
			pipe("r1", "p1", "b", "p2", "a", model.Water))
		p := draw.Circuit(c, cat, draw.Options{Flow: map[model.ID]draw.Flow{"r1": draw.Still}})
		m := image.NewRGBA(image.Rect(0, 0, 100, 100))
		for _, v := range []draw.View{{Zoom: 5}, {Zoom: 5, Offset: model.Point{X: far, Y: far}}, draw.Fit(p.Bounds, 100, 100, 0)} {
			draw.NewScreen().Draw(m, p, draw.Light, v)
		}
		if err := draw.WritePNG(io.Discard, p, draw.Light, 96); err == nil {
			t.Errorf("at %v: no error for an image of that size", far)
		}
		if err := draw.WriteSVG(io.Discard, p, draw.Light); err != nil {
			t.Errorf("at %v: %v", far, err)
		}
	}
}
