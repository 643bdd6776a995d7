// Package rulecase draws the example of a rule: a small circuit in which it finds
// something, and beside it one in which it does not, with what makes the difference
// in words. Both are cases that the rule is tested with.
package rulecase

import (
	"context"
	"fmt"

	"rinsewright/assets"
	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/compare"
)

// Example is the example of a rule, with what the rule says of it.
type Example struct {
	Rule        *checks.Rule
	Bad, Good   *model.Circuit
	Found       []checks.Finding     // of the rule in Bad, worst first; at least one
	Differences []compare.Difference // that make Good of Bad, but for names and notes of the circuit
}

// Of gives the example of a rule. The error tells of a rule of which the program
// carries none, or whose example it does not find anything in.
func Of(ctx context.Context, rule *checks.Rule) (*Example, error) {
	e := &Example{Rule: rule}
	var err error
	if e.Bad, err = read(rule.Name, "bad"); err != nil {
		return nil, err
	}
	if e.Good, err = read(rule.Name, "good"); err != nil {
		return nil, err
	}
	if e.Found, err = found(ctx, rule, e.Bad); err != nil {
		return nil, err
	}
	if len(e.Found) == 0 {
		return nil, fmt.Errorf("rule %s finds nothing in its own example", rule.Name)
	}
	for _, d := range compare.Circuits(e.Bad, e.Good, catalogue.Builtin()).Differences {
		if d.Sort != compare.OfHeader || e.Bad.Header().Profile != e.Good.Header().Profile {
			e.Differences = append(e.Differences, d)
		}
	}
	return e, nil
}

func read(rule, which string) (*model.Circuit, error) {
	name := rule + "-" + which + ".circuit.json"
	data, err := assets.Files.ReadFile("rules/" + name)
	if err != nil {
		return nil, fmt.Errorf("rule %s has no %s example", rule, which)
	}
	return circuitfile.Decode(name, data)
}

// found gives what a rule finds in a circuit. A rule that speaks of what others
// found runs with all of them.
func found(ctx context.Context, rule *checks.Rule, c *model.Circuit) ([]checks.Finding, error) {
	rules := []*checks.Rule{rule}
	if rule.Last || rule.Audit {
		rules = checks.Rules()
	}
	profile := checks.Builtin(c.Header().Profile)
	if profile == nil {
		return nil, fmt.Errorf("the example of rule %s names the limits %q, which there are not", rule.Name, c.Header().Profile)
	}
	result, err := checks.Run(ctx, c, catalogue.Builtin(), profile, rules)
	if err != nil {
		return nil, err
	}
	var out []checks.Finding
	for _, f := range result.Findings {
		if f.Rule == rule.Name {
			out = append(out, f)
		}
	}
	return out, nil
}
