package programme

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"reflect"
	"slices"
	"sort"
	"strings"
	"sync"

	"rinsewright/assets"
	"rinsewright/model"
	"rinsewright/model/quantity"
)

// Template is a ready programme.
type Template struct {
	Name  string  `json:"name"`  // "dairy-hot", as its file is called
	Title string  `json:"title"` // as shown
	About string  `json:"about"` // what it is for and what to look out for
	Steps []Phase `json:"steps"`
}

// Phase is one step of a template.
type Phase struct {
	Name        string        `json:"name"`
	Purpose     model.Purpose `json:"purpose"`
	Medium      model.Medium  `json:"medium"`
	Or          model.Medium  `json:"or,omitempty"`    // taken where nothing holds Medium
	Agent       string        `json:"agent,omitempty"` // chemical that Strength is of
	To          string        `json:"to"`              // one of the To constants
	Into        model.Medium  `json:"into,omitempty"`  // with ToTank: what the tank is to hold
	Strength    *Figure       `json:"strength_pct,omitempty"`
	Temperature *Figure       `json:"temperature_C,omitempty"`
	Time        *Figure       `json:"time_min,omitempty"`
	TimerFrom   *TimerStart   `json:"timer_from,omitempty"`
	Conductive  *Figure       `json:"end_conductivity_mScm,omitempty"` // of the return, at which the step ends
	AboveWater  *Figure       `json:"end_above_water_mScm,omitempty"`  // the same, over that of the supply water
	Longest     *Figure       `json:"longest_min,omitempty"`
	EndsOn      string        `json:"ends_on,omitempty"`
	Optional    string        `json:"optional,omitempty"` // when the step is done, if not always
}

// Where a step's liquid goes.
const (
	ToSource    = "source"    // round and back to the tank it came from
	ToSewer     = "sewer"     // away
	ToRecovered = "recovered" // into the tank for recovered water; to sewer where there is none
	ToTank      = "tank"      // into the tank that is to hold a solution: a preparing step
)

// TimerStart is when the time of a step begins to count, and how well that is known.
type TimerStart struct {
	Value    model.TimerFrom `json:"value"`
	Source   string          `json:"source,omitempty"`
	Clause   string          `json:"clause,omitempty"`
	Standing string          `json:"standing"`
}

// agents are the chemicals that templates name.
var agents = map[string]model.Chemical{
	"NaOH": model.SodiumHydroxide, "HNO3": model.NitricAcid, "H3PO4": model.PhosphoricAcid, "peracetic acid": model.PeraceticAcid,
}

// Figure is a number in file units, its usual range, and how well it is known.
type Figure struct {
	Value    float64  `json:"value"`
	Least    *float64 `json:"least,omitempty"`
	Most     *float64 `json:"most,omitempty"`
	Source   string   `json:"source,omitempty"`
	Clause   string   `json:"clause,omitempty"`
	Standing string   `json:"standing"`
}

// How well a figure is known: the words that reports print.
const (
	StandingRead     = "read"
	StandingMemory   = "from memory; verify against your copy"
	StandingPractice = "common practice, no source"
)

// Cites writes where a figure comes from as a report prints it.
func (f *Figure) Cites() string {
	what := f.Source
	if f.Clause != "" {
		what += ", " + f.Clause
	}
	switch f.Standing {
	case StandingRead:
		return "read: " + what
	case StandingMemory:
		return "from memory of " + what + "; verify against your copy"
	}
	return f.Standing
}

// All gives the templates that the program carries, in order of title.
var All = sync.OnceValue(func() []*Template {
	list, err := Load(assets.Files)
	if err != nil {
		panic("programme: embedded data: " + err.Error()) // held by a test
	}
	return list
})

// Named gives the template of a name that the program carries, or nil.
func Named(name string) *Template {
	for _, t := range All() {
		if t.Name == name {
			return t
		}
	}
	return nil
}

// Load reads the templates in programmes/*.json, one a file, in order of title. The
// error names the file and the step.
func Load(files fs.FS) ([]*Template, error) {
	names, err := fs.Glob(files, "programmes/*.json")
	if err != nil {
		return nil, err
	}
	sort.Strings(names)
	var out []*Template
	for _, name := range names {
		b, err := fs.ReadFile(files, name)
		if err != nil {
			return nil, err
		}
		d := json.NewDecoder(bytes.NewReader(b))
		d.DisallowUnknownFields()
		t := new(Template)
		if err := d.Decode(t); err != nil {
			return nil, fmt.Errorf("%s: %w", path.Base(name), err)
		}
		if t.Name+".json" != path.Base(name) {
			return nil, fmt.Errorf("%s: is named %q", path.Base(name), t.Name)
		}
		if err := t.Validate(); err != nil {
			return nil, fmt.Errorf("%s: %w", path.Base(name), err)
		}
		out = append(out, t)
	}
	slices.SortFunc(out, func(a, b *Template) int { return strings.Compare(a.Title, b.Title) })
	return out, nil
}

