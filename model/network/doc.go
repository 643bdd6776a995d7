// Package network is a circuit as a multigraph, and what a line-up makes of it:
// the route, what is wet, dead legs, heights, and what does not drain.
//
// It says what is ("this leg is 0.12 m long"), never what ought to be; limits
// belong to the checks.
package network
