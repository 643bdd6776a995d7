// Package lineup finds line-ups: given where the liquid comes from, where it goes
// and what it is to wash, it says how every valve must stand.
//
// # What is asked and what is answered
//
// [Find] takes an [Ask] and gives up to a few [Proposal]s, the best first. A
// proposal put into a step ([Proposal.Into]) is a line-up in which
//
//   - a way leads from source to destination through everything asked for, into a
//     vessel by its spray devices where it has some, and out by an outlet;
//   - each valve stands in one position for the whole way;
//   - liquid reaches no vessel, terminal or object that was not asked for, save such
//     as hold the same medium, and nothing that is to be avoided.
//
// # What is best
//
// The cost of a line-up is counted in metres of tube:
//
//	1 for each metre that the whole flow passes,
//	3 for each metre that is wet beside it: dead legs, and both sides of a split,
//	2 for each valve that does not stand in its normal position,
//	20 for each thing to be washed that only a part of the flow passes.
//
// A run of unknown length counts as 1 m, a part's path of unknown length as 0.2 m.
// The weights are common practice, no source.
//
// # How it is found
//
// Ways that respect that a valve has one position are, in general, as hard to find
// as anything in NP (shortest path with forbidden pairs: H. N. Gabow, S. N.
// Maheshwari and L. J. Osterweil, "On two problems in the generation of program
// test paths", IEEE Trans. Softw. Eng. 2, 1976, from memory). So this is branch and
// bound, best first. The plant is cut down to the blocks between source and
// destination, lines without a fork become one link, and a shortest walk that may
// use a valve in several positions is a lower bound. Where it does so, or meets
// itself, the positions are divided and each share is searched again; likewise
// for valves beside the way that liquid stands at. The first complete line-up to
// leave the queue is the best. A budget of work bounds the time; what is returned
// when it is used up is not marked as proven.
package lineup
