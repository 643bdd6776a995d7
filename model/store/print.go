package store

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
)

// Print is the fingerprint of what a file holds, empty for no file. It is taken
// from the contents alone: a copy or a touched date is no change.
type Print string

// PrintOf gives the fingerprint of contents.
func PrintOf(data []byte) Print {
	sum := sha256.Sum256(data)
	return Print(hex.EncodeToString(sum[:]))
}

// Fingerprint gives the fingerprint of the file at path. A file that is not
// there is no error: its fingerprint is empty.
func Fingerprint(path string) (Print, error) {
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return "", nil
	}
	if err != nil {
		return "", fmt.Errorf("the file cannot be compared: %w", err)
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return "", fmt.Errorf("the file cannot be compared: %w", err)
	}
	return Print(hex.EncodeToString(h.Sum(nil))), nil
}

// SaveIfUnchanged is [Save] if the file still has the fingerprint seen, that is
// if nobody has changed, made or deleted it; otherwise the error wraps
// [ErrChanged], of a file that is no longer there [ErrGone], and nothing is
// written. It gives the new fingerprint. A program that writes between the look
// and the renaming is not noticed; its version is then the backup or lost, so this
// guards against people, not against races.
func SaveIfUnchanged(path string, data []byte, seen Print) (Print, error) {
	now, err := Fingerprint(path)
	if err != nil {
		return seen, err
	}
	if now == "" && seen != "" {
		return seen, &Error{Path: path, Reason: "the file has been moved or deleted", Err: ErrGone}
	}
	if now != seen {
		return seen, &Error{Path: path, Reason: "it would overwrite the work of others", Err: ErrChanged}
	}
	err = Save(path, data)
	var e *Error
	if err != nil && !(errors.As(err, &e) && e.Written) {
		return seen, err
	}
	return PrintOf(data), err
}
