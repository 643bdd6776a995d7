package lineup_test

import (
	"io/fs"
	"maps"
	"testing"

	"rinsewright/assets"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/lineup"
	"rinsewright/model/network"
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

// The line-ups of the demo stations, drawn by hand, are found again from source,
// destination and what is washed. Valves that hold only steam are left out: they
// heat, they do not lead.
func TestDemoStepsAreFoundAgain(t *testing.T) {
	for _, name := range []string{"oat-drink-station", "pharma-loop"} {
		p := demo(t, name)
		steps := 0
		for _, step := range p.Circuit.Steps() {
			if step.Source == "" {
				continue // drains have no source
			}
			steps++
			ask := lineup.Ask{Source: step.Source, Destination: step.Destination, Through: step.Cleans, Medium: step.Medium.Or("")}
			for _, other := range p.Circuit.Steps() {
				if other.Programme == step.Programme && len(step.Cleans) == 0 {
					ask.May = other.Cleans // a tank is emptied past an idle pump that leads to what is being washed
				}
			}
			got, err := lineup.Find(p, ask)
			if err != nil {
				t.Fatal(err)
			}
			best := got[0]
			if !best.Found || !best.Proven {
				t.Errorf("%s %s %s: %s", name, step.Programme, step.Name, best.Missing)
				continue
			}
			want := p.LineUp(step).Positions
			for _, id := range sorted(want) {
				if best.Positions[id] != want[id] && !heats(p, id) {
					t.Errorf("%s %s %s: %s stands %s, drawn %s", name, step.Programme, step.Name, id, best.Positions[id], want[id])
				}
			}
			running := map[model.ID]bool{}
			for _, id := range step.Running {
				running[id] = true
			}
			pumps := map[model.ID]bool{}
			for _, id := range best.Pumps {
				pumps[id] = true
			}
			if !maps.Equal(running, pumps) {
				t.Errorf("%s %s %s: pumps %v, drawn %v", name, step.Programme, step.Name, best.Pumps, step.Running)
			}
		}
		if steps < 7 {
			t.Errorf("%s: only %d steps", name, steps)
		}
	}
}

// heats says whether a valve stands in a steam line.
func heats(p *network.Plant, id model.ID) bool {
	for _, r := range p.Circuit.RunsAt(id) {
		if r.Carries.Or("") == model.Steam {
			return true
		}
	}
	return false
}
