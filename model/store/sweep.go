package store

import (
	"os"
	"path/filepath"
	"strings"
	"time"
)

// temporaryLetters is how many letters of chance end the name of a temporary file.
const temporaryLetters = 8

// staleAfter is the age from which a temporary file belongs to no saving that
// still runs.
const staleAfter = 10 * time.Minute

func temporaryPrefix(name string) string { return "." + name + ".saving-" }

// sweep deletes the temporary files that a saving of the file at path left behind
// when it was killed. What it cannot delete it leaves; saving does not fail for it.
func sweep(path string) {
	folder, name := filepath.Split(path)
	if folder == "" {
		folder = "."
	}
	entries, err := os.ReadDir(folder)
	if err != nil {
		return
	}
	for _, e := range entries {
		if !isTemporary(e.Name(), name) {
			continue
		}
		info, err := e.Info()
		if err == nil && info.Mode().IsRegular() && time.Since(info.ModTime()) > staleAfter {
			os.Remove(filepath.Join(folder, e.Name()))
		}
	}
}

// isTemporary tells whether a name is that of a temporary file of the file called
// name: its prefix and the letters of [crypto/rand.Text] (RFC 4648 base32).
func isTemporary(entry, name string) bool {
	letters, ok := strings.CutPrefix(entry, temporaryPrefix(name))
	return ok && len(letters) == temporaryLetters && strings.Trim(letters, "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567") == ""
}
