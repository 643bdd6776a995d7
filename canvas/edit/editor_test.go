package edit

import (
	"slices"
	"strings"
	"testing"

	"rinsewright/model"
)

// script is what a hand does, one event a line, each with the state after it:
//
//	press 0,0 > select.pointing
//	move 30,10 alt > select.moving
//	key escape > select.idle
func play(t *testing.T, e *Editor, script string) {
	t.Helper()
	for _, line := range strings.Split(strings.TrimSpace(script), "\n") {
		what, want, _ := strings.Cut(line, ">")
		e.Handle(event(t, what, e.pointer.At))
		if got := e.State(); got != strings.TrimSpace(want) {
			t.Fatalf("%s: in state %s", strings.TrimSpace(line), got)
		}
	}
}

func event(t *testing.T, line string, last model.Point) Event {
	t.Helper()
	words := strings.Fields(line)
	kinds := map[string]EventKind{"press": Press, "move": Move, "release": Release, "double": DoubleClick, "cancel": Cancel, "leave": Leave, "key": Key}
	kind, ok := kinds[words[0]]
	if !ok {
		t.Fatalf("no event %q", words[0])
	}
	ev := Event{Kind: kind, At: last, Tolerance: 1.5}
	for _, w := range words[1:] {
		switch w {
		case "shift":
			ev.Modifiers.Shift = true
		case "ctrl":
			ev.Modifiers.Ctrl = true
		case "alt":
			ev.Modifiers.Alt = true
		case "middle":
			ev.Button = Middle
		case "secondary":
			ev.Button = Secondary
		default:
			if x, y, ok := strings.Cut(w, ","); ok {
				ev.At = pt(number(t, x), number(t, y))
			} else {
				ev.Key = w
			}
		}
	}
	return ev
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	var v, sign float64 = 0, 1
	s, neg := strings.CutPrefix(s, "-")
	if neg {
		sign = -1
	}
	whole, frac, _ := strings.Cut(s, ".")
	for _, r := range whole {
		v = 10*v + float64(r-'0')
	}
	scale := 0.1
	for _, r := range frac {
		v += scale * float64(r-'0')
		scale /= 10
	}
	return sign * v
}

// bench is a small circuit: two pumps in a row with a run, a tank below, a valve
// apart.
func bench(t *testing.T) (*Editor, *Document) {
	s := newSheet(t)
	s.part("p1", "pump", 0, 0, tagged("P-101"))
	s.part("p2", "pump", 100, 0, tagged("P-102"))
	s.part("t1", "tank", 50, 60, tagged("T-101"))
	s.part("v1", "valve", 200, 0, tagged("V-101"))
	s.run("r1", "p1", "b", "p2", "a", sized(dn50), stretched([2]float64{9, 0}))
	doc := NewDocument(s.doc.Circuit(), s.doc.cat)
	return NewEditor(doc), doc
}

