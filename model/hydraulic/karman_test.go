package hydraulic

import (
	"math"
	"math/rand/v2"
	"testing"
)

// A point that wanders along the curve, in steps small and great, stays on it: each
// factor is the root that bisection finds at the point's own Reynolds number, and
// the point is within the width of where it was sent.
func TestPointsStayOnColebrook(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for _, rough := range []float64{0, 1e-6, 1e-4, 1e-2, 0.05} {
		k, re := new(karman), 1e5
		for i := 0; i < 3000; i++ {
			re *= math.Exp(math.Exp(-12*r.Float64()) * r.NormFloat64() * 2)
			re = min(max(re, TurbulentLimit), 1e8)
			width := []float64{loose, exact}[i%2]
			k.near(re, rough*roughTerm, width)
			f, rise := k.factor()
			at := k.reynolds()
			if math.Abs(at-re) > width*re {
				t.Fatalf("roughness %g: sent to %g within %g, came to %.17g", rough, re, width, at)
			}
			if want := bisect(at, rough); math.Abs(f-want) > 2e-13*want {
				t.Fatalf("roughness %g, Re %.17g: %.17g, want %.17g", rough, at, f, want)
			}
			const h = 1e-4
			slope := (bisect(at*(1+h), rough) - bisect(at*(1-h), rough)) / (2 * h)
			if math.Abs(rise-slope) > 1e-6*f {
				t.Fatalf("roughness %g, Re %g: Re df/dRe %g, by difference %g", rough, at, rise, slope)
			}
		}
	}
}
