// Package release says which version of the program this is.
package release

import (
	"fmt"
	"runtime"
	"runtime/debug"
	"strings"
	"time"
)

// Version is the number of the release. FyneApp.toml says the same; a test of the
// window's command holds the two together.
const Version = "0.1.0"

// Line gives one line about a program: its name, the version, the state of the
// source that it was built from and the Go version and system it was built for:
//
//	circuit 0.1.0 (5afb00751e9c of 2026-11-25) go1.26 linux/amd64
//
// The state comes from the go command, which reads it from the source's history, so
// the same source gives the same line whenever and wherever it is built. Where the
// program was built without it, that is said.
func Line(program string) string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		info = &debug.BuildInfo{GoVersion: runtime.Version()}
	}
	return line(program, info, runtime.GOOS+"/"+runtime.GOARCH)
}

func line(program string, info *debug.BuildInfo, system string) string {
	settings := map[string]string{}
	for _, s := range info.Settings {
		settings[s.Key] = s.Value
	}
	state := "state of the source not known"
	if revision := settings["vcs.revision"]; revision != "" {
		state = revision[:min(len(revision), 12)]
		if at, err := time.Parse(time.RFC3339, settings["vcs.time"]); err == nil {
			state += " of " + at.UTC().Format("2006-01-02")
		}
		if settings["vcs.modified"] == "true" {
			state += ", changed since"
		}
	}
	return fmt.Sprintf("%s %s (%s) %s %s", program, Version, state, strings.TrimSpace(info.GoVersion), system)
}