func TestSelectTool(t *testing.T) {
	tests := []struct {
		desc   string
		script string
		want   string // what is selected
		undo   string
	}{
		{"a click selects", "press 0,2 > select.pointing\n release 0,2 > select.idle", "p1", ""},
		{"a shaky click is a click", "press 0,2 > select.pointing\n move 1,2 > select.pointing\n release 1,2 > select.idle", "p1", ""},
		{"a click beside deselects", "press 0,2 > select.pointing\n release 0,2 > select.idle\n press 0,-50 > select.pointing\n release 0,-50 > select.idle", "", ""},
		{"shift adds", "press 0,2 > select.pointing\n release 0,2 > select.idle\n press 100,2 shift > select.pointing\n release 100,2 > select.idle", "p1 p2", ""},
		{"ctrl takes away", "press 0,2 > select.pointing\n release 0,2 > select.idle\n press 0,2 ctrl > select.pointing\n release 0,2 > select.idle", "", ""},
		{"a click on one of several leaves it alone", "key a > select.idle\n press -20,-20 > select.pointing\n move 120,20 > select.band\n release 120,20 > select.idle\n press 0,2 > select.pointing\n release 0,2 > select.idle", "p1", ""},
		{"a band takes what lies wholly in it", "press -20,-20 > select.pointing\n move 60,20 > select.band\n move 120,20 > select.band\n release 120,20 > select.idle", "p1 p2 r1", ""},
		{"a band with shift adds", "press 200,2 > select.pointing\n release 200,2 > select.idle\n press -20,-20 shift > select.pointing\n move 20,20 shift > select.band\n release 20,20 shift > select.idle", "v1 p1", ""},
		{"a band is cancelled", "press 200,2 > select.pointing\n release 200,2 > select.idle\n press -20,-20 > select.pointing\n move 20,20 > select.band\n key escape > select.idle", "v1", ""},
		{"a drag moves once", "press 0,2 > select.pointing\n move 10,2 > select.moving\n move 20,12 > select.moving\n release 21,13 > select.idle", "p1", "Undo move P-101"},
		{"a drag that comes back does nothing", "press 0,2 > select.pointing\n move 10,2 > select.moving\n release 0.5,2 > select.idle", "p1", ""},
		{"escape cancels a move", "press 0,2 > select.pointing\n move 10,2 > select.moving\n key escape > select.idle\n release 10,2 > select.idle", "p1", ""},
		{"a drag of one of several moves all", "press -20,-20 > select.pointing\n move 120,20 > select.band\n release 120,20 > select.idle\n press 100,2 > select.pointing\n move 100,30 > select.moving\n release 100,30 > select.idle", "p1 p2 r1", "Undo move 2 parts"},
		{"a run is clicked", "press 50,0.5 > select.pointing\n release 50,0.5 > select.idle", "r1", ""},
		{"a run is pulled aside", "press 50,0.5 > select.pointing\n move 50,20 > select.bend\n release 50,20 > select.idle", "r1", "Undo move a piece of run"},
		{"a run is bent", "double 50,0.5 > select.idle", "", "Undo bend run"},
		{"the end of a selected run is taken off", "press 50,0 > select.pointing\n release 50,0 > select.idle\n press 95,0 > select.pointing\n move 90,30 > select.bend\n release 90,30 > select.idle", "r1", "Undo move the end of run"},
		{"an end is taken to another port", "press 50,0 > select.pointing\n release 50,0 > select.idle\n press 95,0 > select.pointing\n move 190,30 > select.bend\n move 195,1 > select.bend\n release 195,1 > select.idle", "r1", "Undo reconnect run"},
		{"keys", "press 0,2 > select.pointing\n release 0,2 > select.idle\n key right > select.idle\n key r > select.idle\n key escape > select.idle", "", "Undo turn P-101"},
		{"delete", "press 200,2 > select.pointing\n release 200,2 > select.idle\n key delete > select.idle", "", "Undo delete V-101"},
		{"the other button selects", "press 200,2 secondary > select.idle\n release 200,2 > select.idle", "v1", ""},
		{"cancel while pointing", "press 0,2 > select.pointing\n cancel > select.idle", "p1", ""},
		{"leave", "move 0,2 > select.idle\n leave > select.idle", "", ""},
	}
	for _, tt := range tests {
		t.Run(tt.desc, func(t *testing.T) {
			e, doc := bench(t)
			first := doc.Circuit()
			play(t, e, tt.script)
			if got := joined(doc.Selection()); got != tt.want {
				t.Errorf("selected %q, want %q", got, tt.want)
			}
			undo := doc.UndoLabel()
			if undo == "Undo" {
				undo = ""
			}
			if undo != tt.undo {
				t.Errorf("history %q, want %q", undo, tt.undo)
			}
			if tt.undo == "" && difference(first, doc.Circuit()) != "" {
				t.Error("the circuit has changed")
			}
			if len(e.Preview().Changes) > 0 || e.Circuit() != doc.Circuit() || e.Busy() {
				t.Error("a preview is left over")
			}
			sound(t, doc.Circuit(), doc.cat)
		})
	}
}

func joined(ids []model.ID) string {
	var out []string
	for _, id := range ids {
		out = append(out, string(id))
	}
	return strings.Join(out, " ")
}

func TestMoveShowsAPreview(t *testing.T) {
	e, doc := bench(t)
	play(t, e, "press 1,2 > select.pointing\n move 31,13 > select.moving")
	if at := e.Circuit().Part("p1").Meta().At; at != pt(30, 10) {
		t.Errorf("preview at %v, want (30, 10), the nearest point of the grid", at)
	}
	if doc.CanUndo() || doc.Circuit().Part("p1").Meta().At != pt(0, 0) {
		t.Error("the preview is in the document")
	}
	play(t, e, "move 31,13.7 alt > select.moving")
	if at := e.Circuit().Part("p1").Meta().At; distance(at, pt(30, 11.7)) > 1e-9 {
		t.Errorf("with Alt at %v", at)
	}
	play(t, e, "move 1,12 > select.moving\n release 1,2 > select.idle")
	if doc.CanUndo() {
		t.Error("a move to where it was is a step of the history")
	}
}

