package assets

import "embed"

// Sizing are the assumptions and unit prices from which a station is sized:
// sizing.json and prices.json.
//
//go:embed prices.json sizing.json
var Sizing embed.FS
