package lists_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"rinsewright/assets"
	"rinsewright/checks"
	"rinsewright/checks/lists"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/quantity"
)

func demo(t testing.TB, name string) *checks.Snapshot {
	t.Helper()
	b, err := assets.Files.ReadFile("demo/" + name + ".circuit.json")
	if err != nil {
		t.Fatal(err)
	}
	c, err := circuitfile.Decode(name, b)
	if err != nil {
		t.Fatal(err)
	}
	return &checks.Snapshot{Circuit: c, Catalogue: catalogue.Builtin()}
}

var names = []string{"oat-drink-station", "oat-drink-station-faults", "pharma-loop", "pharma-loop-draft"}

func column(t *testing.T, l *lists.Table, heading string) int {
	t.Helper()
	i := slices.IndexFunc(l.Columns, func(c lists.Column) bool { return c.Heading == heading })
	if i < 0 {
		t.Fatalf("%s: no column %q", l.Name, heading)
	}
	return i
}

// find gives the row of a tag.
func find(t *testing.T, l *lists.Table, tag string) []lists.Cell {
	t.Helper()
	for _, r := range l.Rows {
		if r[0].Text == tag {
			return r
		}
	}
	t.Fatalf("%s: no row %q", l.Name, tag)
	return nil
}

func TestShape(t *testing.T) {
	for _, name := range names {
		s := demo(t, name)
		for _, list := range lists.Names() {
			for _, system := range []quantity.System{quantity.Metric, quantity.US} {
				l := lists.Make(list, s, system)
				if l.Name != list || l.Title != lists.Title(list) || len(l.Rows) == 0 {
					t.Fatalf("%s of %s: %d rows, titled %q", list, name, len(l.Rows), l.Title)
				}
				for _, r := range l.Rows {
					if len(r) != len(l.Columns) {
						t.Fatalf("%s: a row of %d cells for %d columns", list, len(r), len(l.Columns))
					}
				}
			}
		}
	}
	if lists.Make("nothing", demo(t, names[0]), quantity.Metric) != nil {
		t.Error("a list that there is not")
	}
}

// Each part stands once, and the tube of the list is the tube of the circuit.
func TestPartsCountAndTube(t *testing.T) {
	for _, name := range names {
		s := demo(t, name)
		l := lists.Make("parts", s, quantity.Metric)
		kind, number, length := column(t, l, "Kind"), column(t, l, "Number"), column(t, l, "Length")
		tagged, tube := map[string]int{}, 0.0
		for _, r := range l.Rows {
			switch r[kind].Text {
			case "Tube, runs":
				v, _ := r[length].Number.Get()
				tube += v
			case "Bend 90°":
			default:
				if n, _ := r[number].Number.Get(); n != 1 {
					t.Errorf("%s: number %v of %s", name, n, r[0].Text)
				}
				tagged[r[0].Text]++
			}
		}
		want := map[string]int{}
		for _, p := range s.Circuit.Parts() {
			if p.Class() != model.ClassFrame {
				want[p.Meta().Tag]++
			}
		}
		for tag, n := range want {
			if tagged[tag] != n {
				t.Errorf("%s: %d times %q, want %d", name, tagged[tag], tag, n)
			}
		}
		sum := 0.0
		for _, r := range s.Circuit.Runs() {
			if v, ok := r.Length().Get(); ok {
				sum += float64(v)
			}
		}
		if math.Abs(tube-sum) > 1e-9*sum {
			t.Errorf("%s: %v m of tube in the list, %v m in the circuit", name, tube, sum)
		}
	}
}

// Each valve tells in each step what the step says, or its normal position.
func TestValvePositions(t *testing.T) {
	s := demo(t, "oat-drink-station")
	l := lists.Make("valves", s, quantity.Metric)
	steps := s.Circuit.Steps()
	first := len(l.Columns) - len(steps)
	moved := 0
	for _, p := range s.Circuit.Parts() {
		v, ok := p.(*model.Valve)
		if !ok {
			continue
		}
		row := find(t, l, v.Tag)
		for i, step := range steps {
			want, told := step.Positions[v.ID]
			if told {
				moved++
			} else {
				want = v.Normal.Or("")
			}
			if got := row[first+i].Text; got != strings.ReplaceAll(want, "-", " ") {
				t.Errorf("%s in %s: %q, want %q", v.Tag, step.Name, got, want)
			}
			if !strings.Contains(l.Columns[first+i].Heading, step.Name) {
				t.Errorf("column %q is not of step %s", l.Columns[first+i].Heading, step.Name)
			}
		}
	}
	if moved == 0 {
		t.Fatal("no step moves a valve")
	}
}

