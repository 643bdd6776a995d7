package coverage_test

import (
	"fmt"
	"io/fs"
	"math/rand"
	"slices"
	"strings"
	"testing"

	"rinsewright/assets"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/coverage"
	"rinsewright/model/network"
	"rinsewright/model/network/networktest"
	. "rinsewright/model/quantity"
)

// station is two tanks on a header, a filler with a tee before it to a shut valve
// and a mix-proof valve behind it, and a return that is divided to two tanks.
//
//	TA-VA-+          +-VX-PS      MP (upper line U1-U2)
//	      H--P--X----+-----F------+------R-TA
//	TW-VW-+                               \
//	                                       D
func station(t testing.TB) *networktest.Sketch {
	s := networktest.New(t)
	s.Part("TA", "alkali-tank", "")
	s.Part("TW", "water-tank", "")
	s.Part("VA", "butterfly-valve", networktest.Seats)
	s.Part("VW", "butterfly-valve", networktest.Seats)
	s.Part("H", "tee", networktest.Stubs)
	s.Part("X", "tee", networktest.Stubs)
	s.Part("VX", "butterfly-valve", networktest.Seats)
	s.Part("PS", "product-supply", "")
	s.Part("F", "filler-line", `"length_m":3,"size":"`+networktest.DN50+`","smallest_bore_mm":50`)
	s.Part("MP", "mix-proof-valve", networktest.Seats)
	s.Part("U1", "product-supply", "")
	s.Part("R", "divert-valve", networktest.Seats)
	s.Part("D", "sewer-drain", "")
	s.Run("TA.outlet", "VA.a", 1)
	s.Run("TW.outlet", "VW.a", 1)
	s.Run("VA.b", "H.a", 1)
	s.Run("VW.b", "H.branch", 1)
	s.Run("H.b", "X.a", 1)
	s.Run("X.branch", "VX.a", 0.5)
	s.Run("VX.b", "PS.a", 1)
	s.Run("X.b", "F.a", 1)
	s.Run("F.b", "MP.a", 1)
	s.Run("MP.b", "R.c", 1)
	s.Run("MP.c", "U1.a", 1)
	s.Run("R.a", "TA.return", 1)
	s.Run("R.b", "D.a", 1)
	return s
}

// programme washes the filler with 20 m³/h of alkali and rinses it with 5 m³/h of
// water, lifting the lower seat of the mix-proof valve while rinsing.
func programme() []*model.Step {
	return []*model.Step{
		{ID: "rinse", Programme: "F", Order: 10, Purpose: Some(model.FirstRinse), Medium: Some(model.Water), Flow: Some(CubicMetresPerHour(5)), Source: "TW", Destination: "D",
			Cleans: []model.ID{"F"}, Positions: map[model.ID]string{"VW": "open", "R": "to-b", "MP": "lower-lift"}},
		{ID: "wash", Programme: "F", Order: 20, Purpose: Some(model.AlkaliWash), Medium: Some(model.Alkali), Flow: Some(CubicMetresPerHour(20)), Source: "TA", Destination: "TA",
			Cleans: []model.ID{"F"}, Positions: map[model.ID]string{"VA": "open"}},
		{ID: "drain", Programme: "F", Order: 30, Purpose: Some(model.Drain), Medium: Some(model.Water), Destination: "D", Cleans: []model.ID{"F"}},
	}
}

