package checks

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"path"
	"slices"
	"strings"
	"sync"

	"rinsewright/assets"
)

// Profile is a named set of limits. Limits are data: a user's own copy of a
// profile is loaded by the same function as those that the program carries.
// A Profile never changes once loaded.
type Profile struct {
	Name   string
	Title  string
	About  string
	limits []Limit // in the order of the file
	byName map[string]int
}

// Limit is one limit of a profile with the source it comes from.
type Limit struct {
	Name   string
	Label  string // as shown: "least velocity in a swept run"
	Value  Value
	Source Citation
}

// Is gives the limit as a plain SI number.
func (l Limit) Is() float64 { return l.Value.SI() }

type profileFile struct {
	Name   string      `json:"name"`
	Title  string      `json:"title"`
	About  string      `json:"about"`
	Limits []limitFile `json:"limits"`
}

type limitFile struct {
	Name     string   `json:"name"`
	Label    string   `json:"label"`
	Value    *float64 `json:"value"`
	Unit     string   `json:"unit"` // key of a unit as in the circuit file; "D" times a diameter; "Lminm" L/min a metre; "" a bare number
	Source   string   `json:"source,omitempty"`
	Clause   string   `json:"clause,omitempty"`
	Standing string   `json:"standing"`
}

// Limits gives all limits in the order of the file. The slice is the profile's
// own.
func (p *Profile) Limits() []Limit { return p.limits }

// Limit gives the limit of a name.
func (p *Profile) Limit(name string) (Limit, bool) {
	i, ok := p.byName[name]
	if !ok {
		return Limit{}, false
	}
	return p.limits[i], true
}

// maxProfileBytes is far above any set of limits and far below what hurts.
const maxProfileBytes = 1 << 20

// LoadProfile reads a profile. It refuses one that lacks a limit which a rule of
// [Rules] reads, that gives one in another sort of unit than the program's own
// profiles, or that does not tell where a limit comes from.
func LoadProfile(r io.Reader) (*Profile, error) {
	p, err := decodeProfile(r)
	if err != nil {
		return nil, err
	}
	return p, p.matches(Builtin("food"))
}

func decodeProfile(r io.Reader) (*Profile, error) {
	d := json.NewDecoder(io.LimitReader(r, maxProfileBytes))
	d.DisallowUnknownFields()
	var f profileFile
	if err := d.Decode(&f); err != nil {
		return nil, fmt.Errorf("limits profile: %w", err)
	}
	if f.Name == "" || f.Title == "" {
		return nil, errors.New("limits profile: name and title must be given")
	}
	p := &Profile{Name: f.Name, Title: f.Title, About: f.About, byName: map[string]int{}}
	for i, l := range f.Limits {
		limit, err := l.limit()
		if err != nil {
			return nil, fmt.Errorf("limits profile %s: limit %d %q: %w", f.Name, i+1, l.Name, err)
		}
		if _, twice := p.byName[l.Name]; twice {
			return nil, fmt.Errorf("limits profile %s: limit %q stands twice", f.Name, l.Name)
		}
		p.byName[l.Name] = len(p.limits)
		p.limits = append(p.limits, limit)
	}
	return p, nil
}

func (l limitFile) limit() (Limit, error) {
	u := unitFor(l.Unit)
	switch {
	case !ruleName.MatchString(l.Name):
		return Limit{}, errors.New("a name is lower case with hyphens")
	case l.Label == "":
		return Limit{}, errors.New("it has no label")
	case l.Value == nil:
		return Limit{}, errors.New("it has no value")
	case u == nil:
		return Limit{}, fmt.Errorf("unit %q is not known", l.Unit)
	case math.Abs(*l.Value) > 1e9:
		return Limit{}, fmt.Errorf("value %v is out of all reason", *l.Value)
	case *l.Value < 0 && u.sort != "temperature":
		return Limit{}, fmt.Errorf("value %v is below zero", *l.Value)
	}
	if err := checkStanding(l.Source, l.Standing); err != nil {
		return Limit{}, err
	}
	return Limit{Name: l.Name, Label: l.Label, Value: Value{si: u.metric.ToSI(*l.Value), unit: u},
		Source: Citation{Source: l.Source, Clause: l.Clause, Standing: l.Standing}}, nil
}

// matches refuses a profile without a limit that own has, or with one of
// another sort.
func (p *Profile) matches(own *Profile) error {
	for _, want := range own.limits {
		got, ok := p.Limit(want.Name)
		if !ok {
			return fmt.Errorf("limits profile %s: limit %q (%s) is not given", p.Name, want.Name, want.Label)
		}
		if got.Value.unit.sort != want.Value.unit.sort {
			return fmt.Errorf("limits profile %s: limit %q is a %s, expected a %s", p.Name, want.Name, got.Value.unit.sort, want.Value.unit.sort)
		}
	}
	return nil
}

// DefaultProfile is the profile of a circuit that names none.
const DefaultProfile = "food"

var builtin = sync.OnceValue(func() map[string]*Profile {
	out := map[string]*Profile{}
	names, err := fs.Glob(assets.Files, "profiles/*.json")
	if err != nil {
		panic("checks: " + err.Error()) // the pattern is constant
	}
	for _, name := range names {
		f, err := assets.Files.Open(name)
		if err != nil {
			panic("checks: embedded profile: " + err.Error())
		}
		p, err := decodeProfile(f)
		f.Close()
		if err != nil {
			panic("checks: " + path.Base(name) + ": " + err.Error()) // held by a test
		}
		out[p.Name] = p
	}
	return out
})

// Profiles gives the names of the profiles that the program carries, sorted.
func Profiles() []string {
	var out []string
	for name := range builtin() {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}

// Builtin gives a profile that the program carries, or nil. An empty name
// stands for [DefaultProfile]; case does not matter.
func Builtin(name string) *Profile {
	if name == "" {
		name = DefaultProfile
	}
	return builtin()[strings.ToLower(name)]
}
