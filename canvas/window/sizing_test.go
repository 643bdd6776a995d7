package window

import (
	"bytes"
	"encoding/csv"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"

	"rinsewright/model"
	"rinsewright/model/quantity"
	"rinsewright/model/sizing"
)

// sized gives what the sizing panel tells of a line.
func (b *bench) sized(key, of string) string {
	b.t.Helper()
	if b.sizing.sheet == nil {
		return b.sizing.why
	}
	l, ok := b.sizing.sheet.Line(key, of)
	if !ok {
		b.t.Fatalf("there is no line %s of %q", key, of)
	}
	return l.Told(b.system)
}

func TestSizingTellsWhatToDoWhenEmpty(t *testing.T) {
	b := newBench(t)
	b.do(b.actions.sizing.show)
	if b.tabs.at != b.sizing.tab || !strings.Contains(b.sizing.empty.Text, "Take the vessels and machines from the drawing") {
		t.Errorf("tab %d, %q", b.tabs.at, b.sizing.empty.Text)
	}
	for _, a := range []*action{b.actions.sizing.place, b.actions.sizing.csv, b.actions.sizing.xlsx} {
		if a.can() {
			t.Errorf("%s can be done without anything to size", a.label)
		}
	}
}

// π × 2 m × 31 L/min·m = 11.7 m³/h, by arithmetic.
func TestSizingOfATypedVessel(t *testing.T) {
	b := newBench(t)
	b.do(b.actions.sizing.show)
	b.sizing.add(sizing.VesselSort)
	if got := b.sized("station-flow", ""); !strings.Contains(got, "not known: diameter of Vessel 1") {
		t.Errorf("of a vessel of which nothing is known: %s", got)
	}
	o := &b.sizing.project.Objects[0]
	for label, text := range map[string]string{"Inside diameter": "2", "Spray device": "static", "Bottom": "cone", "Supply line": "20 m", "Return line": "18", "Rise": "4", "Washes a day": "2"} {
		found := false
		for _, f := range sizingFields(o, b.sizing.project, b.cat) {
			if f.label == label {
				found = true
				if err := f.read(o, text, b.system); err != nil {
					t.Errorf("%s: %v", label, err)
				}
			}
		}
		if !found {
			t.Errorf("there is no field %s", label)
		}
	}
	b.sizing.changed()
	if got := b.sized("station-flow", ""); got != "11.7 m³/h" {
		t.Error(got)
	}
	if !strings.Contains(b.sizing.sum.Text, "11.7 m³/h in EN 10357-A DN50") {
		t.Error(b.sizing.sum.Text)
	}
	b.setUnits(quantity.US)
	if got := b.sized("station-flow", ""); got != "51.5 gpm" || !strings.Contains(b.sizing.sum.Text, "51.5 gpm") {
		t.Errorf("in US units %s, %s", got, b.sizing.sum.Text)
	}
	b.setUnits(quantity.Metric)

	b.do(b.actions.sizing.place)
	var pump *model.Pump
	for _, p := range b.circuit().Parts() {
		if x, ok := p.(*model.Pump); ok && x.Kind == "centrifugal-pump" {
			pump = x
		}
	}
	if pump == nil || pump.RatedFlow != b.sizing.sheet.Proposal.PumpFlow {
		t.Fatalf("the station's pump is %v", pump)
	}
	if got := b.doc.UndoLabel(); got != "Undo place three-tank station" {
		t.Error(got)
	}
	b.do(b.actions.undo)
	if len(b.circuit().Parts()) != 0 {
		t.Error("placing the station is not one step")
	}

	path := filepath.Join(t.TempDir(), "sheet.csv")
	b.do(b.actions.sizing.csv)
	b.chooser.path.SetText(path)
	b.chooser.take()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil || len(rows) < 60 {
		t.Errorf("%d rows, %v", len(rows), err)
	}
}

func TestSizingTakesTheDrawingAndKeepsWhatWasTyped(t *testing.T) {
	b := newBench(t)
	b.demo("oat-drink-station", "Every day", "Alkali wash T-201")
	b.do(b.actions.sizing.show)
	if n := len(b.sizing.project.Objects); n != 3 {
		t.Fatalf("%d objects were taken from the drawing; tab %d of %d; %q", n, b.tabs.at, b.sizing.tab, b.dialogText())
	}
	if got := b.sized("station-flow", ""); got != "12 m³/h" {
		t.Error(got)
	}
	b.sizing.project.Objects[0].PerDay = quantity.Some(3.0)
	b.sizing.add(sizing.LineSort)
	b.do(b.actions.sizing.take)
	if n := len(b.sizing.project.Objects); n != 4 || b.sizing.project.Objects[0].PerDay != quantity.Some(3.0) {
		t.Errorf("%d objects, the first washed %v a day", n, b.sizing.project.Objects[0].PerDay)
	}
	b.do(b.actions.sizing.remove)
	if n := len(b.sizing.project.Objects); n != 3 {
		t.Errorf("%d objects after one was removed", n)
	}
}

func TestSizingAssumptionIsTypedAndRefused(t *testing.T) {
	b := newBench(t)
	b.do(b.actions.sizing.show)
	b.sizing.add(sizing.MachineSort)
	o := &b.sizing.project.Objects[0]
	o.Needs = quantity.Some(quantity.CubicMetresPerHour(10))
	b.sizing.changed()
	before := b.sized("pump-flow", "")
	var entries []*fieldEntry
	for _, x := range test.LaidOutObjects(b.sizing.figures) {
		if e, ok := x.(*fieldEntry); ok {
			entries = append(entries, e)
		}
	}
	if len(entries) < len(b.sizing.project.Assumptions) {
		t.Fatalf("%d entries for %d assumptions", len(entries), len(b.sizing.project.Assumptions))
	}
	for i, a := range b.sizing.project.Assumptions {
		if a.Key == "supply-margin" {
			entries[i].SetText("100")
			entries[i].commit()
		}
	}
	if after := b.sized("pump-flow", ""); before != "11.5 m³/h" || after != "20 m³/h" {
		t.Errorf("before %s, after %s", before, after)
	}
	entries[0].SetText("much")
	entries[0].commit()
	if entries[0].Text != "much" || b.sizing.project.Assumptions[0].Changed() {
		t.Errorf("%q was taken", entries[0].Text)
	}
}
