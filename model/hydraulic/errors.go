package hydraulic

import (
	"fmt"
	"strings"

	"rinsewright/model/quantity"
)

// InputError says which link or node cannot be what it is told to be.
type InputError struct {
	Where string // "link P1", "node T3"
	What  string
}

func (e *InputError) Error() string { return fmt.Sprintf("hydraulic: %s: %s", e.Where, e.What) }

// UnfedError is of nodes that must take or give a flow and have no open way to a
// fixed head, or only one against a one-way link or a stopped pump.
type UnfedError struct {
	Nodes  []int // sorted
	Names  []string
	Demand quantity.Flow // that these nodes take together; below zero when they give
}

func (e *UnfedError) Error() string {
	return fmt.Sprintf("hydraulic: no open way to a tank or supply for %.4g m³/h at %s", e.Demand.CubicMetresPerHour(), some(e.Names))
}

// ConvergenceError says that no solution was found, how far off the last step was
// and where.
type ConvergenceError struct {
	Iterations int
	Head       quantity.Length // greatest disagreement of a link with its law
	Link       string          // that link
	Mass       quantity.Flow   // greatest disagreement of a node with its demand
	Node       string          // that node
	Cause      error           // set when the equations could not be solved at all
}

func (e *ConvergenceError) Error() string {
	text := fmt.Sprintf("hydraulic: no solution after %d iterations: link %s is off by %.3g m, node %s by %.3g m³/h",
		e.Iterations, e.Link, float64(e.Head), e.Node, e.Mass.CubicMetresPerHour())
	if e.Cause != nil {
		text += ": " + e.Cause.Error()
	}
	return text
}

func (e *ConvergenceError) Unwrap() error { return e.Cause }

// some gives the first names of a list.
func some(names []string) string {
	const most = 5
	if len(names) <= most {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), len(names)-most)
}
