//go:build !windows

package store

import (
	"errors"
	"syscall"
)

func full(err error) bool { return errors.Is(err, syscall.ENOSPC) }
