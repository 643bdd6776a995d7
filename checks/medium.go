package checks

import (
	"rinsewright/model"
	"rinsewright/model/quantity"
)

// holds gives what a vessel holds or a terminal supplies or takes.
func holds(p model.Part) quantity.Opt[model.Medium] {
	switch p := p.(type) {
	case *model.Vessel:
		return p.Holds
	case *model.Terminal:
		return p.Medium
	}
	return quantity.Opt[model.Medium]{}
}

// mediumKey gives the key of the property that [holds] reads.
func mediumKey(p model.Part) string {
	if p.Class() == model.ClassVessel {
		return "holds"
	}
	return "medium"
}
