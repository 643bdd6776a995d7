// Package route finds the lines that pipe runs follow on the drawing:
// right-angled, from port to port, with few bends, and if it can be, around the
// symbols of other parts.
//
// A line is a function of the circuit alone, so the same file always looks the
// same.
package route
