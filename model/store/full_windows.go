package store

import (
	"errors"
	"syscall"
)

// Numbers of the Windows system errors ERROR_HANDLE_DISK_FULL and
// ERROR_DISK_FULL; ERROR_REM_NOT_LIST, ERROR_BAD_NETPATH, ERROR_DEV_NOT_EXIST,
// ERROR_UNEXP_NET_ERR and ERROR_NETNAME_DELETED.
const (
	handleDiskFull = syscall.Errno(39)
	diskFull       = syscall.Errno(112)

	remoteNotListed = syscall.Errno(51)
	badNetworkPath  = syscall.Errno(53)
	noSuchDevice    = syscall.Errno(55)
	networkError    = syscall.Errno(59)
	nameDeleted     = syscall.Errno(64)
)

func full(err error) bool { return errors.Is(err, handleDiskFull) || errors.Is(err, diskFull) }

// away tells whether a drive of the network does not answer.
func away(err error) bool {
	for _, gone := range []syscall.Errno{remoteNotListed, badNetworkPath, noSuchDevice, networkError, nameDeleted} {
		if errors.Is(err, gone) {
			return true
		}
	}
	return false
}
