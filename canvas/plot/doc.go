// Package plot draws curves as pictures: the same drawing description as
// circuits, so that a plot is seen on the screen and written to a file by the
// same writers, in light and dark.
package plot
