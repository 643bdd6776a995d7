package main

import (
	"bytes"
	"image/png"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

func TestMetadataIsThatOfThePackage(t *testing.T) {
	data, err := os.ReadFile("../../FyneApp.toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`ID = "` + metadata.ID + `"`, `Name = "` + metadata.Name + `"`, `Version = "` + metadata.Version + `"`, "fyneDo = true"} {
		if !strings.Contains(string(data), want) {
			t.Errorf("FyneApp.toml lacks %s", want)
		}
	}
}

// The desktop entry of the package is one after the Desktop Entry Specification 1.5
// (freedesktop.org; from memory): group, type, name and command, the keys that a list
// is written in end in a semicolon, a main category is registered. The icon is of the
// size whose folder it is put into.
func TestDesktopEntry(t *testing.T) {
	out, err := exec.Command("sh", "../package", "--entry").Output()
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	if lines[0] != "[Desktop Entry]" {
		t.Errorf("it begins with %q", lines[0])
	}
	keys := map[string]string{}
	for _, l := range lines[1:] {
		k, v, ok := strings.Cut(l, "=")
		if !ok || v == "" || keys[k] != "" {
			t.Errorf("the line %q", l)
		}
		keys[k] = v
	}
	for k, want := range map[string]string{"Type": "Application", "Name": metadata.Name, "Exec": metadata.ID + " %f", "Icon": metadata.ID, "Terminal": "false"} {
		if keys[k] != want {
			t.Errorf("%s is %q, want %q", k, keys[k], want)
		}
	}
	for _, k := range []string{"Categories", "Keywords"} {
		if !strings.HasSuffix(keys[k], ";") || strings.ContainsAny(keys[k], `" []`) {
			t.Errorf("%s is %q", k, keys[k])
		}
	}
	if !slices.Contains(strings.Split(keys["Categories"], ";"), "Science") {
		t.Errorf("no main category in %q", keys["Categories"])
	}
	data, err := os.ReadFile("../../assets/icon/rinsewright.png")
	if err != nil {
		t.Fatal(err)
	}
	icon, err := png.DecodeConfig(bytes.NewReader(data))
	if err != nil || icon.Width != 256 || icon.Height != 256 {
		t.Errorf("the icon is %d by %d: %v", icon.Width, icon.Height, err)
	}
}
