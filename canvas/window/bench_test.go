package window

import (
	"context"
	"fmt"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
)

// many gives a circuit of n copies of the first demo side by side.
func many(b *testing.B, n int) *model.Circuit {
	b.Helper()
	one, err := circuitfile.Decode(demos()[0].file, demos()[0].data)
	if err != nil {
		b.Fatal(err)
	}
	var parts []model.Part
	var runs []*model.Run
	for i := range n {
		by := model.Point{X: float64(i%5) * 700, Y: float64(i/5) * 500}
		id := func(old model.ID) model.ID {
			if old == "" {
				return ""
			}
			return model.ID(fmt.Sprintf("%s-%d", old, i))
		}
		for _, p := range one.Parts() {
			q := model.Clone(p)
			m := q.Meta()
			m.ID, m.At, m.Tag = id(m.ID), m.At.Add(by), fmt.Sprintf("%s-%d", m.Tag, i)
			parts = append(parts, q)
		}
		for _, r := range one.Runs() {
			q := model.Clone(r)
			q.ID, q.From.Part, q.To.Part = id(q.ID), id(q.From.Part), id(q.To.Part)
			for j := range q.Bends {
				q.Bends[j] = q.Bends[j].Add(by)
			}
			runs = append(runs, q)
		}
	}
	c, err := model.FromRecords(one.Header(), parts, runs, nil)
	if err != nil {
		b.Fatal(err)
	}
	return c
}

func benchWindow(b *testing.B, c *model.Circuit) *Window {
	test.NewTempApp(b)
	w := New(Options{App: fyne.CurrentApp(), Kinds: catalogue.Builtin()})
	w.checker.onMain = func(func()) {}
	w.win.Resize(fyne.NewSize(1280, 800))
	w.Show()
	w.replace(c, file{}, false)
	b.Cleanup(w.checker.stop)
	return w
}

// BenchmarkEdit is what one move costs the window with its findings marked,
// without the checks, which run beside it.
func BenchmarkEdit(b *testing.B) {
	for _, n := range []int{1, 25} {
		c := many(b, n)
		b.Run(fmt.Sprintf("%d parts", len(c.Parts())), func(b *testing.B) {
			w := benchWindow(b, c)
			result, err := checks.Run(context.Background(), w.circuit(), w.cat, w.profile(), w.checker.rules)
			if err != nil {
				b.Fatal(err)
			}
			w.takeIn(w.circuit(), result, nil)
			w.board.natural() // near enough for marks to be shown
			id := c.Parts()[0].RecordID()
			w.doc.Select(id)
			for i := 0; b.Loop(); i++ {
				by := model.Point{X: 2.5}
				if i%2 == 1 {
					by.X = -2.5
				}
				if err := w.apply(w.drawing().Move([]model.ID{id}, by)); err != nil {
					b.Fatal(err)
				}
				w.board.paint(740, 460)
			}
		})
	}
}

// BenchmarkPan is one frame of pulling the drawing, all of it in view.
func BenchmarkPan(b *testing.B) {
	for _, n := range []int{1, 25} {
		c := many(b, n)
		b.Run(fmt.Sprintf("%d parts", len(c.Parts())), func(b *testing.B) {
			w := benchWindow(b, c)
			w.board.fit()
			for i := 0; b.Loop(); i++ {
				w.board.setView(w.board.view.moved(float64(i%2*2-1), 1-float64(i%2*2)))
				w.board.paint(740, 460)
			}
		})
	}
}
