package draw_test

import (
	"bytes"
	"errors"
	"fmt"
	"image/png"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/place"
	"rinsewright/canvas/scene"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
)

// outside runs a program that reads what is written here; the Debian package that
// holds it is named where it is missing.
func outside(t testing.TB, program, pack string, args ...string) string {
	t.Helper()
	path, err := exec.LookPath(program)
	if err != nil {
		t.Fatalf("%s is needed, an outside reader of this test (Debian package %s)", program, pack)
	}
	var complaint bytes.Buffer
	cmd := exec.Command(path, args...)
	cmd.Stderr = &complaint
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s: %v\n%s%s", program, err, out, complaint.Bytes())
	}
	return string(out)
}

func pdfOf(t testing.TB, pages []*draw.Picture, pal draw.Palette) string {
	t.Helper()
	var b bytes.Buffer
	if err := draw.WritePages(&b, pages, pal, draw.About{Title: "Prüfung (1) \\", Author: "R. Example"}); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "out.pdf")
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// working is the picture of a demo while a step runs.
func working(t testing.TB) *draw.Picture {
	t.Helper()
	cat := catalogue.Builtin()
	c := demo(t, "oat-drink-station")
	return draw.Circuit(c, cat, scene.Of(network.Build(c, cat), c.Steps()[0]))
}

// qpdf reads the structure by the letter, poppler what people see.
func TestPDFIsSound(t *testing.T) {
	path := pdfOf(t, []*draw.Picture{working(t), draw.Circuit(sample(t), testKinds(t), draw.Options{})}, draw.Light)
	if out := outside(t, "qpdf", "qpdf", "--check", path); !strings.Contains(out, "No syntax or stream encoding errors found") {
		t.Errorf("qpdf says:\n%s", out)
	}
	info := outside(t, "pdfinfo", "poppler-utils", "-f", "1", "-l", "2", path)
	for _, want := range []string{"Title:           Prüfung (1) \\", "Author:          R. Example", "Pages:           2"} {
		if !strings.Contains(info, want) {
			t.Errorf("pdfinfo does not say %q:\n%s", want, info)
		}
	}
	fonts := outside(t, "pdffonts", "poppler-utils", path)
	rows := strings.Split(strings.TrimSpace(fonts), "\n")
	if len(rows) != 3 || !strings.Contains(rows[2], "GoRegular") || !strings.Contains(rows[2], "yes yes yes") {
		t.Errorf("not one embedded part of the lettering with its Unicode:\n%s", fonts)
	}
}

// A page has the size of the picture: points are 1/72 inch, an inch 25.4 mm.
func TestPDFPageSize(t *testing.T) {
	p := working(t)
	far := *p
	far.Bounds = place.Rect{Max: model.Point{X: 9000, Y: 3000}} // beyond 14400 points
	info := outside(t, "pdfinfo", "poppler-utils", "-f", "1", "-l", "2", pdfOf(t, []*draw.Picture{p, &far}, draw.Light))
	for page, want := range []place.Rect{p.Bounds, far.Bounds} {
		w, h, unit := 0.0, 0.0, 1.0
		_, line, _ := strings.Cut(info, fmt.Sprintf("Page    %d size:", page+1))
		if _, err := fmt.Sscanf(strings.TrimSpace(line), "%g x %g pts", &w, &h); err != nil {
			t.Fatalf("no size of page %d: %v\n%s", page+1, err, info)
		}
		if page == 1 {
			unit = 2 // 9000 mm are 25512 points: two to a unit
		}
		if math.Abs(w*unit*25.4/72-want.Width()) > 0.01 || math.Abs(h*unit*25.4/72-want.Height()) > 0.01 {
			t.Errorf("page %d is %v by %v points, want %v by %v mm", page+1, w, h, want.Width(), want.Height())
		}
	}
}

