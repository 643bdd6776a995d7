package draw

import (
	"rinsewright/canvas/place"
	"rinsewright/model"
)

// crowd holds what already takes room on the drawing, to find free room for tags
// and labels. It is a uniform grid; a rectangle stands in every cell that it
// meets.
type crowd struct {
	bounds place.Rect
	cell   float64
	nx, ny int
	first  []int32 // by cell: of its entries, -1 for none
	entry  []entry
	taken  []place.Rect
}

type entry struct{ taken, next int32 }

const (
	crowdCell  = 20.0 // mm
	crowdRim   = 40.0 // mm beyond the bounds where there is room too
	crowdCells = 1 << 18
)

func newCrowd(bounds place.Rect) *crowd {
	c := &crowd{bounds: bounds.Grown(crowdRim), cell: crowdCell}
	for (c.bounds.Width()/c.cell+1)*(c.bounds.Height()/c.cell+1) > crowdCells {
		c.cell *= 2
	}
	// Of places beyond all reason the quotient is not a number: then all is one cell.
	c.nx = 1 + max(0, min(c.column(c.bounds.Max.X), crowdCells))
	c.ny = 1 + max(0, min(c.row(c.bounds.Max.Y), crowdCells))
	if c.nx*c.ny > 2*crowdCells {
		c.nx, c.ny = 1, 1
	}
	c.first = make([]int32, c.nx*c.ny)
	for i := range c.first {
		c.first[i] = -1
	}
	return c
}

func (c *crowd) column(x float64) int { return int((x - c.bounds.Min.X) / c.cell) }
func (c *crowd) row(y float64) int    { return int((y - c.bounds.Min.Y) / c.cell) }

// each calls do with the cells that r meets until it gives false. What lies
// beyond the grid is in its outermost cells.
func (c *crowd) each(r place.Rect, do func(cell int) bool) {
	inside := func(v, n int) int { return min(max(v, 0), n-1) }
	x0, x1 := inside(c.column(r.Min.X), c.nx), inside(c.column(r.Max.X), c.nx)
	y0, y1 := inside(c.row(r.Min.Y), c.ny), inside(c.row(r.Max.Y), c.ny)
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			if !do(y*c.nx + x) {
				return
			}
		}
	}
}

// add takes the room of r.
func (c *crowd) add(r place.Rect) {
	n := int32(len(c.taken))
	c.taken = append(c.taken, r)
	c.each(r, func(cell int) bool {
		c.entry = append(c.entry, entry{n, c.first[cell]})
		c.first[cell] = int32(len(c.entry) - 1)
		return true
	})
}

// free says whether nothing takes room in r.
func (c *crowd) free(r place.Rect) bool {
	free := true
	c.each(r, func(cell int) bool {
		for i := c.first[cell]; i >= 0; i = c.entry[i].next {
			if overlap(c.taken[c.entry[i].taken], r) {
				free = false
				return false
			}
		}
		return true
	})
	return free
}

// covered gives how much of r is taken, in mm²; what lies in several cells or is
// taken twice counts for each.
func (c *crowd) covered(r place.Rect) float64 {
	sum := 0.0
	c.each(r, func(cell int) bool {
		for i := c.first[cell]; i >= 0; i = c.entry[i].next {
			if t := c.taken[c.entry[i].taken]; overlap(t, r) {
				sum += (min(r.Max.X, t.Max.X) - max(r.Min.X, t.Min.X)) * (min(r.Max.Y, t.Max.Y) - max(r.Min.Y, t.Min.Y))
			}
		}
		return true
	})
	return sum
}

// overlap says whether two rectangles have more than a border in common.
func overlap(a, b place.Rect) bool {
	return a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y
}

// boxAbout gives the square of twice a side about a point.
func boxAbout(p model.Point, half float64) place.Rect {
	return place.Rect{Min: p, Max: p}.Grown(half)
}
