package service

import (
	"cmp"
	"slices"

	"rinsewright/model"
)

// Spare is a group of parts that take the same spares.
type Spare struct {
	Kind  string
	Size  model.TubeSize // empty: nobody told
	Seal  string         // material; empty: nobody told, or its class has none
	Seals bool           // its class has a seal
	Parts []model.ID     // in order of id
}

// Spares groups pumps, valves, exchangers, spray devices and instruments by kind,
// size and seal, in that order.
func Spares(c *model.Circuit) []Spare {
	var out []Spare
	for _, p := range c.Parts() {
		s := Spare{Kind: p.Meta().Kind}
		switch p := p.(type) {
		case *model.Pump:
			s.Size, s.Seal, s.Seals = p.Size.Or(""), p.Seal.Or(""), true
		case *model.Valve:
			s.Size, s.Seal, s.Seals = p.Size.Or(""), p.Seal.Or(""), true
		case *model.Exchanger:
			s.Size, s.Seal, s.Seals = p.Size.Or(""), p.Seal.Or(""), true
		case *model.Spray:
			s.Size = p.Size.Or("")
		case *model.Instrument:
			s.Size = p.Size.Or("")
		default:
			continue
		}
		i := slices.IndexFunc(out, func(o Spare) bool { return o.Kind == s.Kind && o.Size == s.Size && o.Seal == s.Seal })
		if i < 0 {
			i = len(out)
			out = append(out, s)
		}
		out[i].Parts = append(out[i].Parts, p.RecordID())
	}
	slices.SortFunc(out, func(a, b Spare) int {
		return cmp.Or(cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.Size, b.Size), cmp.Compare(a.Seal, b.Seal))
	})
	return out
}
