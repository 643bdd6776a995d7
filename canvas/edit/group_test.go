package edit

import (
	"math"
	"slices"
	"testing"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/group"
	"rinsewright/model/quantity"
)

// plain opens an empty circuit with the kinds of the program.
func plain() *Document { return NewDocument(model.New("test"), catalogue.Builtin()) }

func TestPlaceGroupTwiceGivesFreshIDsAndTags(t *testing.T) {
	for _, g := range group.Builtin() {
		doc := plain()
		for i := range 2 {
			if err := doc.Apply(doc.Drawing().PlaceGroup(g, pt(300, 300+600*float64(i)))); err != nil {
				t.Fatal(err)
			}
		}
		c := doc.Circuit()
		if len(c.Parts()) != 2*len(g.Circuit.Parts()) || len(c.Runs()) != 2*len(g.Circuit.Runs()) {
			t.Errorf("%s: %d parts and %d runs", g.Name, len(c.Parts()), len(c.Runs()))
		}
		tags := map[string]bool{}
		for _, p := range c.Parts() {
			if tag := p.Meta().Tag; tag != "" && tags[tag] {
				t.Errorf("%s: the tag %s stands twice", g.Name, tag)
			}
			tags[p.Meta().Tag] = true
			if at := p.Meta().At; at != Snapped(at) {
				t.Errorf("%s: %s stands at %v, off the grid", g.Name, p.Meta().Tag, at)
			}
		}
		doc.Undo()
		if len(doc.Circuit().Parts()) != len(g.Circuit.Parts()) {
			t.Errorf("%s: one placing is not one step of the history", g.Name)
		}
	}
}

// A drain set let go with its end near the free end of a butterfly valve is joined to
// it, face to face, and comes to its height.
func TestGroupSnapsJoinsAndTakesTheHeight(t *testing.T) {
	doc := plain()
	d := doc.Drawing()
	if err := doc.Apply(mustEdit(t)(d.Place("butterfly-valve", Pose{At: pt(100, 100)}))); err != nil {
		t.Fatal(err)
	}
	v := model.Clone(doc.Circuit().Parts()[0].(*model.Valve))
	v.Elevation = quantity.Some(quantity.Length(1.7))
	if err := doc.Apply(model.Edit{Label: "raise", Changes: []model.Change{model.Replacing(doc.Circuit().Parts()[0], v)}}); err != nil {
		t.Fatal(err)
	}
	g := group.Named("drain-set")
	e := NewEditor(doc)
	e.UsePlaceGroup(g)
	if e.State() != "place.idle" {
		t.Fatal(e.State())
	}
	// The middle of the group, put so that its left end lies 3 mm off the valve's right.
	centre := e.doc.drawing.clipBounds(clipOf(g)).Centre()
	tee := g.Circuit.Part("p-te-101").Meta().At
	left := pt(tee.X-2.5, tee.Y)
	at := pt(105, 100).Add(centre.Sub(left)).Add(pt(2, 2))
	e.Handle(Event{Kind: Move, At: at, Tolerance: 5})
	if n := len(e.Circuit().Parts()); n != 4 {
		t.Fatalf("the preview has %d parts", n)
	}
	e.Handle(Event{Kind: Press, At: at, Tolerance: 5})
	e.Handle(Event{Kind: Release, At: at, Tolerance: 5})
	if e.State() != "select.idle" || e.Message() != "" {
		t.Errorf("%s %q", e.State(), e.Message())
	}
	c := doc.Circuit()
	if len(c.Parts()) != 4 || len(c.Runs()) != 3 {
		t.Fatalf("%d parts, %d runs", len(c.Parts()), len(c.Runs()))
	}
	for _, r := range c.Runs() {
		if r.From.Part == v.ID || r.To.Part == v.ID {
			if l, known := r.Length().Get(); !known || l != 0 {
				t.Errorf("the joint is %v long", l)
			}
		}
	}
	for _, p := range c.Parts() {
		if f, ok := p.(*model.Fitting); ok {
			if z := float64(f.Elevation.Or(0)); math.Abs(z-1.7) > 1e-9 {
				t.Errorf("the tee is at %v m, the valve at 1.7 m", z)
			}
		}
		// what hangs below went with it: the drain is 0.2 m under the tee, as in the group
		if s, ok := p.(*model.Terminal); ok {
			if z := float64(s.Elevation.Or(0)); math.Abs(z-1.5) > 1e-9 {
				t.Errorf("the drain is at %v m, want 1.5 m", z)
			}
		}
	}
	if len(doc.Selection()) != 3 {
		t.Errorf("%d are selected", len(doc.Selection()))
	}
	doc.Undo()
	if len(doc.Circuit().Parts()) != 1 {
		t.Error("placing and joining is not one step")
	}
}

func mustEdit(t *testing.T) func(model.Edit, error) model.Edit {
	return func(e model.Edit, err error) model.Edit {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return e
	}
}

func TestEscapeLeavesTheGroup(t *testing.T) {
	doc := plain()
	e := NewEditor(doc)
	e.DragPlaceGroup(group.Named("heater-set"))
	e.Handle(Event{Kind: Move, At: pt(50, 50), Tolerance: 2})
	e.Handle(Event{Kind: Key, Key: KeyTurn})
	e.Handle(Event{Kind: Key, Key: KeyEscape})
	if len(doc.Circuit().Parts()) != 0 || len(e.Circuit().Parts()) != 0 || e.State() != "select.idle" {
		t.Errorf("%d parts, %s", len(e.Circuit().Parts()), e.State())
	}
}

// What is saved of a placed group is that group again, but for ids and tags.
func TestGroupOfSelection(t *testing.T) {
	doc := plain()
	g := group.Named("spray-vessel")
	if err := doc.Apply(doc.Drawing().PlaceGroup(g, pt(100, 100))); err != nil {
		t.Fatal(err)
	}
	var ids []model.ID
	for _, p := range doc.Circuit().Parts() {
		ids = append(ids, p.RecordID())
	}
	saved, err := doc.Drawing().GroupOf("Mine", ids)
	if err != nil {
		t.Fatal(err)
	}
	if len(saved.Circuit.Parts()) != len(g.Circuit.Parts()) || len(saved.Circuit.Runs()) != len(g.Circuit.Runs()) {
		t.Errorf("%d parts, %d runs", len(saved.Circuit.Parts()), len(saved.Circuit.Runs()))
	}
	// The swing bends' ends must be joined; the second product line of the mix-proof
	// valve need not be, so it is not among the free ends of what was selected.
	if len(saved.Free) != len(g.Free)-1 {
		t.Errorf("free ends %v", saved.Free)
	}
	ids = slices.DeleteFunc(ids, func(id model.ID) bool { return doc.Circuit().Part(id).Class() == model.ClassVessel })
	saved, err = doc.Drawing().GroupOf("Without the vessel", ids)
	if err != nil {
		t.Fatal(err)
	}
	if len(saved.Free) <= len(g.Free) {
		t.Errorf("ports that were joined to the vessel are not free ends: %v", saved.Free)
	}
}

func BenchmarkPreviewOfStation(b *testing.B) {
	doc := plain()
	e := NewEditor(doc)
	e.UsePlaceGroup(group.Named("station-four-tanks"))
	b.ReportAllocs()
	for i := range b.N {
		e.Handle(Event{Kind: Move, At: pt(float64(i%100)*2.5, 100), Tolerance: 2})
		d := NewDrawing(e.Circuit(), doc.Catalogue())
		d.cache = doc.lines
		d.Lines()
	}
}
