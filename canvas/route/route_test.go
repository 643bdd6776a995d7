package route_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
	"testing/fstest"

	"rinsewright/canvas/place"
	"rinsewright/canvas/route"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// The kinds of these tests: a valve with ports left and right, a tank with ports
// on three sides, one of them inside the box, and a frame.
const kinds = `[
{"kind": "valve", "title": "Valve", "class": "valve", "group": "g", "help": "h", "positions": ["closed", "open"],
 "ports": [{"name": "a", "at": [-5, 0], "way": "left", "role": "any", "service": "process"},
           {"name": "b", "at": [5, 0], "way": "right", "role": "any", "service": "process"}],
 "paths": [{"from": "a", "to": "b", "open_in": ["open"]}],
 "symbol": {"box": [-5, -3, 5, 3], "draw": [{"path": "M -5 -3 L 5 3 V -3 L -5 3 Z"}], "tag": [0, -6]}},
{"kind": "tank", "title": "Tank", "class": "vessel", "group": "g", "help": "h",
 "ports": [{"name": "out", "at": [0, 20], "way": "down", "role": "out", "service": "process"},
           {"name": "fill", "at": [-10, -20], "way": "up", "role": "in", "service": "process"},
           {"name": "side", "at": [-15, 0], "way": "left", "role": "any", "service": "process"},
           {"name": "deep", "at": [0, -10], "way": "up", "role": "in", "service": "process"}],
 "symbol": {"box": [-15, -20, 15, 20], "draw": [{"path": "M -15 -20 H 15 V 20 H -15 Z"}], "tag": [0, 0]}},
{"kind": "frame", "title": "Frame", "class": "frame", "group": "g", "help": "h",
 "symbol": {"box": [-50, -50, 50, 50], "draw": [{"path": "M -50 -50 H 50 V 50 H -50 Z"}], "tag": [0, 0]}}
]`

func testKinds(t testing.TB) *catalogue.Catalogue {
	t.Helper()
	cat, err := catalogue.Load(fstest.MapFS{"kinds/test.json": {Data: []byte(kinds)}})
	if err != nil {
		t.Fatal(err)
	}
	return cat
}

func apply(t testing.TB, c *model.Circuit, changes ...model.Change) *model.Circuit {
	t.Helper()
	next, err := c.Apply(model.Edit{Label: "test", Changes: changes})
	if err != nil {
		t.Fatal(err)
	}
	return next
}

func part(kind string, id model.ID, x, y float64, turn model.Turn) model.Part {
	var p model.Part
	switch kind {
	case "tank":
		p = new(model.Vessel)
	case "frame":
		p = new(model.Frame)
	default:
		p = new(model.Valve)
	}
	m := p.Meta()
	m.ID, m.Kind, m.At, m.Turn = id, kind, model.Point{X: x, Y: y}, turn
	return p
}

func run(id model.ID, from, to model.End, bends ...model.Point) *model.Run {
	return &model.Run{ID: id, From: from, To: to, Bends: bends}
}

func on(id model.ID, port string) model.End { return model.End{Part: id, Port: port} }

func loose(x, y float64) model.End { return model.End{At: &model.Point{X: x, Y: y}} }

