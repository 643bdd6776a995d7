package draw_test

import (
	"math"
	"testing"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/place"
	"rinsewright/canvas/route"
	"rinsewright/model"
)

// paths gives the paths of a run in their order.
func paths(p *draw.Picture, id model.ID) []draw.Path {
	var out []draw.Path
	for _, it := range p.Items {
		if path, ok := it.Figure.(draw.Path); ok && it.Record == id && it.Layer == draw.LayerRun {
			out = append(out, path)
		}
	}
	return out
}

// ends gives the first and the last point of a path.
func ends(p draw.Path) (a, b model.Point) {
	at := func(i, k int) model.Point { return model.Point{X: p.Segments[i].P[k][0], Y: p.Segments[i].P[k][1]} }
	last := len(p.Segments) - 1
	k := 0
	if p.Segments[last].Op == 'C' {
		k = 2
	}
	return at(0, 0), at(last, k)
}

// A front lies at its share of the line's length, which is worked out here from the
// corners of the line alone.
func TestPiecesLieAtTheirShare(t *testing.T) {
	c, cat := sample(t), testKinds(t)
	for _, run := range c.Runs() {
		line := route.All(c, cat)[indexOf(c, run.ID)]
		total := 0.0
		for i := 1; i < len(line); i++ {
			total += math.Abs(line[i].X-line[i-1].X) + math.Abs(line[i].Y-line[i-1].Y)
		}
		for _, share := range []float64{0.08, 0.25, 0.62, 0.93} {
			opt := draw.Options{Flow: map[model.ID]draw.Flow{run.ID: draw.Forward}, Pieces: map[model.ID][]draw.Piece{
				run.ID: {draw.Holding(0, share, model.Alkali, true), draw.Holding(share, 1, model.Water, true)},
			}}
			got := paths(draw.Circuit(c, cat, opt), run.ID)
			if len(got) != 3 {
				t.Fatalf("%s: %d paths, want the run as a dry one and two pieces", run.ID, len(got))
			}
			if got[1].Style.Stroke != draw.OfMedium(model.Alkali) || got[2].Style.Stroke != draw.OfMedium(model.Water) {
				t.Errorf("%s: colours %v and %v", run.ID, got[1].Style.Stroke, got[2].Style.Stroke)
			}
			from, front := ends(got[1])
			again, to := ends(got[2])
			if front != again || from != line[0] || to != line[len(line)-1] {
				t.Errorf("%s at %v: pieces from %v to %v and %v to %v, line %v", run.ID, share, from, front, again, to, line)
			}
			// Where the run hops over another the front waits at the foot of the arc.
			want := along(line, share*total)
			if off := math.Abs(want.X-front.X) + math.Abs(want.Y-front.Y); off > 1e-6 && !(len(got[0].Segments) > len(line) && off <= 2.5) {
				t.Errorf("%s at %v: front at %v, want %v", run.ID, share, front, want)
			}
		}
	}
}

func indexOf(c *model.Circuit, id model.ID) int {
	for i, r := range c.Runs() {
		if r.ID == id {
			return i
		}
	}
	return -1
}

func along(line []model.Point, s float64) model.Point {
	for i := 1; i < len(line); i++ {
		long := math.Abs(line[i].X-line[i-1].X) + math.Abs(line[i].Y-line[i-1].Y)
		if s <= long {
			k := s / long
			return model.Point{X: line[i-1].X + k*(line[i].X-line[i-1].X), Y: line[i-1].Y + k*(line[i].Y-line[i-1].Y)}
		}
		s -= long
	}
	return line[len(line)-1]
}

// The letters of a medium stay at one place while the medium there changes.
func TestLettersOfPiecesStay(t *testing.T) {
	c, cat := sample(t), testKinds(t)
	where := map[model.Point]string{}
	for _, m := range []model.Medium{model.Water, model.Product, model.Alkali} {
		opt := draw.Options{Flow: map[model.ID]draw.Flow{"r2": draw.Forward}, Pieces: map[model.ID][]draw.Piece{"r2": {draw.Holding(0, 1, m, true)}}}
		found := 0
		for _, it := range draw.Circuit(c, cat, opt).Items {
			if text, ok := it.Figure.(draw.Text); ok && it.Layer == draw.LayerLabel && text.String == draw.Letters(m) {
				where[text.At] += text.String + " "
				found++
			}
		}
		if found != 1 {
			t.Errorf("%s: %d letters", m, found)
		}
	}
	if len(where) != 1 {
		t.Errorf("letters lie at %v", where)
	}
}

// Air is a dry run; arrows have the colour of what is under them.
func TestPiecesOfAir(t *testing.T) {
	c, cat := sample(t), testKinds(t)
	opt := draw.Options{Flow: map[model.ID]draw.Flow{"r2": draw.Forward}, Pieces: map[model.ID][]draw.Piece{"r2": {draw.Holding(0, 1, model.Air, true)}}}
	p := draw.Circuit(c, cat, opt)
	if got := paths(p, "r2"); len(got) != 1 || got[0].Style.Stroke != draw.Faint {
		t.Errorf("air is drawn as %v", got)
	}
	opt.Pieces["r2"] = []draw.Piece{draw.Holding(0, 1, model.Acid, true)}
	arrows := 0
	for _, it := range draw.Circuit(c, cat, opt).Items {
		if s, ok := it.Figure.(draw.Symbol); ok && it.Layer == draw.LayerRun && it.Record == "r2" {
			arrows++
			if s.Medium != draw.OfMedium(model.Acid) {
				t.Errorf("arrow of %v over acid", s.Medium)
			}
		}
	}
	if arrows == 0 {
		t.Error("no arrow")
	}
}

// A line about a part encloses its symbol; the key tells what it means.
func TestOutlinesAndKey(t *testing.T) {
	c, cat := sample(t), testKinds(t)
	style := draw.Style{Stroke: draw.Error, Width: 0.5, Dash: []float64{2, 1}}
	p := draw.Circuit(c, cat, draw.Options{Outlines: map[model.ID]draw.Style{"p2": style}, Inks: map[model.ID]draw.Role{"p2": draw.Error}})
	box := place.Box(c.Part("p2"), cat.Kind("valve"))
	found := false
	for _, it := range p.Items {
		if path, ok := it.Figure.(draw.Path); ok && it.Layer == draw.LayerMark && it.Record == "p2" {
			found = it.Bounds.Holds(box) && path.Style.Stroke == draw.Error && len(path.Style.Dash) == 2
		}
	}
	if !found {
		t.Error("nothing encloses the part")
	}
	if s := symbolOf(t, p, "p2"); s.Ink != draw.Error {
		t.Errorf("ink %v", s.Ink)
	}
	before := p.Bounds
	draw.Key(p, "Key", []draw.KeyEntry{{Style: style, Words: "not reached"}})
	if got := texts(p, draw.LayerSheet); got["Key"] != 1 || got["not reached"] != 1 {
		t.Errorf("key %v", got)
	}
	if !(p.Bounds.Max.Y > before.Max.Y) {
		t.Error("the key is not beneath the drawing")
	}
}
