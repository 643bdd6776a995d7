package edit

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

// PropertyError says why a property cannot be what was typed. Message fits
// beside the field.
type PropertyError struct {
	Key     string // as in the circuit file
	Label   string // as shown
	Message string
}

func (e *PropertyError) Error() string { return e.Label + ": " + e.Message }

// words are the fields of records that hold plain words, by key.
var words = map[string]string{
	"note": "Note", "name": "Name", "programme": "Programme", "ends_on": "Ends on", "plant": "Plant",
	"author": "Author", "revision": "Revision", "date": "Date", "profile": "Profile",
}

// textField gives where a record keeps the words of a key, or nil.
func textField(r model.Record, key string) *string {
	switch r := r.(type) {
	case model.Part:
		if key == "note" {
			return &r.Meta().Note
		}
	case *model.Run:
		if key == "note" {
			return &r.Note
		}
	case *model.Step:
		return map[string]*string{"note": &r.Note, "name": &r.Name, "programme": &r.Programme, "ends_on": &r.EndsOn}[key]
	case *model.Header:
		return map[string]*string{"note": &r.Note, "name": &r.Name, "plant": &r.Plant, "author": &r.Author,
			"revision": &r.Revision, "date": &r.Date, "profile": &r.Profile}[key]
	}
	return nil
}

// Text gives a property of a record as a user reads and types it, without its
// unit; empty if it is unknown or the record has none of the key.
func (d *Drawing) Text(id model.ID, key string, system quantity.System) string {
	r := d.circuit.Record(id)
	if r == nil {
		return ""
	}
	if key == "tag" {
		switch r := r.(type) {
		case model.Part:
			return r.Meta().Tag
		case *model.Run:
			return r.Tag
		}
	}
	if field := textField(r, key); field != nil {
		return *field
	}
	if p, ok := model.FindProperty(r, key); ok {
		return shownText(p.Text(r, system), p, system)
	}
	return ""
}

// shownText rounds a number to four significant figures where it is shown in
// units that are not those of the file: more would only be what the conversion
// makes of it.
func shownText(text string, p model.Property, system quantity.System) string {
	if _, ok := quantity.UnitOf(p.Type, system); !ok || system == quantity.Metric {
		return text
	}
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return text
	}
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 4, 64), 64)
	if err != nil {
		return text
	}
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}

// SetProperty makes a property of parts, runs, steps or the header what a user
// typed; empty text makes it unknown. Keys are those of the circuit file; tag,
// note and the other plain words are among them. A *[PropertyError] tells what
// is wrong: a number that is none or is beyond what the kind allows, a tube that
// no table has, a position that the valve does not have.
func (d *Drawing) SetProperty(ids []model.ID, key, text string, system quantity.System) (model.Edit, error) {
	if key == "tag" {
		if len(ids) != 1 {
			return model.Edit{}, &PropertyError{Key: key, Label: "Tag", Message: "a tag is given to one thing at a time"}
		}
		return d.Tag(ids[0], text)
	}
	f := d.draft()
	label := key
	for _, id := range ids {
		r := d.circuit.Record(id)
		if r == nil {
			return model.Edit{}, fmt.Errorf("there is no element %s", id)
		}
		label = d.Label(r, key)
		next, err := d.withText(r, key, text, system)
		if err != nil {
			return model.Edit{}, &PropertyError{Key: key, Label: label, Message: err.Error()}
		}
		f.put(next)
	}
	return f.edit("set " + lowerFirst(label) + " of " + d.allNames(ids)), nil
}

// Label gives what a property of a record is called.
func (d *Drawing) Label(r model.Record, key string) string {
	if p, ok := r.(model.Part); ok {
		if k := d.kindOf(p); k != nil {
			if info, ok := k.Property(key); ok {
				return info.Label
			}
		}
	}
	if w, ok := words[key]; ok {
		return w
	}
	// The unit at the end of a key is no part of its name.
	name := key
	if p, ok := model.FindProperty(r, key); ok {
		if u, ok := quantity.FileUnit(p.Type); ok {
			name = strings.TrimSuffix(key, "_"+u.Key)
		}
	}
	return upperFirst(strings.ReplaceAll(name, "_", " "))
}

func (d *Drawing) withText(r model.Record, key, text string, system quantity.System) (model.Record, error) {
	if textField(r, key) != nil {
		next := model.Clone(r)
		*textField(next, key) = strings.TrimSpace(text)
		return next, nil
	}
	p, ok := model.FindProperty(r, key)
	if !ok {
		return nil, fmt.Errorf("a %s has no property %s", d.what(r), key)
	}
	next, err := p.WithText(r, text, system)
	if err != nil {
		return nil, err
	}
	return next, d.allowed(next, p, system)
}

// allowed checks a property that was just set.
func (d *Drawing) allowed(r model.Record, p model.Property, system quantity.System) error {
	v, known := p.Value(r)
	if !known {
		return nil
	}
	var kind *catalogue.Kind
	if part, ok := r.(model.Part); ok {
		kind = d.kindOf(part)
	}
	switch v := v.(type) {
	case model.TubeSize:
		if _, ok := d.cat.Tube(v); !ok {
			return fmt.Errorf("no tube table has the size %s", v)
		}
	case string:
		if p.Key == "normal" && kind != nil && !slices.Contains(kind.Positions, v) {
			return fmt.Errorf("expected one of %s", strings.Join(kind.Positions, ", "))
		}
	case int:
		return d.inRange(float64(v), p, kind, func(x float64) string { return strconv.Itoa(int(x)) })
	}
	unit, isQuantity := quantity.FileUnit(p.Type)
	if !isQuantity {
		return nil
	}
	x, _ := p.Number(r)
	shown, _ := quantity.UnitOf(p.Type, system)
	return d.inRange(unit.FromSI(x), p, kind, func(limit float64) string {
		return strings.TrimSpace(quantity.Number(shown.FromSI(unit.ToSI(limit))) + " " + shown.Name)
	})
}

// inRange checks x, in file units, first against what the kind allows, then
// against what such a number can be at all.
func (d *Drawing) inRange(x float64, p model.Property, kind *catalogue.Kind, write func(float64) string) error {
	least, most, ok := model.Bounds(p.Key, p.Type)
	if !ok {
		least, most = math.Inf(-1), math.Inf(1)
	}
	if kind != nil {
		if info, ok := kind.Property(p.Key); ok {
			if info.Least != nil {
				least = max(least, *info.Least)
			}
			if info.Most != nil {
				most = min(most, *info.Most)
			}
		}
	}
	// A conversion of units must not push a limit itself over the limit.
	slack := 1e-9 * max(math.Abs(x), 1e-6)
	switch {
	case x < least-slack:
		return fmt.Errorf("must be at least %s", write(least))
	case x > most+slack:
		return fmt.Errorf("must be at most %s", write(most))
	}
	return nil
}