// Every text of the picture, also of symbols, is found, with letters beyond Latin
// and those that the lettering lacks.
func TestPDFTextIsFound(t *testing.T) {
	p := working(t)
	strange := []string{"Öl µm 90 °C ≤ 5 м³/ч Ω", "(paren) \\ back", "漢字 here", "AVAVA To Ty"}
	for i, s := range strange {
		p.Add(draw.LayerTag, "", draw.Text{String: s, Height: 3, Role: draw.Ink, At: model.Point{X: 100, Y: -60 - float64(10*i)}})
	}
	got := outside(t, "pdftotext", "poppler-utils", "-layout", pdfOf(t, []*draw.Picture{p}, draw.Light), "-")
	var want []string
	for _, it := range p.Items {
		switch f := it.Figure.(type) {
		case draw.Text:
			if f.Turn == 0 {
				want = append(want, f.String)
			}
		case draw.Symbol:
			for _, part := range f.Figures() {
				if text, ok := part.(draw.Text); ok {
					want = append(want, text.String)
				}
			}
		}
	}
	if len(want) < 100 {
		t.Fatalf("only %d texts in the picture", len(want))
	}
	squeezed := func(s string) string { return strings.Join(strings.Fields(s), "") }
	all := squeezed(got)
	for _, w := range want {
		if !strings.Contains(all, squeezed(w)) {
			t.Errorf("%q is not found", w)
		}
	}
}

// The page looks as the PNG does.
func TestPDFAgreesWithPNG(t *testing.T) {
	turned := draw.Circuit(sample(t), testKinds(t), draw.Options{})
	turned.Add(draw.LayerTag, "", draw.Text{String: "Turned Kerning AVA", Height: 4, Role: draw.Ink, At: model.Point{X: 10, Y: 60}, Turn: 1})
	turned.Add(draw.LayerTag, "", draw.Text{String: "End", Height: 4, Role: draw.Accent, Anchor: draw.End, At: model.Point{X: 40, Y: 80}, Turn: 3})
	scaled := &draw.Picture{}
	half := draw.Transfer{Scale: 0.5, By: model.Point{X: 7, Y: 3}}
	for _, it := range turned.Items {
		scaled.Add(it.Layer, it.Record, half.Figure(it.Figure))
	}
	for name, p := range map[string]*draw.Picture{"sample": turned, "scaled": scaled, "station": working(t)} {
		for _, pal := range []draw.Palette{draw.Light, draw.Dark} {
			path := pdfOf(t, []*draw.Picture{p}, pal)
			picture := strings.TrimSuffix(path, ".pdf")
			outside(t, "pdftoppm", "poppler-utils", "-r", "192", "-png", "-singlefile", path, picture)
			b, err := os.ReadFile(picture + ".png")
			if err != nil {
				t.Fatal(err)
			}
			theirs, err := png.Decode(bytes.NewReader(b))
			if err != nil {
				t.Fatal(err)
			}
			ours := pngOf(t, p, pal, 192)
			if d := ours.Bounds().Size().Sub(theirs.Bounds().Size()); d.X*d.X > 1 || d.Y*d.Y > 1 {
				t.Fatalf("sizes %v and %v", ours.Bounds().Size(), theirs.Bounds().Size())
			}
			r := ours.Bounds().Intersect(theirs.Bounds())
			// Same outlines of letters, so closer than the SVG, whose typeface differs;
			// thin lines the other one brings to whole pixels.
			if d := difference(t, cropped{ours, r}, cropped{theirs, r}, 8); d > tolerance {
				t.Errorf("%s, %s: PDF and PNG differ by %.5f", name, pal.Name, d)
			}
			if s := inked(theirs); s < 0.02 {
				t.Errorf("%s, %s: only %.3f of the page is painted", name, pal.Name, s)
			}
		}
	}
}

