// Package store puts a circuit's file on the disk so that a crash, a full disk
// or a second program never costs the work in it.
//
// [Save] writes to a temporary file beside the old one, makes it safe on the
// disk, keeps the old version as NAME.bak and only then puts the new one in its
// place. Whatever step fails, the file at its path is wholly the old version or
// wholly the new one. [Autosave] writes a copy beside the file as
// .NAME.autosave, which [Recoverable] finds after a crash. A [Print] tells that
// another program has changed the file since it was read.
//
// The package knows nothing of what is in the file.
package store
