package checks

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"

	"rinsewright/model"
	"rinsewright/model/quantity"
)

// Field gives the number of a value as a user reads and types it under s, and the
// name of its unit, which may be empty.
func (v Value) Field(s quantity.System) (number, unitName string) {
	if v.unit == nil {
		return "", ""
	}
	u := v.shown(s)
	return quantity.Number(u.FromSI(v.si)), strings.TrimSpace(u.Name)
}

// Typed reads what a user typed for a value of the same sort: a number in the unit
// shown under s, or one followed by a unit of either system. It refuses what no
// limit of the sort can be.
func (v Value) Typed(text string, s quantity.System) (Value, error) {
	if v.unit == nil {
		return Value{}, errors.New("there is no value of which to take the unit")
	}
	file := v.unit.metric
	file.Name = v.unit.key
	si, err := quantity.ParseIn(text, s, v.shown(s), v.unit.metric, v.unit.us, file)
	if err != nil {
		return Value{}, err
	}
	next := Value{si: si, unit: v.unit, of: v.of}
	if least, most := v.unit.bounds(); si < least || si > most {
		return Value{}, fmt.Errorf("%s cannot be a %s: expected %s to %s", next.Text(s), v.unit.sort,
			Value{si: least, unit: v.unit}.Text(s), Value{si: most, unit: v.unit}.Text(s))
	}
	return next, nil
}

func (v Value) shown(s quantity.System) quantity.Unit {
	if s == quantity.US {
		return v.unit.us
	}
	return v.unit.metric
}

// bounds gives the least and the most, in SI, that a limit of a sort can sensibly
// be. They keep slips of the hand out: a velocity of a liquid in a tube of 150 m/s,
// a share of 1000 %.
func (u *unit) bounds() (least, most float64) {
	switch u.sort {
	case "temperature":
		return 0, float64(quantity.Celsius(1000))
	case "share":
		return 0, 2 // the margin of a pump may be above its rated flow
	case "velocity":
		return 0, 100
	case "diameters":
		return 0, 1000
	}
	return 0, u.metric.ToSI(1e6)
}

// FarFrom says that a value is more than ten times another one, or less than a
// tenth: perhaps typed in another unit.
func (v Value) FarFrom(other Value) bool {
	a, b := math.Abs(v.si), math.Abs(other.si)
	return a > 0 && b > 0 && (a > 10*b || b > 10*a) && v.unit != nil && v.unit.sort != "temperature"
}

// ChangeTo makes the change of a limit to a value that was typed for it, see
// [Value.Typed] and [Profile.Change].
func (p *Profile) ChangeTo(name string, to Value, reason, by string, day model.Date) (model.LimitChange, bool) {
	l, ok := p.Limit(name)
	if !ok || to.unit == nil || to.unit.sort != l.Value.unit.sort {
		return model.LimitChange{}, false
	}
	return p.Change(name, rounded(l.Value.unit.metric.FromSI(to.si)), reason, by, day)
}

// Own gives the limits of a profile, with what a circuit changes in it, as a file of
// a user's own limits that [LoadProfile] reads. A changed limit carries its reason as
// its source. The name must not be one of [Profiles].
func (p *Profile) Own(name, title, about string) ([]byte, error) {
	if Builtin(name) != nil {
		return nil, fmt.Errorf("%q is the name of limits that the program carries", name)
	}
	f := profileFile{Name: name, Title: title, About: about}
	for _, l := range p.limits {
		value := rounded(l.Value.unit.metric.FromSI(l.Value.si))
		out := limitFile{Name: l.Name, Label: l.Label, Value: &value, Unit: l.Value.unit.key,
			Source: l.Source.Source, Clause: l.Source.Clause, Standing: l.Source.Standing}
		if out.Standing == StandingChanged {
			out.Standing = StandingOwn
		}
		f.Limits = append(f.Limits, out)
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(f); err != nil {
		return nil, err
	}
	// What is written must be what is read.
	if _, err := LoadProfile(bytes.NewReader(b.Bytes())); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}
