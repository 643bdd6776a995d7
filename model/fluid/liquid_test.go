package fluid

import (
	"errors"
	"math"
	"testing"

	"rinsewright/model/quantity"
)

func TestSoluteModelOfThePaper(t *testing.T) {
	// The paper's own check rows for sodium chloride (Laliberté 2009, as the
	// open-source ChEDL library prints them): apparent density 3761.8917585 kg/m³
	// at 0 °C and 0.0037838838; apparent heat −2930.73539458 J/(kg·K) at 1.5 °C
	// and 0.00398447.
	salt := solute{
		c:          [5]float64{-0.00324112223655149, 0.0636354335906616, 1.01371399467365, 0.0145951015210159, 3317.34854426537},
		a:          [6]float64{-0.0693559668993322, -0.0782134167486952, 3.84798479408635, -11.2762109247072, 8.73187698542672, 1.81245930472755},
		densityLow: 0, densityHigh: 140, heatLow: 1.5, heatHigh: 120,
	}
	nearly(t, "apparent density", salt.apparentDensity(0.0037838838, 0), 3761.8917585, 1e-10)
	nearly(t, "apparent heat", salt.apparentHeat(0.00398447, 1.5), -2930.73539458, 1e-10)
	water := must(Water(quantity.Celsius(0)))(t)
	nearly(t, "density", float64(salt.density(float64(water.Density()), 0.0037838838, 0)), 1002.62501201, 1e-5)
}

// molal gives the mass fraction of m mol of a solute of molar mass M g/mol in a
// kilogram of water.
func molal(m, M float64) quantity.Strength { return quantity.Strength(m * M / (1000 + m*M)) }

func TestDensityAgainstTables(t *testing.T) {
	// Density of NaOH(aq) and HNO3(aq) over molality and temperature, tables
	// consistent with IAPWS-95, published at advancedthermo.com (read); g/cm³ at
	// 10, 25, 40, 55, 70 and 85 °C.
	at := []float64{10, 25, 40, 55, 70, 85}
	tests := []struct {
		m       Medium
		M, mol  float64
		density []float64
	}{
		{Caustic, 39.997, 0.1, []float64{1.00437, 1.00149, 0.99654, 0.98996, 0.98200, 0.97282}},
		{Caustic, 39.997, 0.3, []float64{1.01342, 1.01014, 1.00498, 0.99827, 0.99025, 0.98106}},
		{Caustic, 39.997, 0.5, []float64{1.02222, 1.01860, 1.01322, 1.00639, 0.99832, 0.98913}},
		{Caustic, 39.997, 1.0, []float64{1.04340, 1.03911, 1.03323, 1.02610, 1.01790, 1.00878}},
		{Caustic, 39.997, 2.0, []float64{1.08315, 1.07787, 1.07114, 1.06343, 1.05503, 1.04609}},
		{Caustic, 39.997, 6.0, []float64{1.21677, 1.20866, 1.20013, 1.19121, 1.18192, 1.17227}},
		{NitricAcid, 63.013, 0.1, []float64{1.00327, 1.00037, 0.99544, 0.98887, 0.98090, 0.97167}},
		{NitricAcid, 63.013, 0.3, []float64{1.01021, 1.00691, 1.00178, 0.99508, 0.98699, 0.97763}},
		{NitricAcid, 63.013, 0.5, []float64{1.01700, 1.01336, 1.00801, 1.00116, 0.99294, 0.98347}},
		{NitricAcid, 63.013, 1.0, []float64{1.03349, 1.02912, 1.02319, 1.01589, 1.00733, 0.99763}},
		{NitricAcid, 63.013, 2.0, []float64{1.06480, 1.05915, 1.05198, 1.04366, 1.03438, 1.02429}},
	}
	for _, test := range tests {
		for i, c := range at {
			w := molal(test.mol, test.M)
			tol := 1.5e-3
			if test.m == Caustic && w > 0.04 {
				tol = 3.5e-3
			}
			d := must(Liquid{test.m, w, quantity.Celsius(c)}.Density())(t)
			nearly(t, string(test.m), float64(d), 1000*test.density[i], tol)
		}
	}
}

