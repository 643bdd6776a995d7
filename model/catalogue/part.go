package catalogue

import (
	"bytes"
	"encoding/json"
	"reflect"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

// New makes a part of this kind with the properties that a new one has.
func (k *Kind) New(id model.ID, at model.Point) (model.Part, error) {
	p := model.NewPart(k.Class)
	if len(k.Start) > 0 {
		b, err := json.Marshal(k.Start)
		if err != nil {
			return nil, err
		}
		d := json.NewDecoder(bytes.NewReader(b))
		d.DisallowUnknownFields()
		if err := d.Decode(p); err != nil {
			return nil, err
		}
	}
	m := p.Meta()
	m.ID, m.Kind, m.At = id, k.Name, at
	return p, nil
}

// Port gives the port of a name.
func (k *Kind) Port(name string) (Port, bool) {
	for _, p := range k.Ports {
		if p.Name == name {
			return p, true
		}
	}
	return Port{}, false
}

// Property tells how a property of this kind is shown.
func (k *Kind) Property(key string) (PropertyInfo, bool) {
	for _, p := range k.Properties {
		if p.Key == key {
			return p, true
		}
	}
	return PropertyInfo{}, false
}

// PortAt tells where a port of a part lies on the drawing and which way it
// faces: a unit vector.
func (p Port) PortAt(m *model.Item) (at, way model.Point) {
	ways := map[string]model.Point{"left": {X: -1}, "right": {X: 1}, "up": {Y: -1}, "down": {Y: 1}}
	return model.Placed(model.Point{X: p.At[0], Y: p.At[1]}, m.At, m.Turn, m.Mirrored), model.Turned(ways[p.Way], m.Turn, m.Mirrored)
}

// SizeOf gives the tube size of a port as the part has it.
func (p Port) SizeOf(part model.Part) (model.TubeSize, bool) {
	if p.Size == "" {
		return "", false
	}
	prop, ok := model.FindProperty(part, p.Size)
	if !ok {
		return "", false
	}
	v, known := prop.Value(part)
	size, isSize := v.(model.TubeSize)
	return size, known && isSize
}

// Of gives the height above the part's elevation; unknown if its property is.
// A nil Height is at the part's elevation.
func (h *Height) Of(part model.Part) quantity.Opt[quantity.Length] {
	if h == nil {
		return quantity.Some(quantity.Length(0))
	}
	if h.Property == "" {
		return quantity.Some(quantity.Length(h.Plus))
	}
	x, known := number(part, h.Property)
	if !known {
		return quantity.Opt[quantity.Length]{}
	}
	return quantity.Some(quantity.Length(x*h.Factor + h.Plus))
}

func number(part model.Part, key string) (float64, bool) {
	p, ok := model.FindProperty(part, key)
	if !ok {
		return 0, false
	}
	return p.Number(part)
}

// Bore gives the inside diameter that the property of a key stands for: a tube
// size looked up in the tables, or a bore as it is.
func (c *Catalogue) Bore(part model.Part, key string) quantity.Opt[quantity.Bore] {
	p, ok := model.FindProperty(part, key)
	if !ok {
		return quantity.Opt[quantity.Bore]{}
	}
	switch v, known := p.Value(part); {
	case !known:
	case p.Type == reflect.TypeFor[model.TubeSize]():
		if t, ok := c.Tube(v.(model.TubeSize)); ok {
			return quantity.Some(t.Inside())
		}
	case p.Type == reflect.TypeFor[quantity.Bore]():
		return quantity.Some(v.(quantity.Bore))
	}
	return quantity.Opt[quantity.Bore]{}
}
