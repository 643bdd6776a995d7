package flow

import (
	"rinsewright/model"
	. "rinsewright/model/quantity"
)

// Assume gives an assumption a value with quantities in it, which readers are told in
// their units by [Assumption.Told].
func Assume(value Words, a Assumption) Assumption {
	a.Value, a.words = value.String(), value
	return a
}

// Told gives the value in a reader's units.
func (a Assumption) Told(s System) string {
	if a.words.Empty() {
		return a.Value
	}
	return a.words.In(s)
}

// Fail gives a failure at a place whose text holds quantities.
func Fail(text Words, at model.Place) Failure {
	return Failure{Text: text.String(), At: at, words: text}
}

// Words gives the text as a part of a longer one.
func (f Failure) Words() Words {
	if f.words.Empty() {
		return Say("%s", f.Text)
	}
	return f.words
}

// Told gives the text in a reader's units.
func (f Failure) Told(s System) string {
	if f.words.Empty() {
		return f.Text
	}
	return f.words.In(s)
}
