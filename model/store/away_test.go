//go:build !windows

package store

import (
	"io/fs"
	"strings"
	"syscall"
	"testing"
)

// What a mounted drive of the network gives when its server is gone: errno(3).
func TestADriveThatIsAway(t *testing.T) {
	for _, e := range []error{syscall.ESTALE, syscall.ETIMEDOUT, syscall.EHOSTDOWN} {
		err := explained("plant/"+name, &fs.PathError{Op: "open", Path: "x", Err: e})
		if !strings.Contains(err.Error(), "the drive in the network does not answer") {
			t.Errorf("%v is told as %q", e, err)
		}
	}
}
