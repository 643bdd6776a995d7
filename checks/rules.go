package checks

// Rules gives all rules in the order of their documentation. The list is
// explicit: a rule that is not here does not run.
func Rules() []*Rule {
	return []*Rule{
		ruleTagMissing,
		ruleTagTwice,
		ruleNeedsData,
	}
}

// Find gives the rule of a name among rules, or nil.
func Find(rules []*Rule, name string) *Rule {
	for _, r := range rules {
		if r.Name == name {
			return r
		}
	}
	return nil
}