// By hand. DN50 has a bore of 50 mm: 20 m³/h are 2.83 m/s, 5 m³/h are 0.71 m/s
// (v = q / (π d²/4)).
func TestStationByHand(t *testing.T) {
	p := station(t).Plant()
	got := coverage.Of(p, programme(), coverage.Options{Least: 1.5})
	if !slices.Equal(got.Media, []model.Medium{model.Water, model.Alkali}) || got.Programme != "F" || len(got.Left) != 0 {
		t.Errorf("media %v, left %v", got.Media, got.Left)
	}
	rows := map[string]string{}
	for _, r := range got.Rows {
		var cells []string
		for _, c := range r.Cells {
			text := string(c.Medium) + " " + c.State.Class()
			if v, known := c.Velocity.Get(); known {
				text += fmt.Sprintf(" %.2f", float64(v))
			}
			cells = append(cells, text)
		}
		key := string(r.Sort) + " " + r.At.String()
		if r.Sort == coverage.Stretch && r.At.First == 0 {
			key += fmt.Sprintf("/%d", p.Edges[r.Edge].Path)
		}
		rows[key] = strings.Join(cells, ", ")
	}
	for _, c := range []struct{ at, want string }{
		{"stretch r00001[1]", "alkali swept 2.83"},                  // outlet of the alkali tank: an approach
		{"stretch r00002[1]", "water slow 0.71"},                    // of the water tank
		{"stretch r00005[1]", "water slow 0.71, alkali swept 2.83"}, // header
		{"stretch r00006[1]", "water standing, alkali standing"},    // dead leg to the product valve
		{"stretch r00008[1]", "water slow 0.71, alkali swept 2.83"},
		{"stretch F/0", "water slow 0.71, alkali swept 2.83"},
		{"stretch r00012[1]", "alkali swept 2.83"}, // return to the tank
		{"stretch r00013[1]", "water slow 0.71"},   // to sewer
		{"seat VA:seat_a", "alkali swept"},
		{"seat VX:seat_a", "water standing, alkali standing"},
		{"seat MP:s1", "water swept, alkali standing"}, // lifted while rinsing
		{"seat R:seat_a", "alkali swept"},              // an approach: behind the filler's line the return is divided
	} {
		if rows[c.at] != c.want {
			t.Errorf("%s: %q, want %q", c.at, rows[c.at], c.want)
		}
	}
	for _, at := range []string{"stretch r00007[1]", "stretch r00011[1]", "seat VX:seat_b", "seat MP:s2"} {
		if text, there := rows[at]; there {
			t.Errorf("%s is promised %q, and liquid of the programme never gets there", at, text)
		}
	}
	header := p.RunEdges("r00005")[0]
	if got.Edges[header] != coverage.Slow || got.Edges[p.RunEdges("r00001")[0]] != coverage.Swept || got.Edges[p.RunEdges("r00007")[0]] != coverage.None {
		t.Errorf("edges %v %v %v", got.Edges[header], got.Edges[p.RunEdges("r00001")[0]], got.Edges[p.RunEdges("r00007")[0]])
	}
	rows2 := 0
	for _, x := range got.Totals {
		rows2 += x.Rows
		if x.State == coverage.Standing && (x.Length < 0.79 || x.Length > 0.81) {
			t.Errorf("standing: %v m", x.Length) // the run of 0.5, its stub and seat of 0.1 each, and the seat of MP, 0.1
		}
	}
	if rows2 != len(got.Rows) {
		t.Errorf("totals count %d of %d rows", rows2, len(got.Rows))
	}
	for _, rec := range got.Records(p) {
		if len(rec) != len(got.Columns()) {
			t.Errorf("%d columns in %v", len(rec), rec)
		}
	}
}

// A velocity from elsewhere decides, and where nobody knows it the state is unknown,
// not swept.
func TestVelocityFromElsewhere(t *testing.T) {
	p := station(t).Plant()
	header := p.RunEdges("r00005")[0]
	o := coverage.Options{Least: 1.5, Velocity: func(step *model.Step, edge int) (Velocity, bool) { return 1.5, step.ID == "wash" }}
	for _, r := range coverage.Of(p, programme(), o).Rows {
		if r.Edge == header {
			if r.Cells[0].State != coverage.Unknown || r.Cells[1].State != coverage.Swept || r.Worst != coverage.Unknown {
				t.Errorf("%+v", r)
			}
		}
	}
}

func TestStepsLeftOut(t *testing.T) {
	p := station(t).Plant()
	steps := programme()
	steps[0] = model.Clone(steps[0])
	steps[0].Positions["VW"] = "closed"
	got := coverage.Of(p, steps, coverage.Options{Least: 1.5})
	if len(got.Left) != 1 || got.Left[0].Step != "rinse" || !strings.Contains(got.Left[0].Why, "VW") {
		t.Errorf("%+v", got.Left)
	}
	// Its water stays promised, and is missed.
	for _, r := range got.Rows {
		if r.Edge == p.RunEdges("r00005")[0] && (r.Worst != coverage.Missed || r.Cells[0].Step != "") {
			t.Errorf("%+v", r)
		}
	}
}

