package main

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"io"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/compare"
)

// markingJSON is the shape of marks --json. It only ever grows.
type markingJSON struct {
	File       string     `json:"file"`
	Written    string     `json:"written"`
	Marks      int        `json:"marks"` // in what was written
	Added      []model.ID `json:"added,omitempty"`
	Updated    []model.ID `json:"updated,omitempty"`
	Renumbered []model.ID `json:"renumbered,omitempty"`
	Adrift     []model.ID `json:"adrift,omitempty"` // pinned to what the circuit does not have
}

const marksCall = "export FILE --to OUT | merge FILE MARKS --to OUT"

func runMarks(_ context.Context, args []string, out, errs io.Writer) int {
	f := flag.NewFlagSet("marks", flag.ContinueOnError)
	to := f.String("to", "", "file to write, ending in .circuit.json")
	asJSON := f.Bool("json", false, "tell what was done as JSON")
	words, code, done := parse(f, marksCall, args, out, errs)
	if done {
		return code
	}
	var told markingJSON
	var err error
	switch {
	case *to == "":
		err = fmt.Errorf("say with --to what to write")
	case len(words) == 2 && words[0] == "export":
		told, err = exportMarks(words[1], *to)
	case len(words) == 3 && words[0] == "merge":
		told, err = mergeMarks(words[1], words[2], *to)
	default:
		err = fmt.Errorf("expected %s", marksCall)
	}
	if err != nil {
		fmt.Fprintln(errs, "circuit marks:", err)
		return exitBad
	}
	if *asJSON {
		err = json.NewEncoder(out).Encode(told)
	} else {
		p := &printer{w: out}
		noun := "marks"
		if told.Marks == 1 {
			noun = "mark"
		}
		p.line("written: %s, %d %s", told.Written, told.Marks, noun)
		for _, of := range []struct {
			words string
			ids   []model.ID
		}{{"added", told.Added}, {"updated", told.Updated}, {"with another number, since theirs was taken", told.Renumbered}, {"on what the circuit does not have", told.Adrift}} {
			if len(of.ids) > 0 {
				p.line("  %d %s", len(of.ids), of.words)
			}
		}
		err = p.err
	}
	if err != nil {
		return exitBad // nobody reads
	}
	return exitDone
}

func exportMarks(file, to string) (markingJSON, error) {
	c, err := circuitfile.ReadFile(file)
	if err != nil {
		return markingJSON{}, err
	}
	alone := compare.MarksAlone(c, catalogue.Builtin())
	return markingJSON{File: file, Written: to, Marks: len(alone.Marks())}, saveCircuit(to, alone)
}

func mergeMarks(file, marks, to string) (markingJSON, error) {
	into, err := circuitfile.ReadFile(file)
	if err != nil {
		return markingJSON{}, err
	}
	from, err := circuitfile.ReadFile(marks)
	if err != nil {
		return markingJSON{}, err
	}
	m := compare.MergeMarks(into, from)
	next, err := into.Apply(m.Edit)
	if err != nil {
		return markingJSON{}, err
	}
	return markingJSON{file, to, len(next.Marks()), m.Added, m.Updated, m.Renumbered, m.Adrift}, saveCircuit(to, next)
}
