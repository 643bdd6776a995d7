// Package sizing proposes a cleaning station for a list of objects: flow, tubes,
// pumps, tanks, heater, what is used in a wash, a day and a year, and a first
// estimate of the shares of cost.
//
// A [Project] holds the objects, the programme and the assumptions. [Size] makes a
// [Sheet] of it: a calculation sheet in which every result is one [Line] with its
// formula in words, the inputs that went in, its value and the source. What an input
// was never told for is not known, and so is all that follows from it; it is never
// taken for zero.
//
// An [Assumption] is a figure that the user can change; the limits of its range and
// how well it is known stand beside it. It is no rule: what is proposed is held
// against the rules once it stands on the drawing.
//
// [Station] gives the ready group that fits, with the sizes proposed.
package sizing
