package thermal

import (
	"testing"

	"rinsewright/model/quantity"
)

func TestBareBlackTube(t *testing.T) {
	// Handbook table of black steel tube in still air of 20 °C, wall at 50 and
	// 100 °C, W/m (a published table of heat loss from pipes, read), emissivity taken
	// as 0.9. Tables of this sort differ by some per cent: 7 % allowed; the smallest
	// tube needs it.
	for _, r := range [][3]float64{
		{33.7, 41, 139}, {48.3, 56, 190}, {60.3, 68, 230}, {76.1, 83, 283},
		{88.9, 95, 324}, {101.6, 107, 365}, {114.3, 119, 405},
	} {
		tube := Tube{Outside: quantity.Millimetres(r[0]), Emissivity: 0.9}
		for i, wall := range []float64{50, 100} {
			h := must(tube.Loss(quantity.Celsius(wall), quantity.Celsius(20)))(t)
			nearly(t, "black tube", h.PerMetre, r[i+1], 0.07)
		}
	}
}

func TestHorizontalCylinderOfTheTextbook(t *testing.T) {
	// Incropera and DeWitt, example 9.4 (from memory): pipe of 0.1 m at 165 °C in a
	// room of 23 °C, emissivity 0.85: Rayleigh number 5.073e6, Nusselt number 23.3
	// and with 0.0313 W/(m·K) a coefficient of 7.29 W/(m²·K); so 325 W/m by
	// convection and 441 W/m by radiation.
	tube := Tube{Outside: quantity.Millimetres(100), Emissivity: 0}
	still := must(tube.Loss(quantity.Celsius(165), quantity.Celsius(23)))(t)
	nearly(t, "coefficient", float64(still.Coefficient), 7.29, 0.015)
	nearly(t, "convection", still.PerMetre, 325, 0.015)
	tube.Emissivity = 0.85
	both := must(tube.Loss(quantity.Celsius(165), quantity.Celsius(23)))(t)
	nearly(t, "radiation", both.PerMetre-still.PerMetre, 441, 0.005)
}

func TestStainlessLosesLessThanPaint(t *testing.T) {
	// Computed by the trade: tables for painted steel overstate bare stainless
	// (emissivity about 0.25) by some 1.7 at a wall of 80 °C; 0.2 allowed.
	bright := must(Tube{Outside: quantity.Millimetres(53), Emissivity: 0.25}.Loss(quantity.Celsius(80), quantity.Celsius(20)))(t)
	painted := must(Tube{Outside: quantity.Millimetres(53), Emissivity: 0.9}.Loss(quantity.Celsius(80), quantity.Celsius(20)))(t)
	nearly(t, "ratio", painted.PerMetre/bright.PerMetre, 1.7, 0.2/1.7)
}

func TestInsulatedTube(t *testing.T) {
	wall, air := quantity.Celsius(85), quantity.Celsius(15)
	tube := Tube{Outside: quantity.Millimetres(53), Insulation: 0.03, Conductivity: 0.04, Emissivity: 0.2}
	h := must(tube.Loss(wall, air))(t)
	// The surface gives off what a bare tube of the outer diameter would at the
	// surface's temperature.
	bare := must(Tube{Outside: quantity.Millimetres(113), Emissivity: 0.2}.Loss(h.Surface, air))(t)
	nearly(t, "balance", h.PerMetre, bare.PerMetre, 1e-8)
	// And no more than the insulation alone would pass to a surface as cold as the air:
	// 2π·0.04·70/ln(113/53) = 23.24 W/m, by hand.
	if !(h.PerMetre < 23.24 && h.PerMetre > 0.75*23.24) {
		t.Errorf("insulated tube loses %.2f W/m", h.PerMetre)
	}
	// Insulation that conducts like metal leaves a bare tube of the outer diameter.
	tube.Conductivity = 1e6
	nearly(t, "no insulation", must(tube.Loss(wall, air))(t).PerMetre,
		must(Tube{Outside: quantity.Millimetres(113), Emissivity: 0.2}.Loss(wall, air))(t).PerMetre, 1e-5)
	// More of it loses less.
	last := 1e9
	for _, thick := range []quantity.Length{0.02, 0.04, 0.08} {
		h := must(Tube{Outside: quantity.Millimetres(53), Insulation: thick, Conductivity: 0.04, Emissivity: 0.2}.Loss(wall, air))(t)
		if !(h.PerMetre < last) {
			t.Errorf("%g m loses %g W/m", float64(thick), h.PerMetre)
		}
		last = h.PerMetre
	}
	nearly(t, "conductance", float64(h.Conductance(12, wall, air))*70, 12*h.PerMetre, 1e-12)
}

func TestLossRefuses(t *testing.T) {
	good := Tube{Outside: 0.05, Emissivity: 0.25}
	refused[HeatLoss](t, "wall below air")(good.Loss(quantity.Celsius(10), quantity.Celsius(20)))
	refused[HeatLoss](t, "too hot")(good.Loss(quantity.Celsius(250), quantity.Celsius(20)))
	refused[HeatLoss](t, "no diameter")(Tube{Emissivity: 0.25}.Loss(quantity.Celsius(80), quantity.Celsius(20)))
	refused[HeatLoss](t, "emissivity")(Tube{Outside: 0.05, Emissivity: 1.2}.Loss(quantity.Celsius(80), quantity.Celsius(20)))
	refused[HeatLoss](t, "insulation of no kind")(Tube{Outside: 0.05, Insulation: 0.03}.Loss(quantity.Celsius(80), quantity.Celsius(20)))
	if h := must(good.Loss(quantity.Celsius(20), quantity.Celsius(20)))(t); h.PerMetre != 0 {
		t.Errorf("no difference loses %g W/m", h.PerMetre)
	}
}