// Validate refuses a template that cannot be made into steps, and figures without a
// standing or out of their own range.
func (t *Template) Validate() error {
	if t.Name == "" || t.Title == "" || t.About == "" || len(t.Steps) == 0 {
		return errors.New("name, title, about and steps are needed")
	}
	seen := map[string]bool{}
	for i := range t.Steps {
		s := &t.Steps[i]
		if s.Name == "" || seen[s.Name] {
			return fmt.Errorf("step %d: name %q is empty or stands twice", i+1, s.Name)
		}
		seen[s.Name] = true
		if err := s.validate(); err != nil {
			return fmt.Errorf("step %q: %w", s.Name, err)
		}
	}
	return nil
}

func (s *Phase) validate() error {
	if !slices.Contains(s.Purpose.Choices(), string(s.Purpose)) {
		return fmt.Errorf("purpose %q", s.Purpose)
	}
	if !s.Medium.Cleaning() || s.Or != "" && !s.Or.Cleaning() {
		return fmt.Errorf("medium %q or %q is none that washes", s.Medium, s.Or)
	}
	if !slices.Contains([]string{ToSource, ToSewer, ToRecovered, ToTank}, s.To) {
		return fmt.Errorf("to %q", s.To)
	}
	if tank := s.To == ToTank; tank != (s.Into != "") || tank && s.Purpose != model.Prepare {
		return errors.New("only a preparing step goes to a tank, and says what that is to hold")
	}
	if _, known := agents[s.Agent]; s.Agent != "" && !known {
		return fmt.Errorf("agent %q", s.Agent)
	}
	if t := s.TimerFrom; t != nil {
		if !slices.Contains(t.Value.Choices(), string(t.Value)) {
			return fmt.Errorf("timer_from: %q", t.Value)
		}
		if err := standing(t.Source, t.Clause, t.Standing); err != nil {
			return fmt.Errorf("timer_from: %w", err)
		}
	}
	if s.Conductive != nil && s.AboveWater != nil {
		return errors.New("one end by conductivity is enough")
	}
	if s.Strength != nil && s.Agent == "" {
		return errors.New("a strength without an agent")
	}
	if s.Time == nil && s.Purpose != model.Prepare {
		return errors.New("a time is needed")
	}
	for _, f := range []struct {
		key  string
		of   *Figure
		sort reflect.Type
	}{
		{"strength_pct", s.Strength, reflect.TypeFor[quantity.Strength]()},
		{"temperature_C", s.Temperature, reflect.TypeFor[quantity.Temperature]()},
		{"time_min", s.Time, reflect.TypeFor[quantity.Duration]()},
		{"end_conductivity_mScm", s.Conductive, reflect.TypeFor[quantity.Conductivity]()},
		{"end_above_water_mScm", s.AboveWater, reflect.TypeFor[quantity.Conductivity]()},
		{"longest_min", s.Longest, reflect.TypeFor[quantity.Duration]()},
	} {
		if f.of == nil {
			continue
		}
		if err := f.of.validate(model.Bounds(f.key, f.sort)); err != nil {
			return fmt.Errorf("%s: %w", f.key, err)
		}
	}
	return nil
}

func (f *Figure) validate(least, most float64, _ bool) error {
	switch {
	case f.Value < least || f.Value > most:
		return fmt.Errorf("%v cannot be", f.Value)
	case f.Least != nil && f.Value < *f.Least || f.Most != nil && f.Value > *f.Most:
		return fmt.Errorf("%v is out of its own range", f.Value)
	}
	return standing(f.Source, f.Clause, f.Standing)
}

// standing refuses one that is unknown or at odds with its source.
func standing(source, clause, how string) error {
	switch {
	case (how == StandingRead || how == StandingMemory) && source == "":
		return fmt.Errorf("standing %q needs a source", how)
	case how == StandingPractice && (source != "" || clause != ""):
		return errors.New("common practice has no source")
	case how != StandingRead && how != StandingMemory && how != StandingPractice:
		return fmt.Errorf("standing %q", how)
	}
	return nil
}
