package thermal

import (
	"testing"

	"rinsewright/model/quantity"
)

func TestUprightPlateOfTheTextbook(t *testing.T) {
	// Incropera and DeWitt, example 9.2 (from memory): glass screen 0.71 m high at
	// 232 °C in a room of 23 °C: Rayleigh number 1.813e9, Nusselt number 147 and with
	// 0.0338 W/(m·K) a coefficient of 7.0 W/(m²·K). The screen of 1.02 m by 0.71 m gives
	// off 1060 W by convection.
	still := plateFlux(0.71, 232+273.15, 23+273.15, 0)
	nearly(t, "coefficient", still/209, 7.0, 0.015)
	nearly(t, "screen", still*1.02*0.71, 1060, 0.015)
	// Radiation of emissivity 1 in the same example: 2355 W.
	both := plateFlux(0.71, 232+273.15, 23+273.15, 1)
	nearly(t, "radiation", (both-still)*1.02*0.71, 2355, 0.005)
}

func TestInsulatedWall(t *testing.T) {
	wall, air := quantity.Celsius(80), quantity.Celsius(20)
	w := Wall{Height: 2, Insulation: 0.05, Conductivity: 0.04, Emissivity: 0.25}
	l := must(w.Loss(wall, air))(t)
	// The surface gives off what a bare wall of its temperature would, and less than the
	// insulation would pass to a surface as cold as the air: 0.04·60/0.05 = 48 W/m².
	bare := must(Wall{Height: 2, Emissivity: 0.25}.Loss(l.Surface, air))(t)
	nearly(t, "balance", l.PerArea, bare.PerArea, 1e-7)
	if !(l.PerArea < 48 && l.PerArea > 0.75*48) {
		t.Errorf("insulated wall loses %.2f W/m²", l.PerArea)
	}
	nearly(t, "conductance", float64(l.Conductance(10, wall, air))*60, 10*l.PerArea, 1e-12)
	refused[WallLoss](t, "no height")(Wall{Emissivity: 0.25}.Loss(wall, air))
	refused[WallLoss](t, "wall below air")(w.Loss(air, wall))
	refused[WallLoss](t, "insulation of no kind")(Wall{Height: 2, Insulation: 0.05}.Loss(wall, air))
	if l := must(w.Loss(air, air))(t); l.PerArea != 0 {
		t.Errorf("no difference loses %g W/m²", l.PerArea)
	}
}

func TestSteelOfATube(t *testing.T) {
	// 53 mm by 1.5 mm: cross section π·51.5·1.5 = 242.7 mm², at 7900 kg/m³ 1.917 kg/m.
	// Tables of stainless tube give 1.93 kg/m at 7950 kg/m³ (common practice, no source).
	nearly(t, "steel", SteelOf(quantity.Millimetres(53), quantity.Millimetres(1.5), 1), 1.917, 1e-3)
}
