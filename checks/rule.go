package checks

import (
	"encoding/json"
	"errors"
	"fmt"
	"regexp"
)

// Rule is one check. It is a value; nothing registers itself.
type Rule struct {
	Name string // says what is wrong: "dead-leg"
	Doc  Doc
	Run  func(*Pass) // reports what it finds; never changes the circuit
	Last bool        // runs when all others are done and sees what they could not assess
	// Audit rules run after those. They see what became of the deviations, and no
	// deviation accepts what they find.
	Audit bool
}

// Doc is what a reader is told of a rule. The list of rules, the window and a
// report print the same value.
type Doc struct {
	Title    string     // one line, without a full stop
	Why      string     // why it matters
	How      string     // how it is decided, from which data
	Blind    string     // what it does not see
	Remedy   string     // how to put it right: a verb phrase
	Cites    []Citation // where the demand comes from, and how well it is known
	Severity Severity   // of a finding that does not say otherwise
	Merge    Merge
	Limits   []string // names of the limits that it reads from the profile
}

// Citation names a source and tells how well it is known.
type Citation struct {
	Source   string `json:"source,omitempty"` // empty: common practice
	Clause   string `json:"clause,omitempty"`
	Standing string `json:"standing"` // one of the Standing constants
}

// How well a source is known. Reports print these words.
const (
	StandingRead     = "read"                                  // read in the source named
	StandingMemory   = "from memory; verify against your copy" // recalled, not opened
	StandingPractice = "common practice, no source"            // never cited as a rule
	StandingComputed = "computed"                              // follows from stated equations
	StandingOwn      = "own decision"                          // of a limit in a user's own limits; its source is the reason
)

// Standings lists the words that a citation or limit may use.
func Standings() []string {
	return []string{StandingRead, StandingMemory, StandingPractice, StandingComputed, StandingOwn}
}

// String writes the citation as a report prints it.
func (c Citation) String() string {
	what := c.Source
	if c.Clause != "" {
		what += ", " + c.Clause
	}
	switch {
	case what == "":
		return c.Standing
	case c.Standing == StandingMemory:
		return "from memory of " + what + "; verify against your copy"
	}
	return c.Standing + ": " + what
}

// Merge says how findings at one place in several steps become one.
type Merge int

const (
	// Once: the rule does not depend on the step and runs once, with no step.
	Once Merge = iota
	// AnyStep: the rule runs for each step; a fault in any step counts.
	AnyStep
	// EveryStep: the rule runs for each step; a fault counts only if it is
	// there in every step in which the rule judged the place (see [Pass.Judged]).
	EveryStep
)

// ruleJSON is the shape of a rule in JSON output. It only ever grows.
type ruleJSON struct {
	Name     string     `json:"rule"`
	Title    string     `json:"title"`
	Why      string     `json:"why"`
	How      string     `json:"how"`
	Blind    string     `json:"blind"` // what it does not see
	Remedy   string     `json:"remedy"`
	Cites    []Citation `json:"cites"`
	Severity Severity   `json:"severity"`
	Steps    string     `json:"steps"` // how findings of several steps count
	Limits   []string   `json:"limits,omitempty"`
}

// MarshalJSON writes the documentation of the rule.
func (r *Rule) MarshalJSON() ([]byte, error) {
	d := r.Doc
	return json.Marshal(ruleJSON{r.Name, d.Title, d.Why, d.How, d.Blind, d.Remedy, d.Cites, d.Severity, d.Merge.String(), d.Limits})
}

// String says it in words.
func (m Merge) String() string {
	switch m {
	case AnyStep:
		return "a fault in any step counts"
	case EveryStep:
		return "counts only if it holds in every step that uses the place"
	}
	return "does not depend on the step"
}

var ruleName = regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+)*$`)

// Validate refuses rules that are undocumented, badly named or listed twice.
func Validate(rules []*Rule) error {
	seen := map[string]bool{}
	var errs []error
	for _, r := range rules {
		if !ruleName.MatchString(r.Name) {
			errs = append(errs, fmt.Errorf("rule %q: a name is lower case with hyphens", r.Name))
		}
		if seen[r.Name] {
			errs = append(errs, fmt.Errorf("rule %q stands twice", r.Name))
		}
		seen[r.Name] = true
		if err := r.validate(); err != nil {
			errs = append(errs, fmt.Errorf("rule %q: %w", r.Name, err))
		}
	}
	return errors.Join(errs...)
}

func (r *Rule) validate() error {
	d := r.Doc
	for _, part := range []struct{ name, text string }{
		{"title", d.Title}, {"why", d.Why}, {"how", d.How}, {"blind", d.Blind}, {"remedy", d.Remedy},
	} {
		if part.text == "" {
			return fmt.Errorf("it has no %s", part.name)
		}
	}
	if r.Run == nil {
		return errors.New("it has no function")
	}
	if len(d.Cites) == 0 {
		return errors.New("it cites no source; say so where it is common practice")
	}
	for _, c := range d.Cites {
		if err := checkStanding(c.Source, c.Standing); err != nil {
			return err
		}
	}
	if (r.Last || r.Audit) && d.Merge != Once {
		return errors.New("a rule that runs last cannot run for each step")
	}
	return nil
}

func checkStanding(source, standing string) error {
	switch standing {
	case StandingRead, StandingMemory, StandingOwn:
		if source == "" {
			return fmt.Errorf("standing %q needs a source", standing)
		}
	case StandingPractice, StandingComputed:
	default:
		return fmt.Errorf("standing %q is not one of %q", standing, Standings())
	}
	return nil
}