// SVG and PDF show the same texts as often.
func TestPDFAndSVGHoldTheSame(t *testing.T) {
	p := working(t)
	var svg bytes.Buffer
	if err := draw.WriteSVG(&svg, p, draw.Light); err != nil {
		t.Fatal(err)
	}
	path := pdfOf(t, []*draw.Picture{p}, draw.Light)
	plain := filepath.Join(t.TempDir(), "plain.pdf")
	outside(t, "qpdf", "qpdf", "--qdf", "--object-streams=disable", path, plain)
	b, err := os.ReadFile(plain)
	if err != nil {
		t.Fatal(err)
	}
	// A symbol's form is written once and set as often as it stands.
	sets, forms := strings.Count(string(b), " Do Q\n"), strings.Count(string(b), "/Subtype /Form")
	symbols := 0
	texts, paths := 0, 0
	for _, it := range p.Items {
		switch f := it.Figure.(type) {
		case draw.Symbol:
			if f.Stretch == [2]float64{} || f.Stretch == [2]float64{1, 1} {
				symbols++
			}
		case draw.Text:
			texts++
		case draw.Path:
			paths++
		}
	}
	if sets != symbols || forms == 0 || forms >= sets {
		t.Errorf("%d symbols set by %d forms, want %d", sets, forms, symbols)
	}
	inSVG := strings.Count(svg.String(), "<text ")
	inSymbols := 0
	for _, it := range p.Items {
		if s, ok := it.Figure.(draw.Symbol); ok {
			for _, f := range s.Figures() {
				if _, ok := f.(draw.Text); ok {
					inSymbols++
				}
			}
		}
	}
	if inSVG != texts+inSymbols {
		t.Errorf("%d texts in the SVG, want %d", inSVG, texts+inSymbols)
	}
	page := string(b)
	if n := strings.Count(page, " TJ ET"); n < texts || n > texts+inSymbols {
		t.Errorf("%d texts in the PDF, want %d and those of %d forms", n, texts, forms)
	}
	for _, layer := range []draw.Layer{draw.LayerFrame, draw.LayerRun, draw.LayerPart, draw.LayerTag, draw.LayerLabel} {
		name := "<feff"
		for _, r := range string(layer) {
			name += fmt.Sprintf("%04x", r)
		}
		if !strings.Contains(page, "/Name "+name+">") {
			t.Errorf("no layer %q", layer)
		}
	}
}

func TestPDFErrors(t *testing.T) {
	if err := draw.WritePages(io.Discard, nil, draw.Light, draw.About{}); err == nil {
		t.Error("no error without a page")
	}
	if err := draw.WritePDF(brokenWriter{}, working(t), draw.Light); !errors.Is(err, errBroken) {
		t.Errorf("PDF to a broken writer: error %v", err)
	}
	if err := draw.WriteDXF(brokenWriter{}, working(t), draw.Light); !errors.Is(err, errBroken) {
		t.Errorf("DXF to a broken writer: error %v", err)
	}
	empty := draw.Circuit(model.New("empty"), testKinds(t), draw.Options{})
	if out := outside(t, "qpdf", "qpdf", "--check", pdfOf(t, []*draw.Picture{empty}, draw.Light)); !strings.Contains(out, "No syntax") {
		t.Errorf("empty picture: %s", out)
	}
}

func TestPDFIsRepeatable(t *testing.T) {
	var a, b bytes.Buffer
	for _, to := range []*bytes.Buffer{&a, &b} {
		if err := draw.WritePDF(to, working(t), draw.Light); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("two files of one picture differ")
	}
}

func benchmarkWriter(b *testing.B, p *draw.Picture, write draw.Writer) {
	var size bytes.Buffer
	if err := write(&size, p, draw.Light); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if err := write(io.Discard, p, draw.Light); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(size.Len())/1000, "kB")
}

func BenchmarkPDFDemo(b *testing.B) { benchmarkWriter(b, working(b), draw.WritePDF) }
func BenchmarkDXFDemo(b *testing.B) { benchmarkWriter(b, working(b), draw.WriteDXF) }
func BenchmarkPDF2000(b *testing.B) {
	benchmarkWriter(b, draw.Circuit(plant(b, 2000), testKinds(b), draw.Options{}), draw.WritePDF)
}
func BenchmarkDXF2000(b *testing.B) {
	benchmarkWriter(b, draw.Circuit(plant(b, 2000), testKinds(b), draw.Options{}), draw.WriteDXF)
}
