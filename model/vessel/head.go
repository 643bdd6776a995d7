package vessel

import (
	"fmt"
	"math"

	"rinsewright/model"
)

// coneAngle is the angle between the sides of a cone.
const coneAngle = math.Pi / 3

// head is an end of a vessel. z runs in m from its deepest point to the shell.
type head interface {
	depth() float64
	volume(z float64) float64 // m³ up to z, 0 <= z <= depth
	radius(z float64) float64 // m, of the opening at z
}

func newHead(s model.Shape, d float64) (head, error) {
	switch s {
	case model.Flat:
		return flat{}, nil
	case model.Cone:
		return cone{d / 2, d / 2 / math.Tan(coneAngle/2)}, nil
	case model.DIN28011:
		return newDished(d, d, 0.1*d), nil
	case model.DIN28013:
		return newDished(d, 0.8*d, 0.154*d), nil
	}
	return nil, fmt.Errorf("vessel: shape %q is not known", s)
}

type flat struct{}

func (flat) depth() float64         { return 0 }
func (flat) volume(float64) float64 { return 0 }
func (flat) radius(float64) float64 { return 0 }

type cone struct{ r, h float64 }

func (c cone) depth() float64           { return c.h }
func (c cone) radius(z float64) float64 { return c.r * z / c.h }
func (c cone) volume(z float64) float64 { return math.Pi / 3 * c.radius(z) * c.radius(z) * z }

// dished is a torispherical end. The dish touches the knuckle at height z1, where
// the line from the dish's centre through that of the knuckle's circle leaves it.
type dished struct {
	dish, knuckle float64 // radii
	ring          float64 // radius of the circle on which the knuckle's centre lies
	z1, deep      float64
}

func newDished(d, dish, knuckle float64) dished {
	ring := d/2 - knuckle
	sin := ring / (dish - knuckle)
	cos := math.Sqrt(1 - sin*sin)
	return dished{dish, knuckle, ring, dish * (1 - cos), dish - (dish-knuckle)*cos}
}

func (t dished) depth() float64 { return t.deep }

func (t dished) radius(z float64) float64 {
	if z <= t.z1 {
		return math.Sqrt(max(0, z*(2*t.dish-z)))
	}
	u := t.deep - z
	return t.ring + math.Sqrt(max(0, t.knuckle*t.knuckle-u*u))
}

// volume is the cap of a sphere, π z² (R - z/3), and above it the integral of
// π (c + √(r² - u²))² over the depth u below the shell, in closed form.
func (t dished) volume(z float64) float64 {
	dish := min(z, t.z1)
	v := math.Pi * dish * dish * (t.dish - dish/3)
	if z > t.z1 {
		v += math.Pi * (t.torus(t.deep-t.z1) - t.torus(t.deep-z))
	}
	return v
}

func (t dished) torus(u float64) float64 {
	r2 := t.knuckle * t.knuckle
	root := math.Sqrt(max(0, r2-u*u))
	return (t.ring*t.ring+r2)*u - u*u*u/3 + t.ring*(u*root+r2*math.Asin(min(1, u/t.knuckle)))
}
