package store

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
	"time"
)

func TestAutosave(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, name)
	if got, want := AutosavePath(path), filepath.Join(folder, ".oat.circuit.json.autosave"); got != want {
		t.Errorf("the copy is at %s, want %s", got, want)
	}
	put(t, path, "saved")
	for _, text := range []string{"edited", "edited again"} {
		if err := Autosave(path, []byte(text)); err != nil {
			t.Fatal(err)
		}
		holds(t, AutosavePath(path), text)
	}
	holds(t, path, "saved")
	if got, want := names(t, folder), ".oat.circuit.json.autosave oat.circuit.json"; got != want {
		t.Errorf("the folder holds %s, want %s", got, want)
	}
	for range 2 { // none is as good
		if err := RemoveAutosave(path); err != nil {
			t.Fatal(err)
		}
	}
	holds(t, AutosavePath(path), "")
}

func TestRecoverable(t *testing.T) {
	noon := time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC)
	tests := []struct {
		desc           string
		file, copied   string // "" for none
		fileAt, copyAt time.Time
		want           bool
	}{
		{"no copy", "a", "", noon, noon, false},
		{"a later copy", "a", "b", noon, noon.Add(time.Minute), true},
		{"a copy of the same moment", "a", "b", noon, noon, true},
		{"an earlier copy: others touch a file's date", "a", "b", noon, noon.Add(-time.Minute), true},
		{"a later copy of the same contents", "a", "a", noon, noon.Add(time.Minute), false},
		{"a copy of a file that was never saved", "", "b", noon, noon, true},
	}
	for _, tt := range tests {
		path := filepath.Join(t.TempDir(), name)
		for _, f := range []struct {
			path, text string
			at         time.Time
		}{{path, tt.file, tt.fileAt}, {AutosavePath(path), tt.copied, tt.copyAt}} {
			if f.text == "" {
				continue
			}
			put(t, f.path, f.text)
			if err := os.Chtimes(f.path, f.at, f.at); err != nil {
				t.Fatal(err)
			}
		}
		got, when, ok := Recoverable(path)
		if ok != tt.want {
			t.Errorf("%s: recoverable %v, want %v", tt.desc, ok, tt.want)
		}
		if ok && (got != AutosavePath(path) || !when.Equal(tt.copyAt)) {
			t.Errorf("%s: %s of %v, want %s of %v", tt.desc, got, when, AutosavePath(path), tt.copyAt)
		}
	}
}

func TestKeepAside(t *testing.T) {
	path := filepath.Join(t.TempDir(), name)
	if _, err := KeepAside(path); err == nil {
		t.Error("a copy that is not there was put aside")
	}
	if err := Autosave(path, []byte("work")); err != nil {
		t.Fatal(err)
	}
	aside, err := KeepAside(path)
	if err != nil {
		t.Fatal(err)
	}
	holds(t, aside, "work")
	holds(t, AutosavePath(path), "")
	if err := Autosave(path, []byte("later")); err != nil {
		t.Fatal(err)
	}
	holds(t, aside, "work")
}

func TestFingerprint(t *testing.T) {
	path := filepath.Join(t.TempDir(), name)
	if p, err := Fingerprint(path); err != nil || p != "" {
		t.Errorf("of no file: %q, %v", p, err)
	}
	put(t, path, "abc")
	p, err := Fingerprint(path)
	if err != nil {
		t.Fatal(err)
	}
	// SHA-256 of "abc": FIPS 180-2, appendix B.1.
	if want := Print("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"); p != want || PrintOf([]byte("abc")) != want {
		t.Errorf("of abc: %s, want %s", p, want)
	}
}

func TestSaveIfUnchanged(t *testing.T) {
	path := filepath.Join(t.TempDir(), name)
	seen, err := SaveIfUnchanged(path, []byte("one"), "")
	if err != nil {
		t.Fatal(err)
	}
	if seen, err = SaveIfUnchanged(path, []byte("two"), seen); err != nil {
		t.Fatal(err)
	}
	later := time.Now().Add(time.Hour)
	if err := os.Chtimes(path, later, later); err != nil {
		t.Fatal(err)
	}
	if seen, err = SaveIfUnchanged(path, []byte("three"), seen); err != nil {
		t.Errorf("a touched date counts as a change: %v", err)
	}
	put(t, path, "of another program")
	again, err := SaveIfUnchanged(path, []byte("four"), seen)
	if !errors.Is(err, ErrChanged) || again != seen {
		t.Errorf("changed by another program: %v", err)
	}
	holds(t, path, "of another program")
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	if _, err := SaveIfUnchanged(path, []byte("four"), seen); !errors.Is(err, ErrChanged) || !errors.Is(err, ErrGone) {
		t.Errorf("deleted by another program: %v", err)
	}
	put(t, path, "made meanwhile")
	if _, err := SaveIfUnchanged(path, []byte("four"), ""); !errors.Is(err, ErrChanged) {
		t.Errorf("made by another program: %v", err)
	}
}
