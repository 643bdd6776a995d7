package place

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// unknownBox is the box of a part whose kind the catalogue does not have.
var unknownBox = [4]float64{-10, -5, 10, 5}

// Box gives the box of a part's symbol as it lies on the drawing, without its
// tag. kind may be nil: then it is a box of 20 mm by 10 mm.
func Box(p model.Part, kind *catalogue.Kind) Rect {
	b := unknownBox
	if kind != nil {
		b = kind.Symbol.Box
	}
	m := p.Meta()
	sx, sy := Stretch(p, kind)
	return Spanned(
		model.Placed(model.Point{X: b[0] * sx, Y: b[1] * sy}, m.At, m.Turn, m.Mirrored),
		model.Placed(model.Point{X: b[2] * sx, Y: b[3] * sy}, m.At, m.Turn, m.Mirrored),
	)
}

// Stretch gives the factors in x and y by which a part's symbol is stretched
// about its reference point before it is turned. Only a frame or a panel of
// stated width or depth is stretched; for all else they are 1.
func Stretch(p model.Part, kind *catalogue.Kind) (sx, sy float64) {
	sx, sy = 1, 1
	f, ok := p.(*model.Frame)
	if !ok || kind == nil {
		return sx, sy
	}
	b := kind.Symbol.Box
	if w, ok := f.Width.Get(); ok && w > 0 && b[2] > b[0] {
		sx = w.Millimetres() / (b[2] - b[0])
	}
	if d, ok := f.Depth.Get(); ok && d > 0 && b[3] > b[1] {
		sy = d.Millimetres() / (b[3] - b[1])
	}
	return sx, sy
}

// Port is a port of a part as it lies on the drawing.
type Port struct {
	catalogue.Port
	Place model.Point
	Faces model.Point // unit vector in which a run leaves
}

// Ports gives the ports of a part in the order of its kind; none for a nil kind.
func Ports(p model.Part, kind *catalogue.Kind) []Port {
	if kind == nil {
		return nil
	}
	out := make([]Port, len(kind.Ports))
	for i := range kind.Ports {
		out[i] = placedPort(p.Meta(), &kind.Ports[i])
	}
	return out
}

func placedPort(m *model.Item, port *catalogue.Port) Port {
	return Port{
		Port:  *port,
		Place: model.Placed(model.Point{X: port.At[0], Y: port.At[1]}, m.At, m.Turn, m.Mirrored),
		Faces: model.Turned(facing(port.Way), m.Turn, m.Mirrored),
	}
}

func facing(way string) model.Point {
	switch way {
	case "left":
		return model.Point{X: -1}
	case "right":
		return model.Point{X: 1}
	case "up":
		return model.Point{Y: -1}
	case "down":
		return model.Point{Y: 1}
	}
	return model.Point{}
}

// End is where a run ends on the drawing.
type End struct {
	At    model.Point
	Faces model.Point     // unit vector away from the port; zero for a loose end
	Part  model.Part      // nil for a loose end
	Kind  *catalogue.Kind // nil for a loose end or an unknown kind
	Port  *catalogue.Port // nil if the kind has no such port
}

// EndOf tells where an end of a run lies. An end on a part of an unknown kind,
// or on a port that the kind does not have, lies at the part's reference point
// so that the run can still be seen. Not ok for an end on a part that is not in
// the circuit and for a loose end without a place.
func EndOf(c *model.Circuit, cat *catalogue.Catalogue, e model.End) (End, bool) {
	if e.Loose() {
		if e.At == nil {
			return End{}, false
		}
		return End{At: *e.At}, true
	}
	p := c.Part(e.Part)
	if p == nil {
		return End{}, false
	}
	m := p.Meta()
	end := End{At: m.At, Part: p, Kind: cat.Kind(m.Kind)}
	if end.Kind == nil {
		return end, true
	}
	for i := range end.Kind.Ports {
		if port := &end.Kind.Ports[i]; port.Name == e.Port {
			end.Port = port
			end.At = model.Placed(model.Point{X: port.At[0], Y: port.At[1]}, m.At, m.Turn, m.Mirrored)
			end.Faces = model.Turned(facing(port.Way), m.Turn, m.Mirrored)
			break
		}
	}
	return end, true
}
