package compare

import (
	"cmp"
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// Status is what became of a record.
type Status string

const (
	Added   Status = "added"
	Removed Status = "removed"
	Moved   Status = "moved" // on the drawing alone: nothing about the plant is different
	Changed Status = "changed"
)

// Sort is what a record is, in the order in which differences are told.
type Sort string

const (
	OfHeader    Sort = "circuit"
	OfPart      Sort = "part"
	OfRun       Sort = "run"
	OfStep      Sort = "step"
	OfDeviation Sort = "deviation"
	OfMark      Sort = "mark"
	OfAnswer    Sort = "answer"
)

var sorts = []Sort{OfHeader, OfPart, OfRun, OfStep, OfDeviation, OfMark, OfAnswer}

func sortOf(r model.Record) Sort {
	switch r.(type) {
	case model.Part:
		return OfPart
	case *model.Run:
		return OfRun
	case *model.Step:
		return OfStep
	case *model.Deviation:
		return OfDeviation
	case *model.Mark:
		return OfMark
	case *model.Answer:
		return OfAnswer
	}
	return OfHeader
}

// Difference is one record that is not the same in both circuits.
type Difference struct {
	ID         model.ID
	Sort       Sort
	Status     Status
	Name       string       // in the new circuit, or in the old one if it is gone
	Old, New   model.Record // nil where it is not there
	Properties []Property   // of one that is moved or changed
}

// Property is one property that differs. Of what is told element by element, it
// is one element: a valve of a line-up, a vessel among those cleaned.
type Property struct {
	Key      string // of the file
	Element  string // id or words of the element; empty: the whole property
	Label    string // in words: "tube size", "position of V-12"
	Old, New Text   // empty: not known, or not there
	Drawing  bool   // only about the drawing
}

// Comparison is what tells a new circuit from an old one.
type Comparison struct {
	Old, New    *model.Circuit
	Differences []Difference // by sort, then in the order of the circuit, those that are gone after the others
}

// Circuits compares two circuits. The catalogue gives words for properties and
// untagged parts; it may be nil.
func Circuits(old, new *model.Circuit, cat *catalogue.Catalogue) *Comparison {
	c := &Comparison{Old: old, New: new}
	before, after := teller{old, cat}, teller{new, cat}
	for _, r := range new.All() {
		was := old.Record(r.RecordID())
		switch {
		case was == nil:
			c.Differences = append(c.Differences, Difference{ID: r.RecordID(), Sort: sortOf(r), Status: Added, Name: after.name(r.RecordID()), New: r})
		case !sameRecord(was, r):
			d := Difference{ID: r.RecordID(), Sort: sortOf(r), Status: Moved, Name: after.name(r.RecordID()), Old: was, New: r,
				Properties: properties(was, r, before, after)}
			for _, p := range d.Properties {
				if !p.Drawing {
					d.Status = Changed
				}
			}
			c.Differences = append(c.Differences, d)
		}
	}
	for _, r := range old.All() {
		if new.Record(r.RecordID()) == nil {
			c.Differences = append(c.Differences, Difference{ID: r.RecordID(), Sort: sortOf(r), Status: Removed, Name: before.name(r.RecordID()), Old: r})
		}
	}
	slices.SortStableFunc(c.Differences, func(a, b Difference) int {
		return cmp.Compare(slices.Index(sorts, a.Sort), slices.Index(sorts, b.Sort))
	})
	return c
}

// Same says whether nothing tells the circuits apart.
func (c *Comparison) Same() bool { return len(c.Differences) == 0 }

// Of gives the difference of a record.
func (c *Comparison) Of(id model.ID) (Difference, bool) {
	for _, d := range c.Differences {
		if d.ID == id {
			return d, true
		}
	}
	return Difference{}, false
}

// Counts counts the differences of some sorts by status; without sorts all.
func (c *Comparison) Counts(of ...Sort) map[Status]int {
	out := map[Status]int{}
	for _, d := range c.Differences {
		if len(of) == 0 || slices.Contains(of, d.Sort) {
			out[d.Status]++
		}
	}
	return out
}

// Edit gives the edit that makes the new circuit of the old one.
func (c *Comparison) Edit(label string) model.Edit {
	e := model.Edit{Label: label}
	for _, d := range c.Differences {
		e.Changes = append(e.Changes, model.Change{Before: d.Old, After: d.New})
	}
	return e
}

// MarksTouched gives the marks of the new circuit whose part or run, or a place
// of whose finding, is not what it was, in their order; those that were changed
// themselves are told by their own difference.
func (c *Comparison) MarksTouched() []*model.Mark {
	touched := map[model.ID]bool{}
	for _, d := range c.Differences {
		if d.Sort == OfPart || d.Sort == OfRun {
			touched[d.ID] = true
		}
	}
	var out []*model.Mark
	for _, m := range c.New.Marks() {
		if touched[m.Pin.On] || touched[elementOf(m.Finding)] {
			out = append(out, m)
		}
	}
	return out
}

// elementOf gives the record that the id of a finding names: "rule@p1:b" is on p1.
func elementOf(finding string) model.ID {
	_, at, _ := strings.Cut(finding, "@")
	if i := strings.IndexAny(at, ":[.?"); i >= 0 {
		at = at[:i]
	}
	return model.ID(at)
}

// properties lists what tells two records of one id apart.
func properties(a, b model.Record, before, after teller) []Property {
	var out []Property
	if classOf(a) != classOf(b) {
		out = append(out, Property{Key: "class", Label: labels["class"], Old: Text{classOf(a), classOf(a)}, New: Text{classOf(b), classOf(b)}})
	}
	for _, key := range changedKeys(a, b) {
		x, y := fieldOf(a, key), fieldOf(b, key)
		owner, v := b, y
		if !y.IsValid() {
			owner, v = a, x
		}
		p := Property{Key: key, Label: label(owner, key, v.Type(), after.cat), Drawing: onDrawing(key, x, y)}
		sameSort := x.IsValid() && y.IsValid() && x.Type() == y.Type()
		switch {
		case sameSort && x.Kind() == reflect.Map:
			out = append(out, cells(p, x, y, before, after)...)
		case sameSort && isSet(key) && distinct(x) && distinct(y):
			out = append(out, elements(p, x, y, before, after)...)
		default:
			p.Old, p.New = told(before, x), told(after, y)
			if p.Old == p.New { // two parts of one name, or a number beyond the figures shown
				p.Old, p.New = exactly(x), exactly(y)
			}
			out = append(out, p)
		}
	}
	return out
}

func classOf(r model.Record) string {
	if p, ok := r.(model.Part); ok {
		return string(p.Class())
	}
	return string(sortOf(r))
}

// told writes the value of a field; one that is empty is not there. A number, a
// flag and a place on the drawing are there in any case.
func told(t teller, v reflect.Value) Text {
	if !v.IsValid() {
		return Text{}
	}
	_, isPoint := v.Interface().(model.Point)
	if empty(v) && !isPoint && v.Kind() != reflect.Int && v.Kind() != reflect.Bool {
		return Text{}
	}
	return t.text(v)
}

// exactly writes a value as it stands in the file.
func exactly(v reflect.Value) Text {
	if !v.IsValid() {
		return Text{}
	}
	b, err := json.Marshal(v.Interface())
	if err != nil {
		return Text{} // a value that no file can hold
	}
	return Text{string(b), string(b)}
}

// onDrawing says whether a field that differs is about the drawing alone.
func onDrawing(key string, x, y reflect.Value) bool {
	switch key {
	case "at_mm", "turn", "mirrored", "bends_mm", "label_mm":
		return true
	case "from", "to":
		a, ok := x.Interface().(model.End)
		b, also := y.Interface().(model.End)
		return ok && also && a.Part == b.Part && a.Port == b.Port
	}
	return false
}

// cells tells a map entry by entry, in order of the keys.
func cells(p Property, x, y reflect.Value, before, after teller) []Property {
	keys := map[model.ID]bool{}
	for _, m := range []reflect.Value{x, y} {
		for it := m.MapRange(); it.Next(); {
			keys[model.ID(it.Key().String())] = true
		}
	}
	var out []Property
	for _, id := range sortedIDs(keys) {
		a, b := x.MapIndex(reflect.ValueOf(id)), y.MapIndex(reflect.ValueOf(id))
		if a.IsValid() && b.IsValid() && reflect.DeepEqual(a.Interface(), b.Interface()) {
			continue
		}
		cell := p
		cell.Element, cell.Label = string(id), p.Label+" of "+nameOf(id, before, after)
		if a.IsValid() {
			cell.Old = before.text(a)
		}
		if b.IsValid() {
			cell.New = after.text(b)
		}
		out = append(out, cell)
	}
	return out
}

func sortedIDs(set map[model.ID]bool) []model.ID {
	out := make([]model.ID, 0, len(set))
	for id := range set {
		out = append(out, id)
	}
	slices.Sort(out)
	return out
}

func nameOf(id model.ID, before, after teller) string {
	if after.circuit.Record(id) == nil {
		return before.name(id)
	}
	return after.name(id)
}

// elements tells which elements of a list are gone, new or another under the same
// key; where only their order is another, that is told as a whole.
func elements(p Property, x, y reflect.Value, before, after teller) []Property {
	var out []Property
	one := func(key string) {
		a, b := element(x, key), element(y, key)
		if a.IsValid() && b.IsValid() && reflect.DeepEqual(a.Interface(), b.Interface()) {
			return
		}
		e := p
		e.Element = key
		if a.IsValid() {
			e.Old = before.text(a)
		}
		if b.IsValid() {
			e.New = after.text(b)
		}
		out = append(out, e)
	}
	for i := range x.Len() {
		one(elementKey(x.Index(i)))
	}
	for i := range y.Len() {
		if key := elementKey(y.Index(i)); !element(x, key).IsValid() {
			one(key)
		}
	}
	if out == nil {
		p.Label = "order of " + p.Label
		p.Old, p.New = before.text(x), after.text(y)
		out = append(out, p)
	}
	return out
}

// element gives the element of a key of a list; the zero Value if there is none.
func element(list reflect.Value, key string) reflect.Value {
	if list.IsValid() {
		for i := range list.Len() {
			if elementKey(list.Index(i)) == key {
				return list.Index(i)
			}
		}
	}
	return reflect.Value{}
}

// elementKey gives a stable text for an element of a list, which sorts.
func elementKey(v reflect.Value) string {
	switch x := v.Interface().(type) {
	case model.LimitChange:
		return x.Limit
	case model.Entry:
		return string(x.At) + " " + fmt.Sprintf("%q", []string{x.By, string(x.State.Or("")), x.Text})
	case model.Revision:
		return fmt.Sprintf("%q", []string{x.Mark, x.Date, x.By, x.What})
	}
	return fmt.Sprint(v.Interface())
}

// distinct says whether no element of a list stands in it twice.
func distinct(list reflect.Value) bool {
	seen := map[string]bool{}
	for i := range list.Len() {
		key := elementKey(list.Index(i))
		if seen[key] {
			return false
		}
		seen[key] = true
	}
	return true
}
