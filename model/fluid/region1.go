package fluid

// region1 is the basic equation of region 1 (R7-97, equation 7) for liquid
// water at T in K, 273.15 to 623.15, and p in Pa, saturation to 100 MPa.
func region1(T, p float64) State {
	pi, tau := p/16.53e6, 1386/T
	x, y := 7.1-pi, tau-1.222 // both stay above 1 in the region
	var g, gp, gt, gtt float64
	for _, t := range region1Terms {
		v := t.N * ipow(x, t.I) * ipow(y, t.J)
		i, j := float64(t.I), float64(t.J)
		g += v
		gp -= i * v / x
		gt += j * v / y
		gtt += j * (j - 1) * v / (y * y)
	}
	return assemble(Liquid1, T, p, pi, tau, g, gp, gt, gtt)
}
