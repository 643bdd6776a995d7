package compare

import (
	"cmp"
	"reflect"
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// MarksAlone gives a circuit that holds the header of c and its marks, to be
// handed on without the plant. A mark on a part or a run keeps its id, and is told
// in words and by its place on the drawing.
func MarksAlone(c *model.Circuit, cat *catalogue.Catalogue) *model.Circuit {
	t := teller{c, cat}
	header := model.Clone(c.Header())
	header.Limits = nil
	all := model.Records{Header: header}
	for _, m := range c.Marks() {
		next := model.Clone(m)
		if at, ok := placeOf(c, m.Pin.On); ok {
			next.Pin.At, next.Pin.To, next.Pin.Was = &at, nil, t.name(m.Pin.On)
		}
		all.Marks = append(all.Marks, next)
	}
	out, err := all.Circuit()
	if err != nil {
		panic("compare: " + err.Error()) // they are of one circuit
	}
	return out
}

// placeOf tells roughly where a part or run lies: a run between its ends.
func placeOf(c *model.Circuit, id model.ID) (model.Point, bool) {
	switch r := c.Record(id).(type) {
	case model.Part:
		return r.Meta().At, true
	case *model.Run:
		a, ok := endPlace(c, r.From)
		b, also := endPlace(c, r.To)
		if !ok || !also {
			return a.Add(b), ok || also // the one that is known
		}
		return model.Point{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}, true
	}
	return model.Point{}, false
}

func endPlace(c *model.Circuit, e model.End) (model.Point, bool) {
	if p := c.Part(e.Part); p != nil {
		return p.Meta().At, true
	}
	if e.At != nil {
		return *e.At, true
	}
	return model.Point{}, false
}

// Marking is what became of the marks that were merged into a circuit.
type Marking struct {
	Edit       model.Edit
	Added      []model.ID // marks that were not there
	Updated    []model.ID // marks that were there and say more now
	Renumbered []model.ID // of those added: their number was taken
	Adrift     []model.ID // of all of them: what they are pinned to is not in the circuit
}

// MergeMarks merges the marks of another circuit, or of a file of marks alone,
// into a circuit, whatever revision each is. Marks follow their part or run by its
// id. Of a mark that both have, the histories are put together by time; text,
// class and all else are those of the side whose history goes on longer. No mark
// is taken out.
func MergeMarks(into, from *model.Circuit) Marking {
	out := Marking{Edit: model.Edit{Label: "merge marks"}}
	taken, most := map[int]bool{}, 0
	for _, m := range into.Marks() {
		taken[m.Number] = true
		most = max(most, m.Number)
	}
	for _, m := range from.Marks() {
		old := into.Record(m.ID)
		next := model.Clone(m)
		var before model.Record
		switch old := old.(type) {
		case nil:
			out.Added = append(out.Added, m.ID)
			if taken[m.Number] {
				most++
				next.Number = most
				out.Renumbered = append(out.Renumbered, m.ID)
			}
			taken[next.Number] = true
			most = max(most, next.Number)
		case *model.Mark:
			before = old
			history := histories(old.History, m.History)
			if lastOf(old.History) >= lastOf(m.History) {
				next = model.Clone(old)
			}
			next.Number, next.History = old.Number, history
		default:
			continue // an id of another sort of record: not a mark of this circuit's life
		}
		next.Pin = settled(into, next.Pin)
		if into.Adrift(next) {
			out.Adrift = append(out.Adrift, m.ID)
		}
		if before != nil {
			if sameRecord(before, next) {
				continue
			}
			out.Updated = append(out.Updated, m.ID)
		}
		out.Edit.Changes = append(out.Edit.Changes, model.Change{Before: before, After: next})
	}
	return out
}

// settled forgets the last known place of a pin whose record is there.
func settled(c *model.Circuit, pin model.Pin) model.Pin {
	if pin.On != "" && c.Record(pin.On) != nil {
		pin.At, pin.To, pin.Was = nil, nil, ""
	}
	return pin
}

// histories puts two histories together by time; an entry of both stands once.
func histories(a, b []model.Entry) []model.Entry {
	out := slices.Clone(a)
	for _, e := range b {
		if !slices.ContainsFunc(out, func(x model.Entry) bool { return reflect.DeepEqual(x, e) }) {
			out = append(out, e)
		}
	}
	slices.SortStableFunc(out, func(x, y model.Entry) int { return cmp.Compare(x.At, y.At) })
	return out
}

func lastOf(history []model.Entry) model.Moment {
	var last model.Moment
	for _, e := range history {
		last = max(last, e.At)
	}
	return last
}