func TestLine(t *testing.T) {
	type pts = []model.Point
	tests := []struct {
		name     string
		parts    []model.Part
		from, to model.End
		bends    pts
		want     pts
	}{
		{"straight", []model.Part{part("valve", "p1", 0, 0, 0), part("valve", "p2", 40, 0, 0)},
			on("p1", "b"), on("p2", "a"), nil, pts{{X: 5}, {X: 35}}},
		{"face to face", []model.Part{part("valve", "p1", 0, 0, 0), part("valve", "p2", 10, 0, 0)},
			on("p1", "b"), on("p2", "a"), nil, pts{{X: 5}, {X: 5}}},
		{"close together", []model.Part{part("valve", "p1", 0, 0, 0), part("valve", "p2", 13, 0, 0)},
			on("p1", "b"), on("p2", "a"), nil, pts{{X: 5}, {X: 8}}},
		{"one corner", []model.Part{part("valve", "p1", 0, 0, 0), part("valve", "p2", 40, 40, 1)},
			on("p1", "b"), on("p2", "a"), nil, pts{{X: 5}, {X: 40}, {X: 40, Y: 35}}},
		{"jog half way", []model.Part{part("valve", "p1", 0, 0, 0), part("valve", "p2", 50, 20, 0)},
			on("p1", "b"), on("p2", "a"), nil, pts{{X: 5}, {X: 25}, {X: 25, Y: 20}, {X: 45, Y: 20}}},
		{"jog in a narrow gap", []model.Part{part("valve", "p1", 0, 0, 0), part("valve", "p2", 16, 20, 0)},
			on("p1", "b"), on("p2", "a"), nil, pts{{X: 5}, {X: 8}, {X: 8, Y: 20}, {X: 11, Y: 20}}},
		{"loop between ports that face the same way", []model.Part{part("valve", "p1", 0, 0, 0), part("valve", "p2", 0, 40, 0)},
			on("p1", "b"), on("p2", "b"), nil, pts{{X: 5}, {X: 10}, {X: 10, Y: 40}, {X: 5, Y: 40}}},
		{"around a valve in the way", []model.Part{part("valve", "p1", 0, 0, 0), part("valve", "p2", 80, 0, 0), part("valve", "p3", 40, 0, 0)},
			on("p1", "b"), on("p2", "a"), nil, pts{{X: 5}, {X: 10}, {X: 10, Y: -10}, {X: 70, Y: -10}, {X: 70}, {X: 75}}},
		{"through a frame", []model.Part{part("valve", "p1", 0, 0, 0), part("valve", "p2", 120, 0, 0), part("frame", "p3", 60, 0, 0)},
			on("p1", "b"), on("p2", "a"), nil, pts{{X: 5}, {X: 115}}},
		{"out of a box", []model.Part{part("tank", "p1", 0, 0, 0)},
			on("p1", "deep"), loose(0, -60), nil, pts{{Y: -10}, {Y: -60}}},
		{"loose ends", nil, loose(0, 0), loose(30, 20), nil, pts{{}, {X: 30}, {X: 30, Y: 20}}},
		{"bends", []model.Part{part("valve", "p1", 0, 0, 0), part("valve", "p2", 100, 0, 0)},
			on("p1", "b"), on("p2", "a"), pts{{X: 30, Y: 30}, {X: 70, Y: 30}},
			pts{{X: 5}, {X: 30}, {X: 30, Y: 30}, {X: 70, Y: 30}, {X: 70}, {X: 95}}},
		{"port that the kind does not have", []model.Part{part("valve", "p1", 0, 0, 0)},
			on("p1", "z"), loose(30, 0), nil, pts{{}, {X: 30}}},
		{"kind that is not known", []model.Part{part("other", "p1", 0, 0, 0)},
			on("p1", "a"), loose(30, 0), nil, pts{{}, {X: 30}}},
		{"part that is not there", nil, on("p1", "a"), loose(30, 0), nil, nil},
		{"loose end without a place", nil, model.End{}, loose(30, 0), nil, nil},
	}
	cat := testKinds(t)
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c := model.New("test")
			for _, p := range tt.parts {
				c = apply(t, c, model.Adding(p))
			}
			got := route.Line(c, cat, run("r1", tt.from, tt.to, tt.bends...))
			if !reflect.DeepEqual(got, tt.want) {
				t.Errorf("got %v, want %v", got, tt.want)
			}
		})
	}
}

