package route

import (
	"cmp"

	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// Cache gives the lines of successive snapshots of a circuit and works out anew
// only those that a change can have touched. Records never change in place, so
// an unchanged pointer is an unchanged record. Not for concurrent use.
type Cache struct {
	cat   *catalogue.Catalogue
	c     *model.Circuit
	alone [][]model.Point // each as if there were no other
	lines [][]model.Point
	seen  []place.Rect
}

// NewCache makes an empty cache.
func NewCache(cat *catalogue.Catalogue) *Cache { return &Cache{cat: cat} }

// mostChanges is the number of changed parts beyond which all lines are worked
// out anew.
const mostChanges = 500

// Lines gives the lines of all runs in the order of c.Runs(), the same as [All].
// The lines are the cache's own; they are never changed later.
func (h *Cache) Lines(c *model.Circuit) [][]model.Point {
	if h.c == c {
		return h.lines
	}
	r := New(c, h.cat)
	var boxes []place.Rect
	changed := map[model.ID]bool{}
	if h.c != nil {
		merge(h.c.Parts(), c.Parts(), model.Part.RecordID, func(before, after model.Part) {
			for _, p := range []model.Part{before, after} {
				if p != nil {
					changed[p.RecordID()] = true
					if b := obstacle(p, h.cat); !b.Empty() {
						boxes = append(boxes, b)
					}
				}
			}
		})
	}
	lines := make([][]model.Point, len(c.Runs()))
	seen := make([]place.Rect, len(c.Runs()))
	old, was := 0, []*model.Run(nil)
	if h.c != nil && len(changed) <= mostChanges {
		was = h.c.Runs()
	}
	for i, run := range c.Runs() {
		for old < len(was) && was[old].ID < run.ID {
			old++
		}
		if old < len(was) && was[old] == run && !changed[run.From.Part] && !changed[run.To.Part] && !touched(h.seen[old], boxes) {
			lines[i], seen[i] = h.alone[old], h.seen[old]
			continue
		}
		lines[i], seen[i] = r.line(run)
	}
	h.c, h.alone, h.seen = c, lines, seen
	h.lines = laned(c.Runs(), lines, r.index)
	return h.lines
}

func touched(region place.Rect, boxes []place.Rect) bool {
	for _, b := range boxes {
		if region.Touches(b) {
			return true
		}
	}
	return false
}

// merge calls differ for every record that is not the same in both lists, which
// are in order of id; the missing side is zero.
func merge[T comparable](before, after []T, id func(T) model.ID, differ func(before, after T)) {
	var none T
	for i, j := 0, 0; i < len(before) || j < len(after); {
		order := 0
		switch {
		case i == len(before):
			order = 1
		case j == len(after):
			order = -1
		default:
			order = cmp.Compare(id(before[i]), id(after[j]))
		}
		switch {
		case order < 0:
			differ(before[i], none)
			i++
		case order > 0:
			differ(none, after[j])
			j++
		default:
			if before[i] != after[j] {
				differ(before[i], after[j])
			}
			i++
			j++
		}
	}
}
