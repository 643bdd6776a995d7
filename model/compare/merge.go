package compare

import (
	"cmp"
	"errors"
	"fmt"
	"reflect"
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// Choice says whose value counts in a conflict.
type Choice string

const (
	Unchosen Choice = ""
	Base     Choice = "base"
	Mine     Choice = "mine"
	Theirs   Choice = "theirs"
)

// Conflict is what both sides changed to different values, or what one side
// deleted while the other changed it or built upon it.
type Conflict struct {
	ID                 model.ID
	Sort               Sort
	Name               string // of the record
	Key                string // of the field; empty: the record as a whole
	Element            string // of a field that is merged element by element
	Label              string // in words: "tube size", "the whole part"
	Base, Mine, Theirs Text   // empty: not there
	Choice             Choice
}

// at names what a conflict is about, the same in every building of a merge.
func (c *Conflict) at() string { return string(c.ID) + "\x00" + c.Key + "\x00" + c.Element }

// Merge is two people's edits of one base being put together.
type Merge struct {
	base, mine, theirs *model.Circuit
	cat                *catalogue.Catalogue
	choices            map[string]Choice

	conflicts []Conflict
	circuit   *model.Circuit
}

// ErrConflicts says that a merge still waits for choices.
var ErrConflicts = errors.New("there are conflicts without a choice")

// Three merges what two circuits made of their common base. The catalogue gives
// words and may be nil.
func Three(base, mine, theirs *model.Circuit, cat *catalogue.Catalogue) *Merge {
	m := &Merge{base: base, mine: mine, theirs: theirs, cat: cat, choices: map[string]Choice{}}
	m.build()
	return m
}

// Conflicts gives the conflicts in order of sort, record and field, with the
// choices made. A choice can raise or settle another conflict.
func (m *Merge) Conflicts() []Conflict { return m.conflicts }

// Unresolved counts the conflicts that wait for a choice.
func (m *Merge) Unresolved() int {
	n := 0
	for _, c := range m.conflicts {
		if c.Choice == Unchosen {
			n++
		}
	}
	return n
}

// Choose says whose value counts in a conflict, given as it stands in
// [Merge.Conflicts]; Unchosen takes the choice back.
func (m *Merge) Choose(c Conflict, choice Choice) {
	if choice == Unchosen {
		delete(m.choices, c.at())
	} else {
		m.choices[c.at()] = choice
	}
	m.build()
}

// ChooseAll makes one choice for all conflicts, also those that come up by it.
func (m *Merge) ChooseAll(choice Choice) {
	for range 8 { // each round can raise conflicts anew, of which there are few kinds
		for _, c := range m.conflicts {
			m.choices[c.at()] = choice
		}
		m.build()
		if m.Unresolved() == 0 {
			return
		}
	}
}

// Circuit gives the merged circuit as it stands. Where there is no choice yet, my
// value stands; a part that one side deleted and the other needs is there.
func (m *Merge) Circuit() *model.Circuit { return m.circuit }

// Edit gives the edit that makes the merged circuit of mine. It is an error that
// wraps [ErrConflicts] if a choice is missing.
func (m *Merge) Edit(label string) (model.Edit, error) {
	if n := m.Unresolved(); n > 0 {
		return model.Edit{}, fmt.Errorf("merge: %d of them: %w", n, ErrConflicts)
	}
	return Circuits(m.mine, m.circuit, m.cat).Edit(label), nil
}

// builder puts the records together anew.
type builder struct {
	*Merge
	merged    map[model.ID]model.Record
	conflicts []Conflict
	tellers   [3]teller // base, mine, theirs
}

func (m *Merge) build() {
	b := &builder{Merge: m, merged: map[model.ID]model.Record{},
		tellers: [3]teller{{m.base, m.cat}, {m.mine, m.cat}, {m.theirs, m.cat}}}
	ids := map[model.ID]bool{}
	for _, c := range []*model.Circuit{m.base, m.mine, m.theirs} {
		for _, r := range c.All() {
			ids[r.RecordID()] = true
		}
	}
	order := sortedIDs(ids)
	for _, id := range order {
		if r := b.record(id); r != nil {
			b.merged[id] = r
		}
	}
	for _, id := range order {
		b.needed(id)
	}
	b.numbers(order)
	slices.SortStableFunc(b.conflicts, func(x, y Conflict) int {
		return cmp.Or(cmp.Compare(slices.Index(sorts, x.Sort), slices.Index(sorts, y.Sort)), cmp.Compare(x.ID, y.ID),
			cmp.Compare(x.Key, y.Key), cmp.Compare(x.Element, y.Element))
	})
	m.conflicts = b.conflicts
	m.circuit = circuitOf(b.merged)
}

func circuitOf(records map[model.ID]model.Record) *model.Circuit {
	var all model.Records
	for _, r := range records {
		switch r := r.(type) {
		case *model.Header:
			all.Header = r
		case model.Part:
			all.Parts = append(all.Parts, r)
		case *model.Run:
			all.Runs = append(all.Runs, r)
		case *model.Step:
			all.Steps = append(all.Steps, r)
		case *model.Deviation:
			all.Deviations = append(all.Deviations, r)
		case *model.Mark:
			all.Marks = append(all.Marks, r)
		case *model.Answer:
			all.Answers = append(all.Answers, r)
		}
	}
	c, err := all.Circuit() // sorts them
	if err != nil {
		panic("compare: " + err.Error()) // each id stands once in the map
	}
	return c
}

// record merges one record; nil if it is not there.
func (b *builder) record(id model.ID) model.Record {
	base, mine, theirs := b.base.Record(id), b.mine.Record(id), b.theirs.Record(id)
	switch {
	case sameRecord(mine, theirs), sameRecord(base, theirs):
		return mine
	case sameRecord(base, mine):
		return theirs
	}
	alike := mine != nil && theirs != nil && reflect.TypeOf(mine) == reflect.TypeOf(theirs) &&
		(base == nil || reflect.TypeOf(base) == reflect.TypeOf(mine))
	if alike {
		return b.fields(id, base, mine, theirs)
	}
	choice := b.conflict(Conflict{ID: id, Label: "the whole " + string(sortOf(firstOf(mine, theirs, base))),
		Base: whole(base), Mine: whole(mine), Theirs: whole(theirs)})
	return chosen(choice, base, mine, theirs)
}

func firstOf(records ...model.Record) model.Record {
	for _, r := range records {
		if r != nil {
			return r
		}
	}
	return nil
}

func whole(r model.Record) Text {
	if r == nil {
		return Text{}
	}
	words := "there, as " + classOf(r)
	return Text{words, words}
}

// conflict notes a conflict and gives the choice made for it.
func (b *builder) conflict(c Conflict) Choice {
	for i, t := range []teller{b.tellers[1], b.tellers[2], b.tellers[0]} {
		r := t.circuit.Record(c.ID)
		if r == nil {
			continue
		}
		c.Sort, c.Name = sortOf(r), t.name(c.ID)
		// Of two names the lesser is taken, so that it does not matter who merges.
		if other := b.tellers[2]; i == 0 && other.circuit.Record(c.ID) != nil {
			c.Name = min(c.Name, other.name(c.ID))
		}
		break
	}
	c.Choice = b.choices[c.at()]
	b.conflicts = append(b.conflicts, c)
	return c.Choice
}

func chosen[T any](c Choice, base, mine, theirs T) T {
	switch c {
	case Base:
		return base
	case Theirs:
		return theirs
	}
	return mine
}

// fields merges two records of one class field by field.
func (b *builder) fields(id model.ID, base, mine, theirs model.Record) model.Record {
	next := model.Clone(mine)
	for _, f := range fieldsOf(next) {
		var vb reflect.Value
		if base != nil {
			vb = fieldOf(base, f.key)
		}
		vm, vt := fieldOf(mine, f.key), fieldOf(theirs, f.key)
		switch {
		case sameValue(vm, vt), sameValue(vb, vt):
		case sameValue(vb, vm):
			f.value.Set(vt)
		case f.value.Kind() == reflect.Map:
			b.cells(id, f, vb, vm, vt)
		case isSet(f.key) && distinctOrNone(vb) && distinct(vm) && distinct(vt):
			b.elements(id, f, vb, vm, vt)
		default:
			c := b.conflict(Conflict{ID: id, Key: f.key, Label: label(mine, f.key, f.value.Type(), b.cat),
				Base: told(b.tellers[0], vb), Mine: told(b.tellers[1], vm), Theirs: told(b.tellers[2], vt)})
			v := chosen(c, vb, vm, vt)
			if !v.IsValid() {
				v = reflect.Zero(f.value.Type())
			}
			f.value.Set(v)
		}
	}
	return next
}

func distinctOrNone(v reflect.Value) bool { return !v.IsValid() || distinct(v) }

// cells merges a map entry by entry.
func (b *builder) cells(id model.ID, f field, vb, vm, vt reflect.Value) {
	keys := map[model.ID]bool{}
	for _, m := range []reflect.Value{vb, vm, vt} {
		if m.IsValid() {
			for it := m.MapRange(); it.Next(); {
				keys[model.ID(it.Key().String())] = true
			}
		}
	}
	out := reflect.MakeMap(f.value.Type())
	for _, key := range sortedIDs(keys) {
		k := reflect.ValueOf(key)
		get := func(m reflect.Value) reflect.Value {
			if !m.IsValid() {
				return m
			}
			return m.MapIndex(k)
		}
		v := b.one(Conflict{ID: id, Key: f.key, Element: string(key), Label: labels[f.key] + " of " + b.anyName(key)}, get(vb), get(vm), get(vt))
		if v.IsValid() {
			out.SetMapIndex(k, v)
		}
	}
	if out.Len() == 0 {
		out = reflect.Zero(f.value.Type())
	}
	f.value.Set(out)
}

// one merges one element; the zero Value is none.
func (b *builder) one(c Conflict, vb, vm, vt reflect.Value) reflect.Value {
	switch {
	case sameElement(vm, vt), sameElement(vb, vt):
		return vm
	case sameElement(vb, vm):
		return vt
	}
	told := func(t teller, v reflect.Value) Text {
		if !v.IsValid() {
			return Text{}
		}
		return t.text(v)
	}
	c.Base, c.Mine, c.Theirs = told(b.tellers[0], vb), told(b.tellers[1], vm), told(b.tellers[2], vt)
	return chosen(b.conflict(c), vb, vm, vt)
}

func sameElement(a, b reflect.Value) bool {
	if !a.IsValid() || !b.IsValid() {
		return a.IsValid() == b.IsValid()
	}
	return reflect.DeepEqual(a.Interface(), b.Interface())
}

// elements merges a list element by element: those of the base in its order, then
// what each side added; what both added stands in order of its words, so that it
// does not matter who merges. A history is in order of time.
func (b *builder) elements(id model.ID, f field, vb, vm, vt reflect.Value) {
	var kept, added []string
	for _, list := range []reflect.Value{vb, vm, vt} {
		if !list.IsValid() {
			continue
		}
		for i := range list.Len() {
			key := elementKey(list.Index(i))
			switch {
			case element(vb, key).IsValid():
				if !slices.Contains(kept, key) {
					kept = append(kept, key)
				}
			case !slices.Contains(added, key):
				added = append(added, key)
			}
		}
	}
	slices.Sort(added)
	out := reflect.Zero(f.value.Type())
	for _, key := range slices.Concat(kept, added) {
		v := b.one(Conflict{ID: id, Key: f.key, Element: key, Label: labels[f.key]}, element(vb, key), element(vm, key), element(vt, key))
		if v.IsValid() {
			out = reflect.Append(out, v)
		}
	}
	if list, ok := out.Interface().([]model.Entry); ok {
		slices.SortStableFunc(list, func(x, y model.Entry) int { return cmp.Compare(x.At, y.At) })
	}
	f.value.Set(out)
}

func (b *builder) anyName(id model.ID) string {
	names := []string{}
	for _, t := range b.tellers {
		if t.circuit.Record(id) != nil {
			names = append(names, t.name(id))
		}
	}
	if len(names) == 0 {
		return string(id)
	}
	return slices.Min(names)
}

// needed looks at a part that is not in the merged circuit, but that something in
// it needs which the side that deleted it does not have: a conflict.
func (b *builder) needed(id model.ID) {
	if b.merged[id] != nil {
		return
	}
	mine, theirs := b.mine.Part(id), b.theirs.Part(id)
	keeper, deleter := mine, b.theirs
	if mine == nil {
		keeper, deleter = theirs, b.mine
	}
	if keeper == nil {
		return // gone on both sides
	}
	var users []model.ID
	for _, r := range b.merged {
		if there := deleter.Record(r.RecordID()); uses(r, id) && !(there != nil && uses(there, id)) {
			users = append(users, r.RecordID())
		}
	}
	if len(users) == 0 {
		return
	}
	slices.Sort(users)
	names := make([]string, len(users))
	for i, u := range users {
		names[i] = b.anyName(u)
	}
	slices.Sort(names)
	told := false
	choice := Unchosen
	for _, c := range b.conflicts { // the part was deleted by choice already
		if c.ID == id && c.Key == "" {
			told, choice = true, c.Choice
		}
	}
	if !told {
		words := "there; needed by " + joined(names)
		c := Conflict{ID: id, Label: "the whole part", Base: whole(b.base.Record(id))}
		if mine != nil {
			c.Mine = Text{words, words}
		} else {
			c.Theirs = Text{words, words}
		}
		choice = b.conflict(c)
	}
	deleted := choice == Mine && mine == nil || choice == Theirs && theirs == nil
	if !deleted {
		b.merged[id] = keeper
		return
	}
	for _, u := range users {
		b.merged[u] = without(b.merged[u], keeper)
	}
}

func joined(names []string) string {
	if len(names) > 3 {
		return fmt.Sprintf("%s, %s and %d more", names[0], names[1], len(names)-2)
	}
	out := names[0]
	for _, n := range names[1:] {
		out += ", " + n
	}
	return out
}

// uses says whether a run ends on a part or a step names it.
func uses(r model.Record, part model.ID) bool {
	switch r := r.(type) {
	case *model.Run:
		return r.From.Part == part || r.To.Part == part
	case *model.Step:
		_, stands := r.Positions[part]
		return stands || r.Source == part || r.Destination == part || slices.Contains(r.Cleans, part) || slices.Contains(r.Running, part)
	}
	return false
}

// without takes a part that is gone out of a run, whose end hangs loose where the
// part was, or out of a step.
func without(r model.Record, part model.Part) model.Record {
	id, at := part.RecordID(), part.Meta().At
	switch r := r.(type) {
	case *model.Run:
		next := model.Clone(r)
		for _, e := range []*model.End{&next.From, &next.To} {
			if e.Part == id {
				*e = model.End{At: &at}
			}
		}
		return next
	case *model.Step:
		next := model.Clone(r)
		isIt := func(other model.ID) bool { return other == id }
		if isIt(next.Source) {
			next.Source = ""
		}
		if isIt(next.Destination) {
			next.Destination = ""
		}
		next.Cleans = slices.DeleteFunc(next.Cleans, isIt)
		next.Running = slices.DeleteFunc(next.Running, isIt)
		delete(next.Positions, id)
		return next
	}
	return r
}

// numbers gives marks that both sides added with one number another each: the one
// of the least id keeps it.
func (b *builder) numbers(order []model.ID) {
	taken, most := map[int]model.ID{}, 0
	var again []*model.Mark
	for _, id := range order {
		m, ok := b.merged[id].(*model.Mark)
		if !ok {
			continue
		}
		most = max(most, m.Number)
		first, twice := taken[m.Number]
		if !twice {
			taken[m.Number] = id
			continue
		}
		// Two of one side, or of the base, are as that side has them.
		if b.apart(first, id) {
			again = append(again, m)
		}
	}
	for _, m := range again {
		next := model.Clone(m)
		most++
		next.Number = most
		b.merged[m.ID] = next
	}
}

// apart says whether no side has both marks.
func (b *builder) apart(x, y model.ID) bool {
	for _, c := range []*model.Circuit{b.base, b.mine, b.theirs} {
		if c.Mark(x) != nil && c.Mark(y) != nil {
			return false
		}
	}
	return true
}
