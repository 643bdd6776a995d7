//go:build window

package main_test

import (
	"path/filepath"
	"testing"
)

// The demo's programme is run, played, paused and scrubbed with real keys and a real
// pointer; the time and the values under the trends' cursor follow.
func TestWashIsPlayed(t *testing.T) {
	s := start(t, filepath.Join("..", "..", "assets", "demo", "oat-drink-station.circuit.json"))
	_, n := s.wait(0, "window", named("ready"))
	s.do("key", "ctrl+r")
	ran, n := s.wait(n, "the wash", named("wash"))
	if ran.number("steps") < 3 || ran.number("simulated") != ran.number("steps") || ran.number("cycle_s") < 600 {
		t.Fatalf("run: %v", ran)
	}
	before := s.picture()
	s.do("key", "space") // the slider has the focus
	_, n = s.wait(n, "play", named("play"))
	early, n := s.wait(n, "a moment", named("moment"))
	later, n := s.wait(n, "the water at the supply 40 s later", func(e event) bool {
		return e.text("event") == "moment" && e.number("at_s") > early.number("at_s")+40
	})
	if later.text("step") == "" || later["running"] != true {
		t.Errorf("moment %v", later)
	}
	if _, ok := later["temperature supply"].(float64); !ok || later["temperature supply"] == early["temperature supply"] {
		t.Errorf("the cursor stands at %v, then at %v", early["temperature supply"], later["temperature supply"])
	}
	s.do("key", "space")
	paused, n := s.wait(n, "pause", named("pause"))
	s.settled(before)

	s.do("key", "Next") // the next step
	second, n := s.wait(n, "the second step", named("seek"))
	if second.text("step") == paused.text("step") || second.number("at_s") <= paused.number("at_s") || second["running"] != false {
		t.Errorf("paused at %v, then %v", paused, second)
	}
	s.do("key", "Right")
	on, n := s.wait(n, "ten seconds on", named("seek"))
	if d := on.number("at_s") - second.number("at_s"); d != 10 {
		t.Errorf("the arrow key goes %v s on", d)
	}

	// The pointer scrubs: to about half of the slider.
	x, y := ran.number("slider_x"), ran.number("slider_y")+ran.number("slider_height")/2
	wide := ran.number("slider_width")
	s.drag(x+0.2*wide, y, x+0.5*wide, y)
	half, n := s.wait(n, "the middle", func(e event) bool {
		return e.text("event") == "seek" && e.number("at_s") > 0.42*ran.number("cycle_s") && e.number("at_s") < 0.58*ran.number("cycle_s")
	})
	if _, ok := half["temperature return"].(float64); !ok {
		t.Errorf("in the middle the cursor reads %v", half)
	}
	s.do("key", "ctrl+b", "shift+t")
	_, n = s.wait(n, "end of the play", named("stop"))

	// An edit ends a play: the selected part is deleted.
	s.do("key", "t")
	_, n = s.wait(n, "play again", named("play"))
	s.do("key", "n", "Delete")
	_, n = s.wait(n, "end of the play by an edit", named("stop"))
	s.wait(n, "the wash of what is left", named("wash"))
}
