package assets

import "embed"

// Groups are the ready groups of parts, in groups/*.json.
//
//go:embed groups
var Groups embed.FS
