// Package policy holds what the tree as a whole must keep to.
package policy

import (
	"encoding/json"
	"errors"
	"io"
	"os/exec"
	"strings"
	"testing"
)

// layers is a statement of policy: what each part of the tree may import of the
// project. The longest prefix that fits a package counts. DO NOT CHANGE THIS
// DATA TO FIX BUILDS.
var layers = []struct {
	pkg string
	may []string
}{
	{"assets", nil},
	{"model", []string{"assets", "model"}},
	{"model/heat", []string{"model"}},
	{"model/service", []string{"model"}},
	{"checks", []string{"assets", "model", "checks"}},
	{"checks/lists", []string{"model", "checks"}},
	{"canvas", []string{"assets", "model", "checks", "canvas"}},
	{"canvas/draw", []string{"assets", "model", "canvas/draw", "canvas/route", "canvas/place"}},
	{"canvas/route", []string{"assets", "model", "canvas/route", "canvas/place"}},
	{"canvas/place", []string{"assets", "model", "canvas/place"}},
	{"canvas/plot", []string{"model", "canvas/draw", "canvas/plot"}},
	{"canvas/profile", []string{"model", "canvas/draw", "canvas/place", "canvas/plot"}},
	{"canvas/scene", []string{"model", "canvas/draw"}},
	{"canvas/scene/rulecase", []string{"assets", "model", "checks", "canvas/draw", "canvas/scene"}},
	{"canvas/sheet", []string{"model", "canvas/draw", "canvas/place"}},
	{"canvas/edit", []string{"assets", "model", "canvas/edit", "canvas/place", "canvas/route"}},
	{"canvas/report", []string{"model", "checks", "canvas/draw", "canvas/edit", "canvas/place", "canvas/scene", "canvas/report"}},
	{"cmd/policy", nil},
	{"cmd/circuit", []string{"assets", "model", "checks", "canvas/draw", "canvas/scene", "canvas/sheet", "cmd/circuit"}},
	{"cmd/circuit/audit", []string{"model", "checks", "canvas/report"}},
	{"cmd", []string{"assets", "model", "checks", "canvas", "cmd"}},
}

// outside says who may import what from outside the standard library.
var outside = []struct {
	module string
	users  []string
}{
	{"fyne.io/fyne/v2/app", []string{"cmd/rinsewright"}}, // pulls cgo and the window driver
	{"fyne.io/", []string{"canvas/window", "cmd/rinsewright"}},
	{"github.com/fogleman/gg", []string{"canvas/draw"}},
	{"github.com/golang/freetype", []string{"canvas/draw"}},  // outlines of the embedded lettering
	{"github.com/xuri/excelize", []string{"checks/listing"}}, // workbooks
	{"golang.org/x/image", []string{"canvas/draw", "canvas/window"}},
}

type listed struct {
	ImportPath string
	Imports    []string
}

func TestImportsGoOneWay(t *testing.T) {
	packages := list(t)
	if len(packages) < 10 {
		t.Fatalf("only %d packages found", len(packages))
	}
	for _, p := range packages {
		pkg := strings.TrimPrefix(p.ImportPath, "rinsewright/")
		layer := -1
		for i, l := range layers {
			if within(pkg, l.pkg) && (layer < 0 || len(l.pkg) > len(layers[layer].pkg)) {
				layer = i
			}
		}
		if layer < 0 {
			t.Errorf("%s is in no layer", pkg)
			continue
		}
		for _, imp := range p.Imports {
			if own, ok := strings.CutPrefix(imp, "rinsewright/"); ok {
				if !allowed(own, layers[layer].may) {
					t.Errorf("%s imports %s, which its layer %s must not", pkg, own, layers[layer].pkg)
				}
			} else if strings.Contains(strings.Split(imp, "/")[0], ".") && !outsideAllowed(pkg, imp) {
				t.Errorf("%s imports %s, which it must not", pkg, imp)
			}
		}
	}
}

func outsideAllowed(pkg, imp string) bool {
	for _, o := range outside {
		if strings.HasPrefix(imp, o.module) {
			return allowed(pkg, o.users)
		}
	}
	return false
}

func within(pkg, folder string) bool { return pkg == folder || strings.HasPrefix(pkg, folder+"/") }

func allowed(pkg string, folders []string) bool {
	for _, f := range folders {
		if within(pkg, f) {
			return true
		}
	}
	return false
}

func list(t *testing.T) []listed {
	t.Helper()
	cmd := exec.Command("go", "list", "-json=ImportPath,Imports", "rinsewright/...")
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	var packages []listed
	for d := json.NewDecoder(out); ; {
		var p listed
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		packages = append(packages, p)
	}
	if err := cmd.Wait(); err != nil {
		t.Fatal(err)
	}
	return packages
}
