package edit

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

func TestPlaceTagsInTurn(t *testing.T) {
	s := newSheet(t)
	s.part("p1", "valve", 0, 0, tagged("V-102"))
	var tags []string
	for range 3 {
		e := s.apply(s.doc.Drawing().Place("valve", Pose{At: pt(100, 0), Turn: 1, Mirrored: true}))
		p := s.doc.Circuit().Part(Added(e)[0])
		tags = append(tags, p.Meta().Tag)
		if p.Meta().Turn != 1 || !p.Meta().Mirrored || p.Meta().At != pt(100, 0) {
			t.Errorf("placed %+v", p.Meta())
		}
	}
	if got := strings.Join(tags, " "); got != "V-101 V-103 V-104" {
		t.Errorf("tags %s", got)
	}
	e := s.apply(s.doc.Drawing().Place("tee", Pose{}))
	if tag := s.doc.Circuit().Part(Added(e)[0]).Meta().Tag; tag != "" {
		t.Errorf("a tee got the tag %q", tag)
	}
	if _, err := s.doc.Drawing().Place("windmill", Pose{}); err == nil {
		t.Error("a kind that is not in the catalogue was placed")
	}
}

// straight is two pumps at heights 0 and 1 m with a level run of 10 m, drawn
// 100 mm long, between them.
func straight(t *testing.T) *sheet {
	s := newSheet(t)
	s.part("p1", "pump", 0, 0, at(0))
	s.part("p2", "pump", 110, 0, at(1))
	s.run("r1", "p1", "b", "p2", "a", sized(dn50), stretched([2]float64{10, 1}), func(r *model.Run) {
		r.Elbows = quantity.Some(3)
		r.Tag = "L-1"
	})
	return s
}

func TestPlaceOnRun(t *testing.T) {
	s := straight(t)
	e := s.apply(s.doc.Drawing().PlaceOnRun("valve", "r1", Pose{At: pt(30, 1)}))
	c := s.doc.Circuit()
	if len(c.Runs()) != 2 || len(c.Parts()) != 3 {
		t.Fatalf("%d runs, %d parts", len(c.Runs()), len(c.Parts()))
	}
	var v *model.Valve
	for _, id := range Added(e) {
		if p, ok := c.Record(id).(*model.Valve); ok {
			v = p
		}
	}
	first, second := c.Run("r1"), c.Runs()[0]
	if second.ID == "r1" {
		second = c.Runs()[1]
	}
	if first.From.Part != "p1" || first.To.Part != v.ID || first.To.Port != "a" || second.From.Part != v.ID || second.From.Port != "b" || second.To.Part != "p2" {
		t.Errorf("runs %+v and %+v", first, second)
	}
	if first.Size != second.Size || first.Size.Or("") != dn50 || v.Size.Or("") != dn50 {
		t.Errorf("sizes %v, %v, valve %v", first.Size, second.Size, v.Size)
	}
	if v.At != pt(30, 0) || v.Turn != 0 || v.Mirrored {
		t.Errorf("valve at %v turned %d", v.At, v.Turn)
	}
	// The run is drawn from x = 5 to 105; the valve stands at a quarter of it.
	if !sameStretches(first.Stretches, []model.Stretch{stretch(2.5, 0.25)}) || !sameStretches(second.Stretches, []model.Stretch{stretch(7.5, 0.75)}) {
		t.Errorf("stretches %v and %v", first.Stretches, second.Stretches)
	}
	if h, ok := v.Elevation.Get(); !ok || math.Abs(float64(h)-0.25) > tolerance {
		t.Errorf("elevation %v", v.Elevation)
	}
	if a, b := first.Elbows.Or(-1), second.Elbows.Or(-1); a+b != 3 || a < 0 || b < 0 {
		t.Errorf("elbows %d and %d", a, b)
	}
	if first.Tag != "L-1" || second.Tag != "" {
		t.Errorf("tags %q and %q", first.Tag, second.Tag)
	}
	if e.Label != "place V-101 in L-1" {
		t.Errorf("label %q", e.Label)
	}
}