func TestDensityAgainstHandbook(t *testing.T) {
	// CRC Handbook, 102nd ed., Concentrative Properties of Aqueous Solutions,
	// 20 °C (read in a public copy): % w/w, g/cm³.
	for _, test := range []struct {
		m          Medium
		percent, d float64
	}{
		{Caustic, 0.5, 1.0039}, {Caustic, 1, 1.0095}, {Caustic, 2, 1.0207}, {Caustic, 5, 1.0538},
		{NitricAcid, 0.5, 1.0009}, {NitricAcid, 1, 1.0037}, {NitricAcid, 2, 1.0091}, {NitricAcid, 5, 1.0257},
		{PhosphoricAcid, 0.5, 1.0010}, {PhosphoricAcid, 1, 1.0038}, {PhosphoricAcid, 2, 1.0092}, {PhosphoricAcid, 5, 1.0254}, {PhosphoricAcid, 10, 1.0531},
	} {
		d := must(Liquid{test.m, quantity.Strength(test.percent / 100), quantity.Celsius(20)}.Density())(t)
		nearly(t, string(test.m), float64(d), 1000*test.d, 1e-3)
	}
	// Phosphoric acid at 25 °C from a chemical database (chemister.ru, read).
	for percent, d := range map[float64]float64{10: 1.05223, 20: 1.1129, 30: 1.1794, 40: 1.2527, 50: 1.3334} {
		got := must(Liquid{PhosphoricAcid, quantity.Strength(percent / 100), quantity.Celsius(25)}.Density())(t)
		nearly(t, "phosphoric acid", float64(got), 1000*d, 1e-3)
	}
}

func TestViscosityOfSolutions(t *testing.T) {
	// CRC Handbook, as above, at strengths between those of our table and at
	// them: mPa·s at 20 °C; water there is 1.002.
	for _, test := range []struct {
		m           Medium
		percent, mu float64
		tol         float64
	}{
		{Caustic, 4, 1.248, 1e-3}, {Caustic, 11, 2.039, 5e-3}, {Caustic, 13, 2.376, 5e-3}, {Caustic, 17, 3.344, 5e-3},
		{NitricAcid, 2, 1.007, 1e-3}, {NitricAcid, 11, 1.051, 1e-3}, {NitricAcid, 15, 1.084, 1e-3},
		{PhosphoricAcid, 5, 1.138, 1e-3}, {PhosphoricAcid, 11, 1.341, 1e-3}, {PhosphoricAcid, 17, 1.616, 1e-3},
	} {
		mu := must(Liquid{test.m, quantity.Strength(test.percent / 100), quantity.Celsius(20)}.Viscosity())(t)
		nearly(t, string(test.m), float64(mu)*1e3, test.mu, test.tol)
	}
	// Phosphoric acid 10 % at 25 °C: 1.1 mPa·s (chemister.ru, read; two digits).
	mu := must(Liquid{PhosphoricAcid, 0.10, quantity.Celsius(25)}.Viscosity())(t)
	nearly(t, "phosphoric acid 10 %, 25 °C", float64(mu)*1e3, 1.1, 0.06)
}

func TestHeatCapacityOfSolutions(t *testing.T) {
	// Common practice, no source: 1 % below water for each per cent w/w of caustic
	// or nitric acid. The model lies up to half as much again below.
	for _, m := range []Medium{Caustic, NitricAcid} {
		for percent := 1.0; percent <= 5; percent++ {
			water := must(Water(quantity.Celsius(60)))(t)
			cp := must(Liquid{m, quantity.Strength(percent / 100), quantity.Celsius(60)}.HeatCapacity())(t)
			drop := 100 * (1 - float64(cp/water.HeatCapacity))
			if drop < 0.8*percent || drop > 1.5*percent {
				t.Errorf("%s %g %%: %.2f %% below water", m, percent, drop)
			}
		}
	}
}

