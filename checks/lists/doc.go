// Package lists makes the lists of a circuit that go with its drawing: parts,
// valves with their positions, lines, instruments, nozzles and pumps. A [Table] is
// data; checks/listing writes it.
//
// What was never told and could not be computed is an empty cell, never a zero.
package lists
