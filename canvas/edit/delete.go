package edit

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// Delete takes parts, runs, steps and records of the audit out. With a part go its runs; only where a
// part stood in a line between two runs of the same size, the line is healed:
// the two become one, with their stretches in a row. A tee so leaves the line
// whole and takes its branch along. What the wash steps say of deleted parts
// goes too. Marks, deviations and answers about deleted parts and runs stay: a mark
// keeps the place that they had, see [Drawing.PinPlace]. Ids that are not in the
// circuit do not matter.
func (d *Drawing) Delete(ids []model.ID) model.Edit {
	f := d.draft()
	gone := map[model.ID]bool{}
	var parts, runs, others []model.ID
	for _, id := range ids {
		switch r := d.circuit.Record(id); r.(type) {
		case model.Part:
			parts = append(parts, id)
		case *model.Run:
			runs = append(runs, id)
		case *model.Step, *model.Deviation, *model.Mark, *model.Answer:
			others = append(others, id)
		default:
			continue
		}
		gone[id] = true
	}
	for _, id := range runs {
		// A run between two deleted parts goes or is healed with them.
		if r := d.circuit.Run(id); !(gone[r.From.Part] && gone[r.To.Part]) {
			f.remove(id)
		}
	}
	slices.Sort(parts)
	wanted := map[model.ID][]model.Point{}
	for _, id := range slices.Compact(parts) {
		f.deletePart(id, wanted)
	}
	for _, id := range f.runs {
		if line := wanted[id]; line != nil && f.run(id) != nil {
			f.keepLine(id, line)
		}
	}
	f.forget(gone)
	for _, id := range others {
		f.remove(id)
	}
	return f.edit("delete " + d.names(ids))
}

// deletePart takes a part out and heals the line that it stood in, if it can be.
// wanted collects the lines that healed runs should follow.
func (f *draft) deletePart(id model.ID, wanted map[model.ID][]model.Point) {
	p := f.part(id)
	healed := f.heal(p, wanted)
	for _, r := range f.runsAt(id) {
		f.remove(r.ID)
		delete(wanted, r.ID)
	}
	f.remove(id)
	if healed.run != nil {
		f.put(healed.run)
		wanted[healed.run.ID] = healed.line
	}
}

// piece is a run with its line, either way round.
type piece struct {
	run  *model.Run
	line []model.Point
}

// heal joins the two runs of the same size on the two line ports of a part; the
// run is nil if there are none such.
func (f *draft) heal(p model.Part, wanted map[model.ID][]model.Point) piece {
	k := f.kindOf(p)
	if k == nil || !healable(k) {
		return piece{}
	}
	in, out, ok := through(k)
	if !ok {
		return piece{}
	}
	id := p.RecordID()
	var first, second piece
	for _, r := range f.runsAt(id) {
		line, ok := wanted[r.ID]
		if !ok {
			line = f.Line(r)
		}
		switch {
		case r.From.Part == id && r.To.Part == id:
			return piece{}
		case endsOn(r.From, id, in.Name) || endsOn(r.To, id, in.Name):
			first = piece{r, line}
		case endsOn(r.From, id, out.Name) || endsOn(r.To, id, out.Name):
			second = piece{r, line}
		}
	}
	if first.run == nil || second.run == nil || first.run.Size != second.run.Size {
		return piece{}
	}
	// The joined run keeps the direction and the id of the one that comes to the
	// part, if there is one.
	if first.run.From.Part == id && second.run.To.Part == id {
		first, second = second, first
	}
	keep := first.run
	if first.run.From.Part == id {
		first = first.reversed()
	}
	if second.run.To.Part == id {
		second = second.reversed()
	}
	return piece{f.joined(first.run, second.run, keep), slices.Concat(first.line, second.line)}
}

func (p piece) reversed() piece {
	line := slices.Clone(p.line)
	slices.Reverse(line)
	return piece{reversed(p.run), line}
}

// healable says whether a line goes on when a part of the kind is taken out: two
// ports, or a tee.
func healable(k *catalogue.Kind) bool {
	return len(k.Ports) == 2 || k.Has(catalogue.TraitTee)
}

// forget takes deleted parts out of the wash steps.
func (f *draft) forget(gone map[model.ID]bool) {
	for _, s := range f.circuit.Steps() {
		if !mentions(s, gone) {
			continue
		}
		next := model.Clone(s)
		if gone[next.Source] {
			next.Source = ""
		}
		if gone[next.Destination] {
			next.Destination = ""
		}
		isGone := func(id model.ID) bool { return gone[id] }
		next.Cleans = emptied(slices.DeleteFunc(next.Cleans, isGone))
		next.Running = emptied(slices.DeleteFunc(next.Running, isGone))
		for id := range s.Positions {
			if gone[id] {
				delete(next.Positions, id)
			}
		}
		if len(next.Positions) == 0 {
			next.Positions = nil
		}
		f.put(next)
	}
}

func emptied(ids []model.ID) []model.ID {
	if len(ids) == 0 {
		return nil
	}
	return ids
}

func mentions(s *model.Step, gone map[model.ID]bool) bool {
	for id := range s.Positions {
		if gone[id] {
			return true
		}
	}
	isGone := func(id model.ID) bool { return gone[id] }
	return gone[s.Source] || gone[s.Destination] || slices.ContainsFunc(s.Cleans, isGone) || slices.ContainsFunc(s.Running, isGone)
}
