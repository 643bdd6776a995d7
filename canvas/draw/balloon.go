package draw

import (
	"strings"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// How letters and loop number share a balloon, in mm.
const (
	lettersUp       = 1.6
	numberDown      = 1.9
	numberedLetters = 2.3
	numberHeight    = 2.0
	numberRoom      = 8.0
)

// LoopNumber gives the loop number of an instrument whose tag is its letters, a
// hyphen and a number: "101" for TT-101. Letters over number is how ISA-5.1
// fills a balloon; such an instrument needs no tag beside it.
func LoopNumber(p model.Part, kind *catalogue.Kind) (string, bool) {
	i, ok := p.(*model.Instrument)
	if !ok || kind == nil {
		return "", false
	}
	if _, balloon := lettersAt(kind); !balloon {
		return "", false
	}
	number, ok := strings.CutPrefix(i.Tag, i.Letters.Or(kind.Prefix)+"-")
	if !ok || number == "" {
		return "", false
	}
	return number, true
}

// lettersAt gives where the letters of a balloon stand in its symbol.
func lettersAt(kind *catalogue.Kind) ([2]float64, bool) {
	for _, shape := range kind.Symbol.Draw {
		if shape.Text == "$letters" {
			return shape.At, true
		}
	}
	return [2]float64{}, false
}

// loopNumber writes the number in the lower half of the balloon; a long one
// becomes smaller.
func (d *drawing) loopNumber(p model.Part, kind *catalogue.Kind, number string) Text {
	at, _ := lettersAt(kind)
	t := Text{At: d.symbol(p, kind).placed(at), String: number, Height: numberHeight, Role: Ink}
	t.At.Y += numberDown
	if w := TextWidth(number, t.Height); w > numberRoom {
		t.Height *= numberRoom / w
	}
	return t
}