// A part with a way stands along the direction of the run, whichever way the run
// goes on the drawing.
func TestPlaceOnRunTurns(t *testing.T) {
	tests := []struct {
		desc   string
		to     model.Point
		turn   model.Turn
		inAt   model.Point // of the valve's inlet, from its middle
		middle model.Point
	}{
		{"right", pt(100, 0), 0, pt(-5, 0), pt(50, 0)},
		{"down", pt(0, 100), 1, pt(0, -5), pt(0, 50)},
		{"left", pt(-100, 0), 2, pt(5, 0), pt(-50, 0)},
		{"up", pt(0, -100), 3, pt(0, 5), pt(0, -50)},
	}
	for _, tt := range tests {
		s := newSheet(t)
		s.put(&model.Run{ID: "r1", From: LooseAt(pt(0, 0)).end(), To: LooseAt(tt.to).end()})
		e := s.apply(s.doc.Drawing().PlaceOnRun("check-valve", "r1", Pose{At: tt.middle}))
		p := s.doc.Circuit().Part(Added(e)[0])
		in, _ := s.doc.cat.Kind("check-valve").Port("in")
		if inAt, _ := in.PortAt(p.Meta()); inAt.Sub(tt.middle) != tt.inAt || s.doc.Circuit().Run("r1").To.Port != "in" {
			t.Errorf("%s: inlet at %v, turn %d, first run to port %s", tt.desc, inAt, p.Meta().Turn, s.doc.Circuit().Run("r1").To.Port)
		}
	}
}

// The drawn line stays where it was when a part is put in.
func TestPlaceOnRunKeepsLine(t *testing.T) {
	s := newSheet(t)
	s.part("p1", "pump", 0, 0)
	s.part("p2", "pump", 200, 100)
	s.run("r1", "p1", "b", "p2", "a", bent(pt(50, 0), pt(50, 40), pt(150, 40), pt(150, 100)))
	before := s.doc.Drawing().Line(s.doc.Circuit().Run("r1"))
	s.apply(s.doc.Drawing().PlaceOnRun("valve", "r1", Pose{At: pt(100, 40)}))
	c := s.doc.Circuit()
	first := c.Run("r1")
	second := c.Runs()[0]
	if second == first {
		second = c.Runs()[1]
	}
	line := append(slices.Clone(s.doc.Drawing().Line(first)), s.doc.Drawing().Line(second)...)
	if !sameLine(before, line) {
		t.Errorf("line %v became %v", before, line)
	}
}

func TestPlaceOnRunRefused(t *testing.T) {
	s := straight(t)
	for _, kind := range []string{"tank", "spray-ball", "frame"} {
		if _, err := s.doc.Drawing().PlaceOnRun(kind, "r1", Pose{At: pt(30, 0)}); err == nil {
			t.Errorf("a %s was put into a run", kind)
		}
	}
}

func TestReducerKeepsItsSmallEnd(t *testing.T) {
	s := straight(t)
	e := s.apply(s.doc.Drawing().PlaceOnRun("concentric", "r1", Pose{At: pt(30, 0)}))
	f := s.doc.Circuit().Part(Added(e)[0]).(*model.Fitting)
	if f.Size.Or("") != dn50 || f.SecondSize.Known() {
		t.Errorf("sizes %v and %v", f.Size, f.SecondSize)
	}
}

func TestConnect(t *testing.T) {
	s := newSheet(t)
	s.part("p1", "tank", 0, 0, func(p model.Part) { p.(*model.Vessel).Size = quantity.Some(dn50) })
	s.part("p2", "pump", 100, 50)
	e := s.apply(s.doc.Drawing().Connect(OnPort("p2", "a"), OnPort("p1", "outlet"), []model.Point{pt(50, 50)}))
	r := s.doc.Circuit().Run(Added(e)[0])
	if r.From.Part != "p1" || r.To.Part != "p2" {
		t.Errorf("a run drawn against the liquid was not turned: %+v", r)
	}
	if r.Size.Or("") != dn50 {
		t.Errorf("size %v, want that of the tank's outlet", r.Size)
	}
	if len(r.Stretches) != 0 {
		t.Errorf("a new run has stretches %v", r.Stretches)
	}
	if _, err := s.doc.Drawing().Connect(OnPort("p1", "outlet"), OnPort("p2", "b"), nil); !errors.Is(err, ErrPortTaken) {
		t.Errorf("a second run on a port: %v", err)
	}
	if _, err := s.doc.Drawing().Connect(OnPort("p2", "b"), OnPort("p2", "b"), nil); err == nil {
		t.Error("a port was connected to itself")
	}
}

