package fluid

import (
	"errors"
	"testing"

	"rinsewright/model/quantity"
)

func TestDoseOfCaustic(t *testing.T) {
	// Worked by hand: 1 000 L of 1.5 % w/w at 20 °C, taken as 1.0155 kg/L, hold
	// 15.23 kg; that is 30.47 kg of 50 % or 19.98 L at 1.525 kg/L. The density
	// there is a rounded one; the CRC table interpolates to 1.0151 kg/L, ours is
	// 1.0147, so 0.1 % is allowed.
	l := Liquid{Caustic, 0.015, quantity.Celsius(20)}
	d := must(MakeUp(l, 1, Concentrates()[0]))(t)
	nearly(t, "solute", d.Solute, 15.23, 1e-3)
	nearly(t, "concentrate", d.Concentrate, 30.47, 1e-3)
	nearly(t, "litres", d.Volume.Litres(), 19.98, 1e-3)
	nearly(t, "batch", d.Water+d.Concentrate, 1000*1.0151, 1e-3)
	nearly(t, "strength", 0.5*d.Concentrate/(d.Water+d.Concentrate), 0.015, 1e-12)
}

func TestTopUp(t *testing.T) {
	l := Liquid{NitricAcid, 0.008, quantity.Celsius(60)}
	stock := Concentrates()[1]
	d := must(TopUp(l, 2, 0.012, stock))(t)
	// Balance of the acid: what was there and what came is 1.2 % of the whole.
	batch := 2 * float64(must(l.Density())(t))
	nearly(t, "strength", (0.008*batch+d.Solute)/(batch+d.Concentrate), 0.012, 1e-12)
	nearly(t, "litres", d.Volume.Litres(), d.Concentrate/1.41, 1e-12)
	if none := must(TopUp(l, 2, 0.008, stock))(t); none.Concentrate != 0 {
		t.Errorf("nothing to add, got %g kg", none.Concentrate)
	}
}

func TestDoseRefuses(t *testing.T) {
	caustic, acid := Concentrates()[0], Concentrates()[1]
	l := Liquid{Caustic, 0.015, quantity.Celsius(20)}
	refused := func(name string, err error) {
		t.Helper()
		if err == nil {
			t.Errorf("%s passed", name)
		}
	}
	_, err := MakeUp(l, 1, acid)
	refused("caustic from acid", err)
	_, err = MakeUp(Liquid{Caustic, 0.6, quantity.Celsius(20)}, 1, caustic)
	refused("stronger than the stock", err)
	_, err = MakeUp(l, -1, caustic)
	refused("negative volume", err)
	_, err = MakeUp(l, 1, Concentrate{Medium: Caustic})
	refused("stock without strength", err)
	_, err = TopUp(l, 1, 0.01, caustic)
	var r *RangeError
	if !errors.As(err, &r) {
		t.Errorf("weakening by topping up: %v", err)
	}
}
