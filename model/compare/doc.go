// Package compare tells two circuits apart, record by record and property by
// property, and merges two people's edits of one base.
//
// Records are the same if they have the same id: ids are random and last for the
// life of a record, so a part that was moved, tagged anew or made another kind is
// still known. What differs is told in fields of the file; a line-up is told
// valve by valve, a list of ids one by one, all else as a whole.
//
// A merge takes each field from the side that changed it. Where both changed it
// to different values, or one deleted what the other changed or built upon, there
// is a conflict, which names the record, the field and the three values, and
// waits for a choice.
package compare
