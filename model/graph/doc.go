// Package graph is an undirected multigraph with optional one-way edges and the
// questions one asks of it: blocks, bridges, what lies between two nodes, reach,
// the lowest way over, the farthest end, and the cheapest cut. It knows nothing
// of what the nodes and edges stand for.
//
// # Shape
//
// Nodes are 0..N-1 and edges 0..M-1, both dense. Parallel edges and self loops
// are allowed. A [Graph] is built once by [New] and never changes, so any number
// of goroutines may use it at the same time.
//
// Every question takes a filter open with one entry per edge; nil means that all
// edges are open. One graph so serves many line-ups without being rebuilt. The
// filter is only read.
//
// # Programmer errors
//
// A filter or a value slice of the wrong length, or a node outside 0..N-1, is an
// error of the calling program and panics. Everything else - no way, equal ends,
// all edges closed, empty lists - has a defined answer.
//
// # One-way edges
//
// [Graph.Blocks], [Graph.Components] and [Graph.Farthest] take every edge as
// passable both ways: they speak of what is joined. [Graph.Minimax],
// [Graph.MinCut] and [Graph.SimplePaths] respect one-way edges. [Graph.Reach] is
// told which. [Graph.Between] works on blocks and takes out the one-way edges that
// no way can use; see there for what it does not decide.
//
// # Unknown values
//
// A NaN height or length means that nobody has said it. It is never read as zero:
// the answers carry a lower and an upper bound, and a value counts as known only
// where the two agree, that is, where no value of the missing data could change it.
//
// # Order
//
// All results are deterministic. Lists of nodes and edges are in rising order
// unless they describe a way, and ties are broken by the lowest id.
package graph
