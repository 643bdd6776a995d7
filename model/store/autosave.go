package store

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// AutosavePath gives the path of the copy that is kept while a file is edited:
// ".oat.circuit.json.autosave" beside "oat.circuit.json".
func AutosavePath(path string) string {
	folder, name := filepath.Split(path)
	return filepath.Join(folder, "."+name+".autosave")
}

// Autosave puts data in the copy beside the file at path, as safely as [Save]
// and without touching the file. Nobody may read the copy who may not read the
// file. The error is an [Error].
func Autosave(path string, data []byte) error {
	sweep(path)
	sweep(AutosavePath(path))
	var mode fs.FileMode
	if info, err := os.Stat(path); err == nil && info.Mode().IsRegular() {
		mode = info.Mode().Perm() | 0o200 // the next copy takes its place
	}
	return save(system{}, AutosavePath(path), data, mode, false)
}

// RemoveAutosave deletes the copy beside the file: after saving, and when the
// user does not want it. None is as good.
func RemoveAutosave(path string) error {
	if err := removed(AutosavePath(path)); err != nil {
		return fmt.Errorf("the copy kept against a crash cannot be removed: %w", err)
	}
	return nil
}

// Recoverable tells whether a copy lies beside the file that holds something
// else, or beside no file at all: work that a crash has left unsaved, since a
// copy is removed when its work is saved. It may be older than the file, whose
// date others touch too. It gives where the copy is and when it was written.
func Recoverable(path string) (autosavePath string, when time.Time, ok bool) {
	autosavePath = AutosavePath(path)
	copied, err := os.Stat(autosavePath)
	if err != nil || !copied.Mode().IsRegular() {
		return "", time.Time{}, false
	}
	if sameContents(path, autosavePath) {
		return "", time.Time{}, false
	}
	return autosavePath, copied.ModTime(), true
}

// KeepAside renames the copy beside the file to a name of its own with the time
// at which it was written, so that no later copy is put in its place. It gives
// the new path.
func KeepAside(path string) (string, error) {
	from := AutosavePath(path)
	info, err := os.Stat(from)
	if err != nil {
		return "", fmt.Errorf("the copy kept against a crash is not there: %w", err)
	}
	to := from + "-" + info.ModTime().UTC().Format("20060102-150405")
	if err := os.Rename(from, to); err != nil {
		return "", fmt.Errorf("the copy kept against a crash cannot be put aside: %w", err)
	}
	return to, nil
}

// sameContents tells whether two files hold the same; false if one cannot be read.
func sameContents(a, b string) bool {
	x, err := Fingerprint(a)
	if err != nil {
		return false
	}
	y, err := Fingerprint(b)
	return err == nil && x == y
}
