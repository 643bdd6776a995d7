package listing

import "testing"

// What is a number with its sign stays one; what only begins as one does not.
func TestSignedCells(t *testing.T) {
	for _, s := range []string{"-1.5", "+3", "-0.5 %", "-2 m/s", "-12 °C", "-3 m³/h", "-1e-05"} {
		if got := plainCell(s); got != s {
			t.Errorf("the number %q is written %q", s, got)
		}
	}
	for _, s := range []string{"-2+3", "-2+cmd|' /C calc'!A0", "+1-A1", "-", "-2 A1", "-2*3", "-1e3+A1", "-2\n=A1"} {
		if got := plainCell(s); got != "'"+s {
			t.Errorf("%q is written %q, which a spreadsheet takes for a formula", s, got)
		}
	}
}
