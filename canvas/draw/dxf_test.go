package draw_test

import (
	"bytes"
	"encoding/json"
	"math"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/place"
	"rinsewright/model"
)

type dxfEntity struct {
	Type, Layer, Text string
	Color, Weight     int
	At, To            []float64
	Height, Rotation  float64
	Halign, Valign    int
}

type dxfRead struct {
	Version       string
	Unit          int
	Errors, Fixes []string
	Layers        []string
	LineTypes     []string `json:"line_types"`
	Blocks        map[string][]dxfEntity
	Entities      []dxfEntity
	Min, Max      []float64
	Index         [][]int
}

// readDXF reads a picture's DXF back with ezdxf (Debian package python3-ezdxf
// 0.18), an independent reader.
func readDXF(t *testing.T, p *draw.Picture, pal draw.Palette) dxfRead {
	t.Helper()
	var b, complaint bytes.Buffer
	if err := draw.WriteDXF(&b, p, pal); err != nil {
		t.Fatal(err)
	}
	for i, c := range b.Bytes() {
		if c > 0x7E || c < ' ' && c != '\n' {
			t.Fatalf("byte %d is %#x: not ASCII", i, c)
		}
	}
	// The interpreter is named by its path: another python3 may come first and
	// lack the Debian package.
	cmd := exec.Command("/usr/bin/python3", "testdata/read_dxf.py")
	cmd.Stdin, cmd.Stderr = &b, &complaint
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("the reader needs the Debian package python3-ezdxf: %v\n%s", err, complaint.Bytes())
	}
	var r dxfRead
	if err := json.Unmarshal(out, &r); err != nil {
		t.Fatal(err)
	}
	return r
}

func TestDXFReadsBack(t *testing.T) {
	p := working(t)
	strange := []string{"Öl µm 90 °C ≤ Ω", "100 %% \\U+0041 ^J", "line\nbreak"}
	for i, s := range strange {
		p.Add(draw.LayerTag, "", draw.Text{String: s, Height: 3, Role: draw.Ink, At: model.Point{X: 100, Y: -60 - float64(10*i)}})
	}
	r := readDXF(t, p, draw.Light)
	if len(r.Errors)+len(r.Fixes) > 0 {
		t.Errorf("the reader had to mend: %q %q", r.Errors, r.Fixes)
	}
	if r.Version != "AC1015" || r.Unit != 4 { // 4 is the millimetre (DXF reference, $INSUNITS)
		t.Errorf("version %s, unit %d", r.Version, r.Unit)
	}
	for _, l := range []draw.Layer{draw.LayerFrame, draw.LayerRun, draw.LayerPart, draw.LayerTag, draw.LayerLabel} {
		if !slices.Contains(r.Layers, string(l)) {
			t.Errorf("no layer %s among %v", l, r.Layers)
		}
	}
	want, got := map[string]int{}, map[string]int{}
	for _, it := range p.Items {
		switch f := it.Figure.(type) {
		case draw.Symbol:
			if f.Stretch == [2]float64{} || f.Stretch == [2]float64{1, 1} {
				want["INSERT "+string(it.Layer)]++
			}
		case draw.Text:
			s := f.String
			if s == strange[2] {
				s = "line break"
			}
			want["TEXT "+s]++
		}
	}
	height := map[string]float64{}
	for _, e := range r.Entities {
		switch e.Type {
		case "INSERT":
			got["INSERT "+e.Layer]++
			if len(r.Blocks[e.Text]) == 0 {
				t.Errorf("block %q is empty", e.Text)
			}
		case "TEXT":
			got["TEXT "+e.Text]++
			height[e.Text] = e.Height
		}
	}
	for what, n := range want {
		if got[what] < n {
			t.Errorf("%d times %s, want %d", got[what], what, n)
		}
	}
	if height["V-101"] != 2.5 { // of its capitals, as the picture says
		t.Errorf("the tag V-101 is %v high", height["V-101"])
	}
	// The whole lies in the picture's bounds, its left lower corner at [0, 0].
	const over = 1.5 // mm: what texts of the reader's own typeface stand out
	if r.Min[0] < -over || r.Min[1] < -over || r.Max[0] > p.Bounds.Width()+over || r.Max[1] > p.Bounds.Height()+over {
		t.Errorf("from %v to %v, in a picture of %v by %v", r.Min, r.Max, p.Bounds.Width(), p.Bounds.Height())
	}
	if w := r.Max[0] - r.Min[0]; w < 0.95*p.Bounds.Width() {
		t.Errorf("only %v of %v mm wide", w, p.Bounds.Width())
	}
}

