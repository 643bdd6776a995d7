package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

// long is far beyond what a step of these tests takes; it ends one that hangs.
const long = time.Minute

// As many jobs as there are processors are under way at once: they wait for each
// other, so fewer would not go on.
func TestBatchUsesAllProcessors(t *testing.T) {
	n := runtime.GOMAXPROCS(0)
	var together sync.WaitGroup
	together.Add(n)
	met := make(chan struct{})
	go func() {
		together.Wait()
		close(met)
	}()
	var first atomic.Int32
	code := inOrder(context.Background(), 3*n, io.Discard, io.Discard, func(int) *checked {
		if int(first.Add(1)) <= n {
			together.Done()
			select {
			case <-met:
			case <-time.After(long):
				t.Error("not all processors are at work")
			}
		}
		return &checked{}
	})
	if code != exitDone {
		t.Errorf("ended with %d", code)
	}
}

// seen tells when a text has been written.
type seen struct {
	mu   sync.Mutex
	text bytes.Buffer
	want string
	came chan struct{}
}

func (s *seen) Write(b []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	before := strings.Contains(s.text.String(), s.want)
	s.text.Write(b)
	if !before && strings.Contains(s.text.String(), s.want) {
		close(s.came)
	}
	return len(b), nil
}

// Results are written as they come, in the order of the files: the last file of a
// thousand is not done before the first one is on the output.
func TestBatchStreams(t *testing.T) {
	const n = 1000
	out := &seen{want: "file 0\n", came: make(chan struct{})}
	inOrder(context.Background(), n, out, io.Discard, func(i int) *checked {
		r := &checked{}
		fmt.Fprintf(&r.text, "file %d\n", i)
		if i == n-1 {
			select {
			case <-out.came:
			case <-time.After(long):
				t.Error("nothing is written before all is done")
			}
		}
		return r
	})
	lines := strings.Split(strings.TrimSpace(out.text.String()), "\n")
	if len(lines) != n {
		t.Fatalf("%d results of %d", len(lines), n)
	}
	for i, l := range lines {
		if l != fmt.Sprintf("file %d", i) {
			t.Fatalf("result %d is %q", i, l)
		}
	}
}

// A batch of real files: every one has its line, in order, and the worst exit code
// counts.
func TestCheckOfManyFiles(t *testing.T) {
	clean, faulty := demo(t, "pharma-loop"), demo(t, "pharma-loop-draft")
	args := []string{"check", "--brief"}
	for i := range 40 {
		if i%4 == 3 {
			args = append(args, faulty)
		} else {
			args = append(args, clean)
		}
	}
	code, out, _ := call(args...)
	if code != exitFindings {
		t.Errorf("ended with %d", code)
	}
	at := 0
	for i, file := range args[2:] {
		next := strings.Index(out[at:], file+": ")
		if next < 0 {
			t.Fatalf("file %d is not told, or not in order", i)
		}
		at += next + len(file)
	}
}

// Several files are written to names of their own; what would put two into one file
// is refused before anything is written.
func TestExportOfManyFiles(t *testing.T) {
	a, b := demo(t, "pharma-loop"), demo(t, "pharma-loop-draft")
	dir := t.TempDir()
	code, out, errs := call("export", a, b, "--to", filepath.Join(dir, "*.svg"))
	if code != exitDone {
		t.Fatal(errs)
	}
	for _, name := range []string{"pharma-loop.svg", "pharma-loop-draft.svg"} {
		path := filepath.Join(dir, name)
		if _, err := os.Stat(path); err != nil || !strings.Contains(out, path) {
			t.Errorf("%s: %v; told is %q", name, err, out)
		}
	}
	twin := demo(t, "pharma-loop")
	before, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{
		{"export", a, twin, "--to", filepath.Join(dir, "*.pdf")},
		{"export", a, b, "--to", filepath.Join(dir, "one.pdf")},
		{"export", a, "--to", filepath.Join(dir, "*/*.pdf")},
	} {
		if code, _, errs := call(args...); code != exitBad || errs == "" {
			t.Errorf("%v ends with %d and says %q", args, code, errs)
		}
	}
	after, err := os.ReadDir(dir)
	if err != nil || len(after) != len(before) {
		t.Errorf("something was written by what was refused: %v, %v", after, err)
	}
}
