package catalogue

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

// grid is the raster in mm on which ports lie, so that runs between parts on
// the drawing's grid are straight.
const grid = 2.5

// validate refuses a kind that the program could not draw, join or compute.
func (k *Kind) validate() error {
	blank := model.NewPart(k.Class)
	switch {
	case k.Name == "" || k.Title == "" || k.Group == "" || k.Help == "":
		return errors.New("name, title, group and help must be given")
	case blank == nil:
		return fmt.Errorf("class %q is not one of %v", k.Class, model.Classes())
	case k.Class != model.ClassValve && len(k.Positions) > 0:
		return errors.New("only a valve has positions")
	case len(k.Symbol.Draw) == 0:
		return errors.New("the symbol draws nothing")
	}
	for _, t := range k.Traits {
		if !slices.Contains(knownTraits, t) {
			return fmt.Errorf("trait %q is not known", t)
		}
	}
	points, err := k.points()
	if err != nil {
		return err
	}
	for _, check := range []func(model.Part, map[string]bool) error{k.validatePorts, k.validatePaths, k.validateProperties} {
		if err := check(blank, points); err != nil {
			return err
		}
	}
	for i, s := range k.Symbol.Draw {
		if err := s.validate(k); err != nil {
			return fmt.Errorf("figure %d of the symbol: %w", i+1, err)
		}
	}
	return nil
}

func (k *Kind) points() (map[string]bool, error) {
	points := map[string]bool{}
	for _, p := range k.Ports {
		if p.Name == "" || points[p.Name] {
			return nil, fmt.Errorf("port name %q is empty or stands twice", p.Name)
		}
		points[p.Name] = true
	}
	for _, p := range k.Inner {
		if p.Name == "" || points[p.Name] {
			return nil, fmt.Errorf("inner point %q is empty or stands twice", p.Name)
		}
		if p.Role != "" && !slices.Contains([]string{RoleVessel, RoleSeat, RoleClosed, RoleAir, RoleTee}, p.Role) {
			return nil, fmt.Errorf("inner point %q: role %q is not known", p.Name, p.Role)
		}
		points[p.Name] = true
	}
	return points, nil
}

func (k *Kind) validatePorts(blank model.Part, _ map[string]bool) error {
	for _, p := range k.Ports {
		onGrid := func(v float64) bool { return math.Abs(math.Remainder(v, grid)) < 1e-9 }
		switch {
		case !onGrid(p.At[0]) || !onGrid(p.At[1]):
			return fmt.Errorf("port %q is not on the %v mm grid", p.Name, grid)
		case !slices.Contains([]string{"left", "right", "up", "down"}, p.Way):
			return fmt.Errorf("port %q: way %q is not left, right, up or down", p.Name, p.Way)
		case !slices.Contains([]string{"in", "out", "any"}, p.Role):
			return fmt.Errorf("port %q: role %q is not in, out or any", p.Name, p.Role)
		case !slices.Contains([]string{"process", "steam", "condensate", "air", "signal"}, p.Service):
			return fmt.Errorf("port %q: service %q is not known", p.Name, p.Service)
		}
		if p.Size != "" {
			if err := wantType(blank, p.Size, reflect.TypeFor[model.TubeSize]()); err != nil {
				return fmt.Errorf("port %q: %w", p.Name, err)
			}
		}
		if p.Height != nil && p.Height.Property != "" {
			if err := wantType(blank, p.Height.Property, reflect.TypeFor[quantity.Length](), reflect.TypeFor[quantity.Bore]()); err != nil {
				return fmt.Errorf("port %q: %w", p.Name, err)
			}
		}
	}
	return nil
}

func (k *Kind) validatePaths(blank model.Part, points map[string]bool) error {
	used := map[string]bool{}
	for _, p := range k.Paths {
		if !points[p.From] || !points[p.To] {
			return fmt.Errorf("path %s to %s: both must be ports or inner points", p.From, p.To)
		}
		used[p.From], used[p.To] = true, true
		for _, pos := range p.OpenIn {
			if !slices.Contains(k.Positions, pos) {
				return fmt.Errorf("path %s to %s: %q is not a position of the valve", p.From, p.To, pos)
			}
		}
		if p.Length != "" {
			if err := wantType(blank, p.Length, reflect.TypeFor[quantity.Length](), reflect.TypeFor[quantity.Bore]()); err != nil {
				return err
			}
		}
		if p.Bore != "" {
			if err := wantType(blank, p.Bore, reflect.TypeFor[model.TubeSize](), reflect.TypeFor[quantity.Bore]()); err != nil {
				return err
			}
		}
		if p.Volume != "" {
			if err := wantType(blank, p.Volume, reflect.TypeFor[quantity.Volume]()); err != nil {
				return err
			}
		}
	}
	for _, in := range k.Inner {
		if !used[in.Name] {
			return fmt.Errorf("no path reaches inner point %q", in.Name)
		}
	}
	return nil
}

func (k *Kind) validateProperties(blank model.Part, _ map[string]bool) error {
	for _, p := range k.Properties {
		if _, ok := model.FindProperty(blank, p.Key); !ok {
			return fmt.Errorf("a %s has no property %q", k.Class, p.Key)
		}
		if p.Label == "" || p.Help == "" {
			return fmt.Errorf("property %q needs a label and a line of help", p.Key)
		}
		if p.Least != nil && p.Most != nil && *p.Least > *p.Most {
			return fmt.Errorf("property %q: the least is above the most", p.Key)
		}
	}
	if _, err := k.New("check", model.Point{}); err != nil {
		return fmt.Errorf("start: %w", err)
	}
	return nil
}

func wantType(r model.Record, key string, types ...reflect.Type) error {
	p, ok := model.FindProperty(r, key)
	if !ok {
		return fmt.Errorf("no property %q", key)
	}
	if !slices.Contains(types, p.Type) {
		return fmt.Errorf("property %q is a %s, which does not fit here", key, p.Type)
	}
	return nil
}

func (s Shape) validate(k *Kind) error {
	set := 0
	for _, given := range []bool{s.Path != "", s.Circle != nil, s.Text != ""} {
		if given {
			set++
		}
	}
	if set != 1 {
		return errors.New("exactly one of path, circle and text must be given")
	}
	if s.Fill != "" && !slices.Contains([]string{"none", "paper", "ink", "medium", "seat"}, s.Fill) {
		return fmt.Errorf("fill %q is not known", s.Fill)
	}
	for _, pos := range s.When {
		if !slices.Contains(k.Positions, pos) {
			return fmt.Errorf("%q is not a position of the valve", pos)
		}
	}
	if len(s.Actuated) > 0 && k.Class != model.ClassValve {
		return errors.New("only a valve is drawn by its actuation")
	}
	if len(s.Fails) > 0 && k.Class != model.ClassValve {
		return errors.New("only a valve is drawn by where it fails to")
	}
	for _, f := range s.Fails {
		if !slices.Contains(f.Choices(), string(f)) {
			return fmt.Errorf("fails %q is not one of %v", f, f.Choices())
		}
	}
	for _, a := range s.Actuated {
		if !slices.Contains(a.Choices(), string(a)) {
			return fmt.Errorf("actuation %q is not one of %v", a, a.Choices())
		}
	}
	if s.Path != "" {
		if _, err := ParsePath(s.Path); err != nil {
			return err
		}
	}
	return nil
}
