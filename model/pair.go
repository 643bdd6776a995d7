package model

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
)

func marshalPair(x, y float64) ([]byte, error) {
	for _, v := range []float64{x, y} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return nil, fmt.Errorf("model: %v is not a place on the drawing", v)
		}
	}
	return []byte("[" + millimetres(x) + "," + millimetres(y) + "]"), nil
}

// millimetres writes to a thousandth; finer is not a place on a drawing.
func millimetres(v float64) string {
	v = math.Round(v*1000) / 1000
	if v == 0 {
		v = 0 // no minus sign before zero
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

func unmarshalPair(b []byte) ([2]float64, error) {
	var list []float64
	if err := json.Unmarshal(b, &list); err != nil {
		return [2]float64{}, fmt.Errorf("expected two numbers [x, y]")
	}
	if len(list) != 2 {
		return [2]float64{}, fmt.Errorf("expected two numbers [x, y], found %d", len(list))
	}
	return [2]float64{list[0], list[1]}, nil
}
