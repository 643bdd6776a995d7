package draw

import (
	"encoding/binary"
	"image"
	"image/color"
	"image/draw"
	"math"

	"golang.org/x/image/vector"
)

// surface is an image being painted, red, green, blue and alpha premultiplied.
type surface struct {
	pix    []byte
	stride int
	w, h   int
}

func surfaceOf(m *image.RGBA) surface {
	b := m.Bounds()
	return surface{pix: m.Pix[m.PixOffset(b.Min.X, b.Min.Y):], stride: m.Stride, w: b.Dx(), h: b.Dy()}
}

func newSurface(w, h int) surface {
	return surface{pix: make([]byte, 4*w*h), stride: 4 * w, w: w, h: h}
}

func word(c color.RGBA) uint32 {
	return uint32(c.R) | uint32(c.G)<<8 | uint32(c.B)<<16 | uint32(c.A)<<24
}

// clear paints all of it.
func (s surface) clear(c color.RGBA) {
	v := word(c)
	row := s.pix[:4*s.w]
	for i := 0; i < len(row); i += 4 {
		binary.LittleEndian.PutUint32(row[i:], v)
	}
	for y := 1; y < s.h; y++ {
		copy(s.pix[y*s.stride:y*s.stride+4*s.w], row)
	}
}

// scaled gives v times a/255 in each of its four bytes, rounded.
func scaled(v, a uint32) uint32 {
	lo := (v&0x00FF00FF)*a + 0x00800080
	lo = ((lo + (lo>>8)&0x00FF00FF) >> 8) & 0x00FF00FF
	hi := (v>>8&0x00FF00FF)*a + 0x00800080
	hi = (hi + (hi>>8)&0x00FF00FF) & 0xFF00FF00
	return lo | hi
}

// over paints the premultiplied src on the pixel at p.
func over(p []byte, src uint32) {
	switch src >> 24 {
	case 0:
	case 255:
		binary.LittleEndian.PutUint32(p, src)
	default:
		binary.LittleEndian.PutUint32(p, src+scaled(binary.LittleEndian.Uint32(p), 255-src>>24))
	}
}

// rect paints an upright rectangle, edges weighted by what they cover.
func (s surface) rect(x0, y0, x1, y1 float64, v uint32) {
	x0, x1 = max(x0, 0), min(x1, float64(s.w))
	y0, y1 = max(y0, 0), min(y1, float64(s.h))
	if x0 >= x1 || y0 >= y1 {
		return
	}
	left, right := int(x0), int(math.Ceil(x1))
	for y := int(y0); y < int(math.Ceil(y1)); y++ {
		high := min(y1, float64(y+1)) - max(y0, float64(y))
		row := s.pix[y*s.stride+4*left : y*s.stride+4*right]
		full := v
		if high < 1 {
			full = scaled(v, uint32(high*255+0.5))
		}
		n := right - left
		first := min(x1, float64(left+1)) - x0
		if first < 1 {
			over(row, scaled(full, uint32(first*255+0.5)))
		} else {
			over(row, full)
		}
		if n == 1 {
			continue
		}
		if full>>24 == 255 {
			for i := 4; i < 4*(n-1); i += 4 {
				binary.LittleEndian.PutUint32(row[i:], full)
			}
		} else {
			for i := 4; i < 4*(n-1); i += 4 {
				over(row[i:], full)
			}
		}
		if last := x1 - float64(right-1); last < 1 {
			over(row[4*(n-1):], scaled(full, uint32(last*255+0.5)))
		} else {
			over(row[4*(n-1):], full)
		}
	}
}

// image paints a premultiplied image with its left top corner at x, y.
func (s surface) image(src surface, x, y int) {
	x0, x1 := max(0, -x), min(src.w, s.w-x)
	y0, y1 := max(0, -y), min(src.h, s.h-y)
	if x0 >= x1 {
		return
	}
	for row := y0; row < y1; row++ {
		from := src.pix[row*src.stride+4*x0 : row*src.stride+4*x1]
		at := (y+row)*s.stride + 4*(x+x0)
		to := s.pix[at : at+len(from)]
		for i := 0; i+4 <= len(from); i += 4 {
			v := binary.LittleEndian.Uint32(from[i:])
			if v == 0 {
				continue
			}
			over(to[i:i+4], v)
		}
	}
}

// mask paints a colour through a mask with its left top corner at x, y.
func (s surface) mask(m *image.Alpha, x, y int, v uint32) {
	w, h := m.Rect.Dx(), m.Rect.Dy()
	x0, x1 := max(0, -x), min(w, s.w-x)
	y0, y1 := max(0, -y), min(h, s.h-y)
	if x0 >= x1 {
		return
	}
	for row := y0; row < y1; row++ {
		from := m.Pix[row*m.Stride+x0 : row*m.Stride+x1]
		at := (y+row)*s.stride + 4*(x+x0)
		to := s.pix[at : at+4*len(from)]
		for i, a := range from {
			switch a {
			case 0:
			case 255:
				over(to[4*i:4*i+4], v)
			default:
				over(to[4*i:4*i+4], scaled(v, uint32(a)))
			}
		}
	}
}

// filler fills polygons; it keeps its buffers between fills.
type filler struct {
	raster vector.Rasterizer
	buffer []byte
}

// fill paints the polygons as one figure. Where they overlap they must turn the
// same way; a polygon that turns the other way within another is a hole.
func (f *filler) fill(s surface, polygons [][]dot, v uint32) {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, ring := range polygons {
		for _, d := range ring {
			x0, y0, x1, y1 = min(x0, d.x), min(y0, d.y), max(x1, d.x), max(y1, d.y)
		}
	}
	left, top := int(max(math.Floor(x0), 0)), int(max(math.Floor(y0), 0))
	right, bottom := int(min(math.Ceil(x1), float64(s.w))), int(min(math.Ceil(y1), float64(s.h)))
	if left >= right || top >= bottom {
		return
	}
	m := f.rasterised(polygons, left, top, right-left, bottom-top)
	s.mask(m, left, top, v)
}

// rasterised gives the mask of polygons in a window of w by h pixels. The mask is
// the filler's own and holds until the next fill.
func (f *filler) rasterised(polygons [][]dot, left, top, w, h int) *image.Alpha {
	f.raster.Reset(w, h)
	f.raster.DrawOp = draw.Src
	// Far outside the window only the side matters.
	at := func(d dot) (float32, float32) {
		return float32(min(max(d.x-float64(left), -1e4), 1e4+float64(w))), float32(min(max(d.y-float64(top), -1e4), 1e4+float64(h)))
	}
	for _, ring := range polygons {
		for i, d := range ring {
			if i == 0 {
				f.raster.MoveTo(at(d))
			} else {
				f.raster.LineTo(at(d))
			}
		}
		f.raster.ClosePath()
	}
	if n := w * h; cap(f.buffer) < n {
		f.buffer = make([]byte, n)
	}
	m := &image.Alpha{Pix: f.buffer[:w*h], Stride: w, Rect: image.Rect(0, 0, w, h)}
	f.raster.Draw(m, m.Rect, image.Opaque, image.Point{})
	return m
}
