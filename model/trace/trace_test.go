package trace_test

import (
	"fmt"
	"math"
	"math/rand"
	"slices"
	"strings"
	"testing"

	"rinsewright/model"
	"rinsewright/model/network"
	"rinsewright/model/network/networktest"
	. "rinsewright/model/quantity"
	"rinsewright/model/trace"
)

// line is a supply with a valve, a tee with a long and a short way to a filler, a
// check valve and a drain.
func line(t *testing.T) (*network.Plant, *model.Step) {
	s := networktest.New(t)
	s.Part("W", "water-supply", `"medium":"water"`)
	s.Part("V", "butterfly-valve", networktest.Seats+`,"normal":"closed"`)
	s.Part("A", "tee", networktest.Stubs)
	s.Part("B", "tee", networktest.Stubs)
	s.Part("X", "butterfly-valve", networktest.Seats+`,"normal":"closed"`)
	s.Part("F", "filler-line", `"length_m":3`)
	s.Part("C", "check-valve", networktest.Seats)
	s.Part("D", "sewer-drain", "")
	s.Run("W.a", "V.a", 10)
	s.Run("V.b", "A.a", 2)
	s.Run("A.b", "B.a", 5)
	s.Run("A.branch", "X.a", 1)
	s.Run("X.b", "B.branch", 1)
	s.Run("B.b", "C.a", 4)
	s.Run("C.b", "F.a", 1)
	s.Run("F.b", "D.a", 6)
	step := &model.Step{ID: "s", Name: "rinse", Source: "W", Destination: "D", Cleans: []model.ID{"F"}, Flow: Some(Flow(10.0 / 3600)),
		Positions: map[model.ID]string{"V": "open"}}
	p := s.Plant()
	c, err := p.Circuit.Apply(model.Edit{Changes: []model.Change{model.Adding(step)}})
	if err != nil {
		t.Fatal(err)
	}
	return network.Build(c, p.Catalogue), step
}

func stops(t *trace.Trace) string {
	var out []string
	for _, s := range t.Stops {
		text := string(s.Part)
		if s.End {
			text += "|"
		}
		if s.Sense == trace.Upstream {
			text = "-" + text
		}
		out = append(out, text)
	}
	return strings.Join(out, " ")
}

