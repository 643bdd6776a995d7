package main

import (
	"context"
	"flag"
	"io"

	"rinsewright/model/circuitfile"
)

func runSchema(_ context.Context, args []string, out, errs io.Writer) int {
	f := flag.NewFlagSet("schema", flag.ContinueOnError)
	f.Bool("json", true, "the schema is JSON in any case")
	if _, code, done := parse(f, "", args, out, errs); done {
		return code
	}
	if _, err := out.Write(circuitfile.Schema()); err != nil {
		return exitBad
	}
	return exitDone
}
