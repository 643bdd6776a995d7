package draw_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"rinsewright/canvas/draw"
	"rinsewright/model"
)

var update = flag.Bool("update", false, "write the golden images anew")

// difference is the mean difference of two images of one size, 0 to 1, each first
// brought down to squares of n pixels.
func difference(t *testing.T, a, b image.Image, n int) float64 {
	t.Helper()
	if a.Bounds().Size() != b.Bounds().Size() {
		t.Fatalf("sizes %v and %v differ", a.Bounds().Size(), b.Bounds().Size())
	}
	size := a.Bounds().Size()
	sum, count := 0.0, 0
	for y := 0; y+n <= size.Y; y += n {
		for x := 0; x+n <= size.X; x += n {
			p, q := mean(a, x, y, n), mean(b, x, y, n)
			for i := range p {
				sum += math.Abs(p[i] - q[i])
				count++
			}
		}
	}
	return sum / float64(count)
}

func mean(m image.Image, x0, y0, n int) (out [3]float64) {
	origin := m.Bounds().Min
	for y := range n {
		for x := range n {
			c := color.RGBAModel.Convert(m.At(origin.X+x0+x, origin.Y+y0+y)).(color.RGBA)
			out[0] += float64(c.R)
			out[1] += float64(c.G)
			out[2] += float64(c.B)
		}
	}
	for i := range out {
		out[i] /= 255 * float64(n*n)
	}
	return out
}

// inked is the share of an image that is not its first pixel's colour.
func inked(m image.Image) float64 {
	n, b := 0, m.Bounds()
	ground := m.At(b.Min.X, b.Min.Y)
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			if m.At(x, y) != ground {
				n++
			}
		}
	}
	return float64(n) / float64(b.Dx()*b.Dy())
}

