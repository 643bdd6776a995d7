// Package heat tells the heat side of a solved step: what heaters and coolers on the way
// must give and can give, the steam that takes, how long a tank and its circuit need to
// get hot, and what tubes and vessels lose on the way.
//
// It says what is. What ought to be is a matter of the checks.
//
// # Two states
//
// At the start the liquid comes as cold as its source holds it; exchangers are sized and
// rated for one pass of that liquid. While the wash runs, what a circuit brings back to
// the tank that it draws from comes to the heater again: the temperatures along the way
// and the losses are those of that state, with the heater giving what is lost.
//
// # Losses
//
// Tubes and vessels lose heat to still air in proportion to the difference, at the rate
// that holds at the step's temperature. Valves, pumps, fittings and drops in the open are
// not counted. Liquid that is no warmer than the air keeps its temperature.
//
// # Unknown is not zero
//
// What was never told and matters stands in [State].Missing with what it would decide;
// what stands in for it in [State].Assumptions.
package heat
