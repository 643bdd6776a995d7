package edit

import (
	"math"

	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// mostGuided is the number of moved parts beyond which no guides are sought.
const mostGuided = 20

// guides gives the nearest port in line with a moved one, level and upright: a
// run between the two would be straight.
func (d *Drawing) guides(ids []model.ID, by model.Point) []Guide {
	moved := map[model.ID]bool{}
	var ports []place.Port
	for _, id := range ids {
		if p := d.circuit.Part(id); p != nil {
			moved[id] = true
			ports = append(ports, place.Ports(p, d.kindOf(p))...)
		}
	}
	if len(moved) > mostGuided {
		return nil
	}
	for i := range ports {
		ports[i].Place = ports[i].Place.Add(by)
	}
	return d.guidesOf(ports, moved)
}

func (d *Drawing) guidesOf(ports []place.Port, moved map[model.ID]bool) []Guide {
	level, upright := math.Inf(1), math.Inf(1)
	var best [2]*Guide
	for _, b := range d.portsOf() {
		for i := range ports {
			a := &ports[i]
			apart := b.at.Sub(a.Place)
			// They must look at each other.
			if a.Faces.Add(b.faces) != (model.Point{}) || dot(apart, a.Faces) < near || moved[b.part] {
				continue
			}
			switch {
			case math.Abs(apart.Y) < near && math.Abs(apart.X) < level:
				level, best[0] = math.Abs(apart.X), &Guide{a.Place, b.at}
			case math.Abs(apart.X) < near && math.Abs(apart.Y) < upright:
				upright, best[1] = math.Abs(apart.Y), &Guide{a.Place, b.at}
			}
		}
	}
	var out []Guide
	for _, g := range best {
		if g != nil {
			out = append(out, *g)
		}
	}
	return out
}

// portPlace is where a port of a part lies.
type portPlace struct {
	part      model.ID
	name      string
	at, faces model.Point
	of        model.Part
	port      *catalogue.Port
}

// portsOf gives the ports of all parts, in the order of the circuit.
func (d *Drawing) portsOf() []portPlace {
	if d.ports == nil {
		d.ports = []portPlace{}
		for _, p := range d.circuit.Parts() {
			k := d.kindOf(p)
			if k == nil {
				continue
			}
			for i := range k.Ports {
				at, faces := k.Ports[i].PortAt(p.Meta())
				d.ports = append(d.ports, portPlace{p.RecordID(), k.Ports[i].Name, at, faces, p, &k.Ports[i]})
			}
		}
	}
	return d.ports
}
