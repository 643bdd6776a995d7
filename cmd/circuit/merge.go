package main

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/compare"
	"rinsewright/model/quantity"
	"rinsewright/model/store"
)

// mergeJSON is the shape of merge --json. It only ever grows.
type mergeJSON struct {
	Written   string         `json:"written,omitempty"` // left out where conflicts were in the way
	Conflicts []conflictJSON `json:"conflicts"`
}

type conflictJSON struct {
	ID      model.ID       `json:"id"`
	Sort    compare.Sort   `json:"sort"`
	Name    string         `json:"name"`
	Key     string         `json:"key,omitempty"` // left out: the record as a whole
	Element string         `json:"element,omitempty"`
	Label   string         `json:"label"`
	Base    *compare.Text  `json:"base"` // null: not there
	Mine    *compare.Text  `json:"mine"`
	Theirs  *compare.Text  `json:"theirs"`
	Choice  compare.Choice `json:"choice,omitempty"`
}

// Exit codes of merge: exitDone where the merged circuit is written, exitFindings
// where conflicts are in the way and nothing is written, exitBad for a bad file or
// call.
func runMerge(_ context.Context, args []string, out, errs io.Writer) int {
	f := flag.NewFlagSet("merge", flag.ContinueOnError)
	to := f.String("to", "", "file to write, ending in .circuit.json")
	prefer := f.String("prefer", "", "whose value counts where both changed one thing: mine, theirs or base; default: conflicts are told and nothing is written")
	asJSON := f.Bool("json", false, "one JSON object: what was written, and the conflicts")
	units := systemOption(f)
	files, code, done := parse(f, "BASE MINE THEIRS --to OUT (ends with 0: merged; 1: conflicts, nothing written; 2: a file or the call is bad)", args, out, errs)
	if done {
		return code
	}
	s, err := system(*units)
	choices := []string{"", string(compare.Mine), string(compare.Theirs), string(compare.Base)}
	switch {
	case err != nil:
	case len(files) != 3:
		err = fmt.Errorf("name three circuit files, the base, mine and theirs, not %d", len(files))
	case *to == "":
		err = fmt.Errorf("say with --to what to write")
	case !slices.Contains(choices, *prefer):
		err = fmt.Errorf("--prefer is mine, theirs or base, not %q", *prefer)
	}
	var m *compare.Merge
	if err == nil {
		m, err = mergedFiles(files)
	}
	if err != nil {
		fmt.Fprintln(errs, "circuit merge:", err)
		return exitBad
	}
	conflicts := m.Conflicts()
	if *prefer != "" {
		m.ChooseAll(compare.Choice(*prefer))
		conflicts = m.Conflicts()
	}
	open := m.Unresolved() > 0
	if !open {
		if err := saveCircuit(*to, m.Circuit()); err != nil {
			fmt.Fprintln(errs, "circuit merge:", err)
			return exitBad
		}
	}
	if err := writeMerge(out, *to, open, conflicts, *asJSON, s); err != nil {
		return exitBad // nobody reads
	}
	if open {
		return exitFindings
	}
	return exitDone
}

func mergedFiles(files []string) (*compare.Merge, error) {
	var c [3]*model.Circuit
	for i, file := range files {
		var err error
		if c[i], err = circuitfile.ReadFile(file); err != nil {
			return nil, err
		}
	}
	return compare.Three(c[0], c[1], c[2], catalogue.Builtin()), nil
}

// saveCircuit writes a circuit to a file and keeps the one that was there as a
// backup.
func saveCircuit(file string, c *model.Circuit) error {
	text, err := circuitfile.Encode(c)
	if err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	return store.Save(file, text)
}

func writeMerge(w io.Writer, to string, open bool, conflicts []compare.Conflict, asJSON bool, s quantity.System) error {
	if asJSON {
		out := mergeJSON{Conflicts: []conflictJSON{}}
		if !open {
			out.Written = to
		}
		for _, c := range conflicts {
			out.Conflicts = append(out.Conflicts, conflictJSON{c.ID, c.Sort, c.Name, c.Key, c.Element, c.Label, orNull(c.Base), orNull(c.Mine), orNull(c.Theirs), c.Choice})
		}
		return json.NewEncoder(w).Encode(out)
	}
	out := &printer{w: w}
	for _, c := range conflicts {
		settled := ""
		if c.Choice != compare.Unchosen {
			settled = "; taken: " + string(c.Choice)
		}
		out.line("conflict: %s %s, %s: base %s, mine %s, theirs %s%s", c.Sort, c.Name, c.Label,
			orAbsent(c.Base.In(s)), orAbsent(c.Mine.In(s)), orAbsent(c.Theirs.In(s)), settled)
	}
	if open {
		out.line("nothing is written: %d conflicts; settle them in the window, or take a side with --prefer", len(conflicts))
	} else {
		out.line("written: %s", to)
	}
	return out.err
}
