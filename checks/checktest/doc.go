// Package checktest tests rules on case files.
//
// A case is a circuit file, testdata/RULE/NAME.circuit.json, that can be opened
// in the program. What the rule must say stands beside the fault, in the note
// of the part or run it is about, one line each; what concerns a step or the
// whole circuit stands in the note of the step or the circuit:
//
//	want dead-leg "4 D"
//	want-not-assessed dead-leg "seat"
//
// The text in quotes is a regular expression on severity and message in metric
// units: "fix: dead leg from ...". A
// finding that nobody wanted and a want that nobody met both fail. So a record
// without a note is a test that the rule is silent there.
//
// Every remedy that a finding offers is applied in turn; the rule must then be
// silent at that place.
//
// [Sketch] makes a circuit from a few lines of text, so that a case is quickly
// written; [Write] puts it into a case file.
package checktest
