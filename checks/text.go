package checks

import (
	"fmt"

	"rinsewright/model/quantity"
)

// Text is a sentence with numbers that are told in the reader's units. The zero
// Text is empty.
type Text struct {
	format string
	args   []any
}

// Say makes a Text. Verbs are %v; a [Value] among the arguments is written in
// the units of the reader, a Text likewise, all else as it is.
func Say(format string, args ...any) Text { return Text{format, args} }

// In writes the sentence in the units of s.
func (t Text) In(s quantity.System) string {
	if len(t.args) == 0 && t.format == "" {
		return ""
	}
	args := make([]any, len(t.args))
	for i, a := range t.args {
		switch a := a.(type) {
		case Value:
			args[i] = a.Text(s)
		case Text:
			args[i] = a.In(s)
		default:
			args[i] = a
		}
	}
	return fmt.Sprintf(t.format, args...)
}

// Empty says whether there is nothing to say.
func (t Text) Empty() bool { return t.format == "" }
