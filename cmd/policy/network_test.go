package policy

import (
	"encoding/json"
	"errors"
	"io"
	"maps"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// reaching are the packages of the standard library by which a program reaches
// other machines or other programs.
var reaching = []string{"net", "net/http", "net/http/cgi", "net/rpc", "net/smtp", "net/textproto", "log/syslog", "os/exec", "plugin", "crypto/tls"}

// reachers is a statement of policy: which packages, of the project and of others,
// may import one of those. The program opens no connection to another machine; what
// these need it for is said. That nothing dials at run time is held by the tests of
// both commands under strace. DO NOT ADD TO THIS DATA TO FIX BUILDS.
var reachers = map[string]string{
	"rinsewright/cmd/rinsewright":         "asks the screen at hand for its size, through a socket of this machine",
	"fyne.io/fyne/v2":                     "loads a resource from an address; nothing of the project asks it to",
	"fyne.io/fyne/v2/app":                 "hands a link to the system's own programs",
	"fyne.io/fyne/v2/internal/repository": "the same for http addresses",
	"github.com/godbus/dbus/v5":           "asks the desktop for its look, through a socket of this machine",
	"github.com/xuri/excelize/v2":         "tells the sort of an embedded picture by net/http.DetectContentType",
}

func TestNobodyReachesOut(t *testing.T) {
	cmd := exec.Command("go", "list", "-deps", "-json=ImportPath,Imports,Standard", "rinsewright/cmd/circuit", "rinsewright/cmd/rinsewright")
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	count, used := 0, map[string]bool{}
	for d := json.NewDecoder(out); ; {
		var p struct {
			listed
			Standard bool
		}
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		count++
		if p.Standard {
			continue
		}
		for _, imp := range p.Imports {
			if slices.Contains(reaching, imp) {
				used[p.ImportPath] = true
				if reachers[p.ImportPath] == "" {
					t.Errorf("%s imports %s, by which it could reach out", p.ImportPath, imp)
				}
			}
			if own, ok := strings.CutPrefix(p.ImportPath, "rinsewright/"); ok && own != "cmd/rinsewright" && slices.Contains(reaching, imp) {
				t.Errorf("%s imports %s: only cmd/rinsewright may, for the screen", own, imp)
			}
		}
	}
	if err := cmd.Wait(); err != nil {
		t.Fatal(err)
	}
	for _, pkg := range slices.Sorted(maps.Keys(reachers)) {
		if !used[pkg] {
			t.Errorf("%s need not be allowed any more", pkg)
		}
	}
	if count < 100 {
		t.Errorf("only %d packages were looked at", count)
	}
}
