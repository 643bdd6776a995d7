package model

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"rinsewright/model/quantity"
)

// Property is one optional field of a record, found by its key in the file. It
// lets the window, the lists and the checks of a kind's data treat all classes
// alike, while the code of a class has typed fields.
type Property struct {
	Key  string       // "diameter_m"
	Type reflect.Type // of the value: quantity.Length, bool, model.Shape ...

	field int
}

// Properties lists the optional fields of a record in the order of its
// struct, without what every part has.
func Properties(r Record) []Property {
	t := reflect.TypeOf(r).Elem()
	var out []Property
	for i := range t.NumField() {
		f := t.Field(i)
		inner, ok := optional(f.Type)
		if f.Anonymous || !ok {
			continue
		}
		key, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		out = append(out, Property{Key: key, Type: inner, field: i})
	}
	return out
}

// FindProperty gives the property of a key; elevation_m is one of every part.
func FindProperty(r Record, key string) (Property, bool) {
	if key == elevationKey {
		if _, ok := r.(Part); ok {
			return Property{Key: key, Type: reflect.TypeFor[quantity.Length](), field: -1}, true
		}
	}
	for _, p := range Properties(r) {
		if p.Key == key {
			return p, true
		}
	}
	return Property{}, false
}

const elevationKey = "elevation_m"

// optional tells whether t is an Opt, and of what.
func optional(t reflect.Type) (reflect.Type, bool) {
	if t.Kind() != reflect.Struct || !strings.HasPrefix(t.Name(), "Opt[") {
		return nil, false
	}
	f, ok := t.FieldByName("value")
	return f.Type, ok
}

func (p Property) of(r Record) reflect.Value {
	v := reflect.ValueOf(r).Elem()
	if p.field < 0 {
		return v.FieldByName("Elevation")
	}
	return v.Field(p.field)
}

// Value gives the value in r and whether it is known. A quantity is in SI.
func (p Property) Value(r Record) (any, bool) {
	out := p.of(r).MethodByName("Get").Call(nil)
	return out[0].Interface(), out[1].Bool()
}

// Number gives the SI value of a quantity in r; not ok if it is unknown or not
// a quantity.
func (p Property) Number(r Record) (float64, bool) {
	v, known := p.Value(r)
	rv := reflect.ValueOf(v)
	if !known || rv.Kind() != reflect.Float64 {
		return 0, false
	}
	return rv.Float(), true
}

// Choices gives the values that the property may have, or nil if it is not a
// choice.
func (p Property) Choices() []string {
	if c, ok := reflect.Zero(p.Type).Interface().(choice); ok {
		return c.Choices()
	}
	return nil
}

// Text gives the value in r as a user reads and types it, without its unit;
// empty if it is unknown.
func (p Property) Text(r Record, s quantity.System) string {
	v, known := p.Value(r)
	if !known {
		return ""
	}
	if u, ok := quantity.UnitOf(p.Type, s); ok {
		return strconv.FormatFloat(roundedTo(u.FromSI(reflect.ValueOf(v).Float()), 6), 'f', -1, 64)
	}
	if b, ok := v.(bool); ok {
		if b {
			return "yes"
		}
		return "no"
	}
	return fmt.Sprint(v)
}

func roundedTo(x float64, digits int) float64 {
	r, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', digits, 64), 64)
	return r
}

// WithText gives a copy of r in which the property is what the user typed.
// Empty text makes it unknown. The error says what was expected.
func (p Property) WithText(r Record, text string, s quantity.System) (Record, error) {
	text = strings.TrimSpace(text)
	next := Clone(r)
	field := p.of(next)
	if text == "" {
		field.SetZero()
		return next, nil
	}
	value, err := p.parse(text, s)
	if err != nil {
		return nil, err
	}
	opt := reflect.New(field.Type())
	setter, ok := opt.Interface().(interface{ Set(any) })
	if !ok {
		panic("model: optional field cannot be set: " + p.Key)
	}
	setter.Set(value.Interface())
	field.Set(opt.Elem())
	return next, nil
}

func (p Property) parse(text string, s quantity.System) (reflect.Value, error) {
	v := reflect.New(p.Type).Elem()
	if _, ok := quantity.UnitOf(p.Type, s); ok {
		x, err := quantity.Parse(text, p.Type, s)
		if err != nil {
			return v, err
		}
		if err := p.checkBounds(x, s); err != nil {
			return v, err
		}
		v.SetFloat(x)
		return v, nil
	}
	switch p.Type.Kind() {
	case reflect.Bool:
		switch strings.ToLower(text) {
		case "yes", "true":
			v.SetBool(true)
		case "no", "false":
		default:
			return v, fmt.Errorf("expected yes or no, found %q", text)
		}
	case reflect.Int:
		n, err := strconv.Atoi(text)
		if err != nil || n < 0 {
			return v, fmt.Errorf("expected a whole number, found %q", text)
		}
		if least, most, ok := Bounds(p.Key, p.Type); ok && (float64(n) < least || float64(n) > most) {
			return v, fmt.Errorf("expected a whole number from %.0f to %.0f", least, most)
		}
		v.SetInt(int64(n))
	case reflect.String:
		if c := p.Choices(); c != nil && !slices.Contains(c, text) {
			return v, fmt.Errorf("expected one of %s, found %q", strings.Join(c, ", "), text)
		}
		if p.Type == reflect.TypeFor[Date]() {
			if _, ok := Date(text).Time(); !ok {
				return v, fmt.Errorf("expected a day as 2026-11-25, found %q", text)
			}
		}
		v.SetString(text)
	}
	return v, nil
}

// checkBounds refuses a value in SI that a file could not hold.
func (p Property) checkBounds(si float64, s quantity.System) error {
	least, most, ok := Bounds(p.Key, p.Type)
	file, _ := quantity.FileUnit(p.Type)
	if !ok || si >= file.ToSI(least) && si <= file.ToSI(most) {
		return nil
	}
	u, _ := quantity.UnitOf(p.Type, s)
	text := func(x float64) string { return quantity.Number(u.FromSI(file.ToSI(x))) + " " + u.Name }
	if most >= immense && least > -immense {
		return fmt.Errorf("expected %s or more", text(least))
	}
	return fmt.Errorf("expected a value from %s to %s", text(least), text(most))
}

// Clone gives a copy of r that may be changed before it goes into an edit.
// Lists and maps are copied too.
func Clone[R Record](r R) R {
	// r may be an interface value, so the concrete type is taken from the value.
	src := reflect.ValueOf(r)
	dst := reflect.New(src.Type().Elem())
	dst.Elem().Set(src.Elem())
	for i := range dst.Elem().NumField() {
		f := dst.Elem().Field(i)
		switch {
		case f.Kind() == reflect.Slice && !f.IsNil():
			c := reflect.MakeSlice(f.Type(), f.Len(), f.Len())
			reflect.Copy(c, f)
			f.Set(c)
		case f.Kind() == reflect.Map && !f.IsNil():
			c := reflect.MakeMapWithSize(f.Type(), f.Len())
			for it := f.MapRange(); it.Next(); {
				c.SetMapIndex(it.Key(), it.Value())
			}
			f.Set(c)
		}
	}
	return dst.Interface().(R)
}
