package draw

import (
	"math"

	"rinsewright/canvas/place"
	"rinsewright/model"
)

// leastTag is the height in pixels of capitals below which a text of rank is
// painted larger than it is.
const leastTag = 5.5

// mostLarger is how many times its size a text of each rank is painted at most;
// beyond that it would stand for more than its symbol can be seen.
var mostLarger = [...]float64{RankPlain: 1, RankValve: 2, RankMachine: 3, RankVessel: 4}

// readable is how the texts of a picture are painted at a zoom.
type readable struct {
	of     *Picture
	items  int
	zoom   float64
	height []float64 // by item: of its capitals in mm; 0: not painted
}

// readable gives the heights of the texts of a picture at a zoom: nil while all
// have their own. It depends on nothing else, so texts neither come nor go while
// the view is moved.
func (s *Screen) readable(p *Picture, zoom float64) []float64 {
	if zoom*tagHeight >= leastTag {
		return nil
	}
	if l := &s.letters; l.of == p && l.items == len(p.Items) && l.zoom == zoom {
		return l.height
	}
	s.letters = readable{p, len(p.Items), zoom, s.room.readable(p, zoom, s.letters.height)}
	return s.letters.height
}

// pixels is a grid of what texts take, to find which would cover each other.
type pixels struct {
	taken    []uint64
	nx, ny   int
	min      model.Point
	per      float64 // cells a mm
	unusable bool
}

const (
	pixelCell  = 5.0 // px
	pixelCells = 1 << 22
)

// readable fills height, whose room it uses again. Texts of a higher rank come
// first, and of one rank those that stand further behind in the picture's order.
func (x *pixels) readable(p *Picture, zoom float64, height []float64) []float64 {
	if cap(height) < len(p.Items) {
		height = make([]float64, len(p.Items))
	}
	height = height[:len(p.Items)]
	x.reset(p.Bounds, zoom)
	for rank := RankVessel; ; rank-- {
		for i := range p.Items {
			t, ok := p.Items[i].Figure.(Text)
			if !ok || t.Rank != rank {
				continue
			}
			height[i] = 0
			t = t.larger(largerAt(t, zoom))
			if emOf(t.Height)*zoom >= leastText && x.take(t.capitals(TextWidth(t.String, t.Height))) {
				height[i] = t.Height
			}
		}
		if rank == RankPlain {
			return height
		}
	}
}

// largerAt gives the height in mm at which a text is painted.
func largerAt(t Text, zoom float64) float64 {
	if t.Rank == RankPlain {
		return t.Height
	}
	return min(max(t.Height, leastTag/zoom), t.Height*mostLarger[t.Rank])
}

// larger gives a text at another height, out of the way of what it stands beside.
func (t Text) larger(height float64) Text {
	by := (height - t.Height) / 2
	t.At.X, t.At.Y, t.Height = t.At.X+by*t.Away.X, t.At.Y+by*t.Away.Y, height
	return t
}

func (x *pixels) reset(bounds place.Rect, zoom float64) {
	x.min, x.per = bounds.Min, zoom/pixelCell
	nx, ny := math.Ceil(bounds.Width()*x.per)+1, math.Ceil(bounds.Height()*x.per)+1
	if x.unusable = !(nx*ny < pixelCells); x.unusable {
		return // beyond all reason: nothing is given up
	}
	x.nx, x.ny = int(nx), int(ny)
	if n := (x.nx*x.ny + 63) / 64; cap(x.taken) < n {
		x.taken = make([]uint64, n)
	} else {
		x.taken = x.taken[:n]
		clear(x.taken)
	}
}

// take takes the room of r, and says whether it was free.
func (x *pixels) take(r place.Rect) bool {
	if x.unusable {
		return true
	}
	cell := func(v, from float64, n int) int { return min(max(int((v-from)*x.per), 0), n-1) }
	x0, x1 := cell(r.Min.X, x.min.X, x.nx), cell(r.Max.X, x.min.X, x.nx)
	y0, y1 := cell(r.Min.Y, x.min.Y, x.ny), cell(r.Max.Y, x.min.Y, x.ny)
	for y := y0; y <= y1; y++ {
		for i := y*x.nx + x0; i <= y*x.nx+x1; i++ {
			if x.taken[i/64]>>(i%64)&1 == 1 {
				return false
			}
		}
	}
	for y := y0; y <= y1; y++ {
		for i := y*x.nx + x0; i <= y*x.nx+x1; i++ {
			x.taken[i/64] |= 1 << (i % 64)
		}
	}
	return true
}