// Lines, circles, arcs and texts keep their places; y goes up from the left lower
// corner.
func TestDXFFigures(t *testing.T) {
	p := &draw.Picture{}
	ink := draw.Style{Stroke: draw.Ink, Width: 0.35}
	at := func(x, y float64) model.Point { return model.Point{X: x, Y: y} }
	p.Add(draw.LayerRun, "", draw.Path{Segments: draw.Box(placeRect(0, 0, 100, 50)), Style: ink})
	p.Bounds = placeRect(0, 0, 100, 50)
	p.Add(draw.LayerPart, "", draw.Path{Segments: draw.Circle(at(20, 10), 5), Style: draw.Style{Stroke: draw.Error, Width: 0.7, Fill: draw.Warning}})
	p.Add(draw.LayerRun, "", draw.Path{Segments: draw.Polyline([]model.Point{at(10, 40), at(90, 40)}), Style: draw.Style{Stroke: draw.Ink, Width: 0.5, Dash: []float64{2.5, 1.5}}})
	quarter := draw.Circle(at(50, 30), 8)[:2] // from 3 o'clock to 6 o'clock: y goes down
	p.Add(draw.LayerRun, "", draw.Path{Segments: quarter, Style: ink})
	p.Add(draw.LayerTag, "", draw.Text{String: "Tag", At: at(60, 20), Height: 2.5, Role: draw.Ink, Turn: 3})
	p.Bounds = placeRect(0, 0, 100, 50)
	r := readDXF(t, p, draw.Light)
	find := func(kind string) dxfEntity {
		for _, e := range r.Entities {
			if e.Type == kind {
				return e
			}
		}
		t.Fatalf("no %s", kind)
		return dxfEntity{}
	}
	near := func(what string, got []float64, x, y float64) {
		t.Helper()
		if len(got) != 2 || math.Hypot(got[0]-x, got[1]-y) > 0.02 {
			t.Errorf("%s at %v, want %v, %v", what, got, x, y)
		}
	}
	circle := find("CIRCLE")
	near("circle", circle.At, 20, 40)
	if math.Abs(circle.Height-5) > 0.01 || circle.Weight != 70 || circle.Layer != "part" {
		t.Errorf("circle %+v", circle)
	}
	line := find("LINE")
	near("line", line.At, 10, 10)
	near("its end", line.To, 90, 10)
	if line.Color != 7 || line.Weight != 50 {
		t.Errorf("line %+v", line)
	}
	arc := find("ARC")
	near("arc", arc.At, 50, 20)
	if math.Abs(arc.Height-8) > 0.01 {
		t.Errorf("arc %+v", arc)
	}
	text := find("TEXT")
	near("text", text.At, 60, 30)
	if text.Rotation != 90 || text.Height != 2.5 || text.Halign != 1 || text.Valign != 2 { // upward
		t.Errorf("text %+v", text)
	}
	if n := find("HATCH"); n.Layer != "part" {
		t.Errorf("hatch %+v", n)
	}
	if !slices.ContainsFunc(r.LineTypes, func(s string) bool { return strings.HasPrefix(s, "DASH_2-5_1-5") }) {
		t.Errorf("no line type of 2.5 and 1.5 mm among %v", r.LineTypes)
	}
}

// Colours go by number; what the numbers mean is told by the reader's own table.
func TestDXFColours(t *testing.T) {
	p := &draw.Picture{}
	roles := []draw.Role{draw.Error, draw.Warning, draw.Advice, draw.Accent}
	for _, m := range model.Medium("").Choices() {
		roles = append(roles, draw.OfMedium(model.Medium(m)))
	}
	for i, role := range roles {
		y := float64(i)
		p.Add(draw.LayerRun, "", draw.Path{Segments: draw.Polyline([]model.Point{{Y: y}, {X: 9, Y: y}}), Style: draw.Style{Stroke: role, Width: 0.5}})
	}
	r := readDXF(t, p, draw.Light)
	far := func(n int, role draw.Role) float64 {
		c := draw.Light.Colour(role)
		rgb := r.Index[n-10]
		return math.Hypot(math.Hypot(float64(rgb[0])-float64(c.R), float64(rgb[1])-float64(c.G)), float64(rgb[2])-float64(c.B))
	}
	for i, e := range r.Entities {
		if e.Color < 10 || e.Color > 249 {
			continue // a grey
		}
		best := math.Inf(1)
		for n := range r.Index {
			best = min(best, far(n+10, roles[i]))
		}
		// Tables of different readers differ by some steps of brightness.
		if d := far(e.Color, roles[i]); d > best+40 {
			t.Errorf("colour %d is %v from %v; the nearest one is %v away", e.Color, d, draw.Light.Colour(roles[i]), best)
		}
	}
}

func placeRect(x0, y0, x1, y1 float64) place.Rect {
	return place.Rect{Min: model.Point{X: x0, Y: y0}, Max: model.Point{X: x1, Y: y1}}
}
