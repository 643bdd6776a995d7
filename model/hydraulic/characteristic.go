package hydraulic

import (
	"fmt"
	"math"
)

// Characteristic is how the Kv of a regulating valve grows with its opening.
type Characteristic string

// The inherent characteristics of IEC 60534-1.
const (
	Linear          Characteristic = "linear"
	EqualPercentage Characteristic = "equal percentage"
)

// Rangeability of a regulating valve: greatest over smallest Kv that follow the
// characteristic. Common practice, no source: 50.
const Rangeability = 50.0

// Kv gives the Kv at an opening of 0 to 1 of a valve whose greatest is full. An
// equal-percentage valve shuts below the opening at which its law gives 1 over
// [Rangeability]; there it falls in a straight line to zero.
func (c Characteristic) Kv(full, opening float64) (float64, error) {
	if !(opening >= 0 && opening <= 1) || !(full > 0) {
		return 0, fmt.Errorf("hydraulic: opening %v of a valve of Kv %v: the opening lies from 0 to 1, the Kv above zero", opening, full)
	}
	switch c {
	case Linear:
		return full * opening, nil
	case EqualPercentage:
		if opening < seat {
			return full * opening / seat * math.Pow(Rangeability, seat-1), nil
		}
		return full * math.Pow(Rangeability, opening-1), nil
	}
	return 0, fmt.Errorf("hydraulic: unknown valve characteristic %q", string(c))
}

// Opening gives the opening, 0 to 1, at which a valve passes kv. The error says
// that the valve is too small.
func (c Characteristic) Opening(full, kv float64) (float64, error) {
	if !(kv >= 0) || !(full > 0) {
		return 0, fmt.Errorf("hydraulic: Kv %v of a valve of Kv %v", kv, full)
	}
	if kv > full {
		return 0, fmt.Errorf("hydraulic: Kv %.4g is asked of a valve that has %.4g fully open", kv, full)
	}
	switch c {
	case Linear:
		return kv / full, nil
	case EqualPercentage:
		least := full * math.Pow(Rangeability, seat-1)
		if kv < least {
			return seat * kv / least, nil
		}
		return 1 + math.Log(kv/full)/math.Log(Rangeability), nil
	}
	return 0, fmt.Errorf("hydraulic: unknown valve characteristic %q", string(c))
}

// seat is the opening below which an equal-percentage valve closes in a line.
const seat = 0.05