func pngOf(t *testing.T, p *draw.Picture, pal draw.Palette, dpi float64) image.Image {
	t.Helper()
	var b bytes.Buffer
	if err := draw.WritePNG(&b, p, pal, dpi); err != nil {
		t.Fatal(err)
	}
	m, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// tolerance is the mean difference up to which two renderings are one; a figure
// that is missing or misplaced makes more.
const tolerance = 0.004

func TestGolden(t *testing.T) {
	c, cat := sample(t), testKinds(t)
	p := draw.Circuit(c, cat, draw.Options{})
	for _, pal := range []draw.Palette{draw.Light, draw.Dark} {
		screen := image.NewRGBA(image.Rect(0, 0, 640, 480))
		draw.NewScreen().Draw(screen, p, pal, draw.Fit(p.Bounds, 640, 480, 10))
		for name, m := range map[string]image.Image{
			"png-" + pal.Name:    pngOf(t, p, pal, 96),
			"screen-" + pal.Name: screen,
		} {
			compare(t, name, m)
		}
	}
}

func compare(t *testing.T, name string, m image.Image) {
	t.Helper()
	path := filepath.Join("testdata", name+".png")
	if *update {
		write(t, path, m)
		return
	}
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	want, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	if d := difference(t, m, want, 1); d > tolerance/4 {
		write(t, filepath.Join("testdata", "failed", name+".png"), m)
		t.Errorf("%s differs from its golden image by %.5f; see testdata/failed, -update makes it the golden image", name, d)
	}
}

func write(t *testing.T, path string, m image.Image) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// The comparison must see what it is to see.
func TestDifferenceSeesAMissingPart(t *testing.T) {
	c, cat := sample(t), testKinds(t)
	p := draw.Circuit(c, cat, draw.Options{})
	whole := pngOf(t, p, draw.Light, 96)
	var less draw.Picture
	less.Bounds = p.Bounds
	for _, it := range p.Items {
		if it.Record != "p2" {
			less.Items = append(less.Items, it)
		}
	}
	if d := difference(t, whole, pngOf(t, &less, draw.Light, 96), 1); d < tolerance/4*1.2 {
		t.Errorf("without a valve the image differs by %.5f only", d)
	}
}

func TestScreenAgreesWithPNG(t *testing.T) {
	c, cat := sample(t), testKinds(t)
	p := draw.Circuit(c, cat, draw.Options{Flow: map[model.ID]draw.Flow{"r1": draw.Still, "r2": draw.Forward}})
	const zoom = 6.0
	for _, pal := range []draw.Palette{draw.Light, draw.Dark} {
		// The screen sets its offset to whole pixels; so does this picture.
		q := *p
		q.Bounds.Min = model.Point{X: math.Floor(p.Bounds.Min.X), Y: math.Floor(p.Bounds.Min.Y)}
		file, err := draw.Raster(&q, pal, zoom)
		if err != nil {
			t.Fatal(err)
		}
		screen := image.NewRGBA(file.Rect)
		draw.NewScreen().Draw(screen, &q, pal, draw.View{Zoom: zoom, Offset: q.Bounds.Min})
		if d := difference(t, screen, file, 4); d > tolerance {
			t.Errorf("%s: screen and file differ by %.5f", pal.Name, d)
		}
	}
}

func TestSVGAgreesWithPNG(t *testing.T) {
	program, err := exec.LookPath("rsvg-convert")
	if err != nil {
		t.Fatal("rsvg-convert, the outside renderer of this test, is not installed")
	}
	c, cat := sample(t), testKinds(t)
	p := draw.Circuit(c, cat, draw.Options{})
	for _, pal := range []draw.Palette{draw.Light, draw.Dark} {
		var b bytes.Buffer
		if err := draw.WriteSVG(&b, p, pal); err != nil {
			t.Fatal(err)
		}
		cmd := exec.Command(program, "--dpi-x", "96", "--dpi-y", "96", "--format", "png")
		cmd.Stdin = &b
		out, err := cmd.Output()
		if err != nil {
			t.Fatal(err)
		}
		theirs, err := png.Decode(bytes.NewReader(out))
		if err != nil {
			t.Fatal(err)
		}
		ours := pngOf(t, p, pal, 96)
		if d := ours.Bounds().Size().Sub(theirs.Bounds().Size()); d.X*d.X > 1 || d.Y*d.Y > 1 {
			t.Fatalf("sizes %v and %v", ours.Bounds().Size(), theirs.Bounds().Size())
		}
		// The two letter their text in different typefaces, so by squares of 8.
		r := ours.Bounds().Intersect(theirs.Bounds())
		if d := difference(t, cropped{ours, r}, cropped{theirs, r}, 8); d > 2*tolerance {
			t.Errorf("%s: SVG and PNG differ by %.5f", pal.Name, d)
		}
		if s := inked(theirs); s < 0.03 {
			t.Errorf("%s: only %.3f of the SVG is painted", pal.Name, s)
		}
	}
}

type cropped struct {
	image.Image
	r image.Rectangle
}

func (c cropped) Bounds() image.Rectangle { return c.r }

// Hostile texts must come out as texts: the file stays well-formed and says what
// was written.
func TestSVGEscapes(t *testing.T) {
	hostile := []string{
		`<script>alert("x")</script>`, `]]>&amp;<!--`, `" onload="x`, "line\nbreak\ttab", "\x00\x08\uFFFE", "\xff\xfe", "Ä ö é 漢",
	}
	var p draw.Picture
	for i, s := range hostile {
		p.Add(draw.Layer(s), "", draw.Text{String: s, Height: 3, Role: draw.Ink, At: model.Point{Y: float64(10 * i)}})
	}
	var b bytes.Buffer
	if err := draw.WriteSVG(&b, &p, draw.Light); err != nil {
		t.Fatal(err)
	}
	var got []string
	d := xml.NewDecoder(&b)
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("not well-formed: %v", err)
		}
		switch token := token.(type) {
		case xml.StartElement:
			switch token.Name.Local {
			case "svg", "g", "rect", "text":
			default:
				t.Errorf("element %s came in", token.Name.Local)
			}
			for _, a := range token.Attr {
				if strings.HasPrefix(a.Name.Local, "on") {
					t.Errorf("attribute %s came in", a.Name.Local)
				}
			}
			if token.Name.Local == "text" {
				var s string
				if err := d.DecodeElement(&s, &token); err != nil {
					t.Fatal(err)
				}
				got = append(got, s)
			}
		}
	}
	if len(got) != len(hostile) {
		t.Fatalf("%d texts, want %d", len(got), len(hostile))
	}
	for i, s := range got {
		want := hostile[i]
		switch i {
		case 4, 5: // signs that XML cannot hold
			want = strings.Repeat("\uFFFD", len([]rune(hostile[i])))
		}
		if s != want {
			t.Errorf("text %q reads back as %q, want %q", hostile[i], s, want)
		}
	}
}

