package hydraulic

import (
	"fmt"
	"math"
)

// Loss coefficients of the two ends of a tube, on the velocity head in it: a
// sharp-edged entrance flush with the wall, and any exit into a vessel (Crane
// TP-410, appendix A).
const (
	EntranceLoss = 0.5
	ExitLoss     = 1.0
)

// Expansion gives the loss coefficient of a sudden expansion from bore small to
// bore large, on the velocity head in the smaller (Borda-Carnot, (1-β²)²).
func Expansion(small, large float64) (float64, error) {
	b, err := areaRatio(small, large)
	return (1 - b) * (1 - b), err
}

// Contraction gives the loss coefficient of a sudden contraction from bore large
// to bore small, on the velocity head in the smaller: 0.5(1-β²) (Crane TP-410,
// appendix A).
func Contraction(large, small float64) (float64, error) {
	b, err := areaRatio(small, large)
	return 0.5 * (1 - b), err
}

// Widening gives the loss coefficient of a cone from bore small to bore large
// whose sides meet at the angle given (radians, 0 to π), on the velocity head in
// the smaller: 2.6 sin(θ/2) of the sudden expansion up to 45° (Crane TP-410,
// formula 3).
func Widening(small, large, angle float64) (float64, error) {
	k, err := Expansion(small, large)
	if err == nil {
		err = checkCone(angle)
	}
	if angle <= math.Pi/4 {
		k *= 2.6 * math.Sin(angle/2)
	}
	return k, err
}

// Narrowing gives the loss coefficient of a cone from bore large to bore small, on
// the velocity head in the smaller: 1.6 sin(θ/2) of the sudden contraction up to
// 45°, √sin(θ/2) of it beyond (Crane TP-410, formulae 1 and 2).
func Narrowing(large, small, angle float64) (float64, error) {
	k, err := Contraction(large, small)
	if err == nil {
		err = checkCone(angle)
	}
	if angle <= math.Pi/4 {
		return k * 1.6 * math.Sin(angle/2), err
	}
	return k * math.Sqrt(math.Sin(angle/2)), err
}

func areaRatio(small, large float64) (float64, error) {
	if !(small > 0) || !(large >= small) || math.IsInf(large, 0) {
		return 0, fmt.Errorf("hydraulic: change of bore between %v m and %v m: the first must be above zero and not above the second", small, large)
	}
	return small / large * small / large, nil
}

func checkCone(angle float64) error {
	if !(angle > 0 && angle <= math.Pi) {
		return fmt.Errorf("hydraulic: cone of %v rad: the angle lies above 0 and up to π", angle)
	}
	return nil
}

// kvDensity is the density of the water that Kv is told with, kg/m³ (IEC 60534).
const kvDensity = 1000

// LossOfKv gives the loss coefficient on the velocity head in a bore (m) that
// passes as much as Kv (m³/h of water at 1 bar).
func LossOfKv(kv, bore float64) float64 {
	area := math.Pi / 4 * bore * bore
	at1Bar := kv / 3600 / area
	return 2 * 1e5 / kvDensity / (at1Bar * at1Bar)
}

// KvOfLoss gives the Kv (m³/h of water at 1 bar) of a loss coefficient on the
// velocity head in a bore (m).
func KvOfLoss(loss, bore float64) float64 {
	area := math.Pi / 4 * bore * bore
	return 3600 * area * math.Sqrt(2*1e5/kvDensity/loss)
}
