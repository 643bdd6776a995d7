package edit

import (
	"slices"
	"time"

	"rinsewright/canvas/route"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// Document is a circuit that is open for editing: the present snapshot, its
// history, what is selected and what was copied.
type Document struct {
	cat       *catalogue.Catalogue
	drawing   *Drawing
	lines     *route.Cache
	history   history
	selection []model.ID
	chosen    map[model.ID]bool
	clip      Clip
	pasted    int // how often the clip was pasted beside itself
	listeners []*func(Notice)

	mergeKey  string
	mergeTime time.Time
	now       func() time.Time
}

// Notice tells a listener what has changed.
type Notice struct {
	Circuit   bool // another snapshot
	Selection bool
	Saved     bool // whether there is something to save
	Reset     bool // another file: nothing of the old state counts
}

// NewDocument opens a circuit, which counts as saved.
func NewDocument(c *model.Circuit, cat *catalogue.Catalogue) *Document {
	d := &Document{cat: cat, now: time.Now}
	d.reset(c)
	return d
}

func (d *Document) reset(c *model.Circuit) {
	d.lines = route.NewCache(d.cat)
	d.history = newHistory()
	d.selection, d.chosen = nil, map[model.ID]bool{}
	d.mergeKey = ""
	d.show(c)
}

// Reset opens another circuit in the place of the present one; the clipboard is
// kept.
func (d *Document) Reset(c *model.Circuit) {
	d.reset(c)
	d.notify(Notice{Circuit: true, Selection: true, Saved: true, Reset: true})
}

func (d *Document) show(c *model.Circuit) {
	d.drawing = NewDrawing(c, d.cat)
	d.drawing.cache = d.lines
}

// Circuit gives the present snapshot.
func (d *Document) Circuit() *model.Circuit { return d.drawing.circuit }

// Catalogue gives the kinds.
func (d *Document) Catalogue() *catalogue.Catalogue { return d.cat }

// Drawing gives the present snapshot as it lies on the drawing.
func (d *Document) Drawing() *Drawing { return d.drawing }

// Listen calls f after every change until the returned function is called.
func (d *Document) Listen(f func(Notice)) (stop func()) {
	entry := &f
	d.listeners = append(d.listeners, entry)
	return func() {
		d.listeners = slices.DeleteFunc(slices.Clone(d.listeners), func(e *func(Notice)) bool { return e == entry })
	}
}

func (d *Document) notify(n Notice) {
	for _, f := range d.listeners {
		(*f)(n)
	}
}

// Apply makes an edit one step of the history. An empty edit is none. An edit
// for another state of the circuit is an error that wraps [model.ErrStale].
func (d *Document) Apply(e model.Edit) error {
	return d.apply(e, "")
}

// mergeWithin is how quickly edits must follow each other to be one step.
const mergeWithin = time.Second

// ApplyTyped is [Document.Apply] for edits that come in quick succession, such
// as typing in a field or nudging with a key: edits of the same non-empty key
// less than a second apart are one step of the history.
func (d *Document) ApplyTyped(e model.Edit, key string) error {
	return d.apply(e, key)
}

func (d *Document) apply(e model.Edit, key string) error {
	if e.Empty() {
		return nil
	}
	next, err := d.Circuit().Apply(e)
	if err != nil {
		return err
	}
	now := d.now()
	h := &d.history
	if key != "" && key == d.mergeKey && now.Sub(d.mergeTime) < mergeWithin && h.next == len(h.edits) && h.next > 0 {
		h.merge(e)
	} else {
		h.add(e)
	}
	d.mergeKey, d.mergeTime = key, now
	d.become(next)
	return nil
}

// become shows another snapshot; what is gone is no longer selected.
func (d *Document) become(c *model.Circuit) {
	d.show(c)
	before := len(d.selection)
	d.selection = slices.DeleteFunc(slices.Clone(d.selection), func(id model.ID) bool { return c.Record(id) == nil })
	if len(d.selection) != before {
		d.reindex()
	}
	d.notify(Notice{Circuit: true, Saved: true, Selection: len(d.selection) != before})
}

// CanUndo says whether there is a step to undo.
func (d *Document) CanUndo() bool { return d.history.next > 0 }

// CanRedo says whether there is an undone step to redo.
func (d *Document) CanRedo() bool { return d.history.next < len(d.history.edits) }

// UndoLabel gives "Undo move V-12", or "Undo" if there is nothing to undo.
func (d *Document) UndoLabel() string {
	if !d.CanUndo() {
		return "Undo"
	}
	return "Undo " + d.history.edits[d.history.next-1].Label
}

// RedoLabel gives "Redo move V-12", or "Redo" if there is nothing to redo.
func (d *Document) RedoLabel() string {
	if !d.CanRedo() {
		return "Redo"
	}
	return "Redo " + d.history.edits[d.history.next].Label
}

// Undo takes the last step back. It says whether there was one.
func (d *Document) Undo() bool {
	if !d.CanUndo() {
		return false
	}
	d.history.next--
	d.step(d.history.edits[d.history.next].Inverse())
	return true
}

// Redo does the step again that was undone last. It says whether there was one.
func (d *Document) Redo() bool {
	if !d.CanRedo() {
		return false
	}
	e := d.history.edits[d.history.next]
	d.history.next++
	d.step(e)
	return true
}

func (d *Document) step(e model.Edit) {
	d.mergeKey = ""
	next, err := d.Circuit().Apply(e)
	if err != nil {
		panic("edit: the history does not fit its circuit: " + err.Error())
	}
	d.become(next)
}

// Dirty says whether the circuit differs from the one that was saved, as far as
// the history can tell.
func (d *Document) Dirty() bool { return d.history.state() != d.history.saved }

// SavedMark names the present state, to be handed to [Document.MarkSaved] once
// it has been written; the user may go on editing meanwhile.
func (d *Document) SavedMark() int { return d.history.state() }

// MarkSaved says that the state of a mark has been written.
func (d *Document) MarkSaved(mark int) {
	d.history.saved = mark // no later edit is merged into the saved state
	d.mergeKey = ""
	d.notify(Notice{Saved: true})
}

// MarkUnsaved says that no state has been written: a circuit restored from an
// autosave, or a new one.
func (d *Document) MarkUnsaved() { d.MarkSaved(-1) }
