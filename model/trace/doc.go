// Package trace follows a circuit from a part or a run: what feeds it, what it
// feeds, how far, with how much liquid and in what time; which steps use it and
// what else shares it; and all ways from one part to another.
//
// # Which way
//
// In a step a trace follows the flow of its route; where a loop leaves the
// direction open it goes both ways. Over all steps it follows whatever any step
// sends along. With every valve open it goes wherever a position of the valves
// would let liquid go, and no one-way part stands against it.
//
// It ends at vessels, objects and terminals, and at the air.
package trace
