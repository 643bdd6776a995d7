package edit

import "rinsewright/model"

// history is the edits done, in order, and how many of them are in effect.
type history struct {
	edits  []model.Edit
	states []int // states[i] numbers the state before edits[i]; one more for the last
	next   int   // edits[:next] are in effect
	saved  int   // number of the state that was saved
	count  int   // states ever
}

func newHistory() history { return history{states: []int{0}} }

// add takes in an edit that was applied. What was undone can no longer be
// redone.
func (h *history) add(e model.Edit) {
	h.count++
	h.edits = append(h.edits[:h.next:h.next], e)
	h.states = append(h.states[:h.next+1:h.next+1], h.count)
	h.next++
}

// merge puts an edit that was applied together with the last one; if both
// together do nothing, that step goes.
func (h *history) merge(e model.Edit) {
	last := h.edits[h.next-1]
	if squashed(last, e).Empty() {
		h.next--
		h.edits, h.states = h.edits[:h.next:h.next], h.states[:h.next+1:h.next+1]
		return
	}
	h.count++
	h.edits = append(h.edits[:h.next-1:h.next-1], squashed(last, e))
	h.states = append(h.states[:h.next:h.next], h.count)
}

// state numbers the present state; the same number is the same circuit.
func (h *history) state() int { return h.states[h.next] }

// squashed gives the edit that does what a and then b do, one change a record.
func squashed(a, b model.Edit) model.Edit {
	out := model.Edit{Label: b.Label}
	at := map[model.ID]int{}
	for _, c := range append(append([]model.Change(nil), a.Changes...), b.Changes...) {
		id := changed(c)
		if i, ok := at[id]; ok {
			out.Changes[i].After = c.After
			continue
		}
		at[id] = len(out.Changes)
		out.Changes = append(out.Changes, c)
	}
	kept := out.Changes[:0]
	for _, c := range out.Changes {
		if c.Before != nil || c.After != nil {
			kept = append(kept, c)
		}
	}
	out.Changes = kept
	return out
}

func changed(c model.Change) model.ID {
	if c.After != nil {
		return c.After.RecordID()
	}
	return c.Before.RecordID()
}
