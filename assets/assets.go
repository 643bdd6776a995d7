// Package assets holds the data that the program carries with it: kinds of
// parts with their symbols, tube tables, bands of the chemistry, limits profiles,
// wash programmes, checklists, ready groups, the assumptions and prices of sizing,
// the example of each rule, the schema of the circuit file, demo circuits, fonts and
// the icon. It imports nothing of the project.
package assets

import "embed"

// Files are all embedded data.
//
//go:embed checklists chemistry demo example groups kinds prices.json profiles programmes rules schema sizing.json tubes
var Files embed.FS