func TestDemoProgrammes(t *testing.T) {
	data, err := fs.ReadFile(assets.Files, "demo/oat-drink-station.circuit.json")
	if err != nil {
		t.Fatal(err)
	}
	c, err := circuitfile.Decode("demo", data)
	if err != nil {
		t.Fatal(err)
	}
	p := network.Build(c, catalogue.Builtin())
	of := map[string][]*model.Step{}
	for _, s := range c.Steps() {
		of[s.Programme] = append(of[s.Programme], s)
	}
	if len(of) != 5 { // of the three objects each, and two of all of them
		t.Fatalf("%d programmes", len(of))
	}
	for name, steps := range of {
		got := coverage.Of(p, steps, coverage.Options{Least: 1.5})
		want := []model.Medium{model.Water, model.Alkali, model.Acid}
		if name == "Every day" {
			want = want[:2]
		}
		if !slices.Equal(got.Media, want) || len(got.Left) > 0 {
			t.Errorf("%s: media %v, left %v", name, got.Media, got.Left)
		}
		for _, r := range got.Rows {
			switch {
			case r.Worst == coverage.Missed:
				t.Errorf("%s: %s %s is missed: %+v", name, r.Sort, r.At, r.Cells)
			case (r.Sort == coverage.Vessel || r.Sort == coverage.Spray) && r.Worst != coverage.Swept:
				t.Errorf("%s: %s %s %+v", name, r.Sort, r.At, r.Cells)
			case r.Sort == coverage.Stretch && r.At.First > 0 && r.Worst > coverage.Swept && r.Worst != coverage.Standing:
				t.Errorf("%s: %s %+v", name, r.At, r.Cells) // 12 m³/h in DN50 are 1.70 m/s
			}
		}
	}
}

// On random circuits every state is that of the definitions, worked out edge by edge
// without the package's bookkeeping.
func TestRandomStates(t *testing.T) {
	counts := map[coverage.State]int{}
	approaches := 0
	for seed := range int64(80) {
		r := rand.New(rand.NewSource(seed))
		p, steps := drawRandom(t, r)
		got := coverage.Of(p, steps, coverage.Options{Least: 1.5})
		want := bruteForce(p, steps)
		seen := map[int]bool{}
		for _, row := range got.Rows {
			if row.Sort != coverage.Stretch {
				continue
			}
			seen[row.Edge] = true
			if row.Approach {
				approaches++
			}
			w := want[row.Edge]
			if len(w) != len(row.Cells) {
				t.Fatalf("seed %d edge %d: %+v, want %v", seed, row.Edge, row.Cells, w)
			}
			for _, c := range row.Cells {
				counts[c.State]++
				if w[c.Medium] != c.State {
					t.Fatalf("seed %d edge %d %s: %v, want %v", seed, row.Edge, c.Medium, c.State, w[c.Medium])
				}
			}
		}
		for e := range want {
			if len(want[e]) > 0 && !seen[e] {
				t.Fatalf("seed %d: edge %d has no row, want %v", seed, e, want[e])
			}
		}
	}
	for _, s := range coverage.States()[1:] {
		if counts[s] < 20 {
			t.Errorf("%s only %d times: %v", s, counts[s], counts)
		}
	}
	if approaches < 100 {
		t.Errorf("only %d approaches", approaches)
	}
}

// drawRandom joins two supplies, two drains, a filler, tees and valves at random, and
// throws the valves in four steps.
func drawRandom(t testing.TB, r *rand.Rand) (*network.Plant, []*model.Step) {
	s := networktest.New(t)
	ports := map[string][]string{"water-supply": {"a"}, "concentrate-supply": {"a"}, "sewer-drain": {"a"}, "filler-line": {"a", "b"},
		"tee": {"a", "b", "branch"}, "butterfly-valve": {"a", "b"}}
	parts := [][2]string{{"X00", "filler-line"}, {"X01", "tee"}, {"X02", "tee"}, {"X07", "tee"}, {"X08", "tee"}, {"X09", "tee"}}
	for i := range 4 + r.Intn(8) {
		parts = append(parts, [2]string{fmt.Sprint("X", 10+i), []string{"tee", "butterfly-valve", "butterfly-valve"}[r.Intn(3)]})
	}
	ends := [][2]string{{"X03", "water-supply"}, {"X04", "sewer-drain"}, {"X05", "concentrate-supply"}, {"X06", "sewer-drain"}}
	parts = append(parts, ends...)
	var free []string
	var valves []model.ID
	take := func(from, to int) string {
		i := from + r.Intn(to-from)
		x := free[i]
		free = slices.Delete(free, i, i+1)
		return x
	}
	for _, part := range parts {
		id, kind := part[0], part[1]
		text := map[string]string{"tee": networktest.Stubs, "butterfly-valve": networktest.Seats, "filler-line": `"length_m":3,"size":"` + networktest.DN50 + `"`}[kind]
		if kind == "tee" && r.Intn(4) == 0 {
			text = `"size":"` + networktest.DN50 + `"` // lengths and branch unknown
		}
		s.Part(id, kind, text)
		if kind == "butterfly-valve" {
			valves = append(valves, model.ID(id))
		}
		old := len(free)
		for _, port := range ports[kind] {
			free = append(free, id+"."+port)
		}
		if old > 0 {
			to := take(old, len(free))
			s.Run(take(0, old), to, 1)
		}
	}
	for len(free) > 1 && r.Intn(5) > 0 {
		s.Run(take(0, len(free)), take(0, len(free)), 1)
	}
	var steps []*model.Step
	for i := range 4 {
		st := &model.Step{ID: model.ID(fmt.Sprint("s", i)), Order: i, Purpose: Some(model.FirstRinse), Cleans: []model.ID{"X00"}, Positions: map[model.ID]string{},
			Source: []model.ID{"X03", "X05"}[i%2], Destination: []model.ID{"X04", "X06"}[r.Intn(2)],
			Medium: Some([]model.Medium{model.Water, model.Alkali}[i%2]), Flow: Some(CubicMetresPerHour([]float64{5, 20}[r.Intn(2)]))}
		if r.Intn(4) == 0 {
			st.Cleans = []model.ID{"X01"}
		}
		for _, v := range valves {
			if r.Intn(3) > 0 {
				st.Positions[v] = "open"
			}
		}
		steps = append(steps, st)
	}
	return s.Plant(), steps
}

