package compare

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

// Text is a value as a reader of each system of units sees it; empty where there
// is none.
type Text struct {
	Metric string `json:"text"`
	US     string `json:"text_us"`
}

// In gives the text in the units of s.
func (t Text) In(s quantity.System) string {
	if s == quantity.US {
		return t.US
	}
	return t.Metric
}

// teller puts values of one circuit in words.
type teller struct {
	circuit *model.Circuit
	cat     *catalogue.Catalogue
}

func (t teller) text(v reflect.Value) Text {
	return Text{t.in(v, quantity.Metric), t.in(v, quantity.US)}
}

// in writes a value; empty if there is none.
func (t teller) in(v reflect.Value, s quantity.System) string {
	if !v.IsValid() {
		return ""
	}
	if _, ok := known(v.Type()); ok {
		out := v.MethodByName("Get").Call(nil)
		if !out[1].Bool() {
			return ""
		}
		return t.in(out[0], s)
	}
	switch x := v.Interface().(type) {
	case model.ID:
		if x == "" {
			return `""`
		}
		return t.name(x)
	case model.Point:
		return fmt.Sprintf("(%s, %s) mm", quantity.Number(x.X), quantity.Number(x.Y))
	case model.End:
		return t.end(x)
	case model.Place:
		return t.place(x)
	}
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			return ""
		}
		return t.in(v.Elem(), s)
	case reflect.Float64:
		if u, ok := quantity.UnitOf(v.Type(), s); ok {
			return strings.TrimSpace(exact(u.FromSI(v.Float())) + " " + u.Name)
		}
		return exact(v.Float())
	case reflect.Bool:
		if v.Bool() {
			return "yes"
		}
		return "no"
	case reflect.Slice:
		var words []string
		for i := range v.Len() {
			words = append(words, t.in(v.Index(i), s))
		}
		return strings.Join(words, "; ")
	case reflect.Struct:
		return t.fields(v, s)
	}
	if v.Kind() == reflect.String && v.Len() == 0 {
		return `""` // told to be empty, which is not the same as not told
	}
	return fmt.Sprint(v.Interface())
}

// exact writes a number to six figures: two that differ must not look the same.
func exact(x float64) string {
	short := strconv.FormatFloat(x, 'g', 6, 64)
	y, _ := strconv.ParseFloat(short, 64) // just written
	return strconv.FormatFloat(y, 'f', -1, 64)
}

// fields writes a struct as its fields that are not empty.
func (t teller) fields(v reflect.Value, s quantity.System) string {
	var words []string
	for _, f := range appendFields(nil, v) {
		if !empty(f.value) {
			words = append(words, label(nil, f.key, f.value.Type(), nil)+" "+t.in(f.value, s))
		}
	}
	if len(words) == 0 {
		return "unknown"
	}
	return strings.Join(words, ", ")
}

func (t teller) end(e model.End) string {
	switch {
	case !e.Loose() && e.Port != "":
		return t.name(e.Part) + ", port " + e.Port
	case !e.Loose():
		return t.name(e.Part)
	case e.At != nil:
		return "loose at " + t.in(reflect.ValueOf(*e.At), quantity.Metric)
	}
	return "loose"
}

func (t teller) place(p model.Place) string {
	out := t.name(p.Element)
	if rest := strings.TrimPrefix(p.String(), string(p.Element)); rest != "" {
		out += " " + rest
	}
	return out
}

// name tells a reader which record an id is.
func (t teller) name(id model.ID) string {
	switch r := t.circuit.Record(id).(type) {
	case model.Part:
		if r.Meta().Tag != "" {
			return r.Meta().Tag
		}
		if t.cat != nil {
			if k := t.cat.Kind(r.Meta().Kind); k != nil {
				return "untagged " + lowerFirst(k.Title)
			}
		}
		return "untagged " + string(r.Class())
	case *model.Run:
		if r.Tag != "" {
			return r.Tag
		}
		return "run from " + t.near(r.From) + " to " + t.near(r.To)
	case *model.Step:
		out := "step " + r.Name
		if r.Name == "" {
			out = "step " + string(r.ID)
		}
		if r.Programme != "" {
			out += " of " + r.Programme
		}
		return out
	case *model.Deviation:
		if r.Was != "" {
			return "deviation from " + r.Rule + " at " + r.Was
		}
		return "deviation from " + r.Rule
	case *model.Mark:
		return "mark " + strconv.Itoa(r.Number)
	case *model.Answer:
		out := "answer to " + r.Question
		if r.On != "" {
			out += " on " + t.name(r.On)
		}
		return out
	case *model.Header:
		return "the circuit"
	}
	return string(id)
}

func (t teller) near(e model.End) string {
	if e.Loose() {
		return "nowhere"
	}
	return t.name(e.Part)
}

// known tells whether t is an optional value, and of what.
func known(t reflect.Type) (reflect.Type, bool) {
	if t == nil || t.Kind() != reflect.Struct || !strings.HasPrefix(t.Name(), "Opt[") {
		return nil, false
	}
	get, ok := t.MethodByName("Get")
	if !ok {
		return nil, false
	}
	return get.Type.Out(0), true
}
