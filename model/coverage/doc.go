// Package coverage says, over a whole wash programme, what every wetted stretch,
// valve seat, vessel and spray device gets of every medium that the programme
// promises it: swept at speed, swept too slowly, standing liquid, nothing, or not
// known.
//
// # What is promised
//
// A step promises its medium to what it cleans. The media of all steps that clean
// an object are promised to the whole line in which it is washed: every edge that is
// wet in one of these steps, save the approaches. An approach is what lies between
// the source or the destination of a step and the line that all steps for the object
// have in common: the outlet of the alkali tank is promised alkali alone, and stays an
// approach where it is a dead leg of another step. Other dead legs are promised what
// the line is promised that they hang on.
//
// Steps that drain, blow, hold, prepare or make product promise nothing, nor does a
// step without a route.
//
// # What sweeps
//
// A stretch is swept where flow passes it; at speed where its velocity is known to
// reach what is asked. Where flow passes and the velocity is not known, the state is
// unknown. A way without a bore of its own (the inside of a fitting) has no
// velocity and is swept where flow passes.
//
// A valve seat is swept where flow passes it open, and where it is lifted and liquid
// runs off over it. A vessel is swept where flow gets into it by a spray device; if
// it has spray devices and the flow comes in by another inlet, it is too slow. Whether a
// spray device has its pressure, and wets the whole wall, is not looked at.
package coverage
