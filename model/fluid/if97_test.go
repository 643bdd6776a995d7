package fluid

import (
	"errors"
	"math"
	"testing"

	"rinsewright/model/quantity"
)

// nearly refuses a relative difference above tol (absolute where want is 0).
func nearly(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	d := math.Abs(got - want)
	if want != 0 {
		d /= math.Abs(want)
	}
	if !(d <= tol) {
		t.Errorf("%s: got %.10g, want %.10g (off by %.2g, allowed %.2g)", what, got, want, d, tol)
	}
}

// digits is half a unit in the last of nine printed digits, relative to the
// smallest leading digit.
const digits = 5e-9

const megapascal = 1e6

func TestBasicEquations(t *testing.T) {
	// IAPWS R7-97(2012), tables 5 (region 1) and 15 (region 2).
	tests := []struct {
		T, p           float64 // K, MPa
		region         Region
		v, h, u, s, cp float64 // m³/kg, kJ/kg, kJ/kg, kJ/(kg·K), kJ/(kg·K)
	}{
		{300, 3, Liquid1, 0.100215168e-2, 0.115331273e3, 0.112324818e3, 0.392294792, 0.417301218e1},
		{300, 80, Liquid1, 0.971180894e-3, 0.184142828e3, 0.106448356e3, 0.368563852, 0.401008987e1},
		{500, 3, Liquid1, 0.120241800e-2, 0.975542239e3, 0.971934985e3, 0.258041912e1, 0.465580682e1},
		{300, 0.0035, Steam2, 0.394913866e2, 0.254991145e4, 0.241169160e4, 0.852238967e1, 0.191300162e1},
		{700, 0.0035, Steam2, 0.923015898e2, 0.333568375e4, 0.301262819e4, 0.101749996e2, 0.208141274e1},
		{700, 30, Steam2, 0.542946619e-2, 0.263149474e4, 0.246861076e4, 0.517540298e1, 0.103505092e2},
	}
	for _, test := range tests {
		s, err := At(quantity.Temperature(test.T), quantity.Pressure(test.p*megapascal))
		if err != nil {
			t.Fatal(err)
		}
		if s.Region != test.region {
			t.Errorf("%g K, %g MPa: region %d, want %d", test.T, test.p, s.Region, test.region)
		}
		nearly(t, "volume", s.Volume, test.v, digits)
		nearly(t, "enthalpy", float64(s.Enthalpy), 1e3*test.h, digits)
		nearly(t, "energy", float64(s.Energy), 1e3*test.u, digits)
		nearly(t, "entropy", float64(s.Entropy), 1e3*test.s, digits)
		nearly(t, "heat capacity", float64(s.HeatCapacity), 1e3*test.cp, digits)
	}
}

func TestSaturationLine(t *testing.T) {
	// IAPWS R7-97(2012), tables 35 and 36.
	for _, test := range []struct{ T, p float64 }{
		{300, 0.353658941e-2}, {500, 0.263889776e1}, {600, 0.123443146e2},
	} {
		p, err := SaturationPressure(quantity.Temperature(test.T))
		if err != nil {
			t.Fatal(err)
		}
		nearly(t, "saturation pressure", float64(p), test.p*megapascal, digits)
	}
	for _, test := range []struct{ p, T float64 }{
		{0.1, 0.372755919e3}, {1, 0.453035632e3}, {10, 0.584149488e3},
	} {
		T, err := SaturationTemperature(quantity.Pressure(test.p * megapascal))
		if err != nil {
			t.Fatal(err)
		}
		nearly(t, "saturation temperature", float64(T), test.T, digits)
	}
}

func TestBackwardEquations(t *testing.T) {
	// IAPWS R7-97(2012), tables 7 and 24: T in K of p in MPa and h in kJ/kg.
	for _, test := range []struct{ p, h, T float64 }{
		{3, 500, 0.391798509e3}, {80, 500, 0.378108626e3}, {80, 1500, 0.611041229e3},
		{0.001, 3000, 0.534433241e3}, {3, 3000, 0.575373370e3}, {3, 4000, 0.101077577e4},
		{5, 3500, 0.801299102e3}, {5, 4000, 0.101531583e4}, {25, 3500, 0.875279054e3},
		{40, 2700, 0.743056411e3}, {60, 2700, 0.791137067e3}, {60, 3200, 0.882756860e3},
	} {
		T, err := TemperatureOfEnthalpy(quantity.Pressure(test.p*megapascal), Enthalpy(1e3*test.h))
		if err != nil {
			t.Fatal(err)
		}
		nearly(t, "T(p,h)", float64(T), test.T, digits)
	}
	// Tables 9 and 29: T in K of p in MPa and s in kJ/(kg·K).
	for _, test := range []struct{ p, s, T float64 }{
		{3, 0.5, 0.307842258e3}, {80, 0.5, 0.309979785e3}, {80, 3, 0.565899909e3},
		{0.1, 7.5, 0.399517097e3}, {0.1, 8, 0.514127081e3}, {2.5, 8, 0.103984917e4},
		{8, 6, 0.600484040e3}, {8, 7.5, 0.106495556e4}, {90, 6, 0.103801126e4},
		{20, 5.75, 0.697992849e3}, {80, 5.25, 0.854011484e3}, {80, 5.75, 0.949017998e3},
	} {
		T, err := TemperatureOfEntropy(quantity.Pressure(test.p*megapascal), Entropy(1e3*test.s))
		if err != nil {
			t.Fatal(err)
		}
		nearly(t, "T(p,s)", float64(T), test.T, digits)
	}
}

