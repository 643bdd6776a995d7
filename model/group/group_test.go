package group

import (
	"bytes"
	"errors"
	"flag"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rinsewright/assets"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

var update = flag.Bool("update", false, "write the ready groups anew in the form that Encode gives")

func TestBuiltinGroupsAreSoundAndCanonical(t *testing.T) {
	want := []string{"station-one-tank", "station-two-tanks", "station-three-tanks", "station-four-tanks",
		"drain-set", "dosing-set", "valve-cluster", "return-pump-set", "spray-vessel", "heater-set"}
	for _, name := range want {
		if Named(name) == nil {
			t.Errorf("there is no group %s", name)
		}
	}
	for _, g := range Builtin() {
		text, err := Encode(g)
		if err != nil {
			t.Fatal(err)
		}
		path := filepath.Join("..", "..", "assets", "groups", g.Name+".json")
		if *update {
			if err := os.WriteFile(path, text, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		onDisk, err := fs.ReadFile(assets.Files, "groups/"+g.Name+".json")
		if err != nil {
			t.Fatal(err)
		}
		if !*update && !bytes.Equal(text, onDisk) {
			t.Errorf("%s is not in the form that Encode gives; run with -update", g.Name)
		}
		if g.Help == "" || len(g.Words) == 0 || len(g.Free) == 0 {
			t.Errorf("%s lacks help, words or free ends", g.Name)
		}
		again, err := Decode(g.Name+".json", text)
		if err != nil {
			t.Fatal(err)
		}
		twice, err := Encode(again)
		if err != nil || !bytes.Equal(twice, text) {
			t.Errorf("%s changes when it is read and written: %v", g.Name, err)
		}
	}
}

// small is a valve whose ends are free, as the text of a file.
const small = `{
  "schema": "rinsewright-group",
  "version": 1,
  "name": "one-valve",
  "title": "One valve",
  "heading": "Own groups",
  "words": [],
  "help": "",
  "free": [{"part": "p1", "port": "a", "title": "in"}, {"part": "p1", "port": "b", "title": "out"}],
  "parts": [
    {"class": "valve", "id": "p1", "kind": "butterfly-valve", "tag": "V-101", "at_mm": [0, 0]}
  ],
  "runs": []
}`

func TestDecodeTellsWhatIsWrong(t *testing.T) {
	for _, x := range []struct{ old, with, want string }{
		{`"rinsewright-group"`, `"rinsewright-circuit"`, "it is not a group"},
		{`"version": 1`, `"version": 7`, "version is 7"},
		{`"heading"`, `"colour"`, "colour"},
		{`"at_mm": [0, 0]`, `"at_mm": [0]`, "bad.json:11"},
		{`"butterfly-valve"`, `"windmill"`, `no kind "windmill"`},
		{`"class": "valve"`, `"class": "pump"`, "is of class valve, not pump"},
		{`{"part": "p1", "port": "a", "title": "in"}, `, "", "p1:a must be joined"},
		{`"port": "b"`, `"port": "c"`, `no port "c"`},
		{`"title": "out"`, `"title": ""`, "has no title"},
		{`"port": "b"`, `"port": "a"`, "stands twice"},
		{`"one-valve"`, `"../one"`, "small letters"},
		{`"runs": []`, `"runs": [{"id": "r1", "from": {"part": "p1", "port": "a"}, "to": {"part": "p9", "port": "a"}}]`, "no part p9"},
		{`"runs": []`, `"runs": [{"id": "r1", "from": {"part": "p1", "port": "a"}, "to": {"at_mm": [9, 9]}}]`, "p1:a is joined"},
		{`"runs": []
}`, `"runs": []
} {}`, "follows the end"},
	} {
		text := strings.Replace(small, x.old, x.with, 1)
		if text == small {
			t.Fatalf("%q is not in the text", x.old)
		}
		g, err := Decode("bad.json", []byte(text))
		if err == nil {
			err = g.Check(catalogue.Builtin())
		}
		if err == nil || !strings.Contains(err.Error(), x.want) {
			t.Errorf("with %s: %v, want %q", x.with, err, x.want)
		}
	}
}

func TestFolderOfOwnGroups(t *testing.T) {
	cat := catalogue.Builtin()
	dir := filepath.Join(t.TempDir(), "groups")
	if got, wrong := ReadFolder(dir, cat); len(got)+len(wrong) != 0 {
		t.Errorf("a folder that is not there gives %d groups and %v", len(got), wrong)
	}
	whole := Named("drain-set").Circuit
	g, err := Of("  Bottom   drain ", whole.Parts(), whole.Runs(), cat)
	if err != nil {
		t.Fatal(err)
	}
	if g.Name != "bottom-drain" || g.Title != "Bottom drain" || len(g.Free) != 2 {
		t.Errorf("%q %q with %d free ends", g.Name, g.Title, len(g.Free))
	}
	if err := Save(dir, g, false); err != nil {
		t.Fatal(err)
	}
	if err := Save(dir, g, false); !errors.Is(err, ErrTaken) {
		t.Errorf("saved twice: %v", err)
	}
	if err := Save(dir, g, true); err != nil {
		t.Error(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "broken.json"), []byte("{"), 0o600); err != nil {
		t.Fatal(err)
	}
	got, wrong := ReadFolder(dir, cat)
	if len(got) != 1 || !got[0].Own || got[0].Title != "Bottom drain" {
		t.Errorf("read %v", got)
	}
	if len(wrong) != 1 || !strings.Contains(wrong[0].Error(), "broken.json") {
		t.Errorf("problems %v", wrong)
	}
	if err := Remove(dir, "../broken"); err == nil {
		t.Error("a name that leads out of the folder was taken")
	}
	if err := Remove(dir, g.Name); err != nil {
		t.Error(err)
	}
	if got, _ := ReadFolder(dir, cat); len(got) != 0 {
		t.Errorf("after removing: %v", got)
	}
}

func TestOfLeavesOutRunsThatLeadAway(t *testing.T) {
	whole := Named("drain-set").Circuit
	valve := whole.Part("p-v-121")
	g, err := Of("Valve", []model.Part{valve}, whole.Runs(), catalogue.Builtin())
	if err != nil {
		t.Fatal(err)
	}
	if len(g.Circuit.Runs()) != 0 || len(g.Free) != 2 {
		t.Errorf("%d runs, free ends %v", len(g.Circuit.Runs()), g.Free)
	}
	if _, err := Of("Nothing", nil, nil, catalogue.Builtin()); err == nil {
		t.Error("a group without parts was made")
	}
	if _, err := Of(" ", []model.Part{valve}, nil, catalogue.Builtin()); err == nil {
		t.Error("a group without a title was made")
	}
}

func TestWithReplaces(t *testing.T) {
	g := Named("drain-set")
	v := model.Clone(g.Circuit.Part("p-v-121").(*model.Valve))
	v.Kv = quantity.Some(quantity.ValveFlow(1))
	next, err := g.With(v)
	if err != nil {
		t.Fatal(err)
	}
	if next.Circuit.Part("p-v-121") != model.Part(v) || g.Circuit.Part("p-v-121") == model.Part(v) {
		t.Error("the record was not replaced, or in the group itself")
	}
	v = model.Clone(v)
	v.ID = "p-none"
	if _, err := g.With(v); err == nil {
		t.Error("a record that the group does not have was replaced")
	}
}

func TestNameOf(t *testing.T) {
	for title, want := range map[string]string{"Bottom drain": "bottom-drain", "  --  ": "group", "Ø50 (A)": "50-a", "Größe 2": "gr-e-2", "": "group"} {
		if got := NameOf(title); got != want {
			t.Errorf("%q gives %q, want %q", title, got, want)
		}
	}
}
