package store

import (
	"errors"
	"io/fs"
	"os"
	"runtime"
	"syscall"
)

// disk is what saving needs of the file system. Tests put one in its place that
// fails at a chosen step.
type disk interface {
	Stat(path string) (fs.FileInfo, error)
	ReadFile(path string) ([]byte, error)
	// Create makes a file that must not be there yet.
	Create(path string, mode fs.FileMode) (file, error)
	Rename(from, to string) error
	Remove(path string) error
	// SyncFolder makes the names in a folder safe against loss of power.
	SyncFolder(path string) error
}

type file interface {
	Write(b []byte) (int, error)
	Chmod(mode fs.FileMode) error
	Sync() error
	Close() error
}

// system is the computer's own file system.
type system struct{}

func (system) Stat(path string) (fs.FileInfo, error) { return os.Stat(path) }
func (system) ReadFile(path string) ([]byte, error)  { return os.ReadFile(path) }
func (system) Rename(from, to string) error          { return os.Rename(from, to) }
func (system) Remove(path string) error              { return os.Remove(path) }

func (system) Create(path string, mode fs.FileMode) (file, error) {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return nil, err // not f: a nil *os.File in the interface would not be nil
	}
	return f, nil
}

func (system) SyncFolder(path string) error {
	if runtime.GOOS == "windows" {
		return nil // a folder cannot be synced there
	}
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	if err := f.Sync(); err != nil && !errors.Is(err, syscall.EINVAL) && !errors.Is(err, errors.ErrUnsupported) {
		return err // the two others: some network file systems cannot sync a folder
	}
	return nil
}