func TestConnectMakesTee(t *testing.T) {
	s := straight(t)
	s.part("p3", "tank", 50, 80)
	e := s.apply(s.doc.Drawing().Connect(OnPort("p3", "spray"), OnRun("r1", pt(50, 0)), nil))
	c := s.doc.Circuit()
	if len(c.Runs()) != 3 || len(c.Parts()) != 4 {
		t.Fatalf("%d runs, %d parts", len(c.Runs()), len(c.Parts()))
	}
	var tee *model.Fitting
	var branch *model.Run
	for _, id := range Added(e) {
		switch r := c.Record(id).(type) {
		case *model.Fitting:
			tee = r
		case *model.Run:
			if r.To.Part == "p3" {
				branch = r
			}
		}
	}
	if branch == nil || branch.From != (model.End{Part: tee.ID, Port: "branch"}) {
		t.Fatalf("branch %+v: it should go from the tee to the tank's inlet", branch)
	}
	if branch.Size.Or("") != dn50 || tee.Size.Or("") != dn50 || tee.SecondSize.Or("") != dn50 {
		t.Errorf("branch %v, tee %v and %v", branch.Size, tee.Size, tee.SecondSize)
	}
	port, _ := s.doc.cat.Kind("tee").Port("branch")
	if _, way := port.PortAt(tee.Meta()); way != pt(0, 1) {
		t.Errorf("the branch faces %v, the tank is below", way)
	}
	var length, rise float64
	for _, r := range c.Runs() {
		if r != branch {
			l, h := sums(r.Stretches)
			length, rise = length+l, rise+h
		}
	}
	if math.Abs(length-10) > tolerance || math.Abs(rise-1) > tolerance {
		t.Errorf("the main is %v m with a rise of %v m", length, rise)
	}
	// One step of the history takes all of it back.
	s.doc.Undo()
	if c := s.doc.Circuit(); len(c.Runs()) != 1 || len(c.Parts()) != 3 {
		t.Errorf("after undo %d runs, %d parts", len(c.Runs()), len(c.Parts()))
	}
}

// A run from a run to the same run is a bypass with two tees.
func TestConnectBypass(t *testing.T) {
	s := straight(t)
	s.apply(s.doc.Drawing().Connect(OnRun("r1", pt(30, 0)), OnRun("r1", pt(80, 0)), []model.Point{pt(30, 40), pt(80, 40)}))
	c := s.doc.Circuit()
	if len(c.Parts()) != 4 || len(c.Runs()) != 4 {
		t.Fatalf("%d parts, %d runs", len(c.Parts()), len(c.Runs()))
	}
	length := 0.0
	for _, r := range c.Runs() {
		if l, ok := r.Length().Get(); ok {
			length += float64(l)
		}
	}
	if math.Abs(length-10) > tolerance {
		t.Errorf("the main is %v m, want 10", length)
	}
	if _, err := straight(t).doc.Drawing().Connect(OnRun("r1", pt(30, 0)), OnRun("r1", pt(32, 0)), nil); err == nil {
		t.Error("two tees came into one place")
	}
}

func TestConnectAtLooseEnd(t *testing.T) {
	s := newSheet(t)
	s.part("p1", "pump", 0, 0)
	s.put(&model.Run{ID: "r1", From: model.End{Part: "p1", Port: "b"}, To: LooseAt(pt(50, 0)).end(), Size: quantity.Some(dn40), Stretches: []model.Stretch{stretch(2, 0)}})
	s.part("p2", "pump", 100, 50)
	s.apply(s.doc.Drawing().Connect(OnRun("r1", pt(50, 0)), OnPort("p2", "a"), nil))
	c := s.doc.Circuit()
	if len(c.Runs()) != 1 || len(c.Parts()) != 2 {
		t.Fatalf("%d runs, %d parts", len(c.Runs()), len(c.Parts()))
	}
	r := c.Run("r1")
	if r.From.Part != "p1" || r.To.Part != "p2" || r.Size.Or("") != dn40 {
		t.Errorf("run %+v", r)
	}
	if r.Length().Known() || !sameStretches(r.Stretches, []model.Stretch{stretch(2, 0), {}}) {
		t.Errorf("stretches %v: the new piece is of unknown length", r.Stretches)
	}
}

func TestReconnect(t *testing.T) {
	s := straight(t)
	s.part("p3", "pump", 110, 50)
	s.apply(s.doc.Drawing().Reconnect("r1", false, OnPort("p3", "a")))
	if r := s.doc.Circuit().Run("r1"); r.To.Part != "p3" || r.From.Part != "p1" {
		t.Errorf("run %+v", r)
	}
	s.apply(s.doc.Drawing().Reconnect("r1", false, LooseAt(pt(80, 20))))
	if r := s.doc.Circuit().Run("r1"); !r.To.Loose() || *r.To.At != pt(80, 20) {
		t.Errorf("run %+v", r)
	}
	if _, err := s.doc.Drawing().Reconnect("r1", false, OnRun("r1", pt(30, 0))); err == nil {
		t.Error("a run was joined to itself")
	}
}