func TestNoStrengthIsWater(t *testing.T) {
	for _, m := range Media() {
		for _, c := range []float64{5, 20, 60, 95} {
			water := must(Liquid{PureWater, 0, quantity.Celsius(c)}.Properties())(t)
			weak := must(Liquid{m, 0, quantity.Celsius(c)}.Properties())(t)
			nearly(t, string(m)+" density", float64(weak.Density), float64(water.Density), 1e-15)
			nearly(t, string(m)+" viscosity", float64(weak.Viscosity), float64(water.Viscosity), 1e-15)
			nearly(t, string(m)+" heat", float64(weak.HeatCapacity), float64(water.HeatCapacity), 1e-15)
			nearly(t, string(m)+" vapour", float64(weak.VapourPressure), float64(water.VapourPressure), 1e-15)
			// And it comes there without a step.
			if must(substanceOf(m))(t).solute == nil {
				continue
			}
			trace := must(Liquid{m, 1e-7, quantity.Celsius(c)}.Properties())(t)
			nearly(t, string(m)+" trace density", float64(trace.Density), float64(water.Density), 1e-6)
			nearly(t, string(m)+" trace viscosity", float64(trace.Viscosity), float64(water.Viscosity), 1e-6)
			nearly(t, string(m)+" trace heat", float64(trace.HeatCapacity), float64(water.HeatCapacity), 1e-6)
		}
	}
}

func TestPropertiesAgreeWithEach(t *testing.T) {
	l := Liquid{Caustic, 0.018, quantity.Celsius(77)}
	p := must(l.Properties())(t)
	nearly(t, "density", float64(p.Density), float64(must(l.Density())(t)), 0)
	nearly(t, "viscosity", float64(p.Viscosity), float64(must(l.Viscosity())(t)), 0)
	nearly(t, "heat", float64(p.HeatCapacity), float64(must(l.HeatCapacity())(t)), 0)
	nearly(t, "vapour", float64(p.VapourPressure), float64(must(l.VapourPressure())(t)), 0)
	k, known := p.Conductivity.Get()
	if !known {
		t.Fatal("conductivity unknown within its table")
	}
	nearly(t, "conductivity", float64(k), float64(must(l.Conductivity())(t)), 0)
}

func TestLiquidOutsideItsRange(t *testing.T) {
	props := func(m Medium, w, c float64) error {
		_, err := Liquid{m, quantity.Strength(w), quantity.Celsius(c)}.Properties()
		return err
	}
	conductivity := func(m Medium, w, c float64) error {
		_, err := Liquid{m, quantity.Strength(w), quantity.Celsius(c)}.Conductivity()
		return err
	}
	strength := func(m Medium, mScm, c float64) error {
		_, err := StrengthOf(m, quantity.Conductivity(mScm/10), quantity.Celsius(c))
		return err
	}
	tests := []struct {
		err      error
		quantity string
	}{
		{props(PureWater, 0.01, 20), "strength"}, // water has no strength
		{props(PureWater, 0, 151), "temperature"},
		{props(Caustic, 0.25, 20), "strength"},
		{props(Caustic, -0.01, 20), "strength"},
		{props(Caustic, math.NaN(), 20), "strength"},
		{props(Caustic, 0.01, 2), "temperature"},
		{props(NitricAcid, 0.07, 20), "strength"},
		{props(NitricAcid, 0.01, 96), "temperature"},
		{props(PhosphoricAcid, 0.01, 4), "temperature"},
		{props(PeraceticAcid, 0.006, 20), "strength"},
		{conductivity(Caustic, 0.06, 20), "strength"},
		{conductivity(Caustic, 0.02, 90), "temperature"},
		{conductivity(Caustic, 0.02, 15), "temperature"},
		{conductivity(PhosphoricAcid, 0.001, 20), "strength"},
		{conductivity(PhosphoricAcid, 0.01, 60), "temperature"},
		{strength(Caustic, 210, 20), "conductivity"},
		{strength(Caustic, -1, 20), "conductivity"},
		{strength(Caustic, 50, 95), "temperature"},
		{strength(PhosphoricAcid, 1, 20), "conductivity"},
	}
	for i, test := range tests {
		var r *RangeError
		if !errors.As(test.err, &r) || r.Quantity != test.quantity {
			t.Errorf("row %d: got %v, want a RangeError for %s", i, test.err, test.quantity)
		}
	}
	for _, m := range []Medium{PureWater, RecoveredWater, PeraceticAcid} {
		if err := conductivity(m, 0, 20); !errors.Is(err, ErrUnknown) {
			t.Errorf("%s: got %v, want ErrUnknown", m, err)
		}
		if err := strength(m, 1, 20); !errors.Is(err, ErrUnknown) {
			t.Errorf("%s: got %v, want ErrUnknown", m, err)
		}
	}
	if props("beer", 0, 20) == nil {
		t.Error("an unheard-of medium has properties")
	}
	// Strong caustic has its other properties though its conductivity is unknown.
	p := must(Liquid{Caustic, 0.10, quantity.Celsius(60)}.Properties())(t)
	if p.Conductivity.Known() {
		t.Error("conductivity of 10 % caustic is beyond the table")
	}
}

