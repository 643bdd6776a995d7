// Package circuitfile reads and writes the circuit file, *.circuit.json.
//
// The file is one JSON object (RFC 8259, UTF-8):
//
//	{
//	  "schema": "rinsewright-circuit",
//	  "version": 1,
//	  "circuit": {"name": ...},
//	  "parts": [{"class": "valve", "id": ..., "kind": ..., "at_mm": [x, y], ...}, ...],
//	  "runs": [{"id": ..., "from": {...}, "to": {...}, ...}, ...],
//	  "steps": [{"id": ..., "order": ..., "name": ..., ...}, ...],
//	  "deviations": [{"id": ..., "rule": ..., "finding": ..., ...}, ...],
//	  "marks": [{"id": ..., "number": ..., "class": ..., ...}, ...],
//	  "answers": [{"id": ..., "question": ..., "answer": ...}, ...]
//	}
//
// The last three, which an audit adds, are left out where there are none.
//
// Each part begins with its class, which tells what keys it may have. Keys of
// quantities end in their unit (length_m, flow_m3h). A key that is left out is
// a value that is not known; null is refused. Parts and runs stand in order of
// id, steps in order of programme, deviations of finding, marks of number and
// answers of question, one property a line, so that two revisions compare line
// by line.
//
// Reading goes in stages: the text is scanned into values with their offsets,
// the values are held against the Go types of the records, and each record is
// then decoded by itself. So every mistake is told with its line, its column and
// its place in the circuit, and many are told at once. What a circuit means is
// not judged here: a run to a part that is not there or a kind that no
// catalogue knows is a matter of the checks.
package circuitfile

// Schema name and version of the file, and the limits on reading it.
const (
	SchemaName = "rinsewright-circuit"
	Version    = 1

	MaxBytes   = 128 << 20
	MaxDepth   = 32
	MaxRecords = 500_000

	// maxValues bounds the memory that a hostile file can claim. A record has
	// some ten to thirty values. maxListed bounds one list or map of a record: the
	// bends of a run, the valves that a step positions.
	maxValues = 10_000_000
	maxListed = 100_000
)