// Putting a part in and taking it out again gives the same pipe, whatever the
// kind and wherever it stood.
func TestSplitAndHeal(t *testing.T) {
	for _, kind := range []string{"valve", "check-valve", "concentric", "tee", "pump"} {
		for _, x := range []float64{5, 12.5, 30, 55, 100, 105} {
			s := straight(t)
			before := s.doc.Circuit()
			e := s.apply(s.doc.Drawing().PlaceOnRun(kind, "r1", Pose{At: pt(x, 0)}))
			s.apply(s.doc.Drawing().Delete(Added(e)[:1]), nil)
			if d := difference(before, s.doc.Circuit()); d != "" {
				// The rounding of the sums is the only thing that may differ.
				r := s.doc.Circuit().Run("r1")
				if r == nil || len(s.doc.Circuit().Runs()) != 1 {
					t.Fatalf("%s at %v: %s", kind, x, d)
				}
				l, h := sums(r.Stretches)
				if math.Abs(l-10) > tolerance || math.Abs(h-1) > tolerance || r.Elbows != quantity.Some(3) || len(r.Bends) > 0 || r.Tag != "L-1" {
					t.Errorf("%s at %v: %s", kind, x, d)
				}
			}
		}
	}
}

// A run of two directions is healed too: the runs on both sides of the part may
// point to it, away from it, or along.
func TestHealDirections(t *testing.T) {
	for _, tt := range []struct {
		desc         string
		flipA, flipB bool
	}{
		{"along", false, false},
		{"both to the part", false, true},
		{"both away", true, false},
		{"against", true, true},
	} {
		s := newSheet(t)
		s.part("p1", "tank", 0, 0)
		s.part("v", "valve", 50, 0)
		s.part("p2", "tank", 100, 0)
		put := func(id model.ID, flip bool, from model.ID, fp string, to model.ID, tp string, rise float64) {
			r := &model.Run{ID: id, From: model.End{Part: from, Port: fp}, To: model.End{Part: to, Port: tp}, Stretches: []model.Stretch{stretch(5, rise)}}
			if flip {
				r = reversed(r)
			}
			s.put(r)
		}
		put("ra", tt.flipA, "p1", "outlet", "v", "a", 1)
		put("rb", tt.flipB, "v", "b", "p2", "return", 2)
		s.apply(s.doc.Drawing().Delete([]model.ID{"v"}), nil)
		c := s.doc.Circuit()
		if len(c.Runs()) != 1 {
			t.Fatalf("%s: %d runs", tt.desc, len(c.Runs()))
		}
		r := c.Runs()[0]
		l, h := sums(r.Stretches)
		if r.From.Part == "p2" {
			h = -h
		}
		if math.Abs(l-10) > tolerance || math.Abs(h-3) > tolerance {
			t.Errorf("%s: from %s, %v m with a rise of %v m", tt.desc, r.From.Part, l, h)
		}
	}
}

func TestDelete(t *testing.T) {
	build := func() *sheet {
		s := newSheet(t)
		s.part("t1", "tank", 0, 0)
		s.part("p1", "pump", 50, 50)
		s.part("v1", "valve", 100, 50)
		s.part("v2", "valve", 150, 50)
		s.part("t2", "tank", 220, 50)
		s.run("r1", "t1", "outlet", "p1", "a", sized(dn50))
		s.run("r2", "p1", "b", "v1", "a", sized(dn40), stretched([2]float64{1, 0}))
		s.run("r3", "v1", "b", "v2", "a", sized(dn40), stretched([2]float64{2, 0}))
		s.run("r4", "v2", "b", "t2", "return", sized(dn40), stretched([2]float64{4, 0}))
		s.step("s1", func(st *model.Step) {
			st.Source, st.Destination = "t1", "t2"
			st.Cleans = []model.ID{"t2"}
			st.Running = []model.ID{"p1"}
			st.Positions = map[model.ID]string{"v1": "open", "v2": "open"}
		})
		return s
	}
	tests := []struct {
		desc    string
		ids     []model.ID
		parts   int
		runs    string
		lengths float64
	}{
		{"a valve between runs of one size", []model.ID{"v1"}, 4, "r1 r2 r4", 7},
		{"two valves in a row, with the run between them", []model.ID{"v1", "r3", "v2"}, 3, "r1 r2", 7},
		{"a pump between runs of two sizes", []model.ID{"p1"}, 4, "r3 r4", 6},
		{"a tank", []model.ID{"t2"}, 4, "r1 r2 r3", 3},
		{"a run alone", []model.ID{"r3"}, 5, "r1 r2 r4", 5},
		{"what is not there", []model.ID{"x"}, 5, "r1 r2 r3 r4", 7},
		{"all", []model.ID{"t1", "p1", "v1", "v2", "t2"}, 0, "", 0},
	}
	for _, tt := range tests {
		s := build()
		s.apply(s.doc.Drawing().Delete(tt.ids), nil)
		c := s.doc.Circuit()
		var ids []string
		length := 0.0
		for _, r := range c.Runs() {
			ids = append(ids, string(r.ID))
			length += float64(r.Length().Or(0))
		}
		if len(c.Parts()) != tt.parts || strings.Join(ids, " ") != tt.runs || math.Abs(length-tt.lengths) > tolerance {
			t.Errorf("%s: %d parts, runs %v of %v m; want %d, %s of %v m", tt.desc, len(c.Parts()), ids, length, tt.parts, tt.runs, tt.lengths)
		}
	}
}

