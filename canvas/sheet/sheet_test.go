package sheet

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
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

func pictureOf(c *model.Circuit, step *model.Step) (*draw.Picture, draw.Options) {
	cat := catalogue.Builtin()
	opt := scene.Of(network.Build(c, cat), step)
	return draw.Circuit(c, cat, opt), opt
}

func set(t testing.TB, c *model.Circuit, opt Options) *Book {
	t.Helper()
	p, scenery := pictureOf(c, opt.Step)
	opt.Flow = scenery.Flow
	b, err := Set(c, catalogue.Builtin(), p, opt)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func format(t testing.TB, name string) Format {
	t.Helper()
	f, err := Find(name)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Trimmed sizes of ISO 216:2007, table 1, and sizes in inches of ANSI/ASME
// Y14.1 (both well known; from memory of the standards).
func TestPaperSizes(t *testing.T) {
	iso := map[string][2]float64{"A4": {297, 210}, "A3": {420, 297}, "A2": {594, 420}, "A1": {841, 594}, "A0": {1189, 841}}
	ansi := map[string][2]float64{"ANSI A": {11, 8.5}, "ANSI B": {17, 11}, "ANSI C": {22, 17}, "ANSI D": {34, 22}, "ANSI E": {44, 34}}
	if len(Formats()) != len(iso)+len(ansi) {
		t.Fatalf("%d formats", len(Formats()))
	}
	for _, f := range Formats() {
		want, ok := iso[f.Name]
		if !ok {
			want = [2]float64{ansi[f.Name][0] * 25.4, ansi[f.Name][1] * 25.4}
		}
		if math.Abs(f.Wide-want[0]) > 1e-9 || math.Abs(f.High-want[1]) > 1e-9 {
			t.Errorf("%s is %v by %v, want %v", f.Name, f.Wide, f.High, want)
		}
	}
	// ISO 216: each size is the one before cut in half, and A0 has one square metre.
	if a := iso["A0"][0] * iso["A0"][1] / 1e6; math.Abs(a-1) > 0.001 {
		t.Errorf("A0 has %v m²", a)
	}
	for _, name := range []string{"a3", "ANSI B", "ansi-b", "ansib"} {
		if _, err := Find(name); err != nil {
			t.Error(err)
		}
	}
	if _, err := Find("A7"); err == nil || !strings.Contains(err.Error(), "A4, A3") {
		t.Errorf("error %v", err)
	}
}

// Drawing spaces and numbers of zones of ISO 5457:1999, tables 1 and 2 (from
// memory): the filing margin is 20 mm, the others 10 mm.
func TestDrawingSpace(t *testing.T) {
	for name, want := range map[string]struct{ w, h, columns, rows float64 }{
		"A4": {267, 190, 6, 4}, "A3": {390, 277, 8, 6}, "A2": {564, 400, 12, 8}, "A1": {811, 574, 16, 12}, "A0": {1159, 821, 24, 16},
	} {
		p := format(t, name).paper(false)
		if p.frame.Width() != want.w || p.frame.Height() != want.h || float64(p.columns) != want.columns || float64(p.rows) != want.rows {
			t.Errorf("%s: %v by %v, %d by %d zones, want %v", name, p.frame.Width(), p.frame.Height(), p.columns, p.rows, want)
		}
		edges := p.edges(p.columns, p.frame.Min.X, p.frame.Max.X)
		for i := 2; i < len(edges)-1; i++ {
			if math.Abs(edges[i]-edges[i-1]-50) > 1e-9 {
				t.Errorf("%s: zone %d is %v long", name, i, edges[i]-edges[i-1])
			}
		}
	}
	// A standing A4 has 180 by 277 mm.
	if f := format(t, "A4").paper(true).frame; f.Width() != 180 || f.Height() != 277 {
		t.Errorf("A4 portrait: %v by %v", f.Width(), f.Height())
	}
}

// ISO 5457: letters from the top, numbers from the left, without I and O. ASME
// Y14.1: from the right lower corner (both from memory).
func TestZones(t *testing.T) {
	at := func(p paper, x, y float64) string {
		return p.zone(model.Point{X: p.frame.Min.X + x*p.frame.Width(), Y: p.frame.Min.Y + y*p.frame.Height()})
	}
	a3, b, a0 := format(t, "A3").paper(false), format(t, "ANSI B").paper(false), format(t, "A0").paper(false)
	for _, c := range []struct{ got, want string }{
		{at(a3, 0.01, 0.01), "A1"}, {at(a3, 0.99, 0.99), "F8"}, {at(b, 0.99, 0.99), "A1"}, {at(b, 0.01, 0.01), "B4"},
		{at(a0, 0.01, 0.99), "R1"}, // sixteen rows: A to H, J to N, P to R
		{at(a3, -1, 5), "F1"},      // beyond the frame: the nearest
	} {
		if c.got != c.want {
			t.Errorf("zone %s, want %s", c.got, c.want)
		}
	}
}

func texts(p *draw.Picture) []string {
	var out []string
	for _, it := range p.Items {
		switch f := it.Figure.(type) {
		case draw.Text:
			out = append(out, f.String)
		case draw.Symbol:
			for _, part := range f.Figures() {
				if text, ok := part.(draw.Text); ok {
					out = append(out, text.String)
				}
			}
		}
	}
	return out
}

// Nothing leaves the paper, no two texts cover each other, and the drawing keeps
// to its room.
func checkPage(t *testing.T, name string, p *draw.Picture) {
	t.Helper()
	type box struct {
		place.Rect
		s string
	}
	var sheetBoxes, drawingBoxes []box
	for i, it := range p.Items {
		if !p.Bounds.Grown(0.01).Holds(it.Bounds) {
			t.Errorf("%s: item %d (%s, %T) at %v leaves the paper", name, i, it.Layer, it.Figure, it.Bounds)
		}
		if f, ok := it.Figure.(draw.Text); ok {
			w, h := draw.TextWidth(f.String, f.Height), f.Height
			x0 := f.At.X - w/2
			if f.Anchor == draw.Start {
				x0 = f.At.X
			}
			r := rect(x0, f.At.Y-h/2, x0+w, f.At.Y+h/2)
			if f.Turn%2 != 0 {
				r = rect(f.At.X-h/2, f.At.Y-w/2, f.At.X+h/2, f.At.Y+w/2)
			}
			if it.Layer == draw.LayerSheet {
				sheetBoxes = append(sheetBoxes, box{r, f.String})
			} else {
				drawingBoxes = append(drawingBoxes, box{r, f.String})
			}
		}
	}
	meet := func(a, b place.Rect) bool {
		const eps = 0.05
		return a.Min.X+eps < b.Max.X && b.Min.X+eps < a.Max.X && a.Min.Y+eps < b.Max.Y && b.Min.Y+eps < a.Max.Y
	}
	for i, a := range sheetBoxes {
		for _, b := range append(slices.Clone(sheetBoxes[i+1:]), drawingBoxes...) {
			if meet(a.Rect, b.Rect) {
				t.Errorf("%s: %q covers %q", name, a.s, b.s)
			}
		}
	}
}

func TestSheets(t *testing.T) {
	for _, name := range []string{"oat-drink-station", "pharma-loop"} {
		c := demo(t, name)
		for _, f := range Formats() {
			for _, o := range []Orientation{Landscape, Portrait} {
				b := set(t, c, Options{Format: f, Orientation: o, Shown: "At rest"})
				what := name + ", " + b.Paper
				w, h := f.Wide, f.High
				if o == Portrait {
					w, h = h, w
				}
				for i, p := range b.Pages {
					if p.Bounds.Width() != w || p.Bounds.Height() != h {
						t.Errorf("%s: page of %v by %v", what, p.Bounds.Width(), p.Bounds.Height())
					}
					checkPage(t, fmt.Sprintf("%s, page %d", what, i+1), p)
				}
				all := strings.Join(texts(b.Pages[0]), "\n")
				for _, want := range []string{"Title", "Drawing number", "Revision", c.Header().Plant, c.Header().Date, "At rest", draw.Caution[:10]} {
					if !strings.Contains(all, want) {
						t.Errorf("%s: the sheet does not say %q", what, want)
					}
				}
			}
		}
	}
}

// Every part and its tag stand on one sheet alone, whatever the scale.
func TestTilesHoldEveryPartOnce(t *testing.T) {
	c := demo(t, "oat-drink-station")
	for _, scale := range []float64{0.7, 1, 1.5} {
		b := set(t, c, Options{Format: format(t, "A3"), Scale: scale, NoLegend: true})
		if len(b.Pages) < 2 {
			t.Fatalf("%d pages at %v", len(b.Pages), scale)
		}
		symbols, tags := map[model.ID]int{}, map[model.ID]int{}
		for _, p := range b.Pages {
			checkPage(t, fmt.Sprint(scale), p)
			for _, it := range p.Items {
				switch it.Figure.(type) {
				case draw.Symbol:
					if it.Layer == draw.LayerPart {
						symbols[it.Record]++
					}
				case draw.Text:
					if it.Layer == draw.LayerTag {
						tags[it.Record]++
					}
				}
			}
		}
		for _, part := range c.Parts() {
			if part.Class() == model.ClassFrame {
				continue
			}
			if id := part.RecordID(); symbols[id] != 1 || tags[id] != 1 {
				t.Errorf("at %v %s stands %d times, its tag %d times", scale, part.Meta().Tag, symbols[id], tags[id])
			}
		}
	}
}

var reference = regexp.MustCompile(`^(to |from |)sheet (\d+), zone ([A-Z]\d+), (.+)$`)

// A connector's other end is where it says: on that sheet, in that zone, for the
// same run, and with the liquid going the other way.
func TestConnectorsAnswer(t *testing.T) {
	c := demo(t, "oat-drink-station")
	var step *model.Step
	for _, s := range c.Steps() {
		if strings.Contains(s.Name, "Alkali") {
			step = s
			break
		}
	}
	f := format(t, "A3")
	for name, opt := range map[string]Options{
		"tiles": {Format: f, Scale: 0.8, Orientation: Landscape}, "tiles in a step": {Format: f, Scale: 1.2, Orientation: Landscape, Step: step},
		"small tiles": {Format: format(t, "A4"), Scale: 0.6, Orientation: Landscape, NoLegend: true}, "frames": {Format: f, Split: ByFrame, Orientation: Landscape},
	} {
		b := set(t, c, opt)
		type end struct {
			page       int
			run        model.ID
			sense, own string
			to         int
			zone       string
		}
		p := f.paper(false)
		if name == "small tiles" {
			p = opt.Format.paper(false)
		}
		var all []end
		for n, page := range b.Pages {
			for _, it := range page.Items {
				text, ok := it.Figure.(draw.Text)
				if !ok || it.Layer != draw.LayerLabel {
					continue
				}
				m := reference.FindStringSubmatch(text.String)
				if m == nil {
					continue
				}
				var to int
				fmt.Sscan(m[2], &to)
				all = append(all, end{n + 1, it.Record, m[1], p.zone(text.At), to, m[3]})
			}
		}
		if len(all) < 2 {
			t.Fatalf("%s: %d connectors", name, len(all))
		}
		opposite := map[string]string{"to ": "from ", "from ": "to ", "": ""}
		for _, e := range all {
			if e.to == e.page || e.to < 1 || e.to > len(b.Pages) {
				t.Errorf("%s: sheet %d refers to sheet %d", name, e.page, e.to)
			}
			if name == "frames" {
				continue // answered by the run itself on the first sheet
			}
			if !slices.ContainsFunc(all, func(o end) bool {
				return o.run == e.run && o.page == e.to && o.to == e.page && o.sense == opposite[e.sense]
			}) {
				t.Errorf("%s: nothing answers %+v", name, e)
			}
		}
	}
}

// Where a window cuts a run, what is left on both sheets is as long as before.
func TestCutRunsLoseNothing(t *testing.T) {
	c := demo(t, "oat-drink-station")
	p, _ := pictureOf(c, nil)
	b := &book{circuit: c, cat: catalogue.Builtin(), picture: p}
	whole, parts := 0.0, 0.0
	length := func(path draw.Path) float64 {
		sum := 0.0
		var last model.Point
		for _, s := range path.Segments {
			q := ends([]catalogue.Segment{s})
			if len(q) == 1 && s.Op != 'M' {
				sum += math.Hypot(q[0].X-last.X, q[0].Y-last.Y)
			}
			if len(q) == 1 {
				last = q[0]
			}
		}
		return sum
	}
	windows := tiles(b.picture, rect(0, 0, 170, 140), 1)
	if len(windows) < 6 {
		t.Fatalf("%d windows", len(windows))
	}
	for _, it := range p.Items {
		path, ok := it.Figure.(draw.Path)
		if !ok || it.Layer != draw.LayerRun {
			continue
		}
		whole += length(path)
		for _, w := range windows {
			kept, _ := clipped(path, w)
			parts += length(kept)
		}
	}
	if whole == 0 || math.Abs(whole-parts) > 1e-6*whole {
		t.Errorf("%v mm of runs, %v mm in windows", whole, parts)
	}
}

func TestLegendHoldsWhatIsUsed(t *testing.T) {
	c := demo(t, "oat-drink-station")
	cat := catalogue.Builtin()
	for _, name := range []string{"A4", "A3"} { // on A4 it has a sheet of its own
		b := set(t, c, Options{Format: format(t, name), Orientation: Landscape})
		var all []string
		for _, p := range b.Pages {
			all = append(all, texts(p)...)
		}
		joined := strings.Join(all, " ")
		for _, part := range c.Parts() {
			k := cat.Kind(part.Meta().Kind)
			if k.Class == model.ClassFrame {
				continue
			}
			if !strings.Contains(joined, k.Title) && !allWords(all, k.Title) {
				t.Errorf("%s: the legend lacks %q", name, k.Title)
			}
		}
	}
}

// allWords says whether the words of a title stand there, in lines of their own.
func allWords(texts []string, title string) bool {
	for _, w := range strings.Fields(title) {
		if !slices.ContainsFunc(texts, func(s string) bool { return strings.Contains(s, w) }) {
			return false
		}
	}
	return true
}

func TestRevisionsAndNotes(t *testing.T) {
	c := demo(t, "oat-drink-station")
	h := *c.Header()
	h.Customer, h.Project, h.DrawingNumber = "Invented customer", "Project 17", "RW-0042"
	h.Note = strings.Repeat("A long note about the plant. ", 40)
	for i := range 8 {
		h.Revisions = append(h.Revisions, model.Revision{Mark: string(rune('A' + i)), Date: "2026-01-0" + fmt.Sprint(i+1), By: "R. Example", What: "Change number " + fmt.Sprint(i+1) + " with more words than the column has room for"})
	}
	next, err := c.Apply(model.Edit{Label: "header", Changes: []model.Change{{Before: c.Header(), After: &h}}})
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range []Orientation{Landscape, Portrait} {
		b := set(t, next, Options{Format: format(t, "A3"), Orientation: o})
		checkPage(t, b.Paper, b.Pages[0])
		all := strings.Join(texts(b.Pages[0]), "\n")
		for _, want := range []string{"Invented customer", "Project 17", "RW-0042", "Change number 8", "Change number 4"} {
			if !strings.Contains(all, want) {
				t.Errorf("%s: not told: %q", b.Paper, want)
			}
		}
		if strings.Contains(all, "Change number 3") {
			t.Error("more revisions than there is room for")
		}
	}
}

func TestFindingsHaveSheets(t *testing.T) {
	c := demo(t, "oat-drink-station")
	var marks []draw.Mark
	for i := range 150 {
		marks = append(marks, draw.Mark{Number: i + 1, Severity: draw.Severity(i % 3), Text: fmt.Sprintf("Finding %d of some length – run from somewhere to somewhere else", i+1)})
	}
	b := set(t, c, Options{Format: format(t, "A4"), Heading: "Findings", Marks: marks})
	var all []string
	for i, p := range b.Pages {
		checkPage(t, fmt.Sprint(i), p)
		all = append(all, texts(p)...)
	}
	joined := strings.Join(all, "\n")
	for i := range marks {
		if !strings.Contains(joined, fmt.Sprintf("Finding %d of", i+1)) {
			t.Errorf("finding %d is not listed", i+1)
		}
	}
}

func TestErrors(t *testing.T) {
	c := demo(t, "pharma-loop")
	p, _ := pictureOf(c, nil)
	for name, opt := range map[string]Options{
		"no format": {}, "scale": {Format: format(t, "A3"), Scale: 9}, "not a number": {Format: format(t, "A3"), Scale: math.NaN()},
	} {
		if _, err := Set(c, catalogue.Builtin(), p, opt); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	far := *p
	far.Bounds = rect(0, 0, 20000, 20000)
	if _, err := Set(c, catalogue.Builtin(), &far, Options{Format: format(t, "A4"), Scale: 1}); err == nil {
		t.Error("no error for thousands of sheets")
	}
	empty, err := Set(model.New(""), catalogue.Builtin(), draw.Circuit(model.New(""), catalogue.Builtin(), draw.Options{}), Options{Format: format(t, "A4")})
	if err != nil || len(empty.Pages) != 1 {
		t.Errorf("an empty circuit: %v", err)
	}
}

// The PDF of a set has the paper's size and finds its words (poppler).
func TestPDFOfSheets(t *testing.T) {
	c := demo(t, "oat-drink-station")
	b := set(t, c, Options{Format: format(t, "A3"), Orientation: Landscape, Scale: 0.8, Shown: "At rest"})
	var out bytes.Buffer
	if err := draw.WritePages(&out, b.Pages, draw.Light, draw.About{}); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "set.pdf")
	if err := os.WriteFile(path, out.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	run := func(program string, args ...string) string {
		got, err := exec.Command(program, args...).Output()
		if err != nil {
			t.Fatalf("%s is needed (Debian package poppler-utils): %v", program, err)
		}
		return string(got)
	}
	info := run("pdfinfo", path)
	if !strings.Contains(info, "(A3)") || !strings.Contains(info, fmt.Sprintf("Pages:           %d", len(b.Pages))) {
		t.Errorf("pdfinfo:\n%s", info)
	}
	for i := range b.Pages {
		words := run("pdftotext", "-f", fmt.Sprint(i+1), "-l", fmt.Sprint(i+1), path, "-")
		for _, want := range []string{fmt.Sprintf("%d of %d", i+1, len(b.Pages)), "Symbols used", "zone"} {
			if !strings.Contains(words, want) {
				t.Errorf("page %d does not say %q", i+1, want)
			}
		}
	}
}

func BenchmarkSetDemoA3(b *testing.B) {
	c := demo(b, "oat-drink-station")
	p, _ := pictureOf(c, nil)
	f := format(b, "A3")
	for b.Loop() {
		if _, err := Set(c, catalogue.Builtin(), p, Options{Format: f}); err != nil {
			b.Fatal(err)
		}
	}
}
