package draw

import (
	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// Direction tells which way liquid passes a run by the roles of the ports that it
// joins: 1 from From to To, -1 the other way, 0 if they leave it open.
func Direction(c *model.Circuit, cat *catalogue.Catalogue, r *model.Run) int {
	from, _ := place.EndOf(c, cat, r.From)
	to, _ := place.EndOf(c, cat, r.To)
	return direction(from, to)
}