func TestDeleteTeeKeepsTheMain(t *testing.T) {
	s := straight(t)
	s.part("p3", "tank", 50, 80)
	e := s.apply(s.doc.Drawing().Connect(OnPort("p3", "spray"), OnRun("r1", pt(50, 0)), nil))
	var tee, branch model.ID
	for _, id := range Added(e) {
		switch r := s.doc.Circuit().Record(id).(type) {
		case *model.Fitting:
			tee = id
		case *model.Run:
			if r.To.Part == "p3" {
				branch = id
			}
		}
	}
	// Without its branch the tee stays, a dead end for the checks to find.
	s.apply(s.doc.Drawing().Delete([]model.ID{branch}), nil)
	if s.doc.Circuit().Part(tee) == nil {
		t.Error("the tee went with its branch")
	}
	s.doc.Undo()
	s.apply(s.doc.Drawing().Delete([]model.ID{tee}), nil)
	c := s.doc.Circuit()
	if len(c.Runs()) != 1 || c.Run("r1") == nil || math.Abs(float64(c.Run("r1").Length().Or(0))-10) > tolerance {
		t.Errorf("after the tee is gone: %d runs", len(c.Runs()))
	}
}

func TestMoveTurnMirror(t *testing.T) {
	build := func() *sheet {
		s := newSheet(t)
		s.part("p1", "pump", 0, 0)
		s.part("p2", "pump", 100, 50)
		s.part("p3", "pump", 200, 0)
		s.run("r1", "p1", "b", "p2", "a", bent(pt(50, 0), pt(50, 50)))
		s.run("r2", "p2", "b", "p3", "a", bent(pt(150, 50)))
		s.put(&model.Run{ID: "r3", From: model.End{Part: "p1", Port: "a"}, To: LooseAt(pt(-50, 0)).end()})
		return s
	}
	both := []model.ID{"p1", "p2"}

	s := build()
	e := s.apply(s.doc.Drawing().Move(both, pt(10, 5)), nil)
	c := s.doc.Circuit()
	if c.Part("p2").Meta().At != pt(110, 55) || !slices.Equal(c.Run("r1").Bends, []model.Point{pt(60, 5), pt(60, 55)}) {
		t.Errorf("the run inside did not move along: %v", c.Run("r1").Bends)
	}
	if !slices.Equal(c.Run("r2").Bends, []model.Point{pt(150, 50)}) {
		t.Errorf("the bend of a run that is fixed at one end moved: %v", c.Run("r2").Bends)
	}
	if *c.Run("r3").To.At != pt(-40, 5) {
		t.Errorf("the loose end stayed: %v", *c.Run("r3").To.At)
	}
	if e.Label != "move 2 parts" {
		t.Errorf("label %q", e.Label)
	}
	if e := s.doc.Drawing().Move(both, pt(0, 0)); !e.Empty() {
		t.Error("a move by nothing is an edit")
	}

	s = build()
	s.apply(s.doc.Drawing().Turn(both, 1), nil)
	c = s.doc.Circuit()
	// About (50, 25): (0, 0) goes to (75, -25), (100, 50) to (25, 75).
	if a, b := c.Part("p1").Meta(), c.Part("p2").Meta(); a.At != pt(75, -25) || b.At != pt(25, 75) || a.Turn != 1 || b.Turn != 1 {
		t.Errorf("turned to %v and %v", a.At, b.At)
	}
	if !slices.Equal(c.Run("r1").Bends, []model.Point{pt(75, 25), pt(25, 25)}) {
		t.Errorf("bends turned to %v", c.Run("r1").Bends)
	}
	for range 3 {
		s.apply(s.doc.Drawing().Turn(both, 1), nil)
	}
	if d := difference(build().doc.Circuit(), s.doc.Circuit()); d != "" {
		t.Errorf("four turns do not lead back: %s", d)
	}

	s = build()
	s.apply(s.doc.Drawing().Turn([]model.ID{"p1"}, 1), nil)
	port, _ := s.doc.cat.Kind("pump").Port("b")
	before, _ := port.PortAt(s.doc.Circuit().Part("p1").Meta())
	s.apply(s.doc.Drawing().Mirror([]model.ID{"p1"}), nil)
	after, _ := port.PortAt(s.doc.Circuit().Part("p1").Meta())
	if after != pt(-before.X, before.Y) {
		t.Errorf("mirrored about x = 0, the outlet went from %v to %v", before, after)
	}
	s.apply(s.doc.Drawing().Mirror([]model.ID{"p1"}), nil)
	s.apply(s.doc.Drawing().Mirror(both), nil)
	s.apply(s.doc.Drawing().Mirror(both), nil)
	s.apply(s.doc.Drawing().Turn([]model.ID{"p1"}, -1), nil)
	if d := difference(build().doc.Circuit(), s.doc.Circuit()); d != "" {
		t.Errorf("mirrored twice is not the same: %s", d)
	}
}

