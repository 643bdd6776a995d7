package store

import (
	"errors"
	"syscall"
)

// Numbers of the Windows system errors ERROR_HANDLE_DISK_FULL and
// ERROR_DISK_FULL.
const (
	handleDiskFull = syscall.Errno(39)
	diskFull       = syscall.Errno(112)
)

func full(err error) bool { return errors.Is(err, handleDiskFull) || errors.Is(err, diskFull) }
