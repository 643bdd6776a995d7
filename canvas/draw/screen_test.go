package draw_test

import (
	"image"
	"image/color"
	"math"
	"testing"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/place"
	"rinsewright/canvas/route"
	"rinsewright/model"
)

func TestViewRoundTrip(t *testing.T) {
	v := draw.View{Zoom: 3.5, Offset: model.Point{X: -20, Y: 7}}
	p := model.Point{X: 12.25, Y: -3}
	q := v.ToDrawing(v.ToScreen(p))
	if math.Hypot(q.X-p.X, q.Y-p.Y) > 1e-9 {
		t.Errorf("%v comes back as %v", p, q)
	}
	r := place.Spanned(model.Point{X: -50, Y: 10}, model.Point{X: 150, Y: 60})
	f := draw.Fit(r, 1280, 800, 20)
	for _, c := range []model.Point{r.Min, r.Max} {
		if x, y := f.ToScreen(c); x < 20-1e-9 || x > 1260+1e-9 || y < 20-1e-9 || y > 780+1e-9 {
			t.Errorf("corner %v lies at %v, %v outside the border", c, x, y)
		}
	}
}

// A line of 2 px from x = 10.5 covers half of pixels 9 and 11 and all of 10:
// exact area coverage by hand.
func TestLineCoverage(t *testing.T) {
	var p draw.Picture
	p.Add(draw.LayerRun, "", draw.Path{
		Segments: draw.Polyline([]model.Point{{X: 10.5, Y: 2}, {X: 10.5, Y: 18}}),
		Style:    draw.Style{Stroke: draw.Ink, Width: 2},
	})
	m := image.NewRGBA(image.Rect(0, 0, 20, 20))
	draw.NewScreen().Draw(m, &p, draw.Light, draw.View{Zoom: 1})
	paper, ink := draw.Light.Colour(draw.Paper), draw.Light.Colour(draw.Ink)
	half := func(a, b uint8) float64 { return (float64(a) + float64(b)) / 2 }
	for x, want := range map[int]float64{8: float64(paper.R), 9: half(paper.R, ink.R), 10: float64(ink.R), 11: half(paper.R, ink.R), 12: float64(paper.R)} {
		if got := m.RGBAAt(x, 10); math.Abs(float64(got.R)-want) > 1 || got.A != 255 {
			t.Errorf("pixel %d is %v, want red %v", x, got, want)
		}
	}
}

// Where nothing is drawn the ground must be whole, wherever the view looks.
func TestScreenAnywhere(t *testing.T) {
	c, cat := sample(t), testKinds(t)
	p := draw.Circuit(c, cat, draw.Options{})
	s := draw.NewScreen()
	s.Grid = 5
	m := image.NewRGBA(image.Rect(0, 0, 300, 200))
	for _, v := range []draw.View{
		{Zoom: 4}, {Zoom: 0.01}, {Zoom: 400, Offset: model.Point{X: 79, Y: 59}}, {Zoom: 90, Offset: model.Point{X: 4, Y: 20}},
		{Zoom: 4, Offset: model.Point{X: -1e7, Y: 1e7}}, {Zoom: 0}, {Zoom: math.NaN()}, {Zoom: 3.3, Offset: model.Point{X: 61.7, Y: 43.1}},
	} {
		s.Draw(m, p, draw.Dark, v)
		for i := 3; i < len(m.Pix); i += 4 {
			if m.Pix[i] != 255 {
				t.Fatalf("view %+v: pixel %d is not opaque", v, i/4)
			}
		}
	}
}

// Sprites and masks are kept; a second frame must not differ from the first, nor
// a frame after another palette and zoom.
func TestScreenRepeats(t *testing.T) {
	c, cat := sample(t), testKinds(t)
	p := draw.Circuit(c, cat, draw.Options{})
	v := draw.View{Zoom: 4.2, Offset: model.Point{X: -3.3, Y: -1.7}}
	frame := func(s *draw.Screen, pal draw.Palette, v draw.View) []byte {
		m := image.NewRGBA(image.Rect(0, 0, 400, 400))
		s.Draw(m, p, pal, v)
		return m.Pix
	}
	s := draw.NewScreen()
	first := frame(s, draw.Light, v)
	frame(s, draw.Dark, v)
	frame(s, draw.Light, draw.View{Zoom: 2.9})
	if string(frame(s, draw.Light, v)) != string(first) {
		t.Error("the same view is painted otherwise later")
	}
	if string(frame(s, draw.Dark, v)) == string(first) {
		t.Error("dark is light")
	}
}