func TestBends(t *testing.T) {
	s := newSheet(t)
	s.part("p1", "pump", 0, 0)
	s.part("p2", "pump", 200, 100)
	s.run("r1", "p1", "b", "p2", "a", bent(pt(100, 0), pt(100, 100)))
	d := func() *Drawing { return s.doc.Drawing() }
	bends := func() []model.Point { return s.doc.Circuit().Run("r1").Bends }

	s.apply(d().AddBend("r1", pt(100, 50)))
	if !slices.Equal(bends(), []model.Point{pt(100, 0), pt(100, 50), pt(100, 100)}) {
		t.Errorf("bends %v", bends())
	}
	s.apply(d().MoveBend("r1", 1, pt(120, 50)))
	if bends()[1] != pt(120, 50) {
		t.Errorf("bends %v", bends())
	}
	s.apply(d().RemoveBend("r1", 1))
	if !slices.Equal(bends(), []model.Point{pt(100, 0), pt(100, 100)}) {
		t.Errorf("bends %v", bends())
	}
	s.apply(d().SlidePiece("r1", 1, pt(-40, 7)))
	if !slices.Equal(bends(), []model.Point{pt(60, 0), pt(60, 100)}) {
		t.Errorf("slid to %v", bends())
	}
	// The first piece is held by the port: a lead stays there.
	s.apply(d().SlidePiece("r1", 0, pt(0, 20)))
	if line := d().Line(s.doc.Circuit().Run("r1")); line[0] != pt(5, 0) || !slices.Contains(line, pt(60, 20)) || !slices.Contains(line, pt(10, 20)) {
		t.Errorf("line %v", line)
	}
	s.apply(d().Straighten([]model.ID{"r1"}), nil)
	if len(bends()) != 0 {
		t.Errorf("bends %v", bends())
	}
	for _, err := range []error{second(d().MoveBend("r1", 0, pt(0, 0))), second(d().RemoveBend("r1", 0)), second(d().SlidePiece("r1", 9, pt(0, 5))), second(d().AddBend("x", pt(0, 0)))} {
		if err == nil {
			t.Error("a bend that is not there was edited")
		}
	}
}

func second(_ model.Edit, err error) error { return err }

