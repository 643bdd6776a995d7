package fluid

import "math"

// region2 is the basic equation of region 2 (R7-97, equations 15 to 17) for
// steam at T in K, up to 1073.15, and p in Pa.
func region2(T, p float64) State {
	pi, tau := p/1e6, 540/T
	g, gp := math.Log(pi), 1/pi
	var gt, gtt float64
	for _, t := range region2Ideal {
		v := t.N * ipow(tau, t.J)
		j := float64(t.J)
		g += v
		gt += j * v / tau
		gtt += j * (j - 1) * v / (tau * tau)
	}
	y := tau - 0.5 // above zero: tau is at least 540/1073.15
	for _, t := range region2Residual {
		v := t.N * ipow(pi, t.I) * ipow(y, t.J)
		i, j := float64(t.I), float64(t.J)
		g += v
		gp += i * v / pi
		gt += j * v / y
		gtt += j * (j - 1) * v / (y * y)
	}
	return assemble(Steam2, T, p, pi, tau, g, gp, gt, gtt)
}
