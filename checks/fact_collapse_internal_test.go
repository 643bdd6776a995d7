package checks

import (
	"math"
	"testing"

	"rinsewright/model/quantity"
)

// A sealed vessel of saturated air at one standard atmosphere. The values follow by
// hand from the steam table (IAPWS-IF97, kPa: 10 °C 1.228, 20 °C 2.339, 75 °C 38.60,
// 80 °C 47.41, 85 °C 57.87, 90 °C 70.18) and the ideal gas law:
// (101.325 - 38.60) x 293.15 / 348.15 + 2.339 = 55.2.
func TestSealedVesselThatCools(t *testing.T) {
	for _, c := range []struct{ hot, cold, kPa float64 }{
		{75, 20, 55}, {80, 20, 47}, {85, 20, 38}, {90, 20, 27.5}, {90, 10, 25.5},
	} {
		got, err := sealedPressure(quantity.Celsius(c.hot), quantity.Celsius(c.cold))
		if err != nil || math.Abs(float64(got)/1e3-c.kPa) > 0.5 {
			t.Errorf("%v to %v °C: %.2f kPa, %v; expected %v", c.hot, c.cold, float64(got)/1e3, err, c.kPa)
		}
	}
	if _, err := sealedPressure(quantity.Celsius(4000), quantity.Celsius(20)); err == nil {
		t.Error("4000 °C has no saturation pressure")
	}
}

// The air drawn keeps the pressure of 1 m³ that cools by 1 K in a second. By hand, with
// the slope of the saturation curve after Clausius and Clapeyron at 80 °C, r 2308 kJ/kg:
// 2308 x 47.41 / (0.4615 x 353.15²) = 1.901 kPa/K, and
// 293.15/101.325 x (1.901/353.15 + 53.91/353.15²) = 0.01682 m³/s.
func TestAirDrawnKeepsThePressure(t *testing.T) {
	got, err := airDrawn(1, quantity.Celsius(80), 1, quantity.Celsius(20))
	if err != nil || math.Abs(float64(got)-0.01682) > 0.0002 {
		t.Errorf("%.5f m³/s, %v", float64(got), err)
	}
	double, _ := airDrawn(2, quantity.Celsius(80), 2, quantity.Celsius(20))
	if math.Abs(float64(double/got)-4) > 1e-9 {
		t.Errorf("twice the volume at twice the rate draws %v times as much", double/got)
	}
}

// An opening of 0.01 m² and 0.06 m³/s: 0.06/(0.6 x 0.01) = 10 m/s, 1.2 x 100/2 = 60 Pa.
func TestSuctionOfAnOpening(t *testing.T) {
	if got := suction(0.06, 0.01); math.Abs(float64(got)-60) > 1e-9 {
		t.Errorf("%v Pa", got)
	}
	if !math.IsInf(float64(suction(0.06, 0)), 1) {
		t.Error("nothing comes through no opening")
	}
}
