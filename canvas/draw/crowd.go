package draw

import (
	"rinsewright/canvas/place"
)

// crowd holds what already takes room on the drawing, to find free room for
// labels. It is a uniform grid; a rectangle stands in every cell that it meets.
type crowd struct {
	bounds place.Rect
	cell   float64
	nx, ny int
	cells  [][]place.Rect
}

const (
	crowdCell  = 20.0 // mm
	crowdCells = 1 << 18
)

func newCrowd(bounds place.Rect) *crowd {
	c := &crowd{bounds: bounds, cell: crowdCell}
	for (bounds.Width()/c.cell+1)*(bounds.Height()/c.cell+1) > crowdCells {
		c.cell *= 2
	}
	// Of places beyond all reason the quotient is not a number: then all is one cell.
	c.nx = 1 + max(0, min(c.column(bounds.Max.X), crowdCells))
	c.ny = 1 + max(0, min(c.row(bounds.Max.Y), crowdCells))
	if c.nx*c.ny > 2*crowdCells {
		c.nx, c.ny = 1, 1
	}
	c.cells = make([][]place.Rect, c.nx*c.ny)
	return c
}

func (c *crowd) column(x float64) int { return int((x - c.bounds.Min.X) / c.cell) }
func (c *crowd) row(y float64) int    { return int((y - c.bounds.Min.Y) / c.cell) }

// each calls do with the cells that r meets until it gives false.
func (c *crowd) each(r place.Rect, do func(cell *[]place.Rect) bool) {
	x0, x1 := max(c.column(r.Min.X), 0), min(c.column(r.Max.X), c.nx-1)
	y0, y1 := max(c.row(r.Min.Y), 0), min(c.row(r.Max.Y), c.ny-1)
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			if !do(&c.cells[y*c.nx+x]) {
				return
			}
		}
	}
}

// add takes the room of r.
func (c *crowd) add(r place.Rect) {
	c.each(r, func(cell *[]place.Rect) bool {
		*cell = append(*cell, r)
		return true
	})
}

// free says whether nothing takes room in r.
func (c *crowd) free(r place.Rect) bool {
	free := true
	c.each(r, func(cell *[]place.Rect) bool {
		for i := range *cell {
			if q := &(*cell)[i]; r.Min.X < q.Max.X && q.Min.X < r.Max.X && r.Min.Y < q.Max.Y && q.Min.Y < r.Max.Y {
				free = false
				return false
			}
		}
		return true
	})
	return free
}
