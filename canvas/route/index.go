package route

import (
	"math"

	"rinsewright/canvas/place"
	"rinsewright/model"
)

// index finds the boxes that a piece of a line passes through. It is a uniform
// grid of cells; cell i holds items[start[i]:start[i+1]].
type index struct {
	boxes  []place.Rect
	origin model.Point
	cell   float64
	nx, ny int
	start  []int32
	items  []int32
}

const (
	cellSize = 25.0
	mostCell = 1 << 18
)

// newIndex builds the grid over boxes; an empty box is not found by any query.
func newIndex(boxes []place.Rect) *index {
	x := &index{boxes: boxes, cell: cellSize}
	var all place.Rect
	for _, b := range boxes {
		all = all.Union(b)
	}
	x.origin = all.Min
	for {
		nx, ny := 1+math.Floor(all.Width()/x.cell), 1+math.Floor(all.Height()/x.cell)
		if nx*ny <= mostCell {
			x.nx, x.ny = int(nx), int(ny)
			break
		}
		if x.cell *= 2; math.IsInf(x.cell, 0) { // places beyond all reason
			x.nx, x.ny = 1, 1
			break
		}
	}
	x.start = make([]int32, x.nx*x.ny+1)
	x.each(func(cell int, _ int32) { x.start[cell+1]++ })
	for i := 1; i < len(x.start); i++ {
		x.start[i] += x.start[i-1]
	}
	x.items = make([]int32, x.start[len(x.start)-1])
	next := append([]int32(nil), x.start...)
	x.each(func(cell int, box int32) {
		x.items[next[cell]] = box
		next[cell]++
	})
	return x
}

func (x *index) each(do func(cell int, box int32)) {
	for i, b := range x.boxes {
		if b.Empty() {
			continue
		}
		x0, y0, x1, y1 := x.cells(b)
		for cy := y0; cy <= y1; cy++ {
			for cx := x0; cx <= x1; cx++ {
				do(cy*x.nx+cx, int32(i))
			}
		}
	}
}

func (x *index) cells(r place.Rect) (x0, y0, x1, y1 int) {
	return x.column(r.Min.X), x.row(r.Min.Y), x.column(r.Max.X), x.row(r.Max.Y)
}

func (x *index) column(v float64) int { return clamp((v-x.origin.X)/x.cell, x.nx) }
func (x *index) row(v float64) int    { return clamp((v-x.origin.Y)/x.cell, x.ny) }

func clamp(v float64, n int) int {
	switch {
	case !(v > 0): // or not a number
		return 0
	case v >= float64(n):
		return n - 1
	}
	return int(v)
}

// through calls hit with the number of every box whose inside, grown by
// clearance, the upright rectangle r meets, each once, until hit gives false.
func (x *index) through(r place.Rect, hit func(box int32) bool) {
	g := r.Grown(clearance)
	x0, y0, x1, y1 := x.cells(g)
	for cy := y0; cy <= y1; cy++ {
		for cx := x0; cx <= x1; cx++ {
			cell := cy*x.nx + cx
			for _, i := range x.items[x.start[cell]:x.start[cell+1]] {
				b := &x.boxes[i]
				if g.Min.X >= b.Max.X || b.Min.X >= g.Max.X || g.Min.Y >= b.Max.Y || b.Min.Y >= g.Max.Y {
					continue
				}
				// Of the cells that both lie in, only the first counts.
				if x.column(max(g.Min.X, b.Min.X)) == cx && x.row(max(g.Min.Y, b.Min.Y)) == cy && !hit(i) {
					return
				}
			}
		}
	}
}
