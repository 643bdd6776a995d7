package checks

import (
	"fmt"
	"slices"

	"rinsewright/model"
)

// StandingChanged is the standing of a limit that was changed for one circuit.
// No profile and no rule has it.
const StandingChanged = "changed for this circuit"

// ChangedLimit is what became of one change that a circuit makes to the limits of
// its profile.
type ChangedLimit struct {
	Name    string     `json:"limit"`
	Label   string     `json:"label,omitempty"` // empty for a limit that the profile does not have
	Was     Value      `json:"was"`             // of the profile
	Is      Value      `json:"is"`              // that counts; of the profile if the change is refused
	Reason  string     `json:"reason"`
	By      string     `json:"by"`
	Date    model.Date `json:"date"`
	Refused string     `json:"refused,omitempty"` // why the change does not count
}

// With gives the profile with the limits that a circuit changes, and what became
// of each change, in order. A change is refused, and the profile's own limit
// counts, if the limit is not known, the value is out of range or in another sort
// of unit, the limit was changed before in the list, or reason, name or date are
// not told. Without changes it is the profile itself.
func (p *Profile) With(changes []model.LimitChange) (*Profile, []ChangedLimit) {
	if len(changes) == 0 {
		return p, nil
	}
	next := *p
	next.limits = slices.Clone(p.limits)
	out := make([]ChangedLimit, 0, len(changes))
	done := map[string]bool{}
	for _, ch := range changes {
		c := ChangedLimit{Name: ch.Limit, Reason: ch.Reason, By: ch.By, Date: ch.Date}
		i, known := p.byName[ch.Limit]
		if known {
			c.Label, c.Was, c.Is = p.limits[i].Label, p.limits[i].Value, p.limits[i].Value
		}
		value, err := p.changed(ch)
		switch {
		case err != nil:
			c.Refused = err.Error()
		case done[ch.Limit]:
			c.Refused = "the limit is changed twice; the first change counts"
		default:
			done[ch.Limit] = true
			c.Is = value
			next.limits[i].Value = value
			next.limits[i].Source = Citation{Source: fmt.Sprintf("%s (%s, %s)", ch.Reason, ch.By, ch.Date), Standing: StandingChanged}
		}
		out = append(out, c)
	}
	return &next, out
}

// changed gives the value of a change, or why it is none.
func (p *Profile) changed(ch model.LimitChange) (Value, error) {
	old, known := p.Limit(ch.Limit)
	if !known {
		return Value{}, fmt.Errorf("limits profile %s has no limit %q", p.Name, ch.Limit)
	}
	for _, need := range []struct{ text, words string }{{ch.Reason, "reason"}, {ch.By, "name"}, {string(ch.Date), "date"}} {
		if need.text == "" {
			return Value{}, fmt.Errorf("no %s is told for the change", need.words)
		}
	}
	x := float64(ch.Value)
	l, err := limitFile{Name: ch.Limit, Label: old.Label, Value: &x, Unit: ch.Unit, Standing: StandingPractice}.limit()
	if err != nil {
		return Value{}, err
	}
	if l.Value.unit.sort != old.Value.unit.sort {
		return Value{}, fmt.Errorf("its unit is of a %s, expected a %s", l.Value.unit.sort, old.Value.unit.sort)
	}
	return l.Value, nil
}

// Change makes the change of a limit to a value in the unit of the profile, for
// [model.Header]; not ok for a limit that the profile does not have.
func (p *Profile) Change(name string, value float64, reason, by string, day model.Date) (model.LimitChange, bool) {
	l, ok := p.Limit(name)
	if !ok {
		return model.LimitChange{}, false
	}
	return model.LimitChange{Limit: name, Value: model.Plain(value), Unit: l.Value.unit.key, Reason: reason, By: by, Date: day}, true
}