func TestSetProperty(t *testing.T) {
	s := newSheet(t)
	s.part("t1", "tank", 0, 0, tagged("T-101"))
	s.part("t2", "tank", 100, 0, tagged("T-102"))
	s.part("v1", "valve", 50, 50)
	s.put(&model.Run{ID: "r1", From: LooseAt(pt(0, 0)).end(), To: LooseAt(pt(50, 0)).end()})
	s.step("s1", func(*model.Step) {})
	tests := []struct {
		ids       string
		key, text string
		system    quantity.System
		want      string // as read back, or
		err       string
	}{
		{"t1 t2", "diameter_m", "1.6", quantity.Metric, "1.6", ""},
		{"t1", "diameter_m", "6.5 ft", quantity.Metric, "1.9812", ""}, // 1 ft = 0.3048 m by definition
		{"t1", "diameter_m", "0.1", quantity.Metric, "", "Diameter: must be at least 0.2 m"},
		{"t1", "diameter_m", "100", quantity.US, "", "Diameter: must be at most 32.8 ft"}, // 10 m / 0.3048 m
		{"t1", "diameter_m", "wide", quantity.Metric, "", "number"},
		{"t1", "diameter_m", "", quantity.Metric, "", ""},
		{"t1", "level_m", "-1", quantity.Metric, "", "Level: expected 0 m or more"},
		{"t1", "elevation_m", "-2.5", quantity.Metric, "-2.5", ""},
		{"t1", "size", "S DN50", quantity.Metric, "S DN50", ""},
		{"t1", "size", "S DN51", quantity.Metric, "", "no tube table"},
		{"t1", "bottom", "round", quantity.Metric, "", "one of flat"},
		{"t1", "speed", "1", quantity.Metric, "", "a tank has no property speed"},
		{"v1", "normal", "open", quantity.Metric, "open", ""},
		{"v1", "normal", "ajar", quantity.Metric, "", "one of closed, open"},
		{"r1", "size", "S DN40", quantity.Metric, "S DN40", ""},
		{"r1", "elbows", "3", quantity.Metric, "3", ""},
		{"r1", "elbows", "-3", quantity.Metric, "", "whole number"},
		{"r1", "note", " to be welded ", quantity.Metric, "to be welded", ""},
		{"s1", "flow_m3h", "12", quantity.Metric, "12", ""},
		{"s1", "strength_pct", "400", quantity.Metric, "", "Strength: expected a value from 0 % to 100 %"},
		{"s1", "name", "Rinse", quantity.Metric, "Rinse", ""},
		{"circuit", "plant", "Oat house", quantity.Metric, "Oat house", ""},
		{"t1", "tag", "T-105", quantity.Metric, "T-105", ""},
		{"t1", "tag", "T-102", quantity.Metric, "", "the tank has the tag T-102 already"},
		{"t1 t2", "tag", "T-9", quantity.Metric, "", "one thing at a time"},
	}
	for _, tt := range tests {
		var ids []model.ID
		for _, id := range strings.Fields(tt.ids) {
			ids = append(ids, model.ID(id))
		}
		e, err := s.doc.Drawing().SetProperty(ids, tt.key, tt.text, tt.system)
		var pe *PropertyError
		if tt.err != "" {
			if !errors.As(err, &pe) || !strings.Contains(err.Error(), tt.err) || pe.Key != tt.key {
				t.Errorf("%s = %q: error %v, want %q", tt.key, tt.text, err, tt.err)
			}
			continue
		}
		s.apply(e, err)
		for _, id := range ids {
			if got := s.doc.Drawing().Text(id, tt.key, quantity.Metric); got != tt.want {
				t.Errorf("%s of %s = %q: reads back as %q", tt.key, id, tt.text, got)
			}
		}
	}
}

func TestReplaceKind(t *testing.T) {
	s := straight(t)
	e := s.apply(s.doc.Drawing().PlaceOnRun("concentric", "r1", Pose{At: pt(50, 0)}))
	id := Added(e)[0]
	s.apply(s.doc.Drawing().SetProperty([]model.ID{id}, "second_size", string(dn40), quantity.Metric))
	runs := slices.Clone(s.doc.Circuit().Runs())
	s.apply(s.doc.Drawing().ReplaceKind(id, "eccentric"))
	f := s.doc.Circuit().Part(id).(*model.Fitting)
	if f.Kind != "eccentric" || f.SecondSize.Or("") != dn40 || f.Size.Or("") != dn50 || f.At != pt(50, 0) {
		t.Errorf("replaced %+v", f)
	}
	if !slices.Equal(runs, s.doc.Circuit().Runs()) {
		t.Error("the joints were not kept")
	}

	// Ports of other names at the same place in the line take the runs over.
	s.apply(s.doc.Drawing().ReplaceKind(id, "check-valve"))
	v := s.doc.Circuit().Part(id).(*model.Valve)
	if v.Size.Or("") != dn50 || s.doc.Circuit().Run("r1").To != (model.End{Part: id, Port: "in"}) {
		t.Errorf("valve %+v, run to %+v", v, s.doc.Circuit().Run("r1").To)
	}
	if _, err := s.doc.Drawing().ReplaceKind(id, "cap"); err == nil {
		t.Error("a cap took two runs")
	}
	var names []string
	for _, k := range s.doc.Drawing().Replaceable(id) {
		names = append(names, k.Name)
	}
	if got := strings.Join(names, " "); got != "pump valve divert tee concentric eccentric" {
		t.Errorf("replaceable by %s", got)
	}
}

// What a step says of a valve goes with the positions that the new kind lacks.
func TestReplaceKindFitsSteps(t *testing.T) {
	s := newSheet(t)
	s.part("v1", "valve", 0, 0, tagged("V-101"))
	s.step("s1", func(st *model.Step) { st.Positions = map[model.ID]string{"v1": "open"} })
	s.apply(s.doc.Drawing().ReplaceKind("v1", "divert"))
	v := s.doc.Circuit().Part("v1").(*model.Valve)
	if len(s.doc.Circuit().Step("s1").Positions) != 0 || v.Normal.Or("") != "to-a" || v.Tag != "V-101" {
		t.Errorf("valve %+v, step %+v", v, s.doc.Circuit().Step("s1"))
	}
}

