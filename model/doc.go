// Package model is the circuit: its parts, pipe runs and wash steps, and the
// edits that change it.
//
// A [Circuit] is a snapshot that never changes once handed out. An [Edit] is
// data (before and after of each record); applied to a snapshot it makes the
// next one and its inverse leads back. So undo, live checking beside the user
// and the remedy of a finding are the same mechanism.
//
// The package knows no screen and no rule. What a part looks like, where its
// ports are and which ways lead through it is data of its kind, in package
// catalogue.
package model
