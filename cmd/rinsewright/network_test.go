//go:build window

package main_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// The window speaks to nothing but this machine: the system's own account
// (strace(1)) of its calls of the network family, from start through checks, an
// edit and the end, holds no socket but local ones, for the screen and the desktop.
func TestTheWindowTouchesNoNetwork(t *testing.T) {
	log := filepath.Join(t.TempDir(), "log")
	s := startUnder(t, []string{"strace", "-f", "--seccomp-bpf", "-e", "trace=%network", "-o", log}, t.TempDir(), "1280x800")
	_, n := s.wait(0, "window", named("ready"))
	s.wait(n, "checks", named("checks"))
	s.do("key", "n")
	s.wait(n, "selection", named("selection"))
	s.do("key", "Right")
	s.wait(n, "edit", named("edit"))
	s.do("key", "ctrl+z", "ctrl+q")
	select {
	case err := <-s.ended:
		s.ended <- err
	case <-time.After(deadline):
		t.Fatal("the program does not end")
	}
	data, err := os.ReadFile(log)
	if err != nil {
		t.Fatal(err)
	}
	sockets := 0
	for line := range strings.SplitSeq(string(data), "\n") {
		_, call, _ := strings.Cut(line, " ")
		call = strings.TrimSpace(call)
		switch {
		case strings.HasPrefix(call, "socket("):
			sockets++
			if !strings.HasPrefix(call, "socket(AF_UNIX,") {
				t.Errorf("a socket that is not local: %s", call)
			}
		case strings.HasPrefix(call, "connect(") && !strings.Contains(call, "sa_family=AF_UNIX"):
			t.Errorf("a connection beyond this machine: %s", call)
		}
	}
	if sockets == 0 {
		t.Error("strace saw not even the socket of the screen")
	}
}
