package programme_test

import (
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"testing"

	"rinsewright/assets"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/network"
	"rinsewright/model/programme"
	. "rinsewright/model/quantity"
)

func demo(t testing.TB, name string) *network.Plant {
	t.Helper()
	data, err := fs.ReadFile(assets.Files, "demo/"+name+".circuit.json")
	if err != nil {
		t.Fatal(err)
	}
	c, err := circuitfile.Decode(name, data)
	if err != nil {
		t.Fatal(err)
	}
	return network.Build(c, catalogue.Builtin())
}

func counted() func() model.ID {
	n := 0
	return func() model.ID { n++; return model.ID(fmt.Sprintf("s-new-%02d", n)) }
}

// The programme of the demo's vessel, drawn by hand, comes out of the template for
// oat drink: the same steps, ends, positions, pumps, strengths, temperatures, times.
func TestOatDrinkOnDemo(t *testing.T) {
	p := demo(t, "oat-drink-station")
	plan, err := programme.Make(p, programme.Named("oat-drink"), programme.Options{Objects: []model.ID{"p-t-201"}, NewID: counted()})
	if err != nil {
		t.Fatal(err)
	}
	var drawn []*model.Step
	for _, s := range p.Circuit.Steps() {
		if s.Programme == "Vessel T-201" {
			drawn = append(drawn, s)
		}
	}
	if len(plan.Steps) != len(drawn) || len(drawn) != 6 {
		t.Fatalf("%d steps, %d drawn", len(plan.Steps), len(drawn))
	}
	for i, got := range plan.Steps {
		want := drawn[i]
		if got.Order != want.Order || got.Name != want.Name || got.Purpose != want.Purpose || got.Medium != want.Medium || got.Strength != want.Strength ||
			got.Source != want.Source || got.Destination != want.Destination || !slices.Equal(got.Cleans, want.Cleans) {
			t.Errorf("%+v\nwant %+v", got, want)
		}
		// The demo's rinses are as cold as its supply.
		if got.Time != want.Time || want.Strength.Known() && got.Temperature != want.Temperature {
			t.Errorf("%s: %v %v, want %v %v", got.Name, got.Time, got.Temperature, want.Time, want.Temperature)
		}
		if !close(got.Flow, want.Flow) { // 12 m³/h is what the spray ball is rated for
			t.Errorf("%s: flow %v, want %v", got.Name, got.Flow, want.Flow)
		}
		if at := p.LineUp(got).Positions; !maps.Equal(at, p.LineUp(want).Positions) {
			t.Errorf("%s: %v, want %v", got.Name, got.Positions, want.Positions)
		}
		if slices.Sort(got.Running); !slices.Equal(got.Running, want.Running) {
			t.Errorf("%s: pumps %v, want %v", got.Name, got.Running, want.Running)
		}
	}
	if len(plan.Notes) != 1 || !strings.Contains(plan.Notes[0].Text, "nothing holds recovered water; water is taken") {
		t.Errorf("%+v", plan.Notes)
	}
	if plan.Steps[0].Programme != "Oat drink: T-201" || plan.Steps[0].ID != "s-new-01" {
		t.Errorf("%s %s", plan.Steps[0].Programme, plan.Steps[0].ID)
	}
}

func close(a, b Opt[Flow]) bool {
	d := float64(a.Or(0) - b.Or(0))
	return a.Known() == b.Known() && d < 1e-9 && d > -1e-9
}

