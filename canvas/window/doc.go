// Package window is the program's one window: the store of parts, the board,
// the properties, the findings and the wash steps.
//
// It turns what the hand does into events and edits of package edit, and shows
// what package draw draws and package checks finds. It decides nothing about a
// circuit by itself and knows no rule by name.
//
// The package does not import fyne's app package, so that its tests need
// neither a display nor cgo; the program hands the app in.
package window
