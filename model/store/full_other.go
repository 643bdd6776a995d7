//go:build !windows

package store

import (
	"errors"
	"syscall"
)

func full(err error) bool { return errors.Is(err, syscall.ENOSPC) }

// away tells whether a drive of the network does not answer.
func away(err error) bool {
	for _, gone := range []syscall.Errno{syscall.ESTALE, syscall.ETIMEDOUT, syscall.EHOSTDOWN, syscall.EHOSTUNREACH, syscall.ENETUNREACH, syscall.ENOTCONN, syscall.ECONNRESET} {
		if errors.Is(err, gone) {
			return true
		}
	}
	return false
}
