package edit

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

// AddStretch puts a stretch of which nothing is known into a run before the
// stretch of an index; at the end for the number of its stretches.
func (d *Drawing) AddStretch(run model.ID, index int) (model.Edit, error) {
	next, err := d.withStretches(run, index, true)
	if err != nil {
		return model.Edit{}, err
	}
	next.Stretches = slices.Insert(next.Stretches, index, model.Stretch{})
	return d.replacing(next, "add a stretch to "+d.name(next)), nil
}

// RemoveStretch takes a stretch out of a run.
func (d *Drawing) RemoveStretch(run model.ID, index int) (model.Edit, error) {
	next, err := d.withStretches(run, index, false)
	if err != nil {
		return model.Edit{}, err
	}
	next.Stretches = slices.Delete(next.Stretches, index, index+1)
	if len(next.Stretches) == 0 {
		next.Stretches = nil
	}
	return d.replacing(next, "take a stretch out of "+d.name(next)), nil
}

// SetStretch makes the length_m or rise_m of a stretch what a user typed; empty
// text makes it unknown. A *[PropertyError] tells what is wrong.
func (d *Drawing) SetStretch(run model.ID, index int, key, text string, system quantity.System) (model.Edit, error) {
	next, err := d.withStretches(run, index, false)
	if err != nil {
		return model.Edit{}, err
	}
	fields := map[string]*quantity.Opt[quantity.Length]{
		"length_m": &next.Stretches[index].Length, "rise_m": &next.Stretches[index].Rise,
	}
	field := fields[key]
	if field == nil {
		return model.Edit{}, fmt.Errorf("a stretch has no property %s", key)
	}
	name := strings.TrimSuffix(key, "_m")
	*field, err = d.typedLength(key, text, system)
	if err != nil {
		return model.Edit{}, &PropertyError{Key: key, Label: upperFirst(name), Message: err.Error()}
	}
	return d.replacing(next, fmt.Sprintf("set %s of stretch %d of %s", name, index+1, d.name(next))), nil
}

// StretchText gives the length_m or rise_m of a stretch as a user reads and
// types it, without its unit; empty if it is unknown.
func StretchText(s model.Stretch, key string, system quantity.System) string {
	v := s.Length
	if key == "rise_m" {
		v = s.Rise
	}
	p, _ := model.FindProperty(new(model.Fitting), "elevation_m")
	return shownText(p.Text(&model.Fitting{Item: model.Item{Elevation: v}}, system), p, system)
}

func (d *Drawing) typedLength(key, text string, system quantity.System) (out quantity.Opt[quantity.Length], err error) {
	if strings.TrimSpace(text) == "" {
		return out, nil
	}
	length := reflect.TypeFor[quantity.Length]()
	x, err := quantity.Parse(text, length, system)
	if err != nil {
		return out, err
	}
	if err := d.inRange(x, model.Property{Key: key, Type: length}, nil, func(limit float64) string {
		return quantity.Text(quantity.Length(limit), system)
	}); err != nil {
		return out, err
	}
	return quantity.Some(quantity.Length(x)), nil
}

func (d *Drawing) withStretches(run model.ID, index int, end bool) (*model.Run, error) {
	r := d.circuit.Run(run)
	if r == nil {
		return nil, fmt.Errorf("there is no run %s", run)
	}
	if index < 0 || index > len(r.Stretches) || index == len(r.Stretches) && !end {
		return nil, fmt.Errorf("%s has no stretch %d", d.name(r), index+1)
	}
	return model.Clone(r), nil
}

// SetCurve gives a pump its curve at rated speed; none for an empty list.
func (d *Drawing) SetCurve(pump model.ID, curve []model.CurvePoint) (model.Edit, error) {
	p, ok := d.circuit.Part(pump).(*model.Pump)
	if !ok {
		return model.Edit{}, fmt.Errorf("%s is no pump", pump)
	}
	next := model.Clone(p)
	next.Curve = nil
	if len(curve) > 0 {
		next.Curve = slices.Clone(curve)
	}
	return d.replacing(next, "set the curve of "+d.name(p)), nil
}
