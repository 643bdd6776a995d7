package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

// No command makes a socket of any sort: the system's own account (strace(1)) of
// what the program asks it for holds no call of the network family. The workbook
// is among them, as its writer drags net/http in.
func TestNoCommandTouchesTheNetwork(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("strace is a tool of Linux")
	}
	dir := t.TempDir()
	binary := filepath.Join(dir, "circuit")
	build := exec.Command("go", "build", "-o", binary, ".")
	build.Env = append(os.Environ(), "CGO_ENABLED=0")
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("build: %v\n%s", err, out)
	}
	station := demo(t, "pharma-loop")
	to := func(name string) string { return filepath.Join(dir, name) }
	for i, args := range [][]string{
		{"check", station}, {"solve", station}, {"wash", station}, {"rules"}, {"schema"}, {"--version"},
		{"compare", station, demo(t, "pharma-loop-draft")},
		{"export", station, "--to", to("a.pdf")}, {"export", station, "--to", to("a.svg")}, {"export", station, "--to", to("a.xlsx")},
		{"export", station, "--to", to("a.dxf")}, {"export", station, "--to", to("a.png")},
	} {
		log := to("log")
		c := exec.Command("strace", append([]string{"-f", "--seccomp-bpf", "-e", "trace=%network,openat", "-o", log, binary}, args...)...)
		out, err := c.CombinedOutput()
		if code := c.ProcessState.ExitCode(); err != nil && code != exitFindings {
			t.Fatalf("%v: %v\n%.2000s", args, err, out)
		}
		data, err := os.ReadFile(log)
		if err != nil {
			t.Fatal(err)
		}
		if i == 0 && !strings.Contains(string(data), filepath.Base(station)) {
			t.Fatalf("strace does not see what the program does:\n%.2000s", data)
		}
		for line := range strings.SplitSeq(string(data), "\n") {
			if call := networkCall(line); call != "" {
				t.Errorf("%v: %s", args, line)
			}
		}
	}
}

// networkCall gives the name of a call of the network family in a line of strace's;
// none for the end of a thread, which it writes as ???.
func networkCall(line string) string {
	_, call, _ := strings.Cut(line, " ")
	name, _, ok := strings.Cut(strings.TrimSpace(call), "(")
	if !ok || name == "openat" || name == "???" || strings.HasPrefix(name, "---") || strings.HasPrefix(name, "+++") {
		return ""
	}
	return name
}