// On a station with one tank the alkali is made up there, and the tank is emptied and
// filled again, as the demo loop draws it.
func TestPharmaOnDemo(t *testing.T) {
	p := demo(t, "pharma-loop")
	plan, err := programme.Make(p, programme.Named("pharma"), programme.Options{Objects: []model.ID{"p-bv-20"}, NewID: counted()})
	if err != nil {
		t.Fatal(err)
	}
	var drawn []*model.Step
	for _, s := range p.Circuit.Steps() {
		if s.ID != "s-06" { // a second drain step, of the return alone
			drawn = append(drawn, s)
		}
	}
	if len(plan.Steps) != len(drawn) {
		t.Fatalf("%d steps, %d drawn", len(plan.Steps), len(drawn))
	}
	for i, got := range plan.Steps {
		want := drawn[i]
		last := i == len(drawn)-1
		if got.Order != 10*(i+1) || got.Purpose != want.Purpose || got.Medium != want.Medium || got.Source != want.Source ||
			got.Destination != want.Destination && !last || !slices.Equal(got.Cleans, want.Cleans) || got.Strength != want.Strength {
			t.Errorf("%+v\nwant %+v", got, want)
		}
		at := p.LineUp(got).Positions
		if last {
			at["p-v-31"] = "to-a" // drawn once so and once the other way
		}
		if !maps.Equal(at, p.LineUp(want).Positions) {
			t.Errorf("%s: %v, want %v", got.Name, got.Positions, want.Positions)
		}
		if slices.Sort(got.Running); !slices.Equal(got.Running, want.Running) {
			t.Errorf("%s: pumps %v, want %v", got.Name, got.Running, want.Running)
		}
	}
	for _, n := range plan.Notes {
		if !strings.Contains(n.Text, "made up in T-10") {
			t.Errorf("%+v", n)
		}
	}
	if len(plan.Notes) != 1 {
		t.Errorf("%d notes", len(plan.Notes))
	}
}

// Every template on every object of the demo: each step that sends liquid has a route
// past the object, or a note says why not, and the steps go into the circuit.
func TestEveryTemplateOnDemo(t *testing.T) {
	p := demo(t, "oat-drink-station")
	routes, noted := 0, 0
	for _, x := range programme.All() {
		for _, objects := range [][]model.ID{{"p-t-201"}, {"p-t-202"}, {"p-fl-301"}, {"p-t-201", "p-t-202"}} {
			plan, err := programme.Make(p, x, programme.Options{Objects: objects, Optional: true})
			if err != nil {
				t.Fatal(err)
			}
			edit := model.Edit{Label: "programme"}
			says := map[model.ID]bool{}
			for _, n := range plan.Notes {
				says[n.Step] = true
			}
			for i, s := range plan.Steps {
				edit.Changes = append(edit.Changes, model.Adding(s))
				if s.Order != 10*(i+1) {
					t.Errorf("%s %s: order %d", x.Name, s.Name, s.Order)
				}
				if s.Purpose.Or("") == model.Drain {
					if s.Destination == "" && !says[s.ID] {
						t.Errorf("%s %s: no drain, no note", x.Name, s.Name)
					}
					continue
				}
				r := p.Route(p.LineUp(s))
				switch {
				case r.Found:
					routes++
					for _, id := range s.Cleans {
						if !slices.ContainsFunc(p.PartEdges(id), func(e int) bool { return r.InFlow[e] }) {
							t.Errorf("%s %s: %s is not passed", x.Name, s.Name, id)
						}
					}
				case says[s.ID]:
					noted++
				default:
					t.Errorf("%s %s %v: no route and no note", x.Name, s.Name, objects)
				}
			}
			if _, err := p.Circuit.Apply(edit); err != nil {
				t.Error(err)
			}
		}
	}
	// The two vessels cannot be washed in one line, and nothing holds disinfectant.
	if routes < 80 || noted < 20 {
		t.Errorf("%d routes, %d notes", routes, noted)
	}
}

func TestMakeRefuses(t *testing.T) {
	p := demo(t, "pharma-loop")
	for _, o := range []programme.Options{{}, {Objects: []model.ID{"nowhere"}}, {Objects: []model.ID{"p-bv-20"}, Keep: map[model.ID]string{"p-v-10": "ajar"}}} {
		if _, err := programme.Make(p, programme.Named("pharma"), o); err == nil {
			t.Errorf("%+v was made", o)
		}
	}
	if _, err := programme.Make(p, &programme.Template{Name: "x"}, programme.Options{Objects: []model.ID{"p-bv-20"}}); err == nil {
		t.Error("a template without steps was made")
	}
}

// changed gives the plant with another record in the place of its own.
func changed(t *testing.T, p *network.Plant, part model.Record) *network.Plant {
	t.Helper()
	c, err := p.Circuit.Apply(model.Edit{Label: "change", Changes: []model.Change{{Before: p.Circuit.Record(part.RecordID()), After: part}}})
	if err != nil {
		t.Fatal(err)
	}
	return network.Build(c, catalogue.Builtin())
}
