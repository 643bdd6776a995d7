package store

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

// A saving that is killed leaves its temporary file. The next one deletes it once
// it is old, and nothing else.
func TestTheLeftoversOfAKillAreSweptAway(t *testing.T) {
	for _, next := range []struct {
		name string
		run  func(path string) error
	}{
		{"save", func(path string) error { return Save(path, []byte(fresh)) }},
		{"replace", func(path string) error { return Replace(path, []byte(fresh)) }},
		{"autosave", func(path string) error { return Autosave(path, []byte(fresh)) }},
	} {
		folder, path := started(t)
		d := &failing{at: 5, kill: true, err: errKilled} // after the new version was written
		if err := save(d, path, []byte(fresh), 0, true); !errors.Is(err, errKilled) {
			t.Fatal(err)
		}
		left, err := filepath.Glob(filepath.Join(folder, ".*"))
		if err != nil || len(left) != 1 {
			t.Fatalf("the kill left %v (%v), want one file", left, err)
		}
		others := []string{
			".oat.circuit.json.saving-ABCDEFG",    // a letter short
			".oat.circuit.json.saving-abcdefgh",   // no letters of ours
			".other.circuit.json.saving-ABCDEFGH", // of another file
			"oat.circuit.json.saving-ABCDEFGH",
		}
		long := time.Now().Add(-time.Hour)
		for _, o := range others {
			put(t, filepath.Join(folder, o), "")
			if err := os.Chtimes(filepath.Join(folder, o), long, long); err != nil {
				t.Fatal(err)
			}
		}
		if err := next.run(path); err != nil {
			t.Fatal(err)
		}
		if !there(left[0]) {
			t.Errorf("%s: a temporary file of just now was deleted; it may be at work", next.name)
		}
		if err := os.Chtimes(left[0], long, long); err != nil {
			t.Fatal(err)
		}
		if err := next.run(path); err != nil {
			t.Fatal(err)
		}
		if there(left[0]) {
			t.Errorf("%s: the leftover of an hour ago is still there: %s", next.name, names(t, folder))
		}
		for _, o := range others {
			if !there(filepath.Join(folder, o)) {
				t.Errorf("%s: %s was deleted", next.name, o)
			}
		}
	}
}

func there(path string) bool {
	_, err := os.Lstat(path)
	return err == nil
}

// A copy tells no more than the file: its permissions follow those of the file.
func TestAutosaveKeepsPermissions(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("Windows has no such permissions")
	}
	path := filepath.Join(t.TempDir(), name)
	put(t, path, "old")
	for _, c := range []struct{ file, copied fs.FileMode }{{0o644, 0o644}, {0o600, 0o600}, {0o660, 0o660}, {0o400, 0o600}} {
		if err := os.Chmod(path, c.file); err != nil {
			t.Fatal(err)
		}
		for range 2 { // over a copy of the same work as well
			if err := Autosave(path, []byte("work")); err != nil {
				t.Fatal(err)
			}
			info, err := os.Stat(AutosavePath(path))
			if err != nil {
				t.Fatal(err)
			}
			if info.Mode().Perm() != c.copied {
				t.Errorf("the copy of a file of %o has %o, want %o", c.file, info.Mode().Perm(), c.copied)
			}
		}
	}
}

// A link to a file that is not there yet stays a link; the file is made where it
// leads, through several links too.
func TestSaveFollowsALinkToNoFile(t *testing.T) {
	folder := t.TempDir()
	far := filepath.Join(folder, "far")
	if err := os.Mkdir(far, 0o755); err != nil {
		t.Fatal(err)
	}
	for _, l := range [][2]string{{"far", "near"}, {filepath.Join("near", "two"), "one"}, {filepath.Join("..", name), filepath.Join("far", "two")}} {
		if err := os.Symlink(l[0], filepath.Join(folder, l[1])); err != nil {
			t.Skip("no links here: ", err)
		}
	}
	link := filepath.Join(folder, "one")
	if err := Save(link, []byte("new")); err != nil {
		t.Fatal(err)
	}
	holds(t, filepath.Join(folder, name), "new")
	for _, l := range []string{link, filepath.Join(far, "two")} {
		if info, err := os.Lstat(l); err != nil || info.Mode()&fs.ModeSymlink == 0 {
			t.Errorf("%s was replaced by a file", filepath.Base(l))
		}
	}

	ring := filepath.Join(folder, "ring")
	if err := os.Symlink("ring", ring); err != nil {
		t.Fatal(err)
	}
	if err := Save(ring, []byte("new")); err == nil {
		t.Error("no error of a link to itself")
	}
	lost := filepath.Join(folder, "lost")
	if err := os.Symlink(filepath.Join("none", name), lost); err != nil {
		t.Fatal(err)
	}
	if err := Save(lost, []byte("new")); err == nil || !strings.Contains(err.Error(), "there is no folder") {
		t.Errorf("a link into a folder that is not there: %v", err)
	}
}
