package edit

import (
	"strings"
	"testing"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// realSheet is a sheet with the kinds that the program carries.
func realSheet(t *testing.T) *sheet {
	t.Helper()
	s := newSheet(t)
	s.doc = NewDocument(model.New("nozzles"), catalogue.Builtin())
	return s
}

func (s *sheet) portAt(id model.ID, port string) model.Point {
	p := s.doc.Circuit().Part(id)
	q, _ := s.doc.cat.Kind(p.Meta().Kind).Port(port)
	at, _ := q.PortAt(p.Meta())
	return at
}

// What is dropped on a vessel takes the nozzle that is there for it: which one
// that is, is read off the titles of the vessel's nozzles.
func TestDropOnAVesselTakesItsNozzle(t *testing.T) {
	tests := []struct {
		vessel, kind string
		at           model.Point // from the middle of the vessel
		want         string      // nozzle; empty: none, the part lies free
	}{
		{"process-vessel", "spray-ball", pt(-10, -15), "spray"},
		{"process-vessel", "spray-ball", pt(10, -15), "spray2"},
		{"process-vessel", "rotary-jet-head", pt(15, -25), "spray2"}, // the vent is nearer
		{"acid-tank", "spray-ball", pt(15, -20), "spray"},
		{"process-vessel", "hatch", pt(0, 0), "nozzle"},
		{"process-vessel", "agitator", pt(-10, 0), "agitator"},
		{"water-tank", "agitator", pt(0, 0), "nozzle"},
		{"process-vessel", "vent", pt(0, 0), "vent"},
		{"process-vessel", "vacuum-relief-valve", pt(0, -20), "vent"},
		{"process-vessel", "level-high-switch", pt(0, 10), "high"},
		{"process-vessel", "level-low-switch", pt(0, -10), "low"},
		{"process-vessel", "level-transmitter", pt(0, -10), "level"},
		{"process-vessel", "butterfly-valve", pt(0, 0), ""},
		{"process-vessel", "pressure-gauge", pt(0, 0), ""},
	}
	for _, tt := range tests {
		s := realSheet(t)
		s.part("v", tt.vessel, 100, 100)
		e := NewEditor(s.doc)
		e.DragPlace(tt.kind)
		where := tt.at.Add(pt(100, 100))
		e.Handle(Event{Kind: Move, At: where, Tolerance: 2})
		tip := e.Overlay().Tip
		e.Handle(Event{Kind: Release, At: where, Tolerance: 2})
		var ends []string
		for _, r := range s.doc.Circuit().RunsAt("v") {
			end := r.From
			if end.Part != "v" {
				end = r.To
			}
			ends = append(ends, end.Port)
		}
		if got := strings.Join(ends, " "); got != tt.want {
			t.Errorf("%s on %s at %v: joined to %q, want %q", tt.kind, tt.vessel, tt.at, got, tt.want)
		}
		if named := tip != ""; named != (tt.want != "") {
			t.Errorf("%s on %s: the tip reads %q", tt.kind, tt.vessel, tip)
		}
	}
}

func TestATakenNozzleIsPassedOver(t *testing.T) {
	s := realSheet(t)
	s.part("v", "process-vessel", 100, 100)
	for range 3 {
		e := NewEditor(s.doc)
		e.DragPlace("spray-ball")
		e.Handle(Event{Kind: Release, At: pt(92.5, 77.5), Tolerance: 2})
	}
	used := map[string]int{}
	for _, r := range s.doc.Circuit().RunsAt("v") {
		for _, end := range []model.End{r.From, r.To} {
			if end.Part == "v" {
				used[end.Port]++
			}
		}
	}
	if used["spray"] != 1 || used["spray2"] != 1 {
		t.Errorf("three spray balls took %v", used)
	}
	if used["vent"] != 0 {
		t.Error("a spray ball sits on the vent")
	}
}

func TestAirAndLiquidAreKeptApart(t *testing.T) {
	s := realSheet(t)
	s.part("v", "process-vessel", 100, 100, tagged("T-103"))
	s.part("p", "centrifugal-pump", 0, 0, tagged("P-1"))
	s.part("w", "butterfly-valve", 0, 50, tagged("V-1"))
	if _, err := s.doc.Drawing().Connect(OnPort("p", "b"), OnPort("v", "vent"), nil); err == nil || err.Error() != "T-103 Vent takes air, no process liquid: P-1 Discharge does not belong on it" {
		t.Errorf("a pump on the vent: %v", err)
	}
	// A valve on a vent is allowed; it is said that no liquid passes.
	if _, err := s.doc.Drawing().Connect(OnPort("w", "b"), OnPort("v", "vent"), nil); err != nil {
		t.Errorf("a valve on the vent: %v", err)
	}
	if got := s.doc.Drawing().Caution(OnPort("w", "b").end(), OnPort("v", "vent").end()); got != "T-103 Vent takes air, no process liquid" {
		t.Errorf("caution %q", got)
	}
	if got := s.doc.Drawing().Caution(OnPort("p", "b").end(), OnPort("v", "return").end()); got != "" {
		t.Errorf("caution %q about a return", got)
	}
	s.apply(s.doc.Drawing().Connect(OnPort("p", "b"), OnPort("v", "return"), nil))
	run := s.doc.Circuit().Runs()[0].ID
	if _, err := s.doc.Drawing().Reconnect(run, false, OnPort("v", "vent")); err == nil {
		t.Error("the run of a pump was taken over to the vent")
	}
}

func TestPortsAreNamed(t *testing.T) {
	s := realSheet(t)
	s.part("v", "process-vessel", 100, 100, tagged("T-103"))
	s.part("w", "butterfly-valve", 0, 50, tagged("V-1"))
	s.part("h", "hatch", 0, 0, tagged("H-1"))
	s.run("r", "v", "outlet", "w", "a")
	d := s.doc.Drawing()
	for _, tt := range []struct{ part, port, want string }{
		{"v", "vent", "T-103 Vent, for air, free"},
		{"v", "spray2", "T-103 Second spray device, for liquid, inlet, free"},
		{"v", "outlet", "T-103 Outlet, for liquid, outlet, joined"},
		{"w", "a", "V-1 port a, for liquid, joined"},
		{"h", "a", "H-1, for liquid, free"},
	} {
		if got := d.TellPort(model.ID(tt.part), tt.port); got != tt.want {
			t.Errorf("%s %s reads %q, want %q", tt.part, tt.port, got, tt.want)
		}
	}
	// Hovering tells it, whether a run ends there or not.
	e := NewEditor(s.doc)
	for _, port := range []string{"vent", "outlet"} {
		e.Handle(Event{Kind: Move, At: s.portAt("v", port), Tolerance: 2})
		if o := e.Overlay(); o.Tip != d.PortName("v", port) || !strings.HasPrefix(o.Hint, d.TellPort("v", port)) {
			t.Errorf("over %s: tip %q, hint %q", port, o.Tip, o.Hint)
		}
	}
}

// A run let go inside a part joins its nearest free port that fits.
func TestRunDroppedOnABody(t *testing.T) {
	s := realSheet(t)
	s.part("v", "process-vessel", 100, 100, tagged("T-103"))
	s.part("p", "centrifugal-pump", 0, 0, tagged("P-1"))
	s.part("q", "centrifugal-pump", 0, 50, tagged("P-2"))
	e := NewEditor(s.doc)
	draw := func(from, to model.Point) {
		for _, ev := range []Event{{Kind: Move, At: from}, {Kind: Press, At: from}, {Kind: Move, At: from.Add(pt(9, 9))}, {Kind: Move, At: to}, {Kind: Release, At: to}} {
			ev.Tolerance = 2
			e.Handle(ev)
		}
	}
	draw(s.portAt("p", "b"), pt(95, 98))
	draw(s.portAt("q", "b"), pt(95, 92))
	if runs := s.doc.Circuit().RunsAt("v"); len(runs) != 2 || runs[0].To.Loose() || runs[1].To.Loose() {
		t.Fatalf("runs at the vessel: %v", runs)
	}
	var ports []string
	for _, port := range []string{"return", "product_in", "vent", "outlet"} {
		if !s.doc.Drawing().PortFree("v", port) {
			ports = append(ports, port)
		}
	}
	if got := strings.Join(ports, " "); got != "return product_in" {
		t.Errorf("two pumps' discharges dropped in the vessel took %s", got)
	}
	// The discharge of a pump with its ports taken has no place on another one.
	s.part("x", "centrifugal-pump", 50, 0, tagged("P-3"))
	s.run("r1", "x", "a", "q", "a")
	s.part("y", "sewer-drain", 0, 150)
	s.run("r2", "x", "b", "y", "a")
	before := len(s.doc.Circuit().Runs())
	s.part("z", "water-supply", -50, 0)
	draw(s.portAt("z", "a"), pt(50, 0))
	if n := len(s.doc.Circuit().Runs()); n != before {
		t.Errorf("%d runs, want %d: P-3 has no free port", n, before)
	}
	if got := e.Message(); got != "P-3 has no free port that fits this run" {
		t.Errorf("message %q", got)
	}
}

// A vessel takes along what is mounted on it; a run to elsewhere is drawn anew.
func TestVesselTakesItsMountedPartsAlong(t *testing.T) {
	s := realSheet(t)
	s.part("v", "process-vessel", 100, 100)
	for kind, at := range map[string]model.Point{"spray-ball": pt(92.5, 77.5), "hatch": pt(85, 77.5), "level-high-switch": pt(117.5, 87.5)} {
		e := NewEditor(s.doc)
		e.DragPlace(kind)
		e.Handle(Event{Kind: Release, At: at, Tolerance: 2})
	}
	s.part("valve", "butterfly-valve", 100, 130, func(p model.Part) { p.Meta().Turn = 1 })
	s.run("out", "v", "outlet", "valve", "a", stretched([2]float64{0, 0}))
	places := func() map[string]model.Point {
		out := map[string]model.Point{}
		for _, p := range s.doc.Circuit().Parts() {
			out[p.Meta().Kind] = p.Meta().At
		}
		return out
	}
	before := places()
	s.doc.Select("v")
	a, _ := ActionNamed("nudge-right")
	if err := a.Run(s.doc); err != nil {
		t.Fatal(err)
	}
	s.apply(s.doc.Drawing().MoveOnto([]model.ID{"v"}, pt(0, 5)), nil)
	for kind, at := range places() {
		want := before[kind].Add(pt(2.5, 5))
		if kind == "butterfly-valve" { // stands in the line, is not mounted
			want = before[kind]
		}
		if at != want {
			t.Errorf("%s lies at %v, want %v", kind, at, want)
		}
	}
	s.apply(s.doc.Drawing().Turn([]model.ID{"v"}, 1), nil)
	s.apply(s.doc.Drawing().Mirror([]model.ID{"v"}), nil)
	for _, r := range s.doc.Circuit().RunsAt("v") {
		if r.ID != "out" && !s.doc.Drawing().faced(s.doc.Circuit(), r) {
			t.Errorf("after a turn and a mirror run %s is pulled apart", r.ID)
		}
	}
}

// A mounted part goes over to another nozzle that it is put on; pulled off, the
// length of its run is unknown, and none again when it is put back.
func TestMountedPartGoesOver(t *testing.T) {
	s := realSheet(t)
	s.part("v", "process-vessel", 100, 100)
	e := NewEditor(s.doc)
	e.DragPlace("spray-ball")
	e.Handle(Event{Kind: Release, At: pt(92.5, 77.5), Tolerance: 2})
	ball := s.doc.Circuit().Parts()[0].RecordID()
	if ball == "v" {
		ball = s.doc.Circuit().Parts()[1].RecordID()
	}
	port := func() string {
		r := s.doc.Circuit().Runs()[0]
		if r.From.Part == "v" {
			return r.From.Port
		}
		return r.To.Port
	}
	// Carried over the second spray nozzle it is offered to be joined there.
	from := s.doc.Circuit().Part(ball).Meta().At
	for _, ev := range []Event{{Kind: Move, At: from}, {Kind: Press, At: from}, {Kind: Move, At: from.Add(pt(9, 0))}, {Kind: Move, At: from.Add(pt(14.5, 0.5))}} {
		ev.Tolerance = 2
		e.Handle(ev)
	}
	if o := e.Overlay(); !strings.Contains(o.Tip, "Second spray device") || o.Target == nil {
		t.Errorf("over the second spray nozzle the tip reads %q", o.Tip)
	}
	e.Handle(Event{Kind: Release, At: from.Add(pt(14.5, 0.5)), Tolerance: 2})
	if got := port(); got != "spray2" {
		t.Errorf("put on the second spray nozzle, the ball is joined to %s", got)
	}
	if !noLength(s.doc.Circuit().Runs()[0]) {
		t.Error("its run has a length")
	}
	s.apply(s.doc.Drawing().MoveOnto([]model.ID{ball}, pt(0, -20)), nil)
	if r := s.doc.Circuit().Runs()[0]; r.Length().Known() {
		t.Errorf("pulled off, the run is still %v long", r.Length())
	}
	s.apply(s.doc.Drawing().MoveOnto([]model.ID{ball}, pt(0, 20)), nil)
	if !noLength(s.doc.Circuit().Runs()[0]) {
		t.Error("put back, the run has a length")
	}
	// The vent beside it is not taken.
	s.apply(s.doc.Drawing().MoveOnto([]model.ID{ball}, pt(7.5, 0)), nil)
	if got := port(); got != "spray2" {
		t.Errorf("put on the vent, the ball is joined to %s", got)
	}
}

// A port is caught from outside its part more widely than from within: a small
// symbol can be taken hold of at any zoom.
func TestPortCatch(t *testing.T) {
	s := realSheet(t)
	s.part("w", "butterfly-valve", 0, 0)
	d := s.doc.Drawing()
	const tolerance = 6 // at which the symbol is as wide as the tolerance twice
	for _, tt := range []struct {
		at   model.Point
		want HitKind
	}{
		{pt(0, 0), HitPart},
		{pt(2, 0), HitPart},
		{pt(5, 0), HitPort},
		{pt(12, 0), HitPort},
		{pt(5+6*portCatch+1, 0), HitNothing},
	} {
		if got := d.Hit(tt.at, tolerance, nil); got.Kind != tt.want {
			t.Errorf("at %v: %v, want %v", tt.at, got.Kind, tt.want)
		}
	}
}
