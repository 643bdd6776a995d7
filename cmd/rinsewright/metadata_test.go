package main

import (
	"os"
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
