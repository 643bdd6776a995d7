package sheet

import (
	"fmt"
	"strings"
	"testing"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/scene"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/isolation"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

// A table of many rows goes on over as many sheets as it needs: no row is lost, none
// stands twice, nothing covers anything or leaves the paper, and each sheet has the
// headings.
func TestSectionsGoOn(t *testing.T) {
	c := demo(t, "oat-drink-station")
	s := Section{Heading: "Order of work", Note: strings.Repeat("A caution that is longer than a line. ", 6), Columns: []string{"No.", "What to do", "Done by"}, Shares: []float64{0.1, 0.6, 0.3}, Signed: 1}
	for i := range 90 {
		s.Rows = append(s.Rows, []string{fmt.Sprintf("n%d", i), strings.Repeat("words that need room ", i%9), ""})
	}
	for _, o := range []Orientation{Landscape, Portrait} {
		for _, name := range []string{"A4", "A3", "ANSI A"} {
			b := set(t, c, Options{Format: format(t, name), Orientation: o, Sections: []Section{s, s}, SectionsTitle: "tables", Caution: isolation.Caution})
			count := map[string]int{}
			for i, p := range b.Pages {
				checkPage(t, fmt.Sprintf("%s, sheet %d", name, i+1), p)
				for _, text := range texts(p) {
					count[text]++
				}
			}
			for i := range 90 {
				if n := count[fmt.Sprintf("n%d", i)]; n != 2 {
					t.Errorf("%s: row %d stands %d times in two tables", name, i, n)
				}
			}
			if count["Order of work"] != 2 || count["Order of work (continued)"] == 0 || count["What to do"] != 2+count["Order of work (continued)"] {
				t.Errorf("%s: headings %d, continued %d, columns %d", name, count["Order of work"], count["Order of work (continued)"], count["What to do"])
			}
		}
	}
}

// The sheets of a plan name every point and every action, and keep to the paper.
func TestPlanSheets(t *testing.T) {
	c := demo(t, "oat-drink-station")
	plant := network.Build(c, catalogue.Builtin())
	for _, tag := range []string{"P-201", "T-201"} {
		work := []model.ID{c.Tagged(tag)[0].RecordID()}
		plans, err := isolation.Find(plant, plant.Heights(), isolation.Ask{Work: work})
		if err != nil || !plans[0].Found {
			t.Fatal(err)
		}
		pl := &plans[0]
		opt, signs := scene.Isolation(plant, pl, work)
		picture := draw.Circuit(c, catalogue.Builtin(), opt)
		o := Options{Format: format(t, "A3"), Sections: PlanSections(plant, pl, signs, quantity.US), Caution: isolation.Caution, Keys: scene.IsolationKey(pl)}
		for _, s := range scene.SignWords() {
			o.Signs = append(o.Signs, SignEntry{s.Sign, s.Words})
		}
		b, err := SetSigned(c, catalogue.Builtin(), picture, signs, o)
		if err != nil {
			t.Fatal(err)
		}
		all := ""
		for i, p := range b.Pages {
			checkPage(t, fmt.Sprintf("%s, sheet %d", tag, i+1), p)
			all += " " + strings.Join(texts(p), " ")
		}
		for _, pt := range pl.Points(plant) {
			if !strings.Contains(all, pt.Name()) || !strings.Contains(all, isolation.PlaceName(plant, pt.Part)) {
				t.Errorf("%s: %s is not on the sheets", tag, pt.Name())
			}
		}
		for i := range len(pl.Order) + len(pl.Back) {
			if !strings.Contains(all, fmt.Sprintf(" %d ", i+1)) {
				t.Errorf("%s: action %d is not on the sheets", tag, i+1)
			}
		}
		if !strings.Contains(all, "prove zero") || !strings.Contains(all, "shut off") {
			t.Errorf("%s: the legend does not tell signs and lines", tag)
		}
	}
}