func TestBackwardWithinWetSteam(t *testing.T) {
	// Half-evaporated water at 0.3 MPa boils at 133.5254 °C (saturation
	// temperature by IF97, computed with the iapws library for Python).
	s, err := SaturatedAt(quantity.Bar(3))
	if err != nil {
		t.Fatal(err)
	}
	T, err := TemperatureOfEnthalpy(quantity.Bar(3), s.Liquid.Enthalpy+s.Latent()/2)
	if err != nil {
		t.Fatal(err)
	}
	nearly(t, "wet steam", T.Celsius(), 133.5254, 5e-7)
	T, err = TemperatureOfEntropy(quantity.Bar(3), (s.Liquid.Entropy+s.Steam.Entropy)/2)
	if err != nil {
		t.Fatal(err)
	}
	nearly(t, "wet steam", T.Celsius(), 133.5254, 5e-7)
}

func TestBoundary23(t *testing.T) {
	// IAPWS R7-97(2012), section 4: 623.15 K and 16.5291643 MPa.
	nearly(t, "pressure", boundary23Pressure(623.15), 16.5291643e6, digits)
	nearly(t, "temperature", boundary23Temperature(16.5291643e6), 623.15, digits)
	// Section 6.3.1: the line between 2b and 2c ends at 100 MPa, 3516.004323 kJ/kg.
	nearly(t, "2bc", boundary2bcEnthalpy(100e6), 3516.004323e3, 5e-10)
}

func TestViscosityOfWater(t *testing.T) {
	// IAPWS R12-08, table 4: µPa·s without critical enhancement.
	for _, test := range []struct{ T, d, mu float64 }{
		{298.15, 998, 889.735100}, {298.15, 1200, 1437.649467}, {373.15, 1000, 307.883622},
		{433.15, 1, 14.538324}, {433.15, 1000, 217.685358}, {873.15, 1, 32.619287},
		{873.15, 100, 35.802262}, {873.15, 600, 77.430195}, {1173.15, 1, 44.217245},
		{1173.15, 100, 47.640433}, {1173.15, 400, 64.154608},
	} {
		mu, err := WaterViscosity(Density(test.d), quantity.Temperature(test.T))
		if err != nil {
			t.Fatal(err)
		}
		nearly(t, "viscosity", float64(mu)*1e6, test.mu, 5e-8)
	}
}

func TestConductanceOfWater(t *testing.T) {
	// IAPWS R15-11, table 4: mW/(m·K), with the critical enhancement zero.
	for _, test := range []struct{ T, d, k float64 }{
		{298.15, 0, 18.4341883}, {298.15, 998, 607.712868}, {298.15, 1200, 799.038144}, {873.15, 0, 79.1034659},
	} {
		k, err := WaterConductance(Density(test.d), quantity.Temperature(test.T))
		if err != nil {
			t.Fatal(err)
		}
		nearly(t, "thermal conductivity", float64(k)*1e3, test.k, digits)
	}
}

func TestOutsideTheRelease(t *testing.T) {
	at := func(T, p float64) error {
		_, err := At(quantity.Temperature(T), quantity.Pressure(p))
		return err
	}
	ph := func(p, h float64) error {
		_, err := TemperatureOfEnthalpy(quantity.Pressure(p), Enthalpy(h))
		return err
	}
	tests := []struct {
		name, quantity string
		err            error
	}{
		{"ice", "temperature", at(270, 1e5)},
		{"too hot", "temperature", at(1100, 1e5)},
		{"region 3", "absolute pressure", at(650, 30e6)},
		{"too high", "absolute pressure", at(300, 101e6)},
		{"vacuum", "absolute pressure", at(300, 0)},
		{"not a number", "temperature", at(math.NaN(), 1e5)},
		{"below 0 °C", "enthalpy", ph(1e5, -1e3)},
		{"region 3 by enthalpy", "enthalpy", ph(25e6, 2.1e6)},
		{"above 800 °C", "enthalpy", ph(1e5, 5e6)},
	}
	for _, test := range tests {
		var r *RangeError
		if !errors.As(test.err, &r) {
			t.Errorf("%s: got %v, want a RangeError", test.name, test.err)
			continue
		}
		if r.Quantity != test.quantity {
			t.Errorf("%s: blames %s, want %s", test.name, r.Quantity, test.quantity)
		}
		if r.Value >= r.Low && r.Value <= r.High {
			t.Errorf("%s: %v names a range that holds the value", test.name, r)
		}
	}
}
