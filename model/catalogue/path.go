package catalogue

import (
	"fmt"
	"strconv"
	"strings"
)

// Segment is one piece of a figure: a move or line has one point, a cubic three
// (two controls and the end), a close none.
type Segment struct {
	Op byte // 'M', 'L', 'C', 'Z'
	P  [3][2]float64
}

// ParsePath reads the figure of a symbol: M x y, L x y, H x, V y,
// C x1 y1 x2 y2 x y and Z, absolute, numbers parted by blanks or commas.
func ParsePath(text string) ([]Segment, error) {
	words := strings.Fields(strings.ReplaceAll(text, ",", " "))
	var out []Segment
	var at [2]float64
	for i := 0; i < len(words); {
		op := words[i]
		i++
		need, ok := map[string]int{"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "Z": 0}[op]
		if !ok {
			return nil, fmt.Errorf("path %q: %q is not one of M, L, H, V, C, Z", text, op)
		}
		if len(out) == 0 && op != "M" {
			return nil, fmt.Errorf("path %q must begin with M", text)
		}
		for first := true; first || need > 0 && i < len(words) && isNumber(words[i]); first = false {
			var n [6]float64
			for j := range need {
				if i >= len(words) {
					return nil, fmt.Errorf("path %q: %s wants %d numbers", text, op, need)
				}
				v, err := strconv.ParseFloat(words[i], 64)
				if err != nil {
					return nil, fmt.Errorf("path %q: %q is not a number", text, words[i])
				}
				n[j] = v
				i++
			}
			seg := Segment{Op: op[0]}
			switch op {
			case "M", "L":
				at = [2]float64{n[0], n[1]}
				seg.P[0] = at
			case "H":
				at[0] = n[0]
				seg.Op, seg.P[0] = 'L', at
			case "V":
				at[1] = n[0]
				seg.Op, seg.P[0] = 'L', at
			case "C":
				seg.P = [3][2]float64{{n[0], n[1]}, {n[2], n[3]}, {n[4], n[5]}}
				at = seg.P[2]
			}
			out = append(out, seg)
			if op == "M" {
				op = "L" // further pairs after a move are lines
			}
		}
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("path is empty")
	}
	return out, nil
}

func isNumber(s string) bool {
	_, err := strconv.ParseFloat(s, 64)
	return err == nil
}
