package scene_test

import (
	"fmt"
	"math"
	"testing"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/scene"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
	"rinsewright/model/wash"
)

func programme(p *network.Plant, name string) []*model.Step {
	var out []*model.Step
	for _, s := range p.Circuit.Steps() {
		if s.Programme == name {
			out = append(out, s)
		}
	}
	return out
}

func played(t testing.TB, p *network.Plant, name string, opt wash.Options) *scene.Play {
	t.Helper()
	r, err := wash.Run(p, p.Heights(), programme(p, name), opt)
	if err != nil {
		t.Fatal(err)
	}
	return scene.NewPlay(p, r)
}

// front gives the share of a run at which the first medium of two ends, counted
// from its From; not ok if it holds one.
func front(opt draw.Options, run model.ID) (float64, bool) {
	pieces := opt.Pieces[run]
	if len(pieces) != 2 {
		return 0, false
	}
	return pieces[0].To, true
}

// The front of alkali goes along the long supply run as fast as the flow: 12 m³/h
// through DN50 (50 mm inside, EN 10357 series A) is 1.698 m/s by arithmetic. Every
// tenth of a second is looked at, of which the record holds one in twenty.
func TestFrontMovesWithTheFlow(t *testing.T) {
	p := station(t)
	play := played(t, p, "Vessel T-201", wash.Options{})
	step := play.Record.Steps[1]
	run := between(t, p, "FT-101", "TE-211")
	long := 0.0
	for _, e := range p.RunEdges(run.ID) {
		l, ok := p.Edges[e].Length.Get()
		if !ok {
			t.Fatal("the run has no length")
		}
		long += float64(l)
	}
	speed := 12.0 / 3600 / (math.Pi / 4 * 0.05 * 0.05)
	var times, at []float64
	for k := range 600 {
		now := float64(step.Start) + 0.1*float64(k)
		if x, ok := front(play.At(quantity.Duration(now)), run.ID); ok {
			times, at = append(times, now), append(at, x*long)
		}
	}
	if n := len(at); float64(n) < 0.8*long/speed/0.1 {
		t.Fatalf("%d sights of the front along %.1f m", n, long)
	}
	for i := 1; i < len(at); i++ {
		// The interface is told to 3 % of its strength: fronts may jump by its bands.
		if at[i] < at[i-1]-1e-6 {
			t.Errorf("at %.1f s the front goes back from %.3f to %.3f m", times[i], at[i-1], at[i])
		}
	}
	got := (at[len(at)-1] - at[0]) / (times[len(times)-1] - times[0])
	if math.Abs(got-speed) > 0.05*speed {
		t.Errorf("the front goes at %.3f m/s, the flow at %.3f", got, speed)
	}
}

// A record that is kept eight times as often shows what is found between pictures.
func TestBetweenPictures(t *testing.T) {
	p := station(t)
	coarse := played(t, p, "Vessel T-201", wash.Options{Every: 2})
	fine := played(t, p, "Vessel T-201", wash.Options{Every: 0.25})
	worst, seen := 0.0, 0
	for _, step := range coarse.Record.Steps[:5] {
		for k := range 120 {
			now := step.Start + quantity.Duration(0.5*float64(k)+0.25)
			a, b := coarse.At(now), fine.At(now)
			for _, run := range p.Circuit.Runs() {
				x, okX := front(a, run.ID)
				y, okY := front(b, run.ID)
				if !okX || !okY {
					continue
				}
				long := 0.0
				for _, e := range p.RunEdges(run.ID) {
					long += float64(p.Edges[e].Length.Or(0))
				}
				seen++
				worst = max(worst, math.Abs(x-y)*long)
			}
		}
	}
	// Liquid is kept in a hundred slugs along the some 80 m of the route, so a front is
	// told to about 0.8 m. Without moving on between pictures it would be 3.4 m off.
	if seen < 100 || worst > 1 {
		t.Errorf("of %d fronts the worst lies %.2f m off", seen, worst)
	}
}

// Valves stand as the step sets them, liquid and levels as the record tells.
func TestPlayShowsTheStep(t *testing.T) {
	p := station(t)
	play := played(t, p, "Vessel T-201", wash.Options{})
	for i, s := range play.Record.Steps {
		if s.Time <= 0 {
			continue
		}
		now := s.Start + s.Time/2
		if play.Step(now) != i {
			t.Errorf("in the middle of step %d runs step %d", i, play.Step(now))
		}
		got, want := play.At(now), scene.Of(p, s.Step)
		if fmt.Sprint(got.Positions) != fmt.Sprint(want.Positions) {
			t.Errorf("%s: valves stand otherwise", s.Step.Name)
		}
		for id, pieces := range got.Pieces {
			last := 0.0
			for _, x := range pieces {
				if math.Abs(x.From-last) > 1e-6 || x.To < x.From {
					t.Errorf("%s, %s: pieces %v", s.Step.Name, id, pieces)
					break
				}
				last = x.To
			}
			if math.Abs(last-1) > 1e-6 {
				t.Errorf("%s, %s: pieces end at %v", s.Step.Name, id, last)
			}
		}
		// 18 % of the way: what the record says of the tank.
		now = s.Start + quantity.Duration(0.18*float64(s.Time))
		for _, v := range play.Record.State(now).Vessels {
			height := p.Circuit.Part(v.Vessel).(*model.Vessel).Height
			l, ok := v.Level.Get()
			if !ok || !height.Known() {
				continue
			}
			share := float64(l) / float64(height.Or(1))
			if got := play.At(now).Levels[v.Vessel]; s.Step.Purpose.Or("") != model.Drain && math.Abs(got-share) > 0.02 {
				t.Errorf("%s: level of %s drawn at %v, told %v", s.Step.Name, v.Vessel, got, share)
			}
		}
	}
	for _, out := range []quantity.Duration{-5, play.End() + 100} {
		if opt := play.At(out); len(opt.Positions) == 0 {
			t.Errorf("nothing is shown at %v s", out)
		}
	}
}

// BenchmarkPlayPicture makes the picture of a moment of the demo.
func BenchmarkPlayPicture(b *testing.B) {
	p := station(b)
	play := played(b, p, "Vessel T-201", wash.Options{})
	now := 0.0
	for b.Loop() {
		now = math.Mod(now+0.33, float64(play.End()))
		draw.Circuit(p.Circuit, catalogue.Builtin(), play.At(quantity.Duration(now)))
	}
}
