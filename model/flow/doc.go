// Package flow computes what happens in the pipes while a wash step runs: it turns
// the step's line-up into a hydraulic network, solves it, and says what flows
// where, how fast, under which pressure, and what pumps, spray devices and
// vessels do.
//
// It says what is. What ought to be is a matter of the checks.
//
// # From line-up to network
//
// All ways that liquid reaches and passes count, also those that leave the route: an
// open drain, a second vessel. What hangs off them without an end is a dead leg and
// carries nothing. Parts that follow one another become one link as long as their
// bore stays, so that a long station stays a small network.
//
// # Sections
//
// A vessel on the way is a break: its spray devices and inlets spend what
// pressure there is, and the return begins anew at its puddle. The network
// therefore falls into sections, solved one after the other from the source on. A
// section that begins at a vessel is given the flow that comes into that vessel;
// the level of the puddle is what follows.
//
// # Who sets the flow
//
// A flow asked for by the step is brought about by the speed of the first running
// pump after the source. A return pump behind a vessel is slowed until it just
// keeps the bowl empty; one in a line without a vessel until the pressure before it
// is nowhere below that of the air. Both are listed as assumptions.
//
// # Pressure
//
// Losses are counted on the total head, and the pressure of a node is that head less
// its elevation: the pressure of the liquid brought to rest. A gauge on the wall of
// the tube shows ρv²/2 less (0.015 bar at 1.7 m/s). All pressures are gauge unless
// the name says otherwise.
//
// # Unknown is not zero
//
// A length, bore, elevation, rated point or temperature that was never entered and
// that matters is named in [Solution].Missing, and the section that needs it is not
// solved. What is assumed instead of being told (a roughness, the loss of a valve
// without a Kv) is listed in [Solution].Assumptions with its value and standing.
package flow
