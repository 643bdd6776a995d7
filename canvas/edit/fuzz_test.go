package edit

import (
	"math/rand/v2"
	"testing"

	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

// hand makes events out of bytes: an arbitrary but repeatable user.
type hand struct {
	data []byte
	at   int
}

func (h *hand) more() bool { return h.at < len(h.data) }

func (h *hand) byte() byte {
	if !h.more() {
		return 0
	}
	h.at++
	return h.data[h.at-1]
}

func (h *hand) pick(n int) int { return int(h.byte()) % n }

func (h *hand) place() model.Point {
	return pt(float64(h.byte())-20, float64(h.byte())/2-20)
}

// act does one thing to an editor.
func (h *hand) act(e *Editor, kinds []*catalogue.Kind) {
	doc := e.Document()
	switch what := h.pick(40); {
	case what < 22:
		ev := Event{At: h.place(), Tolerance: 2}
		ev.Kind = []EventKind{Press, Move, Move, Release, DoubleClick, Press, Release, Cancel, Leave}[h.pick(9)]
		m := h.byte()
		ev.Modifiers = Modifiers{Shift: m&7 == 1, Ctrl: m&7 == 2, Alt: m&7 == 3}
		ev.Button = []Button{Primary, Primary, Primary, Secondary, Middle}[h.pick(5)]
		e.Handle(ev)
	case what < 26: // a whole drag from one interesting place to another
		e.Handle(Event{Kind: Press, At: h.spot(doc), Tolerance: 2})
		e.Handle(Event{Kind: Move, At: h.place(), Tolerance: 2})
		to := h.spot(doc)
		e.Handle(Event{Kind: Move, At: to, Tolerance: 2})
		e.Handle(Event{Kind: Release, At: to, Tolerance: 2})
	case what < 29:
		keys := []string{KeyEscape, KeyEnter, KeyDelete, KeyBackspace, KeyLeft, KeyUp, KeyTurn, KeyMirror}
		e.Handle(Event{Kind: Key, Key: keys[h.pick(len(keys))], At: h.place(), Tolerance: 2})
	case what < 32:
		a := Actions()[h.pick(len(Actions()))]
		grows := a.Name == "paste" || a.Name == "duplicate" // a copy of all, again and again, would double it each time
		if !grows || len(doc.Circuit().Parts()) < 40 {
			a.Run(doc)
		}
	case what < 33:
		e.UseSelect()
	case what < 34:
		e.UseRun()
	case what < 36:
		e.UsePlace(kinds[h.pick(len(kinds))].Name)
	case what < 37:
		e.DragPlace(kinds[h.pick(len(kinds))].Name)
	case what < 38:
		if ids := doc.Selection(); len(ids) > 0 {
			if edit, err := doc.Drawing().ReplaceKinds(ids[:1+h.pick(len(ids))], kinds[h.pick(len(kinds))].Name); err == nil {
				doc.Apply(edit)
			}
		}
	default:
		h.actOnSteps(doc)
	}
}

// spot gives a port, a place on a run, or anywhere.
func (h *hand) spot(doc *Document) model.Point {
	c := doc.Circuit()
	if n := len(c.Runs()); n > 0 && h.pick(3) == 0 {
		if line := doc.Drawing().Lines()[h.pick(n)]; len(line) > 1 {
			i := h.pick(len(line) - 1)
			return scaled(line[i].Add(line[i+1]), 0.5)
		}
	}
	if n := len(c.Parts()); n > 0 {
		p := c.Parts()[h.pick(n)]
		if h.pick(6) == 0 {
			return p.Meta().At.Add(pt(0, 9)) // its label
		}
		k := doc.Catalogue().Kind(p.Meta().Kind)
		if len(k.Ports) > 0 {
			at, _ := k.Ports[h.pick(len(k.Ports))].PortAt(p.Meta())
			return at
		}
	}
	return h.place()
}

func (h *hand) actOnSteps(doc *Document) {
	d := doc.Drawing()
	steps, parts := doc.Circuit().Steps(), doc.Circuit().Parts()
	if len(steps) == 0 || h.pick(8) == 0 {
		if e, err := d.AddStep("Main", "Step", h.pick(9)); err == nil {
			doc.Apply(e)
		}
		return
	}
	if len(parts) == 0 {
		return
	}
	step, part := steps[h.pick(len(steps))].ID, parts[h.pick(len(parts))].RecordID()
	edits := []func() (model.Edit, error){
		func() (model.Edit, error) { return d.SetPosition(step, part, "open") },
		func() (model.Edit, error) { return d.SetRunning(step, part, true) },
		func() (model.Edit, error) { return d.SetCleans(step, part, true) },
		func() (model.Edit, error) { return d.SetSource(step, part) },
		func() (model.Edit, error) { return d.SetDestination(step, part) },
		func() (model.Edit, error) { return d.MoveStep(step, h.pick(5)) },
		func() (model.Edit, error) { return d.DuplicateStep(step) },
		func() (model.Edit, error) { return d.DeleteStep(step) },
		func() (model.Edit, error) {
			return d.SetProperty([]model.ID{step}, "flow_m3h", "12", quantity.Metric)
		},
	}
	if e, err := edits[h.pick(len(edits))](); err == nil {
		doc.Apply(e)
	}
}

// playRandom plays a hand and checks what must hold whatever the user does: the
// circuit is sound, a gesture changes nothing before it ends, undoing all leads
// to the first circuit and redoing all to the last.
func playRandom(t *testing.T, cat *catalogue.Catalogue, data []byte) {
	doc := NewDocument(model.New("fuzz"), cat)
	e := NewEditor(doc)
	e.Labels = func(at model.Point) (LabelPlace, bool) { // below each part
		for _, p := range doc.Circuit().Parts() {
			if box := place.Spanned(p.Meta().At.Add(pt(-6, 8)), p.Meta().At.Add(pt(6, 11))); box.Contains(at) {
				return LabelPlace{p.RecordID(), box}, true
			}
		}
		return LabelPlace{}, false
	}
	first := doc.Circuit()
	h := &hand{data: data}
	for h.more() {
		h.act(e, cat.Kinds())
		e.Overlay()
		e.Circuit()
		sound(t, doc.Circuit(), cat)
		for _, id := range doc.Selection() {
			if doc.Circuit().Record(id) == nil {
				t.Fatalf("%s is selected but not there", id)
			}
		}
		if t.Failed() {
			t.FailNow()
		}
	}
	for doc.Redo() {
	}
	last := doc.Circuit()
	for doc.Undo() {
	}
	if d := difference(first, doc.Circuit()); d != "" {
		t.Fatalf("undoing all: %s", d)
	}
	for doc.Redo() {
	}
	if d := difference(last, doc.Circuit()); d != "" {
		t.Fatalf("redoing all: %s", d)
	}
}

func FuzzEditor(f *testing.F) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 4 {
		data := make([]byte, 600)
		for i := range data {
			data[i] = byte(rng.UintN(256))
		}
		f.Add(data)
	}
	cat := testCatalogue(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 4000 {
			t.Skip("long enough")
		}
		playRandom(t, cat, data)
	})
}

// The same with the program's own kinds.
func TestRandomHands(t *testing.T) {
	cat := catalogue.Builtin()
	rng := rand.New(rand.NewPCG(5, 6))
	n := 60
	if testing.Short() {
		n = 10
	}
	for range n {
		data := make([]byte, 1500)
		for i := range data {
			data[i] = byte(rng.UintN(256))
		}
		playRandom(t, cat, data)
	}
}
