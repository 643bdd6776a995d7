package window

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"rinsewright/checks"
	"rinsewright/model/quantity"
)

// textOf gives all that the labels and buttons within an object say.
func textOf(o fyne.CanvasObject) string {
	out := ""
	walk(o, func(o fyne.CanvasObject) {
		switch o := o.(type) {
		case *widget.Label:
			out += o.Text + "\n"
		case *button:
			out += o.Text + "\n"
		}
	})
	return out
}

// The page in the window says all that the terminal says, in the units of the reader,
// and shows two drawings.
func TestRulePageTellsAll(t *testing.T) {
	for _, s := range []quantity.System{quantity.Metric, quantity.US} {
		b := demoBench(t)
		b.setUnits(s)
		f := b.pickRule("dead-leg")
		b.do(b.actions.deviation.rule)
		p := b.rulePages
		if p == nil || p.picked != f.Rule {
			t.Fatal("the page of the finding's rule does not open")
		}
		page := checks.PageOf(checks.Find(b.checker.rules, f.Rule), b.profile(), s)
		text := textOf(p.page)
		want := []string{page.Title, "Bad", "Good"}
		for _, x := range page.Sections {
			want = append(want, x.Head, sentence(x.Text))
		}
		for _, l := range page.Limits {
			want = append(want, l.Value, sentence(l.Label))
		}
		for _, x := range append(want, page.Sources...) {
			if !strings.Contains(text, sentence(x)) {
				t.Errorf("the page does not say %q", x)
			}
		}
		drawings := 0
		walk(p.page, func(o fyne.CanvasObject) {
			if d, ok := o.(*smallDrawing); ok {
				drawings++
				if img := d.paint(600, 300); img.Bounds().Dx() != 600 {
					t.Error("the drawing has another size")
				}
			}
		})
		if drawings != 2 {
			t.Errorf("%d drawings, want 2", drawings)
		}
		p.down()
	}
}

func TestRulesAreSearchedAndWalked(t *testing.T) {
	b := newBench(t)
	b.do(b.actions.deviation.rules)
	p := b.rulePages
	if len(p.shown) != len(b.checker.rules) {
		t.Fatalf("%d of %d rules are listed", len(p.shown), len(b.checker.rules))
	}
	p.search.SetText("dead leg")
	if len(p.shown) == 0 || len(p.shown) == len(b.checker.rules) {
		t.Errorf("%d rules have these words", len(p.shown))
	}
	p.search.OnSubmitted("")
	was := p.picked
	p.list.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
	if p.picked == was {
		t.Error("the arrow key does not go to the next rule")
	}
	p.search.SetText("no such words at all")
	if !p.empty.Visible() {
		t.Error("an empty list says nothing")
	}
	p.search.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if b.overlayOpen() {
		t.Error("Escape does not close the rules")
	}
}

// Every page can be shown: no rule has a page that fails.
func TestEveryRuleHasItsPage(t *testing.T) {
	b := newBench(t)
	b.openRules("")
	for _, r := range b.checker.rules {
		b.rulePages.pick(r.Name)
		if text := textOf(b.rulePages.page); !strings.Contains(text, r.Doc.Title) || strings.Contains(text, "Example\n") {
			t.Errorf("%s: %s", r.Name, text)
		}
	}
}
