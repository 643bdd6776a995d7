// Package place tells where the things of a circuit lie on the drawing: the
// boxes of parts, their ports, and what is near a point. Everything is in
// millimetres of the drawing, x to the right, y down.
package place
