package release

import (
	"runtime/debug"
	"testing"
)

func TestLine(t *testing.T) {
	stamped := func(extra ...debug.BuildSetting) *debug.BuildInfo {
		return &debug.BuildInfo{GoVersion: "go1.26", Settings: append([]debug.BuildSetting{{Key: "vcs", Value: "git"}}, extra...)}
	}
	revision := debug.BuildSetting{Key: "vcs.revision", Value: "0123456789abcdef0123456789abcdef01234567"}
	for _, tt := range []struct {
		info *debug.BuildInfo
		want string
	}{
		{stamped(), "x " + Version + " (state of the source not known) go1.26 plan9/arm"},
		{stamped(revision), "x " + Version + " (0123456789ab) go1.26 plan9/arm"},
		{stamped(revision, debug.BuildSetting{Key: "vcs.time", Value: "2026-03-02T23:30:00-05:00"}), "x " + Version + " (0123456789ab of 2026-03-03) go1.26 plan9/arm"},
		{stamped(revision, debug.BuildSetting{Key: "vcs.modified", Value: "true"}), "x " + Version + " (0123456789ab, changed since) go1.26 plan9/arm"},
	} {
		if got := line("x", tt.info, "plan9/arm"); got != tt.want {
			t.Errorf("got  %s\nwant %s", got, tt.want)
		}
	}
}
