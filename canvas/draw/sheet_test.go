package draw_test

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/place"
	"rinsewright/canvas/scene"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

// ISO 7200 asks of a title block, among others, owner, title, date of issue,
// creator and revision (from memory); the rest is what the reader of a line-up needs.
func TestCaption(t *testing.T) {
	cat := catalogue.Builtin()
	c := demo(t, "oat-drink-station")
	var step *model.Step
	for _, s := range c.Steps() {
		if s.Programme == "Vessel T-201" && s.Name == "Alkali wash" {
			step = s
		}
	}
	p := draw.Circuit(c, cat, scene.Of(network.Build(c, cat), step))
	drawing := p.Bounds
	draw.Caption(p, c, step, quantity.Metric)
	all := sheetText(p)
	for _, want := range []string{
		"Oat drink: three-tank cleaning station", "Tarnholt oat-drink plant (invented)", "Revision B", "2026-11-20", "Author R. Example",
		"Limits profile food", "Vessel T-201 / Alkali wash", "alkali wash", "alkali 1 %", "75 °C", "12 m³/h",
		"ALK alkali", "ST steam", "COND condensate", "flowing", "standing", "dry", draw.Caution,
	} {
		if !strings.Contains(all, want) {
			t.Errorf("the sheet does not say %q:\n%s", want, all)
		}
	}
	if strings.Contains(all, "DIS ") {
		t.Error("the legend tells a medium that the drawing does not show")
	}
	for i, it := range p.Items {
		if !p.Bounds.Holds(it.Bounds) {
			t.Errorf("item %d lies outside the sheet", i)
		}
		if it.Layer == draw.LayerSheet && meet(it.Bounds, drawing) {
			t.Errorf("item %d of the sheet lies on the drawing", i)
		}
	}
	us := draw.Circuit(c, cat, draw.Options{})
	draw.Caption(us, c, step, quantity.US)
	if s := sheetText(us); !strings.Contains(s, "167 °F") || !strings.Contains(s, "gal/min") && !strings.Contains(s, "gpm") { // 75 °C = 167 °F
		t.Errorf("in US units:\n%s", s)
	}
	rest := draw.Circuit(c, cat, draw.Options{})
	draw.Caption(rest, c, nil, quantity.Metric)
	if s := sheetText(rest); !strings.Contains(s, "At rest") || strings.Contains(s, "standing") {
		t.Errorf("at rest:\n%s", s)
	}
}

func sheetText(p *draw.Picture) string {
	var out []string
	for _, it := range p.Items {
		if f, ok := it.Figure.(draw.Text); ok && it.Layer == draw.LayerSheet {
			out = append(out, f.String)
		}
	}
	return strings.Join(out, "\n")
}

func TestCaptionOfAnEmptyCircuit(t *testing.T) {
	var p draw.Picture
	draw.Caption(&p, model.New(""), nil, quantity.Metric)
	if !strings.Contains(sheetText(&p), "without a name") || p.Bounds.Width() < 100 {
		t.Errorf("%v:\n%s", p.Bounds, sheetText(&p))
	}
}

func TestFindings(t *testing.T) {
	c, cat := sample(t), testKinds(t)
	p := draw.Circuit(c, cat, draw.Options{})
	marks := []draw.Mark{
		{Place: model.PlaceOfPort("p2", "b"), Severity: draw.Stop, Number: 1, Text: "first"},
		{Place: model.PlaceOf("p2"), Severity: draw.Fix, Number: 2, Text: "second"},
		{Place: model.PlaceOf("r3"), Severity: draw.Note, Number: 3, Text: "third"},
		{Place: model.PlaceOf("p2"), Severity: draw.Fix, Number: 4, Text: "fourth"},
		{Place: model.PlaceOf("no-such"), Severity: draw.Fix, Number: 5, Text: "fifth"},
		{Place: model.PlaceOf("p7"), Severity: draw.Note, Number: 6, Text: "of an unknown kind"},
	}
	draw.Findings(p, marks)
	if got, want := texts(p, draw.LayerFinding), map[string]int{"1": 1, "2": 1, "3": 1, "4": 1, "6": 1}; !reflect.DeepEqual(got, want) {
		t.Errorf("marks %v, want %v", got, want)
	}
	// Shape, told by its corners: ISO 3864 and the traffic signs tell gravity by
	// shape too; here an octagon, a triangle and a circle (of four cubics).
	corners, leads := map[model.ID][]int{}, 0
	var boxes []place.Rect
	for _, it := range p.Items {
		path, ok := it.Figure.(draw.Path)
		if !ok || it.Layer != draw.LayerFinding {
			continue
		}
		if path.Style.Fill == draw.None { // the line that leads to the place
			from, to := path.Segments[0].P[0], path.Segments[1].P[0]
			if leads++; leads == 1 && from != [2]float64{65, 60} {
				t.Errorf("the first mark is led from %v to %v, want from the port at 65, 60", from, to)
			}
			continue
		}
		corners[it.Record] = append(corners[it.Record], len(path.Segments)-1)
		for _, b := range boxes {
			if meet(b.Grown(-1.5), it.Bounds.Grown(-1.5)) {
				t.Errorf("two marks lie on each other: %v and %v", b, it.Bounds)
			}
		}
		boxes = append(boxes, it.Bounds)
	}
	if got, want := fmt.Sprint(corners["p2"], corners["r3"]), "[8 3 3] [5]"; got != want {
		t.Errorf("corners %s, want %s", got, want)
	}
	draw.FindingList(p, "Findings", marks)
	all := sheetText(p)
	for _, want := range []string{"Findings", "first", "fifth", "6"} {
		if !strings.Contains(all, want) {
			t.Errorf("the list does not say %q", want)
		}
	}
}

func TestFindingListTellsWhatHasNoRoom(t *testing.T) {
	var p draw.Picture
	var marks []draw.Mark
	for i := range 200 {
		marks = append(marks, draw.Mark{Number: i + 1, Severity: draw.Note, Text: strings.Repeat("a very long finding ", 20)})
	}
	draw.FindingList(&p, "Findings", marks)
	listed := 0
	for _, it := range p.Items {
		f, ok := it.Figure.(draw.Text)
		if !ok {
			continue
		}
		if strings.HasPrefix(f.String, "a very") {
			listed++
			if !strings.HasSuffix(f.String, "…") || draw.TextWidth(f.String, f.Height) > 90 {
				t.Errorf("line %q is too long", f.String)
			}
		}
	}
	if want := fmt.Sprintf("and %d more", 200-listed); listed == 0 || listed == 200 || !strings.Contains(sheetText(&p), want) {
		t.Errorf("%d lines and no word %q", listed, want)
	}
}
