package window

import (
	"image"

	"rinsewright/canvas/draw"
	"rinsewright/model/catalogue"
	"rinsewright/model/group"
)

// groupImage draws a group on a small sheet of paper of wide by high pixels: a
// picture to tell groups apart by, too small for its tags.
func groupImage(g *group.Group, cat *catalogue.Catalogue, wide, high int, dark bool) image.Image {
	pic := draw.Circuit(g.Circuit, cat, draw.Options{HideTags: true, HideLabels: true, HideArrows: true})
	img := image.NewRGBA(image.Rect(0, 0, wide, high))
	draw.NewScreen().Draw(img, pic, palette(dark), draw.Fit(pic.Bounds, wide, high, 3))
	roundCorners(img, 6)
	return img
}
