package scene_test

import (
	"fmt"
	"testing"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/scene"
	"rinsewright/model"
	"rinsewright/model/isolation"
	"rinsewright/model/trace"
)

// Every stretch shows whether it is within the barriers; every barrier stands as the
// plan puts it and has a sign with its number, and no two signs of a sort one number.
func TestIsolationShowsThePlan(t *testing.T) {
	p := station(t)
	work := []model.ID{p.Circuit.Tagged("P-201")[0].RecordID()}
	plans, err := isolation.Find(p, p.Heights(), isolation.Ask{Work: work})
	if err != nil || !plans[0].Found {
		t.Fatal(err, plans[0].Why)
	}
	pl := &plans[0]
	opt, signs := scene.Isolation(p, pl, work)
	key := scene.IsolationKey(pl)
	for e := range p.Edges {
		run := p.Edges[e].Run
		if run == "" {
			continue
		}
		want := key[1].Style
		if pl.Zone[e] {
			want = key[0].Style
		}
		found := false
		for _, piece := range opt.Pieces[run] {
			found = found || fmt.Sprint(piece.Style) == fmt.Sprint(want)
		}
		if !found {
			t.Errorf("edge %d of %s is not shown", e, run)
		}
	}
	signed := map[model.ID]bool{}
	seen := map[string]bool{}
	for _, s := range signs {
		signed[s.Place.Element] = true
		k := fmt.Sprint(s.Shape, s.Number)
		if seen[k] {
			t.Errorf("two signs %s", k)
		}
		seen[k] = true
	}
	for _, b := range pl.Barriers {
		if opt.Positions[b.Valve] != b.Position || !signed[b.Valve] {
			t.Errorf("barrier %s: position %q, sign %v", b.Valve, opt.Positions[b.Valve], signed[b.Valve])
		}
	}
	if _, ok := opt.Outlines[work[0]]; !ok {
		t.Error("the work is not outlined")
	}
	picture := draw.Circuit(p.Circuit, p.Catalogue, opt)
	before := len(picture.Items)
	draw.Signs(picture, signs, 1)
	if got := len(picture.Items) - before; got != 3*len(signs) { // lead, shape, number
		t.Errorf("%d figures for %d signs", got, len(signs))
	}
}

// What is upstream and what is downstream differ in pattern, not in colour alone.
func TestTraceStylesDifferWithoutColour(t *testing.T) {
	seen := map[string]bool{}
	for _, k := range scene.TraceKey() {
		pattern := fmt.Sprint(k.Style.Dash, k.Style.Width)
		if seen[pattern] {
			t.Errorf("%s has the pattern of another", k.Words)
		}
		seen[pattern] = true
	}
}

// Every stop of a trace has the colour of its sense, and every edge of its way a style
// that is not that of all else.
func TestTraceShowsEveryStop(t *testing.T) {
	p := station(t)
	from := p.Circuit.Tagged("P-101")[0].RecordID()
	tr, err := trace.Of(p, trace.Ask{From: from, Sense: trace.Both})
	if err != nil || len(tr.Stops) < 3 {
		t.Fatal(err, len(tr.Stops))
	}
	opt := scene.Trace(p, tr, nil, from)
	for _, s := range tr.Stops {
		if _, ok := opt.Inks[s.Part]; !ok {
			t.Errorf("%s is not shown", s.Part)
		}
		for _, e := range s.Way {
			run := p.Edges[e].Run
			if run == "" {
				continue
			}
			shown := false
			for _, piece := range opt.Pieces[run] {
				for _, k := range scene.TraceKey() {
					shown = shown || fmt.Sprint(piece.Style) == fmt.Sprint(k.Style)
				}
			}
			if !shown {
				t.Errorf("the way to %s over %s is not shown", s.Part, run)
			}
		}
	}
}
