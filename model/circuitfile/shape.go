package circuitfile

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

// shape is what a value of the file must look like. It is read off the Go types
// of the records, so that reading, writing and the JSON Schema cannot differ.
type shape struct {
	form     form
	what     string  // in messages: "a valve", "a number in m³/h"
	fields   []field // of formObject
	byKey    map[string]int
	elem     *shape            // of formList and formMap
	classes  map[string]*shape // of formPart
	choices  []string          // of formText; nil: any text
	nonEmpty bool              // of formText
	pattern  string            // of formText, for the schema; empty: any
	valid    func(string) bool // of formText; nil: any
	least    float64           // of numbers and pairs, in the unit of the file
	most     float64
	record   bool // an element of a list of records: has an id
	open     bool // is written over several lines
}

type form uint8

const (
	formObject form = iota
	formPart        // an object whose class tells its keys
	formMap         // an object with any keys
	formList
	formText
	formFlag
	formNumber
	formWhole
	formPair // [x, y]
)

type field struct {
	key      string
	shape    *shape
	required bool
}

// needed lists the keys that a record cannot be without; where only one sort of
// object needs the key, that stands before it.
var needed = map[string]bool{
	"schema": true, "version": true, "circuit": true, "class": true, "id": true, "kind": true, "from": true, "to": true,
	"element": true, "number": true, "question": true, "answer": true, "limit": true, "value": true,
	"a deviation: rule": true, "a deviation: finding": true,
}

// envelope is the shape of a whole file.
var envelope = newEnvelope()

// recordLists are the lists of records of a file beside the parts, in its order.
// Those of the audit are left out where they are empty, so that a circuit without
// an audit has the same text as ever.
var recordLists = []recordList{
	{"runs", "run", reflect.TypeFor[model.Run](), false, func(c *model.Circuit) []model.Record { return listed(c.Runs()) }},
	{"steps", "step", reflect.TypeFor[model.Step](), false, func(c *model.Circuit) []model.Record { return listed(c.Steps()) }},
	{"deviations", "deviation", reflect.TypeFor[model.Deviation](), true, func(c *model.Circuit) []model.Record { return listed(c.Deviations()) }},
	{"marks", "mark", reflect.TypeFor[model.Mark](), true, func(c *model.Circuit) []model.Record { return listed(c.Marks()) }},
	{"answers", "answer", reflect.TypeFor[model.Answer](), true, func(c *model.Circuit) []model.Record { return listed(c.Answers()) }},
}

type recordList struct {
	key, name string
	sort      reflect.Type
	audit     bool
	of        func(*model.Circuit) []model.Record
}

func listed[R model.Record](list []R) []model.Record {
	out := make([]model.Record, len(list))
	for i, r := range list {
		out[i] = r
	}
	return out
}

func newEnvelope() *shape {
	part := &shape{form: formPart, what: "a part", record: true, open: true, classes: map[string]*shape{}}
	for _, c := range model.Classes() {
		part.classes[string(c)] = partShape(c)
	}
	header := shapeOf("", reflect.TypeFor[model.Header]())
	header.open = true
	s := &shape{form: formObject, what: "a circuit file", open: true}
	s.add("schema", &shape{form: formText, what: "text", choices: []string{SchemaName}})
	s.add("version", &shape{form: formWhole, what: "a whole number", least: 1, most: Version})
	s.add("circuit", header)
	s.add("parts", &shape{form: formList, what: "a list of parts", elem: part, open: true})
	for _, l := range recordLists {
		elem := shapeOf("", l.sort)
		elem.record, elem.open = true, true
		s.add(l.key, &shape{form: formList, what: "a list of " + l.key, elem: elem, open: true})
	}
	return s
}

func partShape(c model.Class) *shape {
	s := &shape{form: formObject, what: withArticle(string(c)), record: true, open: true}
	s.add("class", &shape{form: formText, what: "text", choices: []string{string(c)}})
	s.addFields(reflect.TypeOf(model.NewPart(c)).Elem())
	return s
}

