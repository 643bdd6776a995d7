//go:build window

package main_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// deadline is how long a condition is waited for. It is long because the machine
// may be slow; a test that passes never waits so long.
const deadline = 60 * time.Second

// screen is a screen of its own with the program on it, driven by real mouse and
// key events.
type screen struct {
	t       *testing.T
	display string
	events  string
	program *exec.Cmd
	ended   chan error
	output  bytes.Buffer
}

// start builds the program and runs it on a screen of its own.
func start(t *testing.T, args ...string) *screen {
	t.Helper()
	return startOn(t, "1280x800", nil, args...)
}

// startOn is start on a screen of the given size, with settings kept from an
// earlier time.
func startOn(t *testing.T, size string, settings map[string]any, args ...string) *screen {
	t.Helper()
	for _, tool := range []string{"Xvfb", "xdotool", "go"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Fatalf("%s is needed for this test: %v", tool, err)
		}
	}
	dir := t.TempDir()
	home := filepath.Join(dir, "home")
	if err := os.Mkdir(home, 0o755); err != nil {
		t.Fatal(err)
	}
	if settings != nil {
		keep(t, home, settings)
	}
	return startIn(t, home, size, args...)
}

// startIn is start with the home folder of an earlier start.
func startIn(t *testing.T, home, size string, args ...string) *screen {
	t.Helper()
	return startUnder(t, nil, home, size, args...)
}

// startUnder is startIn with the program run by another one, of which the command
// line is given.
func startUnder(t *testing.T, by []string, home, size string, args ...string) *screen {
	t.Helper()
	dir := t.TempDir()
	binary := filepath.Join(dir, "rinsewright")
	if out, err := exec.Command("go", "build", "-o", binary, ".").CombinedOutput(); err != nil {
		t.Fatalf("build: %v\n%s", err, out)
	}
	s := &screen{t: t, events: filepath.Join(dir, "events"), ended: make(chan error, 1)}
	s.display = startXvfb(t, size)
	line := slices.Concat(by, []string{binary, "-events", s.events}, args)
	s.program = exec.Command(line[0], line[1:]...)
	s.program.Env = append(os.Environ(), "DISPLAY="+s.display, "HOME="+home, "XDG_CONFIG_HOME="+home, "LANG=en_US.UTF-8")
	s.program.Stdout, s.program.Stderr = &s.output, &s.output
	if err := s.program.Start(); err != nil {
		t.Fatal(err)
	}
	go func() { s.ended <- s.program.Wait() }()
	t.Cleanup(func() {
		s.program.Process.Kill() // an error: it has ended by itself
		if t.Failed() {
			data, _ := os.ReadFile(s.events)
			t.Logf("events:\n%s\noutput:\n%s", data, s.output.String())
		}
	})
	return s
}

// keep writes settings where the toolkit keeps those of the program.
func keep(t *testing.T, home string, settings map[string]any) {
	t.Helper()
	folder := filepath.Join(home, "fyne", "rinsewright")
	if err := os.MkdirAll(folder, 0o755); err != nil {
		t.Fatal(err)
	}
	b, err := json.Marshal(settings)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(folder, "preferences.json"), b, 0o644); err != nil {
		t.Fatal(err)
	}
}

// startXvfb starts a screen that ends with the test and gives its name.
func startXvfb(t *testing.T, size string) string {
	t.Helper()
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	x := exec.Command("Xvfb", "-displayfd", "3", "-screen", "0", size+"x24", "-nolisten", "tcp")
	x.ExtraFiles = []*os.File{w}
	if err := x.Start(); err != nil {
		t.Fatal(err)
	}
	w.Close()
	t.Cleanup(func() {
		x.Process.Kill()
		x.Wait() // its error is the kill
	})
	r.SetReadDeadline(time.Now().Add(deadline))
	var line []byte
	for one := make([]byte, 1); ; {
		n, err := r.Read(one)
		if err == io.EOF || err != nil {
			t.Fatalf("Xvfb gives no display: %v", err)
		}
		if n == 1 && one[0] == '\n' {
			return ":" + string(line)
		}
		line = append(line, one[:n]...)
	}
}

// do runs xdotool.
func (s *screen) do(args ...string) {
	s.t.Helper()
	c := exec.Command("xdotool", args...)
	c.Env = append(os.Environ(), "DISPLAY="+s.display)
	if out, err := c.CombinedOutput(); err != nil {
		s.t.Fatalf("xdotool %s: %v\n%s", strings.Join(args, " "), err, out)
	}
}

// drag presses at one point of the screen, moves in steps and lets go.
func (s *screen) drag(x1, y1, x2, y2 float64) {
	s.t.Helper()
	at := func(f float64) []string {
		return []string{"mousemove", "--sync", fmt.Sprintf("%.0f", x1+(x2-x1)*f), fmt.Sprintf("%.0f", y1+(y2-y1)*f)}
	}
	s.do(at(0)...)
	s.do("mousedown", "1")
	for _, f := range []float64{0.1, 0.4, 0.7, 1} {
		s.do(at(f)...)
	}
	s.do("mouseup", "1")
}

func (s *screen) click(x, y float64) {
	s.t.Helper()
	s.do("mousemove", "--sync", fmt.Sprintf("%.0f", x), fmt.Sprintf("%.0f", y), "click", "1")
}

// event is one line of the events file.
type event map[string]any

func (e event) number(key string) float64 {
	x, _ := e[key].(float64)
	return x
}

func (e event) text(key string) string {
	x, _ := e[key].(string)
	return x
}

// all reads the events so far.
func (s *screen) all() []event {
	data, err := os.ReadFile(s.events)
	if err != nil {
		return nil
	}
	var out []event
	for _, line := range bytes.Split(data, []byte("\n")) {
		var e event
		if json.Unmarshal(line, &e) == nil && e != nil {
			out = append(out, e)
		}
	}
	return out
}

// wait waits for an event after the first of them that fulfils a condition, and
// gives it and how many events there were up to it.
func (s *screen) wait(after int, what string, ok func(event) bool) (event, int) {
	s.t.Helper()
	for end := time.Now().Add(deadline); time.Now().Before(end); {
		all := s.all()
		for i := after; i < len(all); i++ {
			if ok(all[i]) {
				return all[i], i + 1
			}
		}
		select {
		case err := <-s.ended:
			s.ended <- err
			s.t.Fatalf("the program ended while %s was awaited: %v", what, err)
		case <-time.After(20 * time.Millisecond):
		}
	}
	s.t.Fatalf("no %s", what)
	return nil, 0
}

func named(name string) func(event) bool {
	return func(e event) bool { return e.text("event") == name }
}

// last gives the last event of a name.
func (s *screen) last(name string) event {
	s.t.Helper()
	all := s.all()
	for i := len(all) - 1; i >= 0; i-- {
		if all[i].text("event") == name {
			return all[i]
		}
	}
	s.t.Fatalf("no event %s", name)
	return nil
}

// count gives how many events there are.
func (s *screen) count() int { return len(s.all()) }

// rule gives how many findings of a rule a checks event tells.
func (e event) rule(name string) float64 {
	rules, _ := e["rules"].(map[string]any)
	n, _ := rules[name].(float64)
	return n
}