// bruteForce works out what each edge gets, by medium.
func bruteForce(p *network.Plant, steps []*model.Step) []map[model.Medium]coverage.State {
	routes := map[*model.Step]*network.Route{}
	for _, s := range steps {
		routes[s] = p.Route(p.LineUp(s))
	}
	wet := func(s *model.Step, e int) bool { return routes[s].Found && (routes[s].Wet[e] || routes[s].InFlow[e]) }
	// isApproach: e is wet in the step and some walk along wet edges leads from the
	// source or destination to it, never touching what all steps for the object
	// have in common.
	common := func(id model.ID, e int) bool {
		n := 0
		for _, s := range steps {
			if slices.Contains(s.Cleans, id) && routes[s].Found {
				if n++; !routes[s].InFlow[e] {
					return false
				}
			}
		}
		return n > 0
	}
	touches := func(id model.ID, n int) bool {
		return slices.ContainsFunc(p.IncidentEdges(n), func(e int) bool { return common(id, e) })
	}
	isApproach := func(s *model.Step, id model.ID, e int) bool {
		if common(id, e) {
			return false
		}
		some := false
		for x := range p.Edges {
			some = some || common(id, x)
		}
		if !some {
			return false
		}
		reach := map[int]bool{}
		for _, n := range []int{routes[s].LineUp.Source, routes[s].LineUp.Dest} {
			if !touches(id, n) {
				reach[n] = true
			}
		}
		for range p.Nodes {
			for x := range p.Edges {
				if from, to := p.Edges[x].From, p.Edges[x].To; wet(s, x) && !common(id, x) {
					if reach[from] && !touches(id, to) {
						reach[to] = true
					}
					if reach[to] && !touches(id, from) {
						reach[from] = true
					}
				}
			}
		}
		return reach[p.Edges[e].From] || reach[p.Edges[e].To]
	}
	out := make([]map[model.Medium]coverage.State, len(p.Edges))
	for e := range p.Edges {
		promised := map[model.Medium]bool{}
		inLine := false
		for _, id := range []model.ID{"X00", "X01"} {
			line, approach := false, false
			for _, s := range steps {
				if slices.Contains(s.Cleans, id) && wet(s, e) {
					line, approach = line || !isApproach(s, id, e), approach || isApproach(s, id, e)
				}
			}
			if !line || approach {
				continue
			}
			inLine = true
			for _, s := range steps {
				if slices.Contains(s.Cleans, id) {
					promised[s.Medium.Or("")] = true
				}
			}
		}
		if !inLine {
			for _, s := range steps {
				if wet(s, e) && isApproach(s, s.Cleans[0], e) {
					promised[s.Medium.Or("")] = true
				}
			}
		}
		if len(promised) == 0 {
			continue
		}
		out[e] = map[model.Medium]coverage.State{}
		for m := range promised {
			best := coverage.Missed
			for _, s := range steps {
				if s.Medium.Or("") == m && wet(s, e) {
					best = min(best, state(p, routes[s], e))
				}
			}
			out[e][m] = best
		}
	}
	return out
}

func state(p *network.Plant, r *network.Route, e int) coverage.State {
	v, missing := p.Velocity(r, e)
	speed, known := v.Get()
	switch {
	case !r.InFlow[e]:
		return coverage.Standing
	case known && speed >= 1.5:
		return coverage.Swept
	case known:
		return coverage.Slow
	case len(missing) == 0:
		return coverage.Swept // no bore of its own
	}
	return coverage.Unknown
}
