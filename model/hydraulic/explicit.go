package hydraulic

import "math"

// The explicit laws below approach Colebrook's equation without iteration. They
// are for comparison with sources that use them; the solver uses [Moody].

// Haaland gives the Darcy friction factor after S. E. Haaland (J. Fluids Eng. 105
// (1983) 89). Turbulent flow. About 1.2 % low on smooth tube.
func Haaland(reynolds, roughness float64) float64 {
	x := -1.8 * math.Log10(math.Pow(roughness/3.7, 1.11)+6.9/reynolds)
	return 1 / (x * x)
}

// SwameeJain gives the Darcy friction factor after P. K. Swamee, A. K. Jain (J.
// Hydraul. Div. ASCE 102 (1976) 657): Re 5e3 to 1e8, relative roughness 1e-6 to
// 1e-2, within 1 % there.
func SwameeJain(reynolds, roughness float64) float64 {
	x := math.Log10(roughness/3.7 + 5.74/math.Pow(reynolds, 0.9))
	return 0.25 / (x * x)
}

// Serghides gives the Darcy friction factor after T. K. Serghides (Chem. Eng. 91
// (1984) 63): Steffensen's method on Colebrook's equation. Turbulent flow; within
// 0.01 %.
func Serghides(reynolds, roughness float64) float64 {
	step := func(x float64) float64 { return -2 * math.Log10(roughness/3.7+2.51*x/reynolds) }
	a := -2 * math.Log10(roughness/3.7+12/reynolds)
	b := step(a)
	c := step(b)
	x := a - (b-a)*(b-a)/(c-2*b+a)
	return 1 / (x * x)
}

// Churchill gives the Darcy friction factor after S. W. Churchill (Chem. Eng. 84
// (1977) 91), one expression for every Reynolds number.
func Churchill(reynolds, roughness float64) float64 {
	a := math.Pow(-2.457*math.Log(math.Pow(7/reynolds, 0.9)+0.27*roughness), 16)
	b := math.Pow(37530/reynolds, 16)
	return 8 * math.Pow(math.Pow(8/reynolds, 12)+math.Pow(a+b, -1.5), 1.0/12)
}
