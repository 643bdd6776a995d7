package store

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"syscall"
)

// Error says in words why a file could not be saved. It wraps the error of the
// system.
type Error struct {
	Path    string
	Reason  string // "the disk is full"
	Written bool   // the new version is at Path all the same, see Reason
	Err     error
}

func (e *Error) Error() string {
	name := filepath.Base(e.Path)
	if e.Written {
		return name + " is saved, but " + e.Reason + " (" + e.Err.Error() + ")"
	}
	return name + " was not saved: " + e.Reason + " (" + e.Err.Error() + ")"
}

func (e *Error) Unwrap() error { return e.Err }

// ErrChanged says that the file is not as it was when it was read.
var ErrChanged = errors.New("another program has changed the file since it was opened")

// ErrGone is an [ErrChanged]: the file is no longer where it was read.
var ErrGone = fmt.Errorf("%w: it is no longer there", ErrChanged)

var (
	errNotAFile = errors.New("not a regular file")
	errReadOnly = errors.New("no permission to write")
)

func unsure(path string, err error) error {
	return &Error{Path: path, Reason: "it may be lost if the power fails now", Written: true, Err: err}
}

func explained(path string, err error) error {
	return &Error{Path: path, Reason: reason(filepath.Dir(path), err), Err: err}
}

func reason(folder string, err error) string {
	switch {
	case errors.Is(err, errNotAFile):
		return "its name belongs to a folder or a device"
	case errors.Is(err, errReadOnly):
		return "the file is marked read-only"
	case full(err):
		return "the disk is full"
	case errors.Is(err, syscall.EDQUOT):
		return "your share of the disk is full"
	case errors.Is(err, syscall.EFBIG):
		return "it is larger than the disk or your limits allow"
	case away(err):
		return "the drive in the network does not answer"
	case errors.Is(err, syscall.EROFS):
		return "the folder " + folder + " can only be read"
	case errors.Is(err, fs.ErrPermission):
		return "you have no permission to write in the folder " + folder
	case errors.Is(err, fs.ErrNotExist), errors.Is(err, syscall.ENOTDIR):
		return "there is no folder " + folder
	case errors.Is(err, syscall.ENAMETOOLONG):
		return "its name is too long for this disk"
	case errors.Is(err, syscall.EIO):
		return "the disk reports a fault"
	}
	return "the system refused"
}
