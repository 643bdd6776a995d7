// Command rinsewright is the window in which cleaning-in-place circuits are
// drawn and checked.
//
//	rinsewright [-events FILE] [CIRCUIT.circuit.json]
//	rinsewright --version
package main

import (
	"flag"
	"fmt"
	"os"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/app"

	"rinsewright/assets/release"
	"rinsewright/canvas/window"
	"rinsewright/model/catalogue"
)

const usage = `usage: rinsewright [-events FILE] [CIRCUIT.circuit.json]
       rinsewright --version

Opens the window with the circuit of the file, or with a demo circuit.

  -events FILE   for tests: appends to FILE a line of JSON for each thing that
                 happens (window ready, view, edits, selection, checks, saved)
`

// metadata is that of FyneApp.toml, which a plain build does not read; a test
// holds the two together.
var metadata = fyne.AppMetadata{ID: "rinsewright", Name: "Rinsewright", Version: release.Version, Build: 1,
	Migrations: map[string]bool{"fyneDo": true}}

func main() {
	flag.Usage = func() { fmt.Fprint(os.Stderr, usage) }
	events := flag.String("events", "", "")
	version := flag.Bool("version", false, "")
	flag.Parse()
	if *version {
		fmt.Println(release.Line("rinsewright"))
		return
	}
	if flag.NArg() > 1 {
		flag.Usage()
		os.Exit(2)
	}
	if err := run(*events, flag.Arg(0)); err != nil {
		fmt.Fprintln(os.Stderr, "rinsewright:", err)
		os.Exit(2)
	}
}

func run(eventsPath, path string) error {
	var events *window.Events
	if eventsPath != "" {
		f, err := os.OpenFile(eventsPath, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o644)
		if err != nil {
			return fmt.Errorf("the file for events cannot be written: %w", err)
		}
		defer f.Close()
		events = window.NewEvents(f)
	}
	app.SetMetadata(metadata)
	a := app.NewWithID(metadata.ID)
	w := window.New(window.Options{App: a, Kinds: catalogue.Builtin(), Events: events, Screen: screenSize})
	a.Lifecycle().SetOnStarted(func() { w.Begin(path) })
	w.Show()
	a.Run()
	return nil
}