// A part that does not lie on the grid comes to lie on it when it is moved.
func TestMoveComesToTheGrid(t *testing.T) {
	e, doc := bench(t)
	doc.Apply(doc.Drawing().Move([]model.ID{"v1"}, pt(1.1, 0.7)))
	play(t, e, "press 201,2 > select.pointing\n move 221,2 > select.moving\n release 221,2 > select.idle")
	if at := doc.Circuit().Part("v1").Meta().At; at != pt(220, 0) && at != pt(222.5, 0) {
		t.Errorf("at %v", at)
	}
}

func TestGuides(t *testing.T) {
	e, _ := bench(t)
	// The valve's left port faces the outlet of the second pump.
	play(t, e, "press 200,2 > select.pointing\n move 201,22 > select.moving")
	if g := e.Overlay().Guides; len(g) != 0 {
		t.Errorf("guides %v out of line", g)
	}
	play(t, e, "move 210,2 > select.moving")
	if g := e.Overlay().Guides; !slices.Equal(g, []Guide{{pt(205, 0), pt(105, 0)}}) {
		t.Errorf("guides %v", g)
	}
}

func TestRunTool(t *testing.T) {
	tests := []struct {
		desc        string
		tool        func(*Editor)
		script      string
		parts, runs int
		undo        string
	}{
		{"from port to port by dragging, without changing the tool", (*Editor).UseSelect,
			"press 105,0 > select.pointing\n move 120,0 > run.dragging\n move 195,1 > run.dragging\n release 195,1 > select.idle", 4, 2, "Undo connect P-102 to V-101"},
		{"a click on a port selects its part", (*Editor).UseSelect,
			"press 105,0 > select.pointing\n release 105,0 > select.idle", 4, 1, "Undo"},
		{"onto a run by dragging makes a tee", (*Editor).UseSelect,
			"press 50,40 > select.pointing\n move 50,30 > run.dragging\n move 50,1 > run.dragging\n release 50,1 > select.idle", 5, 4 - 1, "Undo connect T-101 to run"},
		{"into the blue by dragging ends loose", (*Editor).UseSelect,
			"press 105,0 > select.pointing\n move 150,30 > run.dragging\n release 150,30 > select.idle", 4, 2, "Undo draw a run at P-102"},
		{"escape", (*Editor).UseSelect,
			"press 105,0 > select.pointing\n move 150,30 > run.dragging\n key escape > select.idle\n release 150,30 > select.idle", 4, 1, "Undo"},
		{"by clicks with bends", (*Editor).UseRun,
			"move 105,0 > run.idle\n press 105,0 > run.dragging\n release 105,0 > run.routing\n move 150,0 > run.routing\n press 150,0 > run.routing\n release 150,0 > run.routing\n move 150,30 > run.routing\n press 150,30 > run.routing\n release 150,30 > run.routing\n move 195,0 > run.routing\n press 195,0 > run.idle\n release 195,0 > run.idle", 4, 2, "Undo connect P-102 to V-101"},
		{"by dragging in the run tool", (*Editor).UseRun,
			"press 105,0 > run.dragging\n move 195,0 > run.dragging\n release 195,0 > run.idle", 4, 2, "Undo connect P-102 to V-101"},
		{"double click ends loose", (*Editor).UseRun,
			"press 105,0 > run.dragging\n release 105,0 > run.routing\n move 150,30 > run.routing\n press 150,30 > run.routing\n release 150,30 > run.routing\n press 150,30 > run.routing\n release 150,30 > run.routing\n double 150,30 > run.idle", 4, 2, "Undo draw a run at P-102"},
		{"enter ends loose", (*Editor).UseRun,
			"press 105,0 > run.dragging\n release 105,0 > run.routing\n move 150,30 > run.routing\n key enter > run.idle", 4, 2, "Undo draw a run at P-102"},
		{"backspace takes a bend back", (*Editor).UseRun,
			"press 105,0 > run.dragging\n release 105,0 > run.routing\n move 150,30 > run.routing\n press 150,30 > run.routing\n release 150,30 > run.routing\n key backspace > run.routing\n move 195,0 > run.routing\n press 195,0 > run.idle", 4, 2, "Undo connect P-102 to V-101"},
		{"escape leaves the run, then the tool", (*Editor).UseRun,
			"press 105,0 > run.dragging\n release 105,0 > run.routing\n key escape > run.idle\n key escape > select.idle", 4, 1, "Undo"},
		{"from run to run is a branch with two tees", (*Editor).UseRun,
			"press 30,0 > run.dragging\n release 30,0 > run.routing\n move 30,-30 > run.routing\n press 30,-30 > run.routing\n release 30,-30 > run.routing\n move 70,-30 > run.routing\n press 70,-30 > run.routing\n release 70,-30 > run.routing\n move 70,0 > run.routing\n press 70,0 > run.idle", 6, 4, "Undo connect run to run"},
		{"loose at both ends", (*Editor).UseRun,
			"press 0,100 > run.dragging\n release 0,100 > run.routing\n move 100,100 > run.routing\n key enter > run.idle", 4, 2, "Undo draw a run"},
		{"a click and enter is no run", (*Editor).UseRun,
			"press 0,100 > run.dragging\n release 0,100 > run.routing\n key enter > run.idle", 4, 1, "Undo"},
		{"the middle button pulls the drawing meanwhile", (*Editor).UseRun,
			"press 105,0 > run.dragging\n release 105,0 > run.routing\n press 150,0 middle > pan.dragging\n move 160,0 > pan.dragging\n release 160,0 middle > run.routing\n move 195,0 > run.routing\n press 195,0 > run.idle", 4, 2, "Undo connect P-102 to V-101"},
		{"the other button cancels", (*Editor).UseRun,
			"press 105,0 > run.dragging\n release 105,0 > run.routing\n press 150,0 secondary > run.idle", 4, 1, "Undo"},
	}
	for _, tt := range tests {
		t.Run(tt.desc, func(t *testing.T) {
			e, doc := bench(t)
			tt.tool(e)
			play(t, e, tt.script)
			c := doc.Circuit()
			if len(c.Parts()) != tt.parts || len(c.Runs()) != tt.runs || doc.UndoLabel() != tt.undo {
				t.Errorf("%d parts, %d runs, %q (%s)", len(c.Parts()), len(c.Runs()), doc.UndoLabel(), e.Message())
			}
			if e.Busy() || e.Circuit() != c {
				t.Error("a gesture is left over")
			}
			sound(t, c, doc.cat)
		})
	}
}