// random makes a circuit of n parts on and off the grid, with as many runs.
func random(t testing.TB, rnd *rand.Rand, n int) *model.Circuit {
	var changes []model.Change
	side := 30 * math.Sqrt(float64(n))
	spot := func() float64 {
		v := rnd.Float64() * side
		if rnd.IntN(3) > 0 {
			v = math.Round(v/2.5) * 2.5
		}
		return v
	}
	names := []string{"valve", "valve", "valve", "tank", "frame", "other"}
	for i := range n {
		p := part(names[rnd.IntN(len(names))], model.ID(fmt.Sprintf("p%05d", i)), spot(), spot(), model.Turn(rnd.IntN(4)))
		p.Meta().Mirrored = rnd.IntN(2) == 0
		changes = append(changes, model.Adding(p))
	}
	for i := range n {
		changes = append(changes, model.Adding(randomRun(rnd, i, n, spot)))
	}
	return apply(t, model.New("random"), changes...)
}

func randomRun(rnd *rand.Rand, i, n int, spot func() float64) *model.Run {
	end := func() model.End {
		if rnd.IntN(6) == 0 {
			return loose(spot(), spot())
		}
		return on(model.ID(fmt.Sprintf("p%05d", rnd.IntN(n))), []string{"a", "b", "out", "fill", "side", "deep"}[rnd.IntN(6)])
	}
	r := run(model.ID(fmt.Sprintf("r%05d", i)), end(), end())
	if rnd.IntN(3) == 0 {
		for range 1 + rnd.IntN(3) {
			r.Bends = append(r.Bends, model.Point{X: spot(), Y: spot()})
		}
	}
	return r
}

func TestLineProperties(t *testing.T) {
	cat := testKinds(t)
	for seed := range uint64(40) {
		rnd := rand.New(rand.NewPCG(seed, 1))
		c := random(t, rnd, 60)
		for i, line := range route.All(c, cat) {
			r := c.Runs()[i]
			if msg := fault(c, cat, r, line); msg != "" {
				t.Fatalf("seed %d, run %s: %s\n%v", seed, r.ID, msg, line)
			}
		}
	}
}

// fault says what is wrong with the line of a run. It finds the ports by the
// catalogue, not by what the router uses.
func fault(c *model.Circuit, cat *catalogue.Catalogue, r *model.Run, line []model.Point) string {
	if len(line) < 2 {
		return "no line"
	}
	for i := 1; i < len(line); i++ {
		d := line[i].Sub(line[i-1])
		if math.Abs(d.X) > 1e-6 && math.Abs(d.Y) > 1e-6 {
			return fmt.Sprintf("piece %d is neither level nor upright", i-1)
		}
		if i > 1 {
			before := line[i-1].Sub(line[i-2])
			if before.X*d.X+before.Y*d.Y > 1e-6 {
				return fmt.Sprintf("point %d is no corner", i-1)
			}
		}
	}
	from, to := portOf(c, cat, r.From), portOf(c, cat, r.To)
	if line[0] != from.at || line[len(line)-1] != to.at {
		return "does not go from end to end"
	}
	facing := from.way != model.Point{} && from.way.Add(to.way) == model.Point{} && len(r.Bends) == 0
	if !facing {
		reversed := slices.Clone(line)
		slices.Reverse(reversed)
		for _, e := range []struct {
			line []model.Point
			way  model.Point
		}{{line, from.way}, {reversed, to.way}} {
			d := e.line[1].Sub(e.line[0])
			if along := d.X*e.way.X + d.Y*e.way.Y; e.way != (model.Point{}) && along < 5-1e-6 {
				return fmt.Sprintf("leaves a port by %v mm in its way", along)
			}
		}
	}
	rest := line
	for _, b := range r.Bends {
		piece, _, distance := place.Nearest(rest, b)
		if distance > 1e-6 {
			return fmt.Sprintf("misses bend %v by %v mm", b, distance)
		}
		rest = append([]model.Point{b}, rest[piece+1:]...)
	}
	return ""
}

type port struct{ at, way model.Point }

