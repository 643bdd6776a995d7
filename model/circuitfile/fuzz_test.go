package circuitfile

import (
	"bytes"
	"encoding/json"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"rinsewright/model"
)

// FuzzDecode holds that no text makes Decode panic, that what it reads can be
// written and read again, and that the second writing is the same as the first.
func FuzzDecode(f *testing.F) {
	f.Add([]byte(sound))
	for seed := range uint64(3) {
		data, err := Encode(randomCircuit(rand.New(rand.NewPCG(seed, 3)), 3, 0.5))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	for _, m := range mutations {
		f.Add(bytes.Replace([]byte(sound), []byte(m.old), []byte(m.new), 1))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		first, err := Decode("f", data)
		if err != nil {
			places(t, err, data)
			return
		}
		written, err := Encode(first)
		if err != nil {
			t.Fatalf("read but cannot be written: %v", err)
		}
		second, err := Decode("f", written)
		if err != nil {
			t.Fatalf("written but cannot be read: %v\n%s", err, written)
		}
		// Twelve figures are kept, so the first reading may hold more.
		if !close(reflect.ValueOf(first.All()), reflect.ValueOf(second.All())) {
			t.Fatalf("a round trip changes the circuit\n%s", written)
		}
		again, err := Encode(second)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(written, again) {
			t.Fatalf("the second writing differs:\n%s\n%s", written, again)
		}
	})
}

// places holds that every error of a file stands inside it.
func places(t *testing.T, err error, data []byte) {
	list, ok := err.(Errors)
	if !ok || len(list) == 0 {
		t.Fatalf("the error %v is a %T", err, err)
	}
	lines := bytes.Split(data, []byte("\n"))
	for _, e := range list {
		if e.Line < 1 || e.Line > len(lines) || e.Column < 1 || e.Column > len(lines[e.Line-1])+1 {
			t.Fatalf("%v stands outside the file", e)
		}
	}
}

// close compares values, floats to eleven figures.
func close(a, b reflect.Value) bool {
	switch a.Kind() {
	case reflect.Float64:
		x, y := a.Float(), b.Float()
		return math.Abs(x-y) <= 1e-11*math.Max(math.Abs(x), math.Abs(y))
	case reflect.Pointer, reflect.Interface:
		if a.IsNil() || b.IsNil() {
			return a.IsNil() == b.IsNil()
		}
		return a.Elem().Type() == b.Elem().Type() && close(a.Elem(), b.Elem())
	case reflect.Struct:
		if p, ok := a.Interface().(model.Point); ok { // kept to a thousandth of a millimetre
			q := b.Interface().(model.Point)
			return math.Abs(p.X-q.X) <= 0.0006 && math.Abs(p.Y-q.Y) <= 0.0006
		}
		for i := range a.NumField() {
			if !close(a.Field(i), b.Field(i)) {
				return false
			}
		}
		return true
	case reflect.Slice: // an empty list is not written, so it comes back as none
		if a.Len() != b.Len() {
			return false
		}
		for i := range a.Len() {
			if !close(a.Index(i), b.Index(i)) {
				return false
			}
		}
		return true
	case reflect.Map:
		if a.Len() != b.Len() {
			return false
		}
		for it := a.MapRange(); it.Next(); {
			other := b.MapIndex(it.Key())
			if !other.IsValid() || !close(it.Value(), other) {
				return false
			}
		}
		return true
	case reflect.String:
		return a.String() == b.String()
	case reflect.Bool:
		return a.Bool() == b.Bool()
	case reflect.Int:
		return a.Int() == b.Int()
	}
	panic("circuitfile: not compared: " + a.Kind().String())
}

// FuzzScan holds that the scanner accepts what encoding/json does, but for the
// limits and invalid UTF-8, and finds the same values.
func FuzzScan(f *testing.F) {
	for _, s := range []string{sound, `[1, -0.5e+3, "a\u00e4\n", true, null, {}]`, `01`, `"\x"`, `[1,]`, `{"a":1,"a":2}`, `-`, `1.`, "\"\x01\"", `nul`, `truex`} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		doc, fault := scan(data)
		if _, invalid := invalidUTF8(data); invalid {
			if fault == nil {
				t.Fatal("invalid UTF-8 accepted")
			}
			return
		}
		if fault == nil != json.Valid(data) {
			if fault != nil && bytes.Contains([]byte(fault.message), []byte("deep")) {
				return
			}
			t.Fatalf("scanner says %v, encoding/json says valid: %v", fault, json.Valid(data))
		}
		if fault != nil {
			return
		}
		for n := range doc.nodes {
			if !json.Valid(doc.raw(n)) {
				t.Fatalf("value %d is %q", n, doc.raw(n))
			}
			if doc.nodes[n].sort == text {
				var s string
				if err := json.Unmarshal(doc.raw(n), &s); err != nil || s != doc.text(n) {
					t.Fatalf("text %q is read as %q", s, doc.text(n))
				}
			}
		}
	})
}
