package sizing

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"reflect"
	"sync"

	"rinsewright/assets"
	"rinsewright/model/quantity"
)

// Assumption is a figure that goes into a sheet and that the user can change.
type Assumption struct {
	Key     string
	Label   string
	Section string
	Value   Value
	Least   Value // of the usual range
	Most    Value
	Basis   Basis
}

// Basis tells where a figure comes from and how well it is known.
type Basis struct {
	Source   string `json:"source,omitempty"`
	Clause   string `json:"clause,omitempty"`
	Standing string `json:"standing"` // one of the Standing constants
}

// How well a figure is known, in the words that reports print.
const (
	StandingRead     = "read"
	StandingMemory   = "from memory; verify against your copy"
	StandingPractice = "common practice, no source"
	StandingComputed = "computed"
	StandingTold     = "told by the user"
	StandingInvented = "invented; replace by quotations"
)

// String writes the basis as a report prints it.
func (b Basis) String() string {
	what := b.Source
	if b.Clause != "" {
		what += ", " + b.Clause
	}
	switch {
	case what == "":
		return b.Standing
	case b.Standing == "":
		return what
	case b.Standing == StandingMemory:
		return "from memory of " + what + "; verify against your copy"
	}
	return b.Standing + ": " + what
}

// typed are the quantities of the units that assumptions stand in.
var typed = map[string]reflect.Type{
	"ms": reflect.TypeFor[quantity.Velocity](), "m": reflect.TypeFor[quantity.Length](), "mm": reflect.TypeFor[quantity.Bore](),
	"bar": reflect.TypeFor[quantity.Pressure](), "C": reflect.TypeFor[quantity.Temperature](), "K": reflect.TypeFor[quantity.Difference](),
	"pct": reflect.TypeFor[quantity.Strength](), "min": reflect.TypeFor[quantity.Duration](), "Wm2K": reflect.TypeFor[quantity.HeatTransfer](),
	"L": reflect.TypeFor[quantity.Volume](), "": reflect.TypeFor[quantity.Ratio](),
}

// valueOf gives a number of a unit key as a value.
func valueOf(x float64, key string) (Value, error) {
	if t, ok := typed[key]; ok {
		u, _ := quantity.FileUnit(t)
		return Value{si: u.ToSI(x), sort: t, known: true}, nil
	}
	if u, ok := own[key]; ok {
		return In(u[0].ToSI(x), key), nil
	}
	return Value{}, fmt.Errorf("there is no unit %q", key)
}

// Defaults gives the assumptions that the program carries, in their order. The slice
// is a copy.
func Defaults() []Assumption { return append([]Assumption(nil), defaults()...) }

var defaults = sync.OnceValue(func() []Assumption {
	list, err := LoadAssumptions(assets.Files)
	if err != nil {
		panic("sizing: embedded data: " + err.Error()) // held by a test
	}
	return list
})

// LoadAssumptions reads sizing.json. The error names the key.
func LoadAssumptions(files fs.FS) ([]Assumption, error) {
	b, err := fs.ReadFile(files, "sizing.json")
	if err != nil {
		return nil, err
	}
	var rows []struct {
		Key     string  `json:"key"`
		Label   string  `json:"label"`
		Section string  `json:"section"`
		Value   float64 `json:"value"`
		Unit    string  `json:"unit"`
		Least   float64 `json:"least"`
		Most    float64 `json:"most"`
		Basis
	}
	d := json.NewDecoder(bytes.NewReader(b))
	d.DisallowUnknownFields()
	if err := d.Decode(&rows); err != nil {
		return nil, fmt.Errorf("sizing.json: %w", err)
	}
	var out []Assumption
	seen := map[string]bool{}
	for _, r := range rows {
		a := Assumption{Key: r.Key, Label: r.Label, Section: r.Section, Basis: r.Basis}
		for _, x := range []struct {
			to *Value
			n  float64
		}{{&a.Value, r.Value}, {&a.Least, r.Least}, {&a.Most, r.Most}} {
			if *x.to, err = valueOf(x.n, r.Unit); err != nil {
				return nil, fmt.Errorf("sizing.json: %s: %w", r.Key, err)
			}
		}
		switch {
		case r.Key == "" || r.Label == "" || r.Section == "" || r.Standing == "":
			return nil, fmt.Errorf("sizing.json: %q lacks key, label, section or standing", r.Key)
		case seen[r.Key]:
			return nil, fmt.Errorf("sizing.json: %s stands twice", r.Key)
		case !(r.Least <= r.Value && r.Value <= r.Most):
			return nil, fmt.Errorf("sizing.json: %s: %v is not within %v to %v", r.Key, r.Value, r.Least, r.Most)
		}
		seen[r.Key] = true
		out = append(out, a)
	}
	return out, nil
}

// Read gives the assumption with what a user typed in place of its value. It refuses
// what is no number of its unit, and what no plant could have: below a tenth of the
// least or above ten times the most of its range. What is outside the range and
// within these is the user's to answer for; [Assumption.Unusual] says so.
func (a Assumption) Read(text string, s quantity.System) (Assumption, error) {
	v, err := a.Value.parsed(text, s)
	if err != nil {
		return a, err
	}
	low, high := a.Least.si/10, a.Most.si*10
	if a.Value.sort == reflect.TypeFor[quantity.Temperature]() {
		low, high = quantity.ZeroCelsius, quantity.ZeroCelsius+130
	}
	if v.si < low || v.si > high {
		return a, fmt.Errorf("%s is far outside the usual %s to %s", v.Text(s), a.Least.Text(s), a.Most.Text(s))
	}
	a.Value = v
	if v.si != a.standard() {
		a.Basis = Basis{Standing: StandingTold}
	}
	return a, nil
}

// standard gives the value that the program carries for the key.
func (a Assumption) standard() float64 {
	for _, d := range defaults() {
		if d.Key == a.Key {
			return d.Value.si
		}
	}
	return a.Value.si
}

// Changed says whether the value is another one than the program carries.
func (a Assumption) Changed() bool { return a.Value.si != a.standard() }

// Unusual says whether the value lies outside its usual range.
func (a Assumption) Unusual() bool { return a.Value.si < a.Least.si || a.Value.si > a.Most.si }