// What the line list computes agrees with a hand calculation: v = 4 q/(π d²), the
// volume of a tube π d² l/4, and, for the loss, with the solution of that step.
func TestLinesByHand(t *testing.T) {
	s := demo(t, "oat-drink-station")
	l := lists.Make("lines", s, quantity.Metric)
	bore, length, volume := column(t, l, "Inside diameter"), column(t, l, "Length"), column(t, l, "Volume")
	flow, velocity := column(t, l, "Greatest flow"), column(t, l, "Greatest velocity")
	checked := 0
	for _, r := range l.Rows {
		get := func(i int) (float64, bool) { return r[i].Number.Get() }
		d, ok := get(bore)
		if !ok {
			continue
		}
		if m, ok := get(length); ok {
			v, _ := get(volume)
			if want := math.Pi / 4 * d * d * m / 1000; math.Abs(v-want) > 1e-6*want+1e-12 {
				t.Errorf("%s to %s: %v L, want %v", r[1].Text, r[2].Text, v, want)
			}
		}
		q, okFlow := get(flow)
		v, okVelocity := get(velocity)
		if okFlow && okVelocity && r[flow+1].Text == r[velocity+1].Text {
			// Part-full returns flow faster than a full tube would.
			if want := q / 3600 / (math.Pi / 4 * d * d / 1e6); v < want*(1-1e-6) {
				t.Errorf("%s to %s: %v m/s, want at least %v", r[1].Text, r[2].Text, v, want)
			}
			checked++
		}
	}
	if checked < 20 {
		t.Fatalf("only %d lines flow", checked)
	}
}

// The worst step is the worst of all: no step has more in that run.
func TestWorstIsWorst(t *testing.T) {
	s := demo(t, "oat-drink-station")
	l := lists.Make("lines", s, quantity.Metric)
	velocity := column(t, l, "Greatest velocity")
	plant := checks.Plant.Of(s)
	greatest := map[string]float64{}
	for _, r := range s.Circuit.Runs() {
		key := s.Where(model.Place{Element: r.From.Part, Port: r.From.Port}) + "|" + s.Where(model.Place{Element: r.To.Part, Port: r.To.Port})
		for _, step := range s.Circuit.Steps() {
			if step.Source == "" || step.Destination == "" {
				continue
			}
			sol := checks.Flows.Of(s, step)
			for _, e := range plant.RunEdges(r.ID) {
				if v, ok := sol.Edges[e].Velocity.Get(); ok {
					greatest[key] = max(greatest[key], math.Abs(float64(v)))
				}
			}
		}
	}
	for _, r := range l.Rows {
		got, _ := r[velocity].Number.Get()
		if want := greatest[r[1].Text+"|"+r[2].Text]; math.Abs(got-want) > 1e-9 {
			t.Errorf("%s to %s: %v m/s, want %v", r[1].Text, r[2].Text, got, want)
		}
	}
}

func TestInstrumentsNozzlesPumps(t *testing.T) {
	s := demo(t, "oat-drink-station")
	count := map[model.Class]int{}
	ports := 0
	for _, p := range s.Circuit.Parts() {
		count[p.Class()]++
		if p.Class() == model.ClassVessel {
			ports += len(s.Kind(p).Ports)
		}
	}
	for list, want := range map[string]int{"instruments": count[model.ClassInstrument], "pumps": count[model.ClassPump], "nozzles": ports, "valves": count[model.ClassValve]} {
		if got := len(lists.Make(list, s, quantity.Metric).Rows); got != want {
			t.Errorf("%d %s, want %d", got, list, want)
		}
	}
	// The head of the first pump in ft under US units: 1 ft is 0.3048 m by definition.
	m, ft := lists.Make("pumps", s, quantity.Metric), lists.Make("pumps", s, quantity.US)
	i := column(t, m, "Rated head")
	a, _ := find(t, m, "P-101")[i].Number.Get()
	b, _ := find(t, ft, "P-101")[i].Number.Get()
	if a == 0 || math.Abs(b*0.3048-a) > 1e-9 || ft.Columns[i].Words() != "Rated head, ft" {
		t.Errorf("%v m, %v ft under %q", a, b, ft.Columns[i].Words())
	}
}

// Unknown is an empty cell, not a zero.
func TestUnknownIsEmpty(t *testing.T) {
	c := model.New("bare")
	c, err := c.Apply(model.Edit{Changes: []model.Change{model.Adding(&model.Pump{Item: model.Item{ID: "p-1", Kind: "centrifugal-pump", Tag: "=P(1)"}}),
		model.Adding(&model.Run{ID: "r-1"})}})
	if err != nil {
		t.Fatal(err)
	}
	s := &checks.Snapshot{Circuit: c, Catalogue: catalogue.Builtin()}
	for _, list := range []string{"pumps", "lines"} {
		for _, r := range lists.Make(list, s, quantity.Metric).Rows {
			for i, cell := range r {
				if v, ok := cell.Number.Get(); ok {
					t.Errorf("%s, column %d: %v", list, i, v)
				}
			}
		}
	}
}

func TestTagsInOrder(t *testing.T) {
	s := demo(t, "oat-drink-station")
	last := ""
	for _, r := range lists.Make("valves", s, quantity.Metric).Rows {
		tag := r[0].Text
		if last == "V-232" && tag == "V-101" {
			t.Errorf("%s after %s", tag, last)
		}
		last = tag
	}
	if got := lists.Make("instruments", s, quantity.Metric).Rows[0][0].Text; got != "AT-101" {
		t.Errorf("first instrument %s", got)
	}
}

func BenchmarkLines(b *testing.B) {
	for b.Loop() {
		lists.Make("lines", demo(b, "oat-drink-station"), quantity.Metric) // a new snapshot: every step is solved
	}
}
