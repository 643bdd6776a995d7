package edit

import (
	"slices"

	"rinsewright/model"
)

// Selection gives what is selected, in the order in which it was. The slice is
// the document's own.
func (d *Document) Selection() []model.ID { return d.selection }

// Selected says whether an element is selected.
func (d *Document) Selected(id model.ID) bool { return d.chosen[id] }

// Select makes the elements the selection, leaving out what the circuit does not
// have and what stands twice. None deselects.
func (d *Document) Select(ids ...model.ID) {
	var next []model.ID
	seen := make(map[model.ID]bool, len(ids))
	for _, id := range ids {
		if !seen[id] && d.Circuit().Record(id) != nil {
			seen[id] = true
			next = append(next, id)
		}
	}
	if slices.Equal(next, d.selection) {
		return
	}
	d.selection, d.chosen = next, seen
	d.mergeKey = "" // what is done to something else is another step
	d.notify(Notice{Selection: true})
}

// AddToSelection selects the elements as well.
func (d *Document) AddToSelection(ids ...model.ID) {
	d.Select(append(slices.Clone(d.selection), ids...)...)
}

// Toggle selects each element that is not selected and deselects each that is.
func (d *Document) Toggle(ids ...model.ID) {
	next := slices.Clone(d.selection)
	for _, id := range ids {
		if i := slices.Index(next, id); i >= 0 {
			next = slices.Delete(next, i, i+1)
		} else {
			next = append(next, id)
		}
	}
	d.Select(next...)
}

// SelectAll selects all parts and runs.
func (d *Document) SelectAll() {
	var all []model.ID
	for _, p := range d.Circuit().Parts() {
		all = append(all, p.RecordID())
	}
	for _, r := range d.Circuit().Runs() {
		all = append(all, r.ID)
	}
	d.Select(all...)
}

func (d *Document) reindex() {
	d.chosen = make(map[model.ID]bool, len(d.selection))
	for _, id := range d.selection {
		d.chosen[id] = true
	}
}

// Copy puts a copy of what is selected on the clipboard; nothing selected leaves
// it as it is.
func (d *Document) Copy() {
	if clip := d.drawing.Copy(d.selection); !clip.Empty() {
		d.clip, d.pasted = clip, 0
	}
}

// Cut is Copy, then delete.
func (d *Document) Cut() error {
	clip := d.drawing.Copy(d.selection)
	if clip.Empty() {
		return nil
	}
	d.clip, d.pasted = clip, -1 // the first paste lands where it was
	e := d.drawing.Delete(d.selection)
	e.Label = "cut " + d.drawing.names(d.selection)
	return d.Apply(e)
}

// Clip gives what is on the clipboard, for another document.
func (d *Document) Clip() Clip { return d.clip }

// SetClip puts a clip on the clipboard.
func (d *Document) SetClip(c Clip) { d.clip, d.pasted = c, 0 }

// pasteStep is how far in mm a copy lies beside its original.
const pasteStep = 4 * Grid

// Paste adds a copy of the clipboard beside the original, each further one
// beside the last, and selects it.
func (d *Document) Paste() error {
	d.pasted++
	by := pasteStep * float64(d.pasted)
	return d.applyAndSelect(d.drawing.Paste(d.clip, model.Point{X: by, Y: by}))
}

// PasteAt adds a copy of the clipboard with its middle at a place and selects it.
func (d *Document) PasteAt(at model.Point) error {
	return d.applyAndSelect(d.drawing.PasteAt(d.clip, at))
}

// Duplicate adds a copy of what is selected beside it and selects the copy.
func (d *Document) Duplicate() error {
	return d.applyAndSelect(d.drawing.Duplicate(d.selection, model.Point{X: pasteStep, Y: pasteStep}))
}

// applyAndSelect applies an edit and selects what it added.
func (d *Document) applyAndSelect(e model.Edit) error {
	if err := d.Apply(e); err != nil {
		return err
	}
	if added := Added(e); len(added) > 0 {
		d.Select(added...)
	}
	return nil
}
