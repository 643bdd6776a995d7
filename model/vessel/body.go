package vessel

import (
	"fmt"
	"math"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

// Body is the inside of an upright round vessel. Make one with [New] or [Of].
type Body struct {
	diameter, height float64
	bottom, top      head
}

// New makes a body of inside diameter d and inside height h, both in m, from the
// lowest to the highest point. The error says which measure cannot be: not above
// zero, an unknown shape, or a height in which the two ends do not fit.
func New(bottom, top model.Shape, d, h quantity.Length) (Body, error) {
	if !(d > 0) || !(h > 0) || math.IsInf(float64(d), 0) || math.IsInf(float64(h), 0) {
		return Body{}, fmt.Errorf("vessel: diameter %v m and height %v m must be above zero", float64(d), float64(h))
	}
	low, err := newHead(bottom, float64(d))
	if err != nil {
		return Body{}, err
	}
	high, err := newHead(top, float64(d))
	if err != nil {
		return Body{}, err
	}
	if ends := low.depth() + high.depth(); ends > float64(h)*(1+1e-9) {
		return Body{}, fmt.Errorf("vessel: the two ends are %.3f m deep together and do not fit in a height of %.3f m", ends, float64(h))
	}
	return Body{float64(d), float64(h), low, high}, nil
}

// Of makes the body of a vessel. missing are the keys of the properties that it
// needs and that were never entered; then the body is not to be used. The error
// is that of [New].
func Of(v *model.Vessel) (b Body, missing []string, err error) {
	d, okD := v.Diameter.Get()
	h, okH := v.Height.Get()
	bottom, okB := v.Bottom.Get()
	top, okT := v.Top.Get()
	for _, need := range []struct {
		key   string
		known bool
	}{{"diameter_m", okD}, {"height_m", okH}, {"bottom", okB}, {"top", okT}} {
		if !need.known {
			missing = append(missing, need.key)
		}
	}
	if len(missing) > 0 {
		return Body{}, missing, nil
	}
	b, err = New(bottom, top, d, h)
	return b, nil, err
}

// Depth gives the height in m that an end of a shape takes in a vessel of
// inside diameter d.
func Depth(s model.Shape, d quantity.Length) (quantity.Length, error) {
	h, err := newHead(s, float64(d))
	if err != nil {
		return 0, err
	}
	return quantity.Length(h.depth()), nil
}

// Height is from the lowest to the highest point inside.
func (b Body) Height() quantity.Length { return quantity.Length(b.height) }

// Total is what the body holds, full to the top.
func (b Body) Total() quantity.Volume { return b.At(quantity.Length(b.height)) }

// At gives the volume in m³ at a level in m above the lowest point. A level below
// the bottom holds nothing; one above the top holds all.
func (b Body) At(level quantity.Length) quantity.Volume {
	z := min(max(float64(level), 0), b.height)
	low, high := b.bottom.depth(), b.top.depth()
	shell := b.height - low - high
	v := b.bottom.volume(min(z, low))
	v += b.area() * min(max(z-low, 0), max(shell, 0))
	if over := z - low - shell; over > 0 && high > 0 {
		v += b.top.volume(high) - b.top.volume(max(high-over, 0))
	}
	return quantity.Volume(v)
}

// Surface gives the area in m² of the liquid's surface at a level in m above the
// lowest point; nothing outside the vessel.
func (b Body) Surface(level quantity.Length) quantity.Area {
	z := float64(level)
	if z < 0 || z > b.height {
		return 0
	}
	r := b.diameter / 2
	if low := b.bottom.depth(); z < low {
		r = b.bottom.radius(z)
	} else if over := z - (b.height - b.top.depth()); over > 0 {
		r = b.top.radius(max(b.top.depth()-over, 0))
	}
	return quantity.Area(math.Pi * r * r)
}

// LevelFor gives the level in m at which the body holds v m³. The error says
// that v is below zero or more than the vessel holds.
func (b Body) LevelFor(v quantity.Volume) (quantity.Length, error) {
	total := b.Total()
	if !(v >= 0) || v > total*(1+1e-12) {
		return 0, fmt.Errorf("vessel: %v m³ is not between zero and the %v m³ that the vessel holds", float64(v), float64(total))
	}
	// Newton's method on a rising function, kept inside a shrinking bracket.
	low, high := 0.0, b.height
	z := b.height * float64(v/total)
	for range 200 {
		off := float64(b.At(quantity.Length(z)) - v)
		if off > 0 {
			high = z
		} else {
			low = z
		}
		next := z - off/float64(b.Surface(quantity.Length(z)))
		if !(next > low && next < high) {
			next = (low + high) / 2
		}
		if math.Abs(next-z) <= 1e-14*b.height {
			return quantity.Length(next), nil
		}
		z = next
	}
	return quantity.Length(z), nil
}

func (b Body) area() float64 { return math.Pi / 4 * b.diameter * b.diameter }

// Volume gives what a vessel of the given ends, inside diameter d and inside
// height h holds at a level, in m and m³; for many levels of one vessel make a
// [Body] once. The error is that of [New].
func Volume(bottom, top model.Shape, d, h, level quantity.Length) (quantity.Volume, error) {
	b, err := New(bottom, top, d, h)
	if err != nil {
		return 0, err
	}
	return b.At(level), nil
}
