package edit

import (
	"fmt"
	"math"
	"testing"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

// plant is rows of valves and pumps joined by runs: n parts, 30 mm apart.
func plant(b *testing.B, n int) *Document {
	b.Helper()
	cat := testCatalogue(b)
	var parts []model.Part
	var runs []*model.Run
	side := int(math.Ceil(math.Sqrt(float64(n))))
	id := func(letter string, i int) model.ID { return model.ID(fmt.Sprintf("%s%06d", letter, i)) }
	for i := range n {
		kind := "valve"
		if i%10 == 0 {
			kind = "pump"
		}
		p, err := cat.Kind(kind).New(id("p", i), pt(float64(i%side)*30, float64(i/side)*30))
		if err != nil {
			b.Fatal(err)
		}
		p.Meta().Tag = fmt.Sprintf("X-%d", i+101)
		parts = append(parts, p)
		if i%side > 0 {
			runs = append(runs, &model.Run{ID: id("r", i), From: model.End{Part: id("p", i-1), Port: "b"}, To: model.End{Part: id("p", i), Port: "a"},
				Size: quantity.Some(dn50)})
		}
	}
	c, err := model.FromRecords(nil, parts, runs, nil)
	if err != nil {
		b.Fatal(err)
	}
	return NewDocument(c, cat)
}

func sizes(b *testing.B, f func(b *testing.B, doc *Document)) {
	for _, n := range []int{100, 1000, 10000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			doc := plant(b, n)
			doc.Drawing().Lines()
			b.ReportAllocs()
			b.ResetTimer()
			f(b, doc)
		})
	}
}

func BenchmarkHit(b *testing.B) {
	sizes(b, func(b *testing.B, doc *Document) {
		d := doc.Drawing()
		bounds := d.Bounds()
		for i := range b.N {
			// Some places are on parts, some on runs, some on nothing.
			x := math.Mod(float64(i)*7.3, bounds.Width())
			y := math.Mod(float64(i)*3.1, bounds.Height())
			d.Hit(pt(x, y), 1.5, doc.Selected)
		}
	})
}

func BenchmarkMoveOne(b *testing.B) {
	sizes(b, func(b *testing.B, doc *Document) {
		e := NewEditor(doc)
		e.Handle(Event{Kind: Press, At: pt(30, 1), Tolerance: 1})
		for i := range b.N {
			e.Handle(Event{Kind: Move, At: pt(40+float64(i%20)*2.5, 20), Tolerance: 1})
		}
		b.StopTimer()
		if e.State() != "select.moving" {
			b.Fatal(e.State())
		}
	})
}

func BenchmarkMoveAll(b *testing.B) {
	sizes(b, func(b *testing.B, doc *Document) {
		doc.SelectAll()
		e := NewEditor(doc)
		e.Handle(Event{Kind: Press, At: pt(30, 1), Tolerance: 1})
		for i := range b.N {
			e.Handle(Event{Kind: Move, At: pt(40+float64(i%20)*2.5, 20), Tolerance: 1})
		}
	})
}

// A valve is held over a run: the preview splits the run at every move.
func BenchmarkPlaceOverRun(b *testing.B) {
	sizes(b, func(b *testing.B, doc *Document) {
		e := NewEditor(doc)
		e.UsePlace("valve")
		for i := range b.N {
			e.Handle(Event{Kind: Move, At: pt(12.5+float64(i%3)*2.5, 0.5), Tolerance: 1})
		}
		b.StopTimer()
		if len(e.Circuit().Runs()) == len(doc.Circuit().Runs()) {
			b.Fatal("no run was split")
		}
	})
}

func BenchmarkUndoRedo(b *testing.B) {
	sizes(b, func(b *testing.B, doc *Document) {
		doc.Select("p000001")
		a, _ := ActionNamed("nudge-right")
		if err := a.Run(doc); err != nil {
			b.Fatal(err)
		}
		for range b.N {
			doc.Undo()
			doc.Redo()
		}
	})
}

func BenchmarkDeleteAll(b *testing.B) {
	sizes(b, func(b *testing.B, doc *Document) {
		doc.SelectAll()
		for range b.N {
			doc.Drawing().Delete(doc.Selection())
		}
	})
}
