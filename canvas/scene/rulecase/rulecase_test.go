package rulecase_test

import (
	"context"
	"strings"
	"testing"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/scene/rulecase"
	"rinsewright/checks"
	"rinsewright/model/quantity"
)

// Every rule has an example; what it finds is marked in the bad drawing if it is of
// something that is drawn, and the good drawing has no mark.
func TestEveryRuleIsDrawn(t *testing.T) {
	for _, rule := range checks.Rules() {
		e, err := rulecase.Of(context.Background(), rule)
		if err != nil {
			t.Errorf("%s: %v", rule.Name, err)
			continue
		}
		drawable := false
		for _, f := range e.Found {
			for _, at := range f.Places {
				drawable = drawable || e.Bad.Part(at.Element) != nil || e.Bad.Run(at.Element) != nil
			}
		}
		for name, want := range map[string]bool{"bad": drawable, "good": false} {
			p := e.BadDrawing()
			if name == "good" {
				p = e.GoodDrawing()
			}
			marked := false
			for _, it := range p.Items {
				marked = marked || it.Layer == draw.LayerFinding
			}
			if marked != want {
				t.Errorf("%s: the %s drawing is marked %v, want %v", rule.Name, name, marked, want)
			}
		}
		if len(e.DifferenceWords(quantity.Metric)) == 0 {
			t.Errorf("%s: nothing is told of what makes the difference", rule.Name)
		}
	}
}

// Words of the drawing are in the units asked for.
func TestWordsInUSUnits(t *testing.T) {
	e, err := rulecase.Of(context.Background(), checks.Find(checks.Rules(), "slow-run"))
	if err != nil {
		t.Fatal(err)
	}
	for s, unit := range map[quantity.System]string{quantity.Metric: "m/s", quantity.US: "ft/s"} {
		words := strings.Join(e.BadWords(s), "\n")
		if !strings.Contains(words, " "+unit) {
			t.Errorf("no %s in\n%s", unit, words)
		}
	}
}
