package fluid

import "math"

// conduction gives the conductivity in S/m of a solution at mass fraction w and
// t in °C.
type conduction interface{ at(w, t float64) float64 }

// conductionGrid is a table of conductivities over strength and temperature.
//
// Between the strengths it interpolates conductivity per strength linearly in
// the square root of the strength, and below the lowest strength it goes on
// along the same line: Kohlrausch's law. Between the temperatures it is linear.
// Both keep the conductivity rising with strength.
type conductionGrid struct {
	root []float64   // square roots of the mass fractions
	t    []float64   // °C
	per  [][]float64 // by temperature, then strength: S/m per mass fraction
}

// newConductionGrid takes strengths in per cent, temperatures in °C and the
// conductivities in mS/cm, by strength then temperature.
func newConductionGrid(percent, celsius []float64, table [][]float64) *conductionGrid {
	g := &conductionGrid{t: celsius, per: make([][]float64, len(celsius))}
	for i, w := range percent {
		g.root = append(g.root, math.Sqrt(w/100))
		for j, k := range table[i] {
			g.per[j] = append(g.per[j], 0.1*k/(w/100)) // 1 mS/cm is 0.1 S/m
		}
	}
	return g
}

func (g *conductionGrid) at(w, t float64) float64 {
	r := math.Sqrt(w)
	i, j := segment(g.root, r), segment(g.t, t)
	x := (r - g.root[i]) / (g.root[i+1] - g.root[i])
	y := (t - g.t[j]) / (g.t[j+1] - g.t[j])
	cold := (1-x)*g.per[j][i] + x*g.per[j][i+1]
	warm := (1-x)*g.per[j+1][i] + x*g.per[j+1][i+1]
	return w * ((1-y)*cold + y*warm)
}

// conductionLine is a row of conductivities at one temperature with a linear
// temperature coefficient.
type conductionLine struct {
	row       curve   // S/m over the mass fraction
	celsius   float64 // temperature of the row
	perKelvin float64 // 1/K on the base of that temperature
}

func (l *conductionLine) at(w, t float64) float64 {
	return l.row.at(w) * (1 + l.perKelvin*(t-l.celsius))
}
