package quantity

import (
	"fmt"
	"reflect"
)

// Words is a sentence with quantities in it that are written when it is told, in the
// reader's units. The zero Words is empty.
type Words struct {
	format string
	args   []any
}

// Say makes Words. A quantity or Words among the arguments is written by [Words.In];
// its verb is %v. All else is written as fmt does.
func Say(format string, args ...any) Words { return Words{format, args} }

// In writes the sentence in the units of s.
func (w Words) In(s System) string {
	if len(w.args) == 0 {
		return w.format
	}
	args := make([]any, len(w.args))
	for i, a := range w.args {
		args[i] = a
		if more, ok := a.(Words); ok {
			args[i] = more.In(s)
		} else if u, ok := UnitOf(reflect.TypeOf(a), s); ok {
			args[i] = withUnit(u, reflect.ValueOf(a).Float())
		}
	}
	return fmt.Sprintf(w.format, args...)
}

// String writes the sentence in metric units.
func (w Words) String() string { return w.In(Metric) }

// Empty says whether there is nothing to say.
func (w Words) Empty() bool { return w.format == "" }