func withArticle(noun string) string {
	if strings.ContainsRune("aeiou", rune(noun[0])) {
		return "an " + noun
	}
	return "a " + noun
}

func (s *shape) add(key string, of *shape) {
	if s.byKey == nil {
		s.byKey = map[string]int{}
	}
	if len(s.fields) == maxFields {
		panic("circuitfile: " + s.what + " has too many fields") // a new field; raise maxFields
	}
	s.byKey[key] = len(s.fields)
	s.fields = append(s.fields, field{key: key, shape: of, required: needed[key] || needed[s.what+": "+key]})
}

// keys lists the keys of an object in the order of the file.
func (s *shape) keys() []string {
	out := make([]string, len(s.fields))
	for i, f := range s.fields {
		out[i] = f.key
	}
	return out
}

func (s *shape) addFields(t reflect.Type) {
	for i := range t.NumField() {
		f := t.Field(i)
		if f.Anonymous {
			s.addFields(f.Type)
			continue
		}
		key, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		of := shapeOf(key, f.Type)
		if key == "id" {
			of.nonEmpty = true
		}
		s.add(key, of)
	}
}

// shapeOf gives the shape of the values of a Go type under a key.
func shapeOf(key string, t reflect.Type) *shape {
	if inner, ok := known(t); ok {
		t = inner
	}
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	if t == reflect.TypeFor[model.Point]() {
		least, most, _ := model.Bounds(key, reflect.TypeFor[quantity.Length]())
		return &shape{form: formPair, what: "two numbers [x, y]", least: least, most: most}
	}
	switch t.Kind() {
	case reflect.Struct:
		s := &shape{form: formObject, what: withArticle(strings.ToLower(t.Name()))}
		s.addFields(t)
		return s
	case reflect.Slice:
		elem := shapeOf(key, t.Elem())
		s := &shape{form: formList, what: "a list", elem: elem}
		s.open = elem.form == formObject || elem.form == formPair
		return s
	case reflect.Map:
		return &shape{form: formMap, what: "an object", elem: shapeOf(key, t.Elem()), open: true}
	case reflect.String:
		s := &shape{form: formText, what: "text"}
		switch t {
		case reflect.TypeFor[model.Date]():
			s.what, s.pattern = "a date as 2026-11-25", model.DatePattern
			s.valid = func(text string) bool { _, ok := model.Date(text).Time(); return ok }
		case reflect.TypeFor[model.Moment]():
			s.what, s.pattern = "a time in UTC as 2026-11-25T13:18:14Z", model.MomentPattern
			s.valid = func(text string) bool { _, ok := model.Moment(text).Time(); return ok }
		}
		if c, ok := reflect.Zero(t).Interface().(interface{ Choices() []string }); ok {
			s.choices = slices.Clone(c.Choices())
		}
		return s
	case reflect.Bool:
		return &shape{form: formFlag, what: "true or false"}
	case reflect.Int:
		least, most, _ := model.Bounds(key, t)
		return &shape{form: formWhole, what: "a whole number", least: least, most: most}
	case reflect.Float64:
		u, ok := quantity.FileUnit(t)
		if !ok && t != reflect.TypeFor[model.Plain]() {
			break
		}
		least, most, _ := model.Bounds(key, t)
		return &shape{form: formNumber, what: strings.TrimSuffix("a number in "+u.Name, " in "), least: least, most: most}
	}
	panic(fmt.Sprintf("circuitfile: key %q: no file form for %s", key, t)) // a new field of a type that nothing here knows
}

// known tells whether t is an optional value, and of what.
func known(t reflect.Type) (reflect.Type, bool) {
	get, ok := t.MethodByName("Get")
	if !ok || t.Kind() != reflect.Struct || get.Type.NumOut() != 2 {
		return nil, false
	}
	return get.Type.Out(0), true
}
