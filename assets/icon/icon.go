// Package icon holds the program's own icon: a loop of tube and a drop.
package icon

import _ "embed"

// PNG is the icon, 256 by 256 pixels.
//
//go:embed rinsewright.png
var PNG []byte