func TestSteps(t *testing.T) {
	s := newSheet(t)
	s.part("v1", "valve", 0, 0)
	s.part("p1", "pump", 50, 0)
	s.part("t1", "tank", 100, 0)
	d := func() *Drawing { return s.doc.Drawing() }
	order := func() string {
		var out []string
		for i, st := range d().StepsOf("Main") {
			if st.Order != i+1 {
				t.Errorf("step %s has number %d at place %d", st.Name, st.Order, i+1)
			}
			out = append(out, st.Name)
		}
		return strings.Join(out, " ")
	}
	s.apply(d().AddStep("Main", "Rinse", 9))
	s.apply(d().AddStep("Main", "Wash", 9))
	s.apply(d().AddStep("Main", "Before", 0))
	if order() != "Before Rinse Wash" {
		t.Fatalf("steps %s", order())
	}
	rinse := d().StepsOf("Main")[1].ID
	s.apply(d().MoveStep(rinse, 2))
	if order() != "Before Wash Rinse" {
		t.Errorf("steps %s", order())
	}
	step := func() *model.Step { return s.doc.Circuit().Step(rinse) }

	s.apply(d().SetPosition(rinse, "v1", "open"))
	if p, ok := d().Position(step(), "v1"); p != "open" || !ok {
		t.Errorf("position %v %v", p, ok)
	}
	s.apply(d().DuplicateStep(rinse))
	if order() != "Before Wash Rinse Rinse" || d().StepsOf("Main")[3].Positions["v1"] != "open" {
		t.Errorf("duplicated to %s", order())
	}
	s.apply(d().SetPosition(rinse, "v1", "closed"))
	if p, ok := d().Position(step(), "v1"); p != "closed" || !ok || len(step().Positions) != 0 {
		t.Errorf("position %v %v, written %v", p, ok, step().Positions)
	}
	s.apply(d().SetRunning(rinse, "p1", true))
	s.apply(d().SetRunning(rinse, "p1", true))
	s.apply(d().SetCleans(rinse, "t1", true))
	s.apply(d().SetSource(rinse, "t1"))
	s.apply(d().SetDestination(rinse, "t1"))
	st := step()
	if !slices.Equal(st.Running, []model.ID{"p1"}) || !slices.Equal(st.Cleans, []model.ID{"t1"}) || st.Source != "t1" || st.Destination != "t1" {
		t.Errorf("step %+v", st)
	}
	s.apply(d().SetRunning(rinse, "p1", false))
	s.apply(d().SetSource(rinse, ""))
	if st := step(); len(st.Running) != 0 || st.Source != "" {
		t.Errorf("step %+v", st)
	}
	s.apply(d().RenameProgramme("Main", "Weekly"))
	if got := strings.Join(d().Programmes(), " "); got != "Weekly" {
		t.Errorf("programmes %s", got)
	}
	s.apply(d().DeleteStep(rinse))
	if step() != nil {
		t.Error("the step is still there")
	}
	for _, err := range []error{
		second(d().SetPosition(d().StepsOf("Weekly")[0].ID, "v1", "ajar")), second(d().SetPosition(d().StepsOf("Weekly")[0].ID, "p1", "open")),
		second(d().SetRunning(d().StepsOf("Weekly")[0].ID, "v1", true)), second(d().SetSource(d().StepsOf("Weekly")[0].ID, "nobody")),
		second(d().AddStep("Weekly", " ", 0)), second(d().DeleteStep("nobody")),
	} {
		if err == nil {
			t.Error("nonsense was accepted in a step")
		}
	}
}

func TestStretches(t *testing.T) {
	s := straight(t)
	d := func() *Drawing { return s.doc.Drawing() }
	s.apply(d().AddStretch("r1", 1))
	s.apply(d().SetStretch("r1", 1, "length_m", "3 ft", quantity.Metric))
	s.apply(d().SetStretch("r1", 1, "rise_m", "-0,5", quantity.Metric))
	r := s.doc.Circuit().Run("r1")
	if !sameStretches(r.Stretches, []model.Stretch{stretch(10, 1), stretch(0.9144, -0.5)}) { // 3 ft = 0.9144 m by definition
		t.Errorf("stretches %v", r.Stretches)
	}
	if got := StretchText(r.Stretches[1], "length_m", quantity.US); got != "3" {
		t.Errorf("reads back as %q ft", got)
	}
	if _, err := d().SetStretch("r1", 1, "length_m", "-1", quantity.Metric); err == nil {
		t.Error("a pipe of negative length was accepted")
	}
	s.apply(d().SetStretch("r1", 1, "rise_m", "", quantity.Metric))
	if s.doc.Circuit().Run("r1").Rise().Known() {
		t.Error("the rise is known although one of its pieces is not")
	}
	s.apply(d().RemoveStretch("r1", 0))
	s.apply(d().RemoveStretch("r1", 0))
	if s.doc.Circuit().Run("r1").Stretches != nil {
		t.Error("there are stretches left")
	}
}
