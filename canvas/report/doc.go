// Package report makes the report of an audit: what was checked against which
// limits, each finding with its place, number, limit, source and remedy, what was
// accepted by whom, what could not be assessed, and the calculation behind it.
//
// Make gathers a Report, which is data; WritePDF, WriteHTML and WriteJSON write
// the same content. Every finding, mark, answer and record is told with its id,
// which stays the same over the revisions of a circuit, so that each number can be
// found again.
//
// The package knows no window.
package report
