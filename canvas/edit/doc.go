// Package edit is the editor without a screen: the open document with its
// history, selection and clipboard; the edits that a hand can make; and the
// tools, which turn pointer and key events in millimetres of the drawing into
// those edits.
//
// A [Drawing] looks at one snapshot of a circuit as it lies on the drawing. It
// finds what is under a point and builds edits; it changes nothing. A
// [Document] holds the present snapshot and applies edits, each one step of its
// history. An [Editor] runs the tools over a document: every event leads from
// one state to the next, a gesture shows a preview, and its end applies one
// edit, or none if nothing changed.
//
// The package knows no toolkit and no rule. Nothing in it is for concurrent
// use; snapshots themselves are safe to hand to other goroutines.
package edit
