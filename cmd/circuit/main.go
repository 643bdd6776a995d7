// Command circuit checks and exports cleaning circuits without a display.
//
//	circuit check FILE...          check circuits against a limits profile
//	circuit export FILE --to OUT   write a drawing or a list
//	circuit solve FILE...          what flows in each step, and under which pressure
//	circuit trace FILE TAG         what feeds a part and what it feeds
//	circuit isolate FILE TAG...    how to shut a part off for work on it
//	circuit wash FILE...           a wash programme in time, and what it uses
//	circuit size FILE              a station for what is to be cleaned: a calculation sheet
//	circuit compare OLD NEW        what tells two revisions apart
//	circuit merge BASE MINE THEIRS put two people's edits of one base together
//	circuit marks export|merge     marks of reviewers, handed on alone
//	circuit report FILE --to OUT   the report of an audit
//	circuit rules [NAME]           what the rules look for, and why
//	circuit schema                 the JSON Schema of a circuit file
//	circuit --version              version, state of the source, Go version
//
// It ends with 0 when all is done and nothing graver than a note was found,
// with 1 when there is a finding to put right, a difference or a conflict, and
// with 2 when a file or the call itself is bad; then the reason is on the error
// output, for a file with its line and column.
package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime/debug"

	"rinsewright/assets/release"
)

// Exit codes.
const (
	exitDone     = 0
	exitFindings = 1
	exitBad      = 2
)

// command is one word that the program understands.
type command struct {
	name, arguments, about string
	run                    func(ctx context.Context, args []string, out, errs io.Writer) int
}

func commands() []command {
	return []command{
		{"check", "FILE...", "check circuits and tell what would not clean, drain or prove itself", runCheck},
		{"export", "FILE... --to OUT", "write a drawing (.pdf .svg .png .dxf), a list (.csv .xlsx .json) or the file anew (.circuit.json)", runExport},
		{"solve", "FILE...", "solve the flow of each step: velocities, pressures, pumps, spray devices, vessels", runSolve},
		{"trace", "FILE TAG", "what feeds a part or run and what it feeds, how far, in which steps; all ways to another", runTrace},
		{"isolate", "FILE TAG...", "the valves that shut a part off from every source, what to drain, the order of work", runIsolate},
		{"wash", "FILE...", "run wash programmes in time: water, heat, chemicals, trends, coverage, switching list, line-ups", runWash},
		{"size", "FILE", "propose flow, tubes, pumps, tanks, heater, use and cost shares for the objects of a circuit", runSize},
		{"compare", "OLD NEW", "tell what two revisions differ in, property by property, and which findings came and went", runCompare},
		{"merge", "BASE MINE THEIRS", "put two people's edits of one base together; --to OUT", runMerge},
		{"marks", "export|merge", "hand the marks of reviewers on alone, and merge them into a newer revision; --to OUT", runMarks},
		{"report", "FILE --to OUT", "write the report of an audit (.pdf .html .json): findings with their places, calculations, lists, checklists", runReport},
		{"rules", "[NAME...]", "tell what the rules look for, why, and where each demand comes from", runRules},
		{"schema", "", "print the JSON Schema of a circuit file", runSchema},
	}
}

// softLimit is the memory from which garbage is collected more often, so that a
// circuit of 100,000 runs is checked in about 1 GB rather than half as much again.
// Smaller ones never come near it.
const softLimit = 800 << 20

func main() {
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(softLimit)
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

func run(ctx context.Context, args []string, out, errs io.Writer) int {
	if len(args) == 0 {
		usage(errs)
		return exitBad
	}
	switch args[0] {
	case "help", "-h", "-help", "--help":
		usage(out)
		return exitDone
	case "version", "-version", "--version":
		fmt.Fprintln(out, release.Line("circuit"))
		return exitDone
	}
	for _, c := range commands() {
		if c.name == args[0] {
			return c.run(ctx, args[1:], out, errs)
		}
	}
	fmt.Fprintf(errs, "circuit: there is no command %q\n\n", args[0])
	usage(errs)
	return exitBad
}

func usage(w io.Writer) {
	fmt.Fprintln(w, "circuit checks and exports cleaning-in-place circuits.")
	fmt.Fprintln(w)
	for _, c := range commands() {
		fmt.Fprintf(w, "  circuit %-7s %-16s %s\n", c.name, c.arguments, c.about)
	}
	fmt.Fprintln(w)
	fmt.Fprintln(w, "  circuit COMMAND --help tells the options of a command; circuit --version the version.")
	fmt.Fprintln(w, "  Ends with 0: done; 1: something is to be put right; 2: a file or the call is bad.")
	fmt.Fprintln(w)
	fmt.Fprintln(w, "An aid for qualified people. Verify on site; follow local codes, site lock-out rules,")
	fmt.Fprintln(w, "supplier data and licensed practice.")
}
