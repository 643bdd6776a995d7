package window

import (
	"reflect"
	"strings"

	"rinsewright/model"
)

// property adds a row for a property that all records of the form have.
func (f *form) property(key string) {
	records := f.records()
	first, ok := model.FindProperty(records[0], key)
	if !ok {
		return
	}
	c := captionOf(records[0], key, f.on.kinds())
	if len(records) == 1 {
		c.label = f.towards(records[0], c.label)
	}
	commit := func(text string) error { return f.setProperty(key, text) }
	shown := func() (string, bool) { return f.shown(key) }
	focus := f.helpOn(c.label, c.help)
	choices := f.choicesOf(first, records)
	switch {
	case choices != nil:
		in := newChoiceField(choices, true, f.positionWords(first.Key, records), commit)
		in.onFocus, in.onKey = focus, f.on.function
		f.keys[key] = in
		row := newFieldRow(c.label, "", in)
		in.problem = tellRow(row)
		f.add(row, func() { in.setShown(shown()) })
	case first.Type == reflect.TypeFor[model.TubeSize]():
		in := newSizeField(f.on, f.on.kinds().Tubes(), f.on.units, commit)
		in.onFocus = focus
		f.keys[key] = in
		row := newFieldRow(c.label, "", in)
		in.problem = tellRow(row)
		f.add(row, func() { in.setShown(shown()) })
	default:
		in := newFieldEntry(commit)
		in.onFocus, in.onKey = focus, f.on.function
		f.keys[key] = in
		row := newFieldRow(c.label, unitName(first, f.on.units()), in)
		in.problem = tellRow(row)
		f.add(row, func() {
			text, mixed := shown()
			in.PlaceHolder = unknownWord
			if mixed {
				in.PlaceHolder = "several values"
			}
			in.setShown(text)
		})
	}
}

// towards says of a seat at a port to which part it looks: "Seat from port b"
// becomes "Seat towards V-102".
func (f *form) towards(r model.Record, label string) string {
	before, port, ok := strings.Cut(label, "port ")
	part, isPart := r.(model.Part)
	if !ok || !isPart {
		return label
	}
	tag := f.on.drawing().Beyond(part.RecordID(), port)
	if tag == "" {
		return label
	}
	what, _, _ := strings.Cut(before, " ")
	return what + " towards " + tag
}

// positionWords gives how the positions of one valve are told; nil for what is no
// position, or for several valves.
func (f *form) positionWords(key string, records []model.Record) func(string) string {
	if key != "normal" || len(records) != 1 {
		return nil
	}
	id := records[0].RecordID()
	return func(position string) string {
		if v, ok := f.on.circuit().Part(id).(*model.Valve); ok {
			return f.on.drawing().PositionWords(v, position)
		}
		return plainWords(position)
	}
}

// choicesOf gives the closed list of a property's values, or nil. What is yes
// or no has a third state: unknown.
func (f *form) choicesOf(p model.Property, records []model.Record) []string {
	if p.Type.Kind() == reflect.Bool {
		return []string{"yes", "no"}
	}
	if c := p.Choices(); c != nil {
		return c
	}
	if p.Key != "normal" {
		return nil
	}
	// The normal position is one of the kind's; several kinds have their own.
	var out []string
	for i, r := range records {
		part, ok := r.(model.Part)
		if !ok {
			return nil
		}
		kind := f.on.kinds().Kind(part.Meta().Kind)
		if kind == nil || (i > 0 && strings.Join(kind.Positions, " ") != strings.Join(out, " ")) {
			return nil
		}
		out = kind.Positions
	}
	return out
}
