package quantity_test

import (
	"testing"

	. "rinsewright/model/quantity"
)

// 1 m³/h is 4.40286753931 US gallons a minute, 1 ft 0.3048 m and 1 psi 6894.757 Pa
// (GNU Units 2.22).
func TestWordsTellQuantitiesInTheReadersUnits(t *testing.T) {
	w := Say("%v at %s; %v", CubicMetresPerHour(10), "P-1", Say("short by %v, %d %%", Length(3.048), 5))
	if got, want := w.In(Metric), "10 m³/h at P-1; short by 3.05 m, 5 %"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got, want := w.In(US), "44 gpm at P-1; short by 10 ft, 5 %"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if w.String() != w.In(Metric) || w.Empty() || !(Words{}).Empty() || (Words{}).In(US) != "" {
		t.Error("metric is the plain writing, and no words are empty")
	}
	if got := Say("100 % plain").In(US); got != "100 % plain" {
		t.Errorf("without arguments %q", got)
	}
}
