package compare

import (
	"reflect"
	"strings"

	"rinsewright/model"
)

// field is one field of a record as the file has it.
type field struct {
	key   string
	value reflect.Value
}

// fieldsOf lists the fields of a record but for its id, in the order of the
// struct, those of what every part has among them.
func fieldsOf(r model.Record) []field {
	if r == nil {
		return nil
	}
	return appendFields(nil, reflect.ValueOf(r).Elem())
}

func appendFields(out []field, v reflect.Value) []field {
	for i := range v.NumField() {
		f := v.Type().Field(i)
		if f.Anonymous {
			out = appendFields(out, v.Field(i))
			continue
		}
		if key, _, _ := strings.Cut(f.Tag.Get("json"), ","); key != "id" {
			out = append(out, field{key, v.Field(i)})
		}
	}
	return out
}

// fieldOf gives the field of a key; the zero Value if the record has none.
func fieldOf(r model.Record, key string) reflect.Value {
	for _, f := range fieldsOf(r) {
		if f.key == key {
			return f.value
		}
	}
	return reflect.Value{}
}

// sameValue says whether two values of a field are the same. An empty list or map
// is the same as none, as it is in the file. A field that one record does not have
// is the same as one that is empty there.
func sameValue(a, b reflect.Value) bool {
	switch {
	case empty(a) || empty(b):
		return empty(a) && empty(b)
	case a.Type() != b.Type():
		return false
	}
	return reflect.DeepEqual(a.Interface(), b.Interface())
}

func empty(v reflect.Value) bool {
	if !v.IsValid() {
		return true
	}
	switch v.Kind() {
	case reflect.Slice, reflect.Map:
		return v.Len() == 0
	}
	return v.IsZero()
}

// sameRecord says whether nothing tells two records apart.
func sameRecord(a, b model.Record) bool {
	if a == nil || b == nil {
		return a == nil && b == nil
	}
	return a == b || reflect.TypeOf(a) == reflect.TypeOf(b) && (reflect.DeepEqual(a, b) || len(changedKeys(a, b)) == 0)
}

// changedKeys lists the fields in which two records differ, in the order of a and
// then of b.
func changedKeys(a, b model.Record) []string {
	var out []string
	if reflect.TypeOf(a) == reflect.TypeOf(b) { // the usual case: the same fields in the same order
		x, y := fieldsOf(a), fieldsOf(b)
		for i := range x {
			if !sameValue(x[i].value, y[i].value) {
				out = append(out, x[i].key)
			}
		}
		return out
	}
	seen := map[string]bool{}
	for _, r := range []model.Record{a, b} {
		for _, f := range fieldsOf(r) {
			if !seen[f.key] && !sameValue(fieldOf(a, f.key), fieldOf(b, f.key)) {
				out = append(out, f.key)
			}
			seen[f.key] = true
		}
	}
	return out
}

// isSet says whether a list is told and merged element by element: who is in it
// matters, or each element stands for itself.
func isSet(key string) bool {
	switch key {
	case "cleans", "running", "attachments", "history", "revisions", "limits", "steps":
		return true
	}
	return false
}