// A sub-image of a larger one is painted within its bounds only.
func TestScreenKeepsToItsImage(t *testing.T) {
	p := draw.Circuit(sample(t), testKinds(t), draw.Options{})
	whole := image.NewRGBA(image.Rect(0, 0, 300, 300))
	part := whole.SubImage(image.Rect(50, 60, 250, 240)).(*image.RGBA)
	draw.NewScreen().Draw(part, p, draw.Light, draw.View{Zoom: 5})
	alone := image.NewRGBA(image.Rect(0, 0, 200, 180))
	draw.NewScreen().Draw(alone, p, draw.Light, draw.View{Zoom: 5})
	for y := range 300 {
		for x := range 300 {
			in := image.Pt(x, y).In(part.Rect)
			want := color.RGBA{}
			if in {
				want = alone.RGBAAt(x-50, y-60)
			}
			if got := whole.RGBAAt(x, y); got != want {
				t.Fatalf("pixel %d, %d is %v, want %v", x, y, got, want)
			}
		}
	}
}

func BenchmarkPan200(b *testing.B)     { benchmarkPan(b, 200, 5) }
func BenchmarkPan2000(b *testing.B)    { benchmarkPan(b, 2000, 5) }
func BenchmarkPan2000All(b *testing.B) { benchmarkPan(b, 2000, 0) }
func BenchmarkPan10000(b *testing.B)   { benchmarkPan(b, 10000, 5) }
func BenchmarkPan10000All(b *testing.B) {
	benchmarkPan(b, 10000, 0)
}

// benchmarkPan moves the view by some pixels each frame; zoom 0 shows all.
func benchmarkPan(b *testing.B, n int, zoom float64) {
	c, cat := plant(b, n), testKinds(b)
	p := draw.Circuit(c, cat, draw.Options{})
	v := draw.Fit(p.Bounds, 1280, 800, 10)
	if zoom > 0 {
		v = draw.View{Zoom: zoom, Offset: model.Point{X: 20, Y: 20}}
	}
	s := draw.NewScreen()
	s.Grid = 5
	m := image.NewRGBA(image.Rect(0, 0, 1280, 800))
	s.Draw(m, p, draw.Light, v)
	for i := 0; b.Loop(); i++ {
		v.Offset.X += float64(i%7-3) / v.Zoom
		v.Offset.Y += float64(i%5-2) / v.Zoom
		s.Draw(m, p, draw.Light, v)
	}
}

// BenchmarkZoom2000 changes the zoom each frame, so that no sprite serves twice.
func BenchmarkZoom2000(b *testing.B) {
	c, cat := plant(b, 2000), testKinds(b)
	p := draw.Circuit(c, cat, draw.Options{Routes: route.NewCache(cat)})
	s := draw.NewScreen()
	m := image.NewRGBA(image.Rect(0, 0, 1280, 800))
	zoom := 5.0
	for b.Loop() {
		zoom *= 1.0001
		s.Draw(m, p, draw.Light, draw.View{Zoom: zoom})
	}
}

// BenchmarkZoomOut2000 shows all, where tags are painted larger than they are, and
// changes the zoom each frame.
func BenchmarkZoomOut2000(b *testing.B) {
	c, cat := plant(b, 2000), testKinds(b)
	p := draw.Circuit(c, cat, draw.Options{Routes: route.NewCache(cat)})
	s := draw.NewScreen()
	m := image.NewRGBA(image.Rect(0, 0, 1280, 800))
	v := draw.Fit(p.Bounds, 1280, 800, 10)
	for b.Loop() {
		v.Zoom *= 1.0001
		s.Draw(m, p, draw.Light, v)
	}
}