func of(t *testing.T, p *network.Plant, ask trace.Ask) *trace.Trace {
	t.Helper()
	out, err := trace.Of(p, ask)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// Distances and times by hand: tubes of 50 mm bore hold 1.9635 L a metre (EN 10357
// series A: 53 x 1.5), valves 200 mm, the run of a tee 200 mm. From V to F: 2 m, the
// run of tee A, 5 m, the run of tee B, 4 m, the check valve and 1 m. At 10 m³/h
// liquid moves at 1.4147 m/s.
func TestInAStep(t *testing.T) {
	p, step := line(t)
	got := of(t, p, trace.Ask{From: "V", Sense: trace.Both, Steps: []*model.Step{step}})
	if text := stops(got); text != "-W| A B C F|" {
		t.Errorf("stops: %s", text)
	}
	f := got.Stops[slices.IndexFunc(got.Stops, func(s trace.Stop) bool { return s.Part == "F" })]
	length, known := f.Length.Get()
	if check, _ := p.PartEdges("C"), 0; !known || math.Abs(float64(length)-(12.4+float64(p.Edges[check[0]].Length.Or(0)))) > 1e-9 {
		t.Errorf("V to F: %v m, %t", length, known)
	}
	volume, _ := f.Volume.Get()
	time, timed := f.Time.Get()
	if want := float64(volume) / (10.0 / 3600); !timed || math.Abs(float64(time)-want) > 1e-9 || math.Abs(float64(time)-float64(length)/1.41471) > 0.01 {
		t.Errorf("V to F: %v s, %t; the volume needs %v s", time, timed, want)
	}
	if past := stops(of(t, p, trace.Ask{From: "V", Sense: trace.Downstream, Steps: []*model.Step{step}, Past: true})); past != "A B C F D|" {
		t.Errorf("past the filler: %s", past)
	}
	if _, err := trace.Of(p, trace.Ask{From: "nowhere"}); err == nil {
		t.Error("no error for a part that is not there")
	}
}

// With every valve open liquid also comes by the short way, and nothing tells which
// way it passes the filler; it does not get back through the check valve.
func TestAsItCouldBeOpened(t *testing.T) {
	p, _ := line(t)
	if got := stops(of(t, p, trace.Ask{From: "F", Sense: trace.Upstream, Past: true})); got != "-C -B -D| -X -A -V -W|" {
		t.Errorf("upstream of F: %s", got)
	}
	if got := stops(of(t, p, trace.Ask{From: "F", Sense: trace.Downstream})); got != "D|" {
		t.Errorf("downstream of F: %s", got)
	}
}

func TestUses(t *testing.T) {
	p, step := line(t)
	for _, want := range []struct {
		id    model.ID
		state trace.State
		whole bool
	}{{"V", trace.Flows, true}, {"X", trace.Stands, false}, {"D", trace.Flows, true}} {
		uses := trace.Uses(p, want.id)
		if len(uses) != 1 || uses[0].Step != step.ID || uses[0].State != want.state || uses[0].Whole != want.whole {
			t.Errorf("%s: %+v", want.id, uses)
		}
	}
	if got := trace.Shared(trace.Uses(p, "V")); !slices.Equal(got, []model.ID{"F"}) {
		t.Errorf("shared: %v", got)
	}
}

func TestWays(t *testing.T) {
	p, step := line(t)
	ways, more := trace.Ways(p, step, "V", "F", 10)
	if len(ways) != 1 || more {
		t.Fatalf("in the step: %d ways, more %t", len(ways), more)
	}
	ways, _ = trace.Ways(p, nil, "V", "F", 10)
	if len(ways) != 2 || !(ways[0].Least < ways[1].Least) {
		t.Errorf("with every valve open: %d ways", len(ways))
	}
	if ways, more := trace.Ways(p, nil, "V", "F", 1); len(ways) != 1 || !more {
		t.Errorf("one of two: %d, more %t", len(ways), more)
	}
}

// On random circuits the trace reaches what a walk written anew reaches, and
// tracing back from each end reaches the start.
func TestAgainstAWalk(t *testing.T) {
	for seed := range 300 {
		r := rand.New(rand.NewSource(int64(seed)))
		s := networktest.New(t)
		var free []string
		kinds := []string{"tee", "tee", "tee", "butterfly-valve", "check-valve", "centrifugal-pump", "sewer-drain", "water-supply"}
		for i := range 4 + r.Intn(10) {
			id, kind := fmt.Sprintf("X%02d", i), kinds[r.Intn(len(kinds))]
			if i == 0 {
				kind = "tee"
			}
			text := ""
			if kind == "tee" {
				text = networktest.Stubs
			}
			s.Part(id, kind, text)
			ports := map[string][]string{"tee": {"a", "b", "branch"}, "sewer-drain": {"a"}, "water-supply": {"a"}}[kind]
			if ports == nil {
				ports = []string{"a", "b"}
			}
			r.Shuffle(len(ports), func(i, j int) { ports[i], ports[j] = ports[j], ports[i] })
			for k, port := range ports {
				if k == 0 && len(free) > 0 {
					j := r.Intn(len(free))
					s.Run(free[j], id+"."+port, 1)
					free = slices.Delete(free, j, j+1)
					continue
				}
				free = append(free, id+"."+port)
			}
		}
		p := s.Plant()
		start := model.ID("X00")
		for _, sense := range []trace.Sense{trace.Downstream, trace.Upstream} {
			got := of(t, p, trace.Ask{From: start, Sense: sense})
			want := walk(p, start, sense)
			var parts []model.ID
			for _, stop := range got.Stops {
				parts = append(parts, stop.Part)
			}
			slices.Sort(parts)
			if !slices.Equal(parts, want) {
				t.Fatalf("circuit %d, %s: %v, by walking %v", seed, sense, parts, want)
			}
			for _, id := range parts {
				other := trace.Downstream
				if sense == trace.Downstream {
					other = trace.Upstream
				}
				if !slices.Contains(walk(p, id, other), start) {
					t.Fatalf("circuit %d: %s is reached from %s but not the other way", seed, id, start)
				}
			}
		}
	}
}

// walk gives the parts that liquid gets to (or comes from), beyond terminals not at all.
func walk(p *network.Plant, from model.ID, sense trace.Sense) []model.ID {
	seen := map[int]bool{}
	for _, n := range p.PartNodes(from) {
		seen[n] = true
	}
	own := map[int]bool{}
	for _, e := range p.PartEdges(from) {
		own[e] = true
	}
	oneWay := p.Graph().Edges()
	for changed := true; changed; {
		changed = false
		for e, x := range p.Edges {
			for _, d := range [][2]int{{x.From, x.To}, {x.To, x.From}} {
				with := d[0] == oneWay[e].U
				if sense == trace.Upstream {
					with = d[1] == oneWay[e].U
				}
				part := p.Circuit.Part(p.Nodes[d[0]].Part)
				stops := part != nil && part.Class() == model.ClassTerminal && p.Nodes[d[0]].Part != from
				if seen[d[0]] && !seen[d[1]] && !own[e] && !stops && (with || !oneWay[e].OneWay) {
					seen[d[1]] = true
					changed = true
				}
			}
		}
	}
	found := map[model.ID]bool{}
	for e, x := range p.Edges { // what it gets into, not what it only touches
		with, back := seen[x.From], seen[x.To]
		if oneWay[e].OneWay {
			entry := oneWay[e].U
			if sense == trace.Upstream {
				entry = oneWay[e].V
			}
			with, back = seen[entry], false
		}
		if x.Part != "" && x.Part != from && (with || back) {
			found[x.Part] = true
		}
	}
	var out []model.ID
	for id := range found {
		out = append(out, id)
	}
	slices.Sort(out)
	return out
}