func TestRoundingOfAConversionPasses(t *testing.T) {
	// 85 °C by way of Fahrenheit, 5 % by way of parts per million.
	fahrenheit := quantity.Temperature((185.0-32)*5/9 + 273.15)
	l := Liquid{Caustic, quantity.Strength(50000 * 1e-6 * (1 + 1e-15)), fahrenheit + 1e-13}
	nearly(t, "corner of the table", mScm(must(l.Conductivity())(t)), 429.55, 1e-9)
	if _, err := (Liquid{Caustic, -1e-15, quantity.Celsius(50)}).Conductivity(); err == nil {
		t.Error("a strength below zero passed")
	}
}

func TestEveryBasisIsWordedAndHolds(t *testing.T) {
	rows := Sources()
	if len(rows) != 4*len(Media())+3 {
		t.Errorf("%d rows for %d media", len(rows), len(Media()))
	}
	for _, b := range rows {
		if b.Model == "" || b.Source == "" || b.Standing == "" {
			t.Errorf("%s of %s lacks model, source or standing", b.Property, b.Medium)
		}
		// All four corners of the range give a positive number.
		for _, w := range []quantity.Strength{b.LowStrength, b.HighStrength} {
			for _, c := range []quantity.Temperature{b.LowTemperature, b.HighTemperature} {
				x, err := propertyOf(b.Property, Liquid{b.Medium, w, c})
				if err != nil {
					t.Errorf("%s of %s at %g, %g K: %v", b.Property, b.Medium, float64(w), float64(c), err)
				} else if !(x > 0) && !(b.Property == ConductivityProperty && w == 0 && x == 0) {
					t.Errorf("%s of %s at %g, %g K: %g", b.Property, b.Medium, float64(w), float64(c), x)
				}
			}
		}
	}
}

func propertyOf(p Property, l Liquid) (float64, error) {
	switch p {
	case DensityProperty:
		x, err := l.Density()
		return float64(x), err
	case ViscosityProperty:
		x, err := l.Viscosity()
		return float64(x), err
	case HeatCapacityProperty:
		x, err := l.HeatCapacity()
		return float64(x), err
	case VapourPressureProperty:
		x, err := l.VapourPressure()
		return float64(x), err
	case ConductivityProperty:
		x, err := l.Conductivity()
		return float64(x), err
	}
	return 0, errors.New("unheard-of property")
}

func TestCurveKeepsToItsPoints(t *testing.T) {
	// SciPy 1.10, scipy.interpolate.PchipInterpolator([0,1,3,4],[0,1,1.5,4]) at
	// 0.5, 2 and 3.5; the same scheme.
	c := newCurve([]float64{0, 1, 3, 4}, []float64{0, 1, 1.5, 4})
	want := []float64{0.6026785714285714, 1.2321428571428572, 2.40625}
	for i, x := range []float64{0.5, 2, 3.5} {
		nearly(t, "curve", c.at(x), want[i], 1e-14)
	}
}
