// Package service tells how much parts run and switch in a week of wash
// programmes, when their next service is due by the intervals that the user set,
// and which spares they take.
//
// # What counts
//
// A pump runs while a step lists it as running. Any other part runs while the
// route of a step reaches it with liquid, flowing or standing: that is what wears
// seals and sensors. A valve switches when its position changes from one step of a
// programme to the next, from its normal position into the first and out of the
// last; a pump when it starts or stops, likewise. Each change counts as one.
//
// A week holds each programme as often as the circuit says ([model.Frequency]).
// Steps that are not done every time are counted as if they were. Production and
// work by hand that no step tells are not counted.
//
// What is not known is not zero: where the time of a step that uses a part, or how
// often its programme runs, was never told, the figure is unknown and what is
// missing is listed.
package service
