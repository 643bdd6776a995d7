package store

import (
	"fmt"
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
// and without touching the file. The error is an [Error].
func Autosave(path string, data []byte) error {
	return save(system{}, AutosavePath(path), data, false)
}

// RemoveAutosave deletes the copy beside the file: after saving, and when the
// user does not want it. None is as good.
func RemoveAutosave(path string) error {
	if err := removed(AutosavePath(path)); err != nil {
		return fmt.Errorf("the copy kept against a crash cannot be removed: %w", err)
	}
	return nil
}

// Recoverable tells whether a copy lies beside the file that is not older than
// the file and holds something else, or beside no file at all: work that a
// crash has left unsaved. It gives where the copy is and when it was written.
func Recoverable(path string) (autosavePath string, when time.Time, ok bool) {
	autosavePath = AutosavePath(path)
	copied, err := os.Stat(autosavePath)
	if err != nil || !copied.Mode().IsRegular() {
		return "", time.Time{}, false
	}
	if saved, err := os.Stat(path); err == nil {
		if copied.ModTime().Before(saved.ModTime()) || sameContents(path, autosavePath) {
			return "", time.Time{}, false
		}
	}
	return autosavePath, copied.ModTime(), true
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
