// Package checklist holds the questions of an audit that no computation can
// answer: surface finish, weld records, gaskets, access, what can be seen. They
// are data, by limits profile, each with the standing of its demand. The answers
// are records of the circuit, see [model.Answer].
package checklist

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strings"
	"sync"

	"rinsewright/assets"
	"rinsewright/model"
)

// List is one checklist.
type List struct {
	Name      string     `json:"name"`
	Title     string     `json:"title"`
	About     string     `json:"about"`
	Profiles  []string   `json:"profiles,omitempty"` // limits profiles that it is for; empty: all
	Questions []Question `json:"questions"`
}

// Question is one question, to be answered with yes where all is well.
type Question struct {
	ID       string        `json:"id"`    // of all lists; stays the same over the versions of a list
	Group    string        `json:"group"` // heading that it stands under
	Per      Per           `json:"per"`
	Classes  []model.Class `json:"classes,omitempty"` // of the parts that it is asked of, where it is asked per part
	Text     string        `json:"text"`
	Help     string        `json:"help,omitempty"`
	Evidence string        `json:"evidence"` // what an answer can rest on
	Source   string        `json:"source,omitempty"`
	Clause   string        `json:"clause,omitempty"`
	Standing string        `json:"standing"` // how well the source is known, in the words of the limits profiles
}

// Per is what a question is asked of.
type Per string

const (
	PerCircuit Per = "circuit" // once
	PerPart    Per = "part"    // of every part of some classes
	PerRun     Per = "run"     // of every run
)

func (Per) Choices() []string { return []string{"circuit", "part", "run"} }

// standings are the words that limits profiles and rules use too.
var standings = []string{"read", "from memory; verify against your copy", "common practice, no source", "computed"}

// maxBytes is far above any checklist and far below what hurts.
const maxBytes = 1 << 20

// Load reads a checklist. It refuses a question without text, group, evidence or
// standing, one that stands twice, and keys that it does not know.
func Load(r io.Reader) (*List, error) {
	d := json.NewDecoder(io.LimitReader(r, maxBytes))
	d.DisallowUnknownFields()
	l := new(List)
	if err := d.Decode(l); err != nil {
		return nil, fmt.Errorf("checklist: %w", err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return nil, errors.New("checklist: something follows its end")
	}
	if l.Name == "" || l.Title == "" || len(l.Questions) == 0 {
		return nil, errors.New("checklist: name, title and questions must be given")
	}
	seen := map[string]bool{}
	for i, q := range l.Questions {
		if err := q.check(); err != nil {
			return nil, fmt.Errorf("checklist %s: question %d %q: %w", l.Name, i+1, q.ID, err)
		}
		if seen[q.ID] {
			return nil, fmt.Errorf("checklist %s: question %q stands twice", l.Name, q.ID)
		}
		seen[q.ID] = true
	}
	return l, nil
}

var name = regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+)*$`)

func (q *Question) check() error {
	for _, need := range []struct{ what, text string }{{"text", q.Text}, {"group", q.Group}, {"evidence", q.Evidence}} {
		if need.text == "" {
			return fmt.Errorf("it has no %s", need.what)
		}
	}
	switch {
	case !name.MatchString(q.ID):
		return errors.New("an id is lower case with hyphens")
	case !slices.Contains(q.Per.Choices(), string(q.Per)):
		return fmt.Errorf("it is asked per circuit, part or run, not %q", q.Per)
	case (q.Per == PerPart) != (len(q.Classes) > 0):
		return errors.New("classes of parts are told where it is asked per part, and only there")
	case !slices.Contains(standings, q.Standing):
		return fmt.Errorf("standing %q is not one of %q", q.Standing, standings)
	case (q.Source == "") != (q.Standing == standings[2] || q.Standing == standings[3]):
		return fmt.Errorf("standing %q does not go with source %q", q.Standing, q.Source)
	}
	for _, c := range q.Classes {
		if !slices.Contains(model.Classes(), c) {
			return fmt.Errorf("there is no class of parts %q", c)
		}
	}
	return nil
}

// Cites writes where the demand comes from, as a report prints it.
func (q *Question) Cites() string {
	what := q.Source
	if q.Clause != "" {
		what += ", " + q.Clause
	}
	switch {
	case what == "":
		return q.Standing
	case q.Standing == standings[1]:
		return "from memory of " + what + "; verify against your copy"
	}
	return q.Standing + ": " + what
}

var builtin = sync.OnceValue(func() []*List {
	names, err := fs.Glob(assets.Files, "checklists/*.json")
	if err != nil {
		panic("checklist: " + err.Error()) // the pattern is constant
	}
	var out []*List
	taken := map[string]string{}
	for _, n := range names { // in order of name
		f, err := assets.Files.Open(n)
		if err != nil {
			panic("checklist: embedded: " + err.Error())
		}
		l, err := Load(f)
		f.Close()
		if err != nil {
			panic("checklist: " + path.Base(n) + ": " + err.Error()) // held by a test
		}
		for _, q := range l.Questions {
			if other := taken[q.ID]; other != "" {
				panic("checklist: question " + q.ID + " stands in " + other + " and in " + l.Name)
			}
			taken[q.ID] = l.Name
		}
		out = append(out, l)
	}
	return out
})

// Builtin gives the checklists that the program carries, in order of name.
func Builtin() []*List { return builtin() }

// For gives the checklists that go with a limits profile: those for all, then
// those of its own. A profile that no list names, such as a user's own, has those
// for all.
func For(profile string) []*List {
	var all, own []*List
	for _, l := range builtin() {
		switch {
		case len(l.Profiles) == 0:
			all = append(all, l)
		case slices.ContainsFunc(l.Profiles, func(p string) bool { return strings.EqualFold(p, profile) }):
			own = append(own, l)
		}
	}
	return append(all, own...)
}