func TestSVGLayers(t *testing.T) {
	var b bytes.Buffer
	if err := draw.WriteSVG(&b, draw.Circuit(sample(t), testKinds(t), draw.Options{}), draw.Light); err != nil {
		t.Fatal(err)
	}
	var doc struct {
		ViewBox string `xml:"viewBox,attr"`
		Width   string `xml:"width,attr"`
		Groups  []struct {
			ID    string     `xml:"id,attr"`
			Paths []struct{} `xml:"path"`
			Texts []string   `xml:"text"`
		} `xml:"g"`
	}
	if err := xml.Unmarshal(b.Bytes(), &doc); err != nil {
		t.Fatal(err)
	}
	want := []string{"frame", "run", "part", "tag", "label"}
	if len(doc.Groups) != len(want) {
		t.Fatalf("%d layers, want %v", len(doc.Groups), want)
	}
	for i, g := range doc.Groups {
		if g.ID != want[i] {
			t.Errorf("layer %d is %q, want %q", i, g.ID, want[i])
		}
		if len(g.Paths)+len(g.Texts) == 0 {
			t.Errorf("layer %q is empty", g.ID)
		}
	}
	if f := strings.Fields(doc.ViewBox); len(f) != 4 || f[2]+"mm" != doc.Width {
		t.Errorf("view box %q does not fit the width %q in true size", doc.ViewBox, doc.Width)
	}
}

func TestPNGResolution(t *testing.T) {
	p := draw.Circuit(sample(t), testKinds(t), draw.Options{})
	var b bytes.Buffer
	if err := draw.WritePNG(&b, p, draw.Light, 254); err != nil {
		t.Fatal(err)
	}
	// 254 dpi are 10 dots per mm, 10000 per metre (2710 hex), unit 1.
	if !bytes.Contains(b.Bytes(), []byte("pHYs\x00\x00\x27\x10\x00\x00\x27\x10\x01")) {
		t.Error("the file does not state 10000 dots per metre")
	}
	m, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := m.Bounds().Dx(), int(math.Ceil(p.Bounds.Width()*10)); got != want {
		t.Errorf("%d pixels wide, want %d", got, want)
	}
	for _, dpi := range []float64{0, -1, math.NaN(), math.Inf(1), 1e6} {
		if err := draw.WritePNG(io.Discard, p, draw.Light, dpi); err == nil {
			t.Errorf("no error at %v dpi", dpi)
		}
	}
	if err := draw.WritePNG(brokenWriter{}, p, draw.Light, 50); !errors.Is(err, errBroken) {
		t.Errorf("PNG to a broken writer: error %v", err)
	}
	if err := draw.WriteSVG(brokenWriter{}, p, draw.Light); !errors.Is(err, errBroken) {
		t.Errorf("SVG to a broken writer: error %v", err)
	}
}

var errBroken = errors.New("broken")

type brokenWriter struct{}

func (brokenWriter) Write([]byte) (int, error) { return 0, errBroken }

func TestEmptyPicture(t *testing.T) {
	p := draw.Circuit(model.New("empty"), testKinds(t), draw.Options{})
	if err := draw.WritePNG(io.Discard, p, draw.Light, 96); err != nil {
		t.Error(err)
	}
	if err := draw.WriteSVG(io.Discard, p, draw.Light); err != nil {
		t.Error(err)
	}
	m := image.NewRGBA(image.Rect(0, 0, 10, 10))
	draw.NewScreen().Draw(m, p, draw.Light, draw.Fit(p.Bounds, 10, 10, 2))
	if inked(m) != 0 {
		t.Error("an empty picture paints something")
	}
}
