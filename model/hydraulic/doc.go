// Package hydraulic computes steady flow in a network of tubes: what flows where,
// and how high the pressure is.
//
// The network is abstract. A [Node] is a point with one head; a [Link] joins two
// nodes and obeys a [Law] that says how the head falls with the flow (a [Pipe], a
// [Loss], a [Valve], a [Pump], an [Emitter] ...). The package knows no circuit; a
// line-up is turned into a network elsewhere.
//
// Head is piezometric, in metres of the fluid: elevation plus pressure over ρg.
// Flow is counted from the link's From to its To. All quantities are in SI units.
//
// A [Solver] finds all heads and flows together by Newton's method on both (the
// global gradient method: E. Todini, S. Pilati, "A gradient algorithm for the
// analysis of pipe networks", 1988). What depends on the topology alone is done
// once; settings may then change between solves.
//
// # What is regularised
//
// The equations are solved as they stand but for these:
//   - a link that would not resist at all (a pipe of no length and no fitting)
//     resists like [leastLoss]: 1e-6 m at 36 m³/h;
//   - the law of friction is smooth from laminar to turbulent flow ([Moody]);
//   - a one-way link that holds against pressure passes exactly nothing. Only on
//     the way there does the solver let it leak.
package hydraulic
