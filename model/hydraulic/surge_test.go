package hydraulic_test

import (
	"math"
	"testing"

	"rinsewright/model/hydraulic"
	. "rinsewright/model/quantity"
)

// In a tube that cannot widen the wave runs at the speed of sound in water: 1482 m/s
// at 20 °C (CRC Handbook of Chemistry and Physics, from memory), 998.2 kg/m³.
func TestWaveSpeedInARigidTube(t *testing.T) {
	if a := float64(hydraulic.WaveSpeed(998.2, 0.05, 1e6)); math.Abs(a-1482) > 3 {
		t.Errorf("%v m/s", a)
	}
}

// Worked by hand for 53 x 1.5: D/t = 33.33, K·D/(E·t) = 2.19/200 x 33.33 = 0.365;
// 1481.2 / √1.365 = 1267.8 m/s. Steel mains are commonly given with 1000 to 1300 m/s
// (common practice, no source).
func TestWaveSpeedInThinTube(t *testing.T) {
	if a := float64(hydraulic.WaveSpeed(998.2, 0.050, 0.0015)); math.Abs(a-1267.8) > 0.5 {
		t.Errorf("%v m/s", a)
	}
}

// 1 m/s stopped at once at 1000 m/s in water of 1000 kg/m³ is 10 bar, the rule of
// thumb of the trade. A column of 50 m has the wave back after 0.1 s: shut within
// 0.2 s it gives half, within 0.1 s the whole.
func TestSurge(t *testing.T) {
	for _, c := range []struct{ shuts, want float64 }{{0, 10e5}, {0.1, 10e5}, {0.2, 5e5}, {1, 1e5}} {
		if p := float64(hydraulic.Surge(1000, 1000, 1, 50, Duration(c.shuts))); math.Abs(p-c.want) > 1 {
			t.Errorf("shut within %v s: %v Pa, want %v", c.shuts, p, c.want)
		}
	}
}