func TestRunToolTellsItsTarget(t *testing.T) {
	e, _ := bench(t)
	e.UseRun()
	play(t, e, "press 105,0 > run.dragging\n release 105,0 > run.routing\n move 150,20 > run.routing")
	o := e.Overlay()
	if o.Target != nil || o.Tee || len(o.Line) < 2 || o.Line[0] != pt(105, 0) || o.Line[len(o.Line)-1] != pt(150, 20) {
		t.Errorf("over nothing: %+v", o)
	}
	play(t, e, "move 196,0.5 > run.routing")
	if o := e.Overlay(); o.Target == nil || o.Target.Kind != HitPort || o.Target.ID != "v1" || o.Target.Port != "a" || o.Line[len(o.Line)-1] != pt(195, 0) {
		t.Errorf("over a port: %+v", o)
	}
	play(t, e, "move 51,0.5 > run.routing")
	if o := e.Overlay(); o.Target == nil || o.Target.ID != "r1" || !o.Tee || o.Target.At != pt(50, 0) {
		t.Errorf("over a run: %+v", o)
	}
}

func TestPlaceTool(t *testing.T) {
	free := func(e *Editor) { e.UsePlace("valve") }
	drag := func(e *Editor) { e.DragPlace("valve") }
	tank := func(e *Editor) { e.UsePlace("tank") }
	tests := []struct {
		desc        string
		tool        func(*Editor)
		script      string
		parts, runs int
		undo        string
	}{
		{"a click places", free, "move 20,100 > place.idle\n press 20,100 > place.dragging\n release 20,100 > select.idle", 5, 1, "Undo place V-102"},
		{"a click on a run puts it in", free, "move 40,1 > place.idle\n press 40,1 > place.dragging\n release 40,1 > select.idle", 5, 2, "Undo place V-102 in run"},
		{"what cannot stand in a run lies beside it", tank, "press 40,1 > place.dragging\n release 40,1 > select.idle", 5, 1, "Undo place T-102"},
		{"shift goes on", free, "press 20,100 > place.dragging\n release 20,100 shift > place.idle\n press 40,100 > place.dragging\n release 40,100 > select.idle", 6, 1, "Undo place V-103"},
		{"escape", free, "move 20,100 > place.idle\n key escape > select.idle", 4, 1, "Undo"},
		{"the other button leaves", free, "move 20,100 > place.idle\n press 20,100 secondary > select.idle", 4, 1, "Undo"},
		{"dragged in", drag, "move 20,100 > place.dragging\n move 30,100 > place.dragging\n release 30,100 > select.idle", 5, 1, "Undo place V-102"},
		{"dragged in and out", drag, "move 20,100 > place.dragging\n leave > place.dragging\n cancel > select.idle", 4, 1, "Undo"},
		{"turned on the way", free, "move 20,100 > place.idle\n key r > place.idle\n press 20,100 > place.dragging\n key m > place.dragging\n release 20,100 > select.idle", 5, 1, "Undo place V-102"},
	}
	for _, tt := range tests {
		t.Run(tt.desc, func(t *testing.T) {
			e, doc := bench(t)
			tt.tool(e)
			play(t, e, tt.script)
			c := doc.Circuit()
			if len(c.Parts()) != tt.parts || len(c.Runs()) != tt.runs || doc.UndoLabel() != tt.undo {
				t.Errorf("%d parts, %d runs, %q (%s)", len(c.Parts()), len(c.Runs()), doc.UndoLabel(), e.Message())
			}
			if e.Circuit() != c {
				t.Error("a preview is left over")
			}
			if tt.parts == 5 && len(doc.Selection()) != 1 {
				t.Errorf("selected %v, want the new part", doc.Selection())
			}
			sound(t, c, doc.cat)
		})
	}
}

