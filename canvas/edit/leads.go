package edit

import (
	"slices"
	"strings"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// mostUntagged is how many parts without a tag are looked beyond for one that has
// one.
const mostUntagged = 8

// Beyond gives the tag of the part that a port leads to: of the nearest one that
// has a tag, beyond fittings that have none. Empty if nothing is joined to the
// port, or nothing with a tag comes close by.
func (d *Drawing) Beyond(part model.ID, port string) string {
	seen := map[model.ID]bool{part: true}
	var queue []model.ID
	add := func(e model.End) {
		if !e.Loose() && !seen[e.Part] {
			seen[e.Part] = true
			queue = append(queue, e.Part)
		}
	}
	for _, r := range d.circuit.RunsAt(part) {
		switch {
		case endsOn(r.From, part, port):
			add(r.To)
		case endsOn(r.To, part, port):
			add(r.From)
		}
	}
	for n := 0; len(queue) > 0 && n < mostUntagged; n++ {
		id := queue[0]
		queue = queue[1:]
		p := d.circuit.Part(id)
		if p == nil {
			continue
		}
		if tag := p.Meta().Tag; tag != "" {
			return tag
		}
		for _, r := range d.circuit.RunsAt(id) {
			add(r.From)
			add(r.To)
		}
	}
	return ""
}

// PositionWords tells a position of a valve: where it leads to ("to T-102") for
// one that opens the way to one of its ports, else the position itself in plain
// words ("closed", "lower lift").
func (d *Drawing) PositionWords(v *model.Valve, position string) string {
	plain := strings.ReplaceAll(position, "-", " ")
	if !strings.HasPrefix(position, "to-") {
		return plain
	}
	k := d.kindOf(v)
	if k == nil {
		return plain
	}
	port := portOpenedBy(k, position)
	tag := ""
	if port != "" {
		tag = d.Beyond(v.ID, port)
	}
	if tag == "" {
		return plain
	}
	// Two positions that lead to the same part are told apart by their ports.
	for _, other := range k.Positions {
		if q := portOpenedBy(k, other); other != position && q != "" && d.Beyond(v.ID, q) == tag {
			return "to " + tag + " (" + port + ")"
		}
	}
	return "to " + tag
}

// portOpenedBy gives the port to which a position alone opens the way; empty if
// there is none or several.
func portOpenedBy(k *catalogue.Kind, position string) string {
	found := ""
	for _, port := range portsJoinedIn(k, position) {
		elsewhere := slices.ContainsFunc(k.Positions, func(other string) bool {
			return other != position && slices.Contains(portsJoinedIn(k, other), port)
		})
		if elsewhere {
			continue
		}
		if found != "" {
			return ""
		}
		found = port
	}
	return found
}

// portsJoinedIn gives the ports on both sides of what opens in a position, in the
// order of the kind.
func portsJoinedIn(k *catalogue.Kind, position string) []string {
	seen := map[string]bool{}
	var queue []string
	add := func(point string) {
		if !seen[point] {
			seen[point] = true
			queue = append(queue, point)
		}
	}
	for _, p := range k.Paths {
		if slices.Contains(p.OpenIn, position) {
			add(p.From)
			add(p.To)
		}
	}
	for len(queue) > 0 {
		at := queue[0]
		queue = queue[1:]
		for _, p := range k.Paths {
			switch {
			case len(p.OpenIn) > 0:
			case p.From == at:
				add(p.To)
			case p.To == at:
				add(p.From)
			}
		}
	}
	var out []string
	for _, port := range k.Ports {
		if seen[port.Name] {
			out = append(out, port.Name)
		}
	}
	return out
}