func portOf(c *model.Circuit, cat *catalogue.Catalogue, e model.End) port {
	if e.Loose() {
		return port{at: *e.At}
	}
	m := c.Part(e.Part).Meta()
	if k := cat.Kind(m.Kind); k != nil {
		if p, ok := k.Port(e.Port); ok {
			at, way := p.PortAt(m)
			return port{at, way}
		}
	}
	return port{at: m.At}
}

// A line must be a function of the circuit: the same from scratch and from a
// cache that has followed every edit.
func TestCacheAgreesWithAll(t *testing.T) {
	cat := testKinds(t)
	for seed := range uint64(15) {
		rnd := rand.New(rand.NewPCG(seed, 2))
		c := random(t, rnd, 80)
		cache := route.NewCache(cat)
		for step := range 12 {
			got, want := cache.Lines(c), route.All(c, cat)
			for i := range want {
				if !reflect.DeepEqual(got[i], want[i]) {
					t.Fatalf("seed %d, step %d, run %s: the cache has %v, anew it is %v", seed, step, c.Runs()[i].ID, got[i], want[i])
				}
			}
			switch rnd.IntN(4) {
			case 0:
				r := c.Runs()[rnd.IntN(len(c.Runs()))]
				c = apply(t, c, model.Removing(r))
			case 1:
				id := model.ID(fmt.Sprintf("p%05dx", step))
				c = apply(t, c, model.Adding(part("tank", id, rnd.Float64()*250, rnd.Float64()*250, 0)))
			default:
				p := c.Parts()[rnd.IntN(len(c.Parts()))]
				q := model.Clone(p)
				q.Meta().At = q.Meta().At.Add(model.Point{X: 2.5 * float64(rnd.IntN(21)-10), Y: 2.5 * float64(rnd.IntN(21)-10)})
				c = apply(t, c, model.Replacing(p, q))
			}
		}
	}
}

func TestFarPlaces(t *testing.T) {
	cat := testKinds(t)
	for _, far := range []float64{1e9, 1e200, math.MaxFloat64} {
		c := apply(t, model.New("far"), model.Adding(part("valve", "p1", -far, 0, 0)), model.Adding(part("valve", "p2", far, far, 0)))
		if line := route.Line(c, cat, run("r", on("p1", "b"), on("p2", "a"))); len(line) < 2 {
			t.Errorf("at %v: no line", far)
		}
	}
}

// plant makes n valves in rows, each joined to the next and every tenth to one
// further off.
func plant(t testing.TB, n int) *model.Circuit {
	var changes []model.Change
	wide := int(math.Sqrt(float64(n)))
	id := func(i int) model.ID { return model.ID(fmt.Sprintf("p%05d", i)) }
	for i := range n {
		changes = append(changes, model.Adding(part("valve", id(i), float64(i%wide)*25, float64(i/wide)*30, 0)))
	}
	for i := range n {
		to := i + 1
		if i%10 == 0 {
			to = i + 3*wide + 7
		}
		changes = append(changes, model.Adding(run(model.ID(fmt.Sprintf("r%05d", i)), on(id(i), "b"), on(id(to%n), "a"))))
	}
	return apply(t, model.New("plant"), changes...)
}

func BenchmarkAll10000(b *testing.B) {
	cat, c := testKinds(b), plant(b, 10000)
	for b.Loop() {
		route.All(c, cat)
	}
}

func BenchmarkAllRandom10000(b *testing.B) {
	cat, c := testKinds(b), random(b, rand.New(rand.NewPCG(1, 1)), 10000)
	for b.Loop() {
		route.All(c, cat)
	}
}

func BenchmarkCacheOneMove10000(b *testing.B) {
	cat, c := testKinds(b), plant(b, 10000)
	p := c.Parts()[5000]
	q := model.Clone(p)
	q.Meta().At.X += 5
	d := apply(b, c, model.Replacing(p, q))
	cache := route.NewCache(cat)
	cache.Lines(c)
	for b.Loop() {
		cache.Lines(d)
		cache.Lines(c)
	}
}
