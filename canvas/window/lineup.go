package window

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// normalOf gives the position in which a valve stands while no step moves it:
// the one told, else its kind's first.
func normalOf(v *model.Valve, kind *catalogue.Kind) string {
	if n, ok := v.Normal.Get(); ok {
		return n
	}
	if kind != nil && len(kind.Positions) > 0 {
		return kind.Positions[0]
	}
	return ""
}

// positionOf gives the position of a valve in a step and whether the step moves
// it out of its normal one. step may be nil.
func positionOf(v *model.Valve, kind *catalogue.Kind, step *model.Step) (position string, moved bool) {
	normal := normalOf(v, kind)
	if step != nil {
		if p, ok := step.Positions[v.ID]; ok {
			return p, p != normal
		}
	}
	return normal, false
}

// nextPosition gives the position after the one that a valve has in a step, in
// the order of its kind; empty for a valve that has but one.
func nextPosition(v *model.Valve, kind *catalogue.Kind, step *model.Step) string {
	if kind == nil || len(kind.Positions) < 2 {
		return ""
	}
	at, _ := positionOf(v, kind, step)
	i := slices.Index(kind.Positions, at)
	return kind.Positions[(i+1)%len(kind.Positions)]
}

// movable lists the valves that a step can move and the pumps, by tag.
func movable(c *model.Circuit, cat *catalogue.Catalogue) []model.Part {
	var out []model.Part
	for _, p := range c.Parts() {
		switch p := p.(type) {
		case *model.Pump:
			out = append(out, p)
		case *model.Valve:
			if k := cat.Kind(p.Kind); k != nil && len(k.Positions) > 1 {
				out = append(out, p)
			}
		}
	}
	slices.SortStableFunc(out, compareTag)
	return out
}

// compareTag puts pumps before valves and orders by tag.
func compareTag(a, b model.Part) int {
	rank := func(p model.Part) int {
		if p.Class() == model.ClassPump {
			return 0
		}
		return 1
	}
	if d := rank(a) - rank(b); d != 0 {
		return d
	}
	switch x, y := a.Meta().Tag, b.Meta().Tag; {
	case x < y:
		return -1
	case x > y:
		return 1
	}
	return 0
}

// ends lists the vessels and terminals that a step can draw from, or else send
// to, by tag: none that only take are drawn from, none that only give are sent
// to.
func ends(c *model.Circuit, cat *catalogue.Catalogue, from bool) []model.Part {
	wrong := "in"
	if !from {
		wrong = "out"
	}
	var out []model.Part
	for _, p := range c.Parts() {
		switch p.Class() {
		case model.ClassVessel:
			out = append(out, p)
		case model.ClassTerminal:
			k := cat.Kind(p.Meta().Kind)
			if k != nil && (k.Has(catalogue.TraitVent) || len(k.Ports) == 1 && k.Ports[0].Role == wrong) {
				continue
			}
			out = append(out, p)
		}
	}
	slices.SortStableFunc(out, compareTag)
	return out
}

// washables lists what a step can clean: vessels and objects, by tag.
func washables(c *model.Circuit) []model.Part {
	var out []model.Part
	for _, p := range c.Parts() {
		switch p.Class() {
		case model.ClassVessel, model.ClassObject:
			out = append(out, p)
		}
	}
	slices.SortStableFunc(out, compareTag)
	return out
}
