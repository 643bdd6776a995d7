package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"

	"rinsewright/checks"
	"rinsewright/model/quantity"
)

// parse reads options and arguments in any order; the flag package alone stops
// at the first argument. done is true when the call has been answered already,
// with the exit code.
func parse(f *flag.FlagSet, about string, args []string, out, errs io.Writer) (rest []string, code int, done bool) {
	f.SetOutput(io.Discard)
	for {
		if err := f.Parse(args); errors.Is(err, flag.ErrHelp) {
			fmt.Fprintf(out, "circuit %s %s\n", f.Name(), about)
			f.SetOutput(out)
			f.PrintDefaults()
			return nil, exitDone, true
		} else if err != nil {
			fmt.Fprintf(errs, "circuit %s: %v\n", f.Name(), err)
			return nil, exitBad, true
		}
		args = f.Args()
		if len(args) == 0 {
			return rest, exitDone, false
		}
		rest, args = append(rest, args[0]), args[1:]
	}
}

func systemOption(f *flag.FlagSet) *string {
	return f.String("units", "metric", "units of the text: metric or us")
}

func system(name string) (quantity.System, error) {
	switch name {
	case "metric":
		return quantity.Metric, nil
	case "us":
		return quantity.US, nil
	}
	return 0, fmt.Errorf("--units is metric or us, not %q", name)
}

func profileOption(f *flag.FlagSet) *string {
	return f.String("profile", "", "limits profile: food, dairy, pharma, or a file with your own; default: the one that the circuit names, else food")
}

// profileFor gives the profile of a call, or of the circuit where the call
// names none.
func profileFor(option, circuit string) (*checks.Profile, error) {
	name := option
	if name == "" {
		name = circuit
	}
	if p := checks.Builtin(name); p != nil {
		return p, nil
	}
	if option == "" {
		return nil, fmt.Errorf("the circuit asks for limits profile %q, which is not one of %v; name a profile or a file with --profile", name, checks.Profiles())
	}
	file, err := os.Open(name)
	if err != nil {
		return nil, fmt.Errorf("--profile %q is not one of %v and no file that can be read: %w", name, checks.Profiles(), err)
	}
	defer file.Close()
	p, err := checks.LoadProfile(file)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return p, nil
}
