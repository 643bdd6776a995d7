package model

import (
	"fmt"
	"slices"
)

// FromRecords makes a circuit of records in any order; header nil stands for an
// empty one. It refuses a record without an id, one that takes the header's id
// and two with the same id, whatever sort they are. The lists are copied, the
// records are not.
func FromRecords(header *Header, parts []Part, runs []*Run, steps []*Step) (*Circuit, error) {
	if header == nil {
		header = &Header{}
	}
	c := &Circuit{header: header, parts: slices.Clone(parts), runs: slices.Clone(runs), steps: slices.Clone(steps)}
	taken := make(map[ID]bool, len(parts)+len(runs)+len(steps))
	add := func(r Record) error {
		id, err := checkedID(r)
		if err != nil {
			return err
		}
		if taken[id] {
			return fmt.Errorf("two records have the id %q", id)
		}
		taken[id] = true
		return nil
	}
	for _, p := range c.parts {
		if err := add(p); err != nil {
			return nil, err
		}
	}
	for _, r := range c.runs {
		if err := add(r); err != nil {
			return nil, err
		}
	}
	for _, s := range c.steps {
		if err := add(s); err != nil {
			return nil, err
		}
	}
	c.inOrder()
	return c, nil
}
