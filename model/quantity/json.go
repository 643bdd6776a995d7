package quantity

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"strconv"
)

// MarshalJSON writes the value in its file unit; text, flags and lists as they
// are. An unknown value is null (normally it is left out, see [Opt.IsZero]).
func (o Opt[T]) MarshalJSON() ([]byte, error) {
	if !o.known {
		return []byte("null"), nil
	}
	u, ok := FileUnit(reflect.TypeFor[T]())
	if !ok {
		return marshalPlain(o.value)
	}
	si := reflect.ValueOf(o.value).Float()
	if math.IsNaN(si) || math.IsInf(si, 0) {
		return nil, fmt.Errorf("quantity: %v is not a number that can be written", si)
	}
	x := u.FromSI(si)
	if u.Offset != 0 {
		x = math.Round(x*1e12) / 1e12 // all that the offset leaves: 0.01 °C is not 0.00999999999999
	}
	return []byte(formatExact(x)), nil
}

// marshalPlain writes text as it is: "&" does not become "\u0026", since a
// circuit file is read by people too.
func marshalPlain(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		return nil, err
	}
	return bytes.TrimSuffix(b.Bytes(), []byte("\n")), nil
}

// UnmarshalJSON reads a value in its file unit. It refuses null: an unknown
// value is told by leaving its key out.
func (o *Opt[T]) UnmarshalJSON(b []byte) error {
	if string(b) == "null" {
		return fmt.Errorf("null is not a value; leave the key out for an unknown value")
	}
	u, ok := FileUnit(reflect.TypeFor[T]())
	if !ok {
		if err := json.Unmarshal(b, &o.value); err != nil {
			return err
		}
		o.known = true
		return nil
	}
	x, err := strconv.ParseFloat(string(b), 64)
	if err != nil {
		return fmt.Errorf("expected a number in %s, found %s", u.Name, b)
	}
	reflect.ValueOf(&o.value).Elem().SetFloat(u.ToSI(x))
	o.known = true
	return nil
}

// formatExact writes x with 12 significant digits, enough for any measured
// value and few enough that a unit conversion there and back gives the same
// text again (0.05 m³/s is 180 m³/h, not 180.00000000000003).
func formatExact(x float64) string {
	r, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 12, 64), 64)
	if r == 0 {
		r = 0 // no minus sign before zero
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}