func TestPlaceToolShowsThePart(t *testing.T) {
	e, doc := bench(t)
	e.UsePlace("valve")
	if r := e.Handle(event(t, "move 21,99", pt(0, 0))); r != RedrawAll || len(e.Circuit().Parts()) != 5 || len(doc.Circuit().Parts()) != 4 {
		t.Errorf("redraw %v, %d parts shown, %d there", r, len(e.Circuit().Parts()), len(doc.Circuit().Parts()))
	}
	play(t, e, "leave > place.idle")
	if len(e.Circuit().Parts()) != 4 {
		t.Error("the part is shown while the pointer is away")
	}
}

func TestPanTool(t *testing.T) {
	e, doc := bench(t)
	var pulled []model.Point
	e.OnPan = func(from, to model.Point) { pulled = append(pulled, to.Sub(from)) }
	e.UsePan()
	play(t, e, "press 0,0 > pan.dragging\n move 10,5 > pan.dragging\n release 10,5 > pan.idle\n key escape > select.idle\n press 0,50 middle > pan.dragging\n move 0,60 > pan.dragging\n release 0,60 middle > select.idle")
	if !slices.Equal(pulled, []model.Point{pt(10, 5), pt(0, 10)}) || doc.CanUndo() {
		t.Errorf("pulled by %v", pulled)
	}
}

// An edit from elsewhere ends a gesture without effect.
func TestEditFromElsewhere(t *testing.T) {
	e, doc := bench(t)
	play(t, e, "press 0,2 > select.pointing\n move 30,12 > select.moving")
	if !e.Busy() {
		t.Error("not busy while moving")
	}
	doc.Apply(doc.Drawing().Move([]model.ID{"t1"}, pt(5, 0)))
	if e.State() != "select.idle" || e.Circuit() != doc.Circuit() || e.Circuit().Part("p1").Meta().At != pt(0, 0) {
		t.Errorf("in state %s, pump at %v", e.State(), e.Circuit().Part("p1").Meta().At)
	}
}

func TestCallbacks(t *testing.T) {
	e, _ := bench(t)
	var opened []model.ID
	var menus []Hit
	e.OnOpen = func(id model.ID) { opened = append(opened, id) }
	e.OnMenu = func(h Hit) { menus = append(menus, h) }
	play(t, e, "double 0,2 > select.idle\n double 0,-100 > select.idle\n press 200,2 secondary > select.idle\n press 0,-100 secondary > select.idle")
	if !slices.Equal(opened, []model.ID{"p1"}) {
		t.Errorf("opened %v", opened)
	}
	if len(menus) != 2 || menus[0].ID != "v1" || menus[1].Kind != HitNothing {
		t.Errorf("menus %v", menus)
	}
}
