// Package network is a circuit as a multigraph, and what a line-up makes of it:
// the route, what is wet, dead legs, heights, what does not drain and where air
// is trapped.
//
// It says what is ("this leg is 0.12 m long"), never what ought to be; limits
// belong to the checks.
//
// # From circuit to plant
//
// [Build] makes a [Plant]: a node for every port and inner point of a part and
// every joint between two stretches of a run; an edge for every stretch and every
// path of a part. The inside of a vessel is two nodes, "inside" where liquid comes
// in and "draw" where it leaves, joined by an edge that is shut while the vessel is
// source or destination of the step. So liquid can go from a tank round a circuit
// and back to the same tank.
//
// # What stands and what moves
//
// Flow passes one-way parts one way only. Liquid at rest also runs back through a
// centrifugal pump, but not through a check valve or a pump of positive
// displacement. No liquid leaves a vessel by a port of role "in", for inlets open
// above the liquid, nor by an overflow: an outlet in the upper half.
//
// # Unknown is not zero
//
// What was never entered stays unknown through every computation, and the results
// name the properties that are missing. Where bounds settle a question without
// them, it is settled.
package network
