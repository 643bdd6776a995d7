package fluid

import (
	"math"
	"testing"

	"rinsewright/model/quantity"
)

func mScm(k quantity.Conductivity) float64 { return 10 * float64(k) }

func TestConductivityTable(t *testing.T) {
	// Computed with PHREEQC, database phreeqc.dat: mS/cm at the corners and the
	// middle of the table.
	for _, r := range []struct {
		m              Medium
		percent, c, mS float64
	}{
		{Caustic, 0.1, 20, 5.26}, {Caustic, 0.1, 85, 11.51}, {Caustic, 1, 60, 81.82}, {Caustic, 2, 75, 176.34}, {Caustic, 5, 20, 209.54}, {Caustic, 5, 85, 429.55},
		{NitricAcid, 0.1, 20, 5.96}, {NitricAcid, 0.1, 85, 10.85}, {NitricAcid, 1, 60, 87.03}, {NitricAcid, 2, 40, 141.19}, {NitricAcid, 5, 20, 254.28}, {NitricAcid, 5, 85, 431.49},
	} {
		k := must(Liquid{r.m, quantity.Strength(r.percent / 100), quantity.Celsius(r.c)}.Conductivity())(t)
		nearly(t, string(r.m), mScm(k), r.mS, 1e-12)
	}
}

func TestConductivityAgainstHandbook(t *testing.T) {
	// CRC Handbook, Electrical Conductivity of Aqueous Solutions, 20 °C: nitric
	// acid read, caustic and phosphoric acid from memory of the same table.
	for _, r := range []struct {
		m           Medium
		percent, mS float64
		tol         float64
	}{
		{Caustic, 0.5, 24.8, 0.035}, {Caustic, 1, 48.6, 0.035}, {Caustic, 2, 93.1, 0.035}, {Caustic, 5, 206, 0.035},
		{NitricAcid, 0.5, 28.4, 0.035}, {NitricAcid, 1, 56.1, 0.035}, {NitricAcid, 2, 108, 0.035},
		{PhosphoricAcid, 0.5, 5.5, 1e-12}, {PhosphoricAcid, 1, 10.1, 1e-12}, {PhosphoricAcid, 2, 16.2, 1e-12}, {PhosphoricAcid, 5, 31.5, 1e-12},
	} {
		k := must(Liquid{r.m, quantity.Strength(r.percent / 100), quantity.Celsius(20)}.Conductivity())(t)
		nearly(t, string(r.m), mScm(k), r.mS, r.tol)
	}
}

func TestConductivityTowardsNoStrength(t *testing.T) {
	// Limiting molar conductivities at 25 °C from the ions, S·cm²/mol (CRC
	// Handbook, from memory): Na+ 50.08, OH− 198.0, H+ 349.65, NO3− 71.42. The
	// line of Kohlrausch's law through the lowest points of the table comes
	// within 3 % of them.
	for _, r := range []struct {
		m     Medium
		M, L0 float64
	}{{Caustic, 39.997, 248.08}, {NitricAcid, 63.013, 421.07}} {
		const w = 1e-9
		k := must(Liquid{r.m, w, quantity.Celsius(25)}.Conductivity())(t)
		molPerLitre := w * 997.05 / r.M
		nearly(t, string(r.m), 1000*mScm(k)/1000/molPerLitre, r.L0, 0.03)
	}
}

func TestConductivityRisesAndInverts(t *testing.T) {
	for _, m := range []Medium{Caustic, NitricAcid, PhosphoricAcid} {
		s := must(substanceOf(m))(t)
		b := s.conductivity
		low, high := b.LowTemperature.Celsius(), b.HighTemperature.Celsius()
		for c := low; c <= high; c += (high - low) / 13 {
			last := -1.0
			const steps = 200
			for i := range steps + 1 {
				w := float64(b.LowStrength) + float64(b.HighStrength-b.LowStrength)*float64(i)/steps
				k := must(Liquid{m, quantity.Strength(w), quantity.Celsius(c)}.Conductivity())(t)
				if !(float64(k) > last) {
					t.Fatalf("%s at %g, %g °C does not rise", m, w, c)
				}
				last = float64(k)
				back := must(StrengthOf(m, k, quantity.Celsius(c)))(t)
				if math.Abs(float64(back)-w) > 1e-13 {
					t.Fatalf("%s at %g, %g °C: back to %g", m, w, c, float64(back))
				}
			}
		}
	}
}

func TestTemperatureCorrection(t *testing.T) {
	// Coefficients on the base of 25 °C, computed from Kohlrausch's at 18 °C:
	// 1.71, 1.33 and 0.97 % per kelvin. At 80 °C the divisor for caustic is 1/0.52.
	for m, percent := range map[Medium]float64{Caustic: 1.71, NitricAcid: 1.33, PhosphoricAcid: 0.97} {
		a := must(Compensation(m))(t)
		if math.Abs(100*a-percent) > 0.005 {
			t.Errorf("%s: %.4f %% per kelvin, want %.2f", m, 100*a, percent)
		}
	}
	k := must(At25(10, quantity.Celsius(80), 0.0171))(t)
	if math.Abs(float64(k)/10-0.52) > 0.005 {
		t.Errorf("factor %g at 80 °C, want 0.52", float64(k)/10)
	}
	nearly(t, "at 25 °C", float64(must(At25(3, quantity.Celsius(25), 0.02))(t)), 3, 0)
	if _, err := At25(1, quantity.Celsius(-60), 0.02); err == nil {
		t.Error("a negative divisor passed")
	}
	if _, err := Compensation(PureWater); err == nil {
		t.Error("water has a coefficient")
	}
}
