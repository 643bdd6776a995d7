package fluid

import "math"

// boundary23Pressure is the pressure in Pa on the line between steam and region
// 3 at T in K, 623.15 to 863.15 (R7-97, equation 5).
func boundary23Pressure(T float64) float64 {
	return 1e6 * (0.34805185628969e3 + T*(-0.11671859879975e1+T*0.10192970039326e-2))
}

// boundary23Temperature is the temperature in K on the same line at p in Pa
// (R7-97, equation 6).
func boundary23Temperature(p float64) float64 {
	return 0.57254459862746e3 + math.Sqrt((p/1e6-0.13918839778870e2)/0.10192970039326e-2)
}

// boundary2bcEnthalpy is the enthalpy in J/kg on the line between subregions 2b
// and 2c at p in Pa, 6.5467 to 100 MPa (R7-97, equation 21).
func boundary2bcEnthalpy(p float64) float64 {
	return 1e3 * (0.26526571908428e4 + math.Sqrt((p/1e6-0.45257578905948e1)/0.12809002730136e-3))
}
