package edit

import (
	"reflect"
	"slices"
	"strings"

	"rinsewright/model"
)

// draft collects what one edit changes. Reading from it gives the circuit as it
// will be.
type draft struct {
	*Drawing // as it was
	order    []model.ID
	now      map[model.ID]model.Record // nil: deleted
	runs     []model.ID                // those of order that are or were runs
	ends     map[model.ID][]model.ID   // runs of these that ended on a part at some time
	taken    map[string]bool           // tags, once asked for
	parts    bool                      // a part is among what changes
	ahead    *Drawing                  // as it will be, until the next change of a part
}

func (d *Drawing) draft() *draft {
	return &draft{Drawing: d, now: map[model.ID]model.Record{}, ends: map[model.ID][]model.ID{}}
}

func (f *draft) record(id model.ID) model.Record {
	if r, touched := f.now[id]; touched {
		return r
	}
	return f.circuit.Record(id)
}

func (f *draft) part(id model.ID) model.Part { p, _ := f.record(id).(model.Part); return p }
func (f *draft) run(id model.ID) *model.Run  { r, _ := f.record(id).(*model.Run); return r }

func (f *draft) put(r model.Record) { f.set(r.RecordID(), r) }

func (f *draft) remove(id model.ID) { f.set(id, nil) }

func (f *draft) set(id model.ID, r model.Record) {
	before := f.record(id)
	if _, touched := f.now[id]; !touched {
		f.order = append(f.order, id)
		if isRun(before) || isRun(r) {
			f.runs = append(f.runs, id)
		}
	}
	f.now[id] = r
	if run, ok := r.(*model.Run); ok {
		f.ends[run.From.Part] = append(f.ends[run.From.Part], id)
		f.ends[run.To.Part] = append(f.ends[run.To.Part], id)
	}
	if isPart(before) || isPart(r) {
		f.parts, f.ahead = true, nil
	}
}

func isRun(r model.Record) bool  { _, ok := r.(*model.Run); return ok }
func isPart(r model.Record) bool { _, ok := r.(model.Part); return ok }

// newID makes an id that the circuit does not have.
func (f *draft) newID(letter string) model.ID {
	for {
		id := model.NewID(letter)
		if _, touched := f.now[id]; !touched && f.circuit.Record(id) == nil {
			return id
		}
	}
}

// runsAt gives the runs that end on a part, in order of id.
func (f *draft) runsAt(part model.ID) []*model.Run {
	var out []*model.Run
	for _, r := range f.circuit.RunsAt(part) {
		if _, touched := f.now[r.ID]; !touched {
			out = append(out, r)
		}
	}
	for _, id := range f.ends[part] {
		if r := f.run(id); r != nil && (r.From.Part == part || r.To.Part == part) {
			out = append(out, r)
		}
	}
	slices.SortFunc(out, func(a, b *model.Run) int { return strings.Compare(string(a.ID), string(b.ID)) })
	return slices.Compact(out)
}

// portTaken tells whether a run ends on a port.
func (f *draft) portTaken(part model.ID, port string) bool {
	for _, r := range f.runsAt(part) {
		if endsOn(r.From, part, port) || endsOn(r.To, part, port) {
			return true
		}
	}
	return false
}

// edit gives what has been collected: one change a record, none for a record
// that is as it was. The marks of reviewers follow.
func (f *draft) edit(label string) model.Edit {
	f.followPins()
	return f.collected(label)
}

func (f *draft) collected(label string) model.Edit {
	e := model.Edit{Label: label}
	for _, id := range f.order {
		before, after := f.circuit.Record(id), f.now[id]
		if before == nil && after == nil || before != nil && after != nil && reflect.DeepEqual(before, after) {
			continue
		}
		e.Changes = append(e.Changes, model.Change{Before: before, After: after})
	}
	return e
}

// after gives the drawing with the parts as they will be. Lines of runs depend on
// nothing else; the runs themselves are to be asked of the draft.
func (f *draft) after() *Drawing {
	if !f.parts {
		return f.Drawing
	}
	if f.ahead == nil {
		c, err := f.circuit.Apply(f.collected("draft"))
		if err != nil {
			panic("edit: a draft does not fit its own circuit: " + err.Error())
		}
		f.ahead = NewDrawing(c, f.cat)
	}
	return f.ahead
}

// Added gives the parts and runs that an edit adds, in the order of its
// changes.
func Added(e model.Edit) []model.ID {
	var out []model.ID
	for _, c := range e.Changes {
		if c.Before != nil {
			continue
		}
		switch c.After.(type) {
		case model.Part, *model.Run:
			out = append(out, c.After.RecordID())
		}
	}
	return out
}
