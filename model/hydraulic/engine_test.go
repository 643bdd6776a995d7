//go:build engine

package hydraulic

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"
	"time"
)

// The tests of this file compare with a network engine of long standing, package
// epanet-js 0.9.0 (engine 2.3.5). Install it with
//
//	cd model/hydraulic/testdata/engine && npm install --no-package-lock
//
// and run them with -tags engine. Speed beside it, in one command:
//
//	go test -tags engine -run '^$' -bench Beside ./model/hydraulic

// The engine counts in feet and in units of its own rounding; what is told to it
// and what it tells is converted so that its inner values are exact.
const (
	foot            = 0.3048
	engineGravity   = 32.2 * foot
	engineLitres    = 28.317 / (foot * foot * foot * 1000) // its L/s in a true L/s
	engineMinor     = 0.02517                              // its constant of h = 0.02517 K Q²/d⁴
	engineViscosity = 1.1e-5 * foot * foot                 // m²/s, unit of its viscosity
)

type answer struct {
	Flow, Head, Demand map[string]float64
	Iterations         float64
}

func engine(t testing.TB, script string, input, output any) {
	t.Helper()
	if _, err := os.Stat("testdata/engine/node_modules/epanet-js"); err != nil {
		t.Fatal("the reference engine is not installed: cd model/hydraulic/testdata/engine && npm install --no-package-lock")
	}
	in, err := json.Marshal(input)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("node", script)
	cmd.Dir = "testdata/engine"
	cmd.Stdin = bytes.NewReader(in)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v: %s", err, stderr.String())
	}
	if err := json.Unmarshal(out, output); err != nil {
		t.Fatalf("%v: %.300s", err, out)
	}
}

// lossSetting turns a resistance of m/(m³/s)² into the coefficient that makes the
// engine lose the same in a bore of mm.
func lossSetting(resistance, bore float64) float64 {
	d := bore / 1000 / foot
	return resistance * math.Pow(foot, 5) * math.Pow(d, 4) / engineMinor
}

// engineText writes a network in the engine's text form. An emitter becomes a
// property of the node before it, and its outlet is left out.
func engineText(n Network, f Fluid) string {
	c := &conditions{density: f.Density, kinematic: f.Kinematic(), gravity: engineGravity}
	litres := func(q float64) float64 { return q * 1000 * engineLitres }
	var junctions, tanks, pipes, pumps, valves, curves, emitters strings.Builder
	outlet := map[int]bool{}
	for _, l := range n.Links {
		e := element{rest: new(rest)}
		l.Law.bind(c, &e)
		from, to := n.Nodes[l.From].Name, n.Nodes[l.To].Name
		status := "Open"
		if l.OneWay {
			status = "CV"
		}
		if l.Shut {
			status = "Closed"
		}
		switch law := l.Law.(type) {
		case Pipe:
			minor := 0.0
			if law.Loss > 0 {
				minor = lossSetting(e.square, law.Bore.Millimetres())
			}
			fmt.Fprintf(&pipes, "%s %s %s %.17g %.17g %.17g %.17g %s\n", l.Name, from, to,
				float64(law.Length), law.Bore.Millimetres(), float64(law.Roughness)*1000, minor, status)
		case Valve:
			fmt.Fprintf(&valves, "%s %s %s 50 TCV %.17g 0\n", l.Name, from, to, lossSetting(e.square, 50))
		case Pump:
			fmt.Fprintf(&pumps, "%s %s %s HEAD c%s SPEED %.17g\n", l.Name, from, to, l.Name, float64(law.Speed))
			for _, q := range []float64{0, law.Curve.Last() / 2, law.Curve.Last()} {
				h, _ := law.Curve.At(q)
				fmt.Fprintf(&curves, "c%s %.17g %.17g\n", l.Name, litres(q), h)
			}
		case Emitter:
			outlet[l.To] = true
			// h = square Q², Q in m³/s: coefficient in L/s at 1 m.
			fmt.Fprintf(&emitters, "%s %.17g\n", from, litres(math.Sqrt(1/e.square)))
		default:
			panic(fmt.Sprintf("law %T", law))
		}
	}
	for i, node := range n.Nodes {
		switch {
		case outlet[i]:
		case node.Fixed:
			fmt.Fprintf(&tanks, "%s %.17g\n", node.Name, float64(node.Level))
		default:
			fmt.Fprintf(&junctions, "%s %.17g %.17g\n", node.Name, float64(node.Elevation), litres(float64(node.Demand)))
		}
	}
	return fmt.Sprintf("[JUNCTIONS]\n%s\n[RESERVOIRS]\n%s\n[PIPES]\n%s\n[PUMPS]\n%s\n[VALVES]\n%s\n[CURVES]\n%s\n[EMITTERS]\n%s\n"+
		"[OPTIONS]\nUnits LPS\nHeadloss D-W\nViscosity %.17g\nTrials 500\nAccuracy 1e-8\nEmitter Exponent 0.5\nUnbalanced Continue 100\n[END]\n",
		&junctions, &tanks, &pipes, &pumps, &valves, &curves, &emitters, f.Kinematic()/engineViscosity)
}

func engineAnswers(t testing.TB, all []testCase) []answer {
	var texts []string
	for _, c := range all {
		texts = append(texts, engineText(c.net, c.fluid))
	}
	var answers []answer
	engine(t, "solve.mjs", texts, &answers)
	if len(answers) != len(all) {
		t.Fatalf("%d answers to %d networks", len(answers), len(all))
	}
	return answers
}

func engineFlow(a answer, n Network, i int) float64 {
	l := n.Links[i]
	if _, ok := l.Law.(Emitter); ok {
		return a.Demand[n.Nodes[l.From].Name] / 1000 / engineLitres
	}
	return a.Flow[l.Name] / 1000 / engineLitres
}

// engineLeak is the resistance, m/(m³/s), of a closed link in the engine: 1e8 in
// feet and cubic feet a second.
const engineLeak = 1e8 * foot / (foot * foot * foot)

// withLeaks gives the network with the leak of the engine in each link that is
// shut or holds.
func withLeaks(n Network, held []int) Network {
	links := slices.Clone(n.Links)
	leak := func(i int) {
		links[i] = Link{Name: links[i].Name, From: links[i].From, To: links[i].To,
			Law: Function(func(q float64) (float64, float64) { return engineLeak * q, engineLeak })}
	}
	for _, i := range held {
		leak(i)
	}
	for i := range links {
		if links[i].Shut {
			leak(i)
		}
	}
	return Network{n.Nodes, links}
}

// With the engine's own friction law and constants the flows agree to 1e-6, its
// leak through closed links included.
func TestFlowsAgreeWithTheEngine(t *testing.T) {
	all := cases()
	answers := engineAnswers(t, all)
	for k, c := range all {
		s, err := NewSolver(c.net)
		if err != nil {
			t.Fatal(err)
		}
		r, err := s.Solve(c.fluid, Options{Gravity: engineGravity, Friction: engineFriction})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		steps, held := r.Iterations, r.Held
		r = solve(t, withLeaks(c.net, held), c.fluid, Options{Gravity: engineGravity, Friction: engineFriction})
		greatest, worst := 0.0, 0.0
		for i := range r.Flow {
			greatest = max(greatest, math.Abs(float64(r.Flow[i])))
		}
		for i := range r.Flow {
			got, want := float64(r.Flow[i]), engineFlow(answers[k], c.net, i)
			if c.net.Links[i].Shut || slices.Contains(held, i) {
				got = 0 // the engine does not tell its leak
			}
			off := math.Abs(got-want) / max(math.Abs(want), 1e-2*greatest)
			worst = max(worst, off)
			if off > 1e-6 {
				t.Errorf("%s, link %s: %.10g m³/s, engine %.10g", c.name, c.net.Links[i].Name, got, want)
			}
		}
		t.Logf("%-32s %4d links: flows within %.1e; %d steps, engine %g", c.name, len(c.net.Links), worst, steps, answers[k].Iterations)
	}
}

// With the law of this package, which follows Colebrook, heads agree within 1 % of
// the spread of heads, save in the range between laminar and turbulent.
func TestHeadsAreNearThoseOfTheEngine(t *testing.T) {
	all := cases()
	answers := engineAnswers(t, all)
	for k, c := range all {
		s, err := NewSolver(c.net)
		if err != nil {
			t.Fatal(err)
		}
		r, err := s.Solve(c.fluid, Options{Gravity: engineGravity})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		low, high, worst := math.Inf(1), math.Inf(-1), 0.0
		for i := range r.Head {
			low, high = min(low, float64(r.Head[i])), max(high, float64(r.Head[i]))
		}
		for i, node := range c.net.Nodes {
			want, told := answers[k].Head[node.Name]
			if !told {
				continue // the outlet of an emitter
			}
			off := math.Abs(float64(r.Head[i])-want) / (high - low)
			worst = max(worst, off)
			if off > 0.01 {
				t.Errorf("%s, node %s: %.6g m, engine %.6g of %.4g to %.4g", c.name, node.Name, float64(r.Head[i]), want, low, high)
			}
		}
		t.Logf("%-32s heads within %.2g %%", c.name, 100*worst)
	}
}

// BenchmarkBeside times each part of the work of both on the same networks: to
// make the network ready (the engine: to read it, and to order it), to solve it
// from scratch, and again after one valve changed. Of either the middle of many
// timings is told, since the machine may be busy: own-ns and engine-ns.
//
// Each stops by its own measure: the engine when the flows change by less than 1e-8
// of their sum from one step to the next, this package when every link agrees with
// its law to 1e-8 m and every node with its demand, whatever the step was. The laws
// of this package stay bound to the fluid from one solve to the next; "first" binds
// them anew each time, as the first solve of a solver does.
func BenchmarkBeside(b *testing.B) {
	for _, size := range gridSizes {
		net := gridNetwork(size[0], size[1])
		valve, open, throttled := gridValve(net)
		c := &conditions{gravity: engineGravity}
		setting := func(v Valve) float64 {
			e := element{rest: new(rest)}
			v.bind(c, &e)
			return lossSetting(e.square, 50)
		}
		var told struct {
			Read, Open, Solve, Again float64
			Iterations               struct{ Solve, Again float64 }
		}
		engine(b, "bench.mjs", map[string]any{
			"text": engineText(net, water20), "valve": net.Links[valve].Name,
			"settings": []float64{setting(open), setting(throttled)},
		}, &told)
		s, err := NewSolver(net)
		if err != nil {
			b.Fatal(err)
		}
		var last *Result
		run := func(o Options) func() {
			return func() {
				if last, err = s.Solve(water20, o); err != nil {
					b.Fatal(err)
				}
			}
		}
		b.Run(fmt.Sprintf("%d/ready", len(net.Links)), func(b *testing.B) {
			middle(b, func() {
				if _, err := NewSolver(net); err != nil {
					b.Fatal(err)
				}
			})
			b.ReportMetric(told.Read+told.Open, "engine-ns")
			b.ReportMetric(told.Open, "engine-order-ns")
		})
		b.Run(fmt.Sprintf("%d/first", len(net.Links)), func(b *testing.B) {
			middle(b, func() {
				s.bound = conditions{}
				run(Options{})()
			})
			b.ReportMetric(told.Solve, "engine-ns")
		})
		b.Run(fmt.Sprintf("%d/solve", len(net.Links)), func(b *testing.B) {
			middle(b, run(Options{}))
			b.ReportMetric(told.Solve, "engine-ns")
			b.ReportMetric(float64(last.Iterations), "steps")
			b.ReportMetric(told.Iterations.Solve, "engine-steps")
		})
		b.Run(fmt.Sprintf("%d/again", len(net.Links)), func(b *testing.B) {
			run(Options{})()
			link := s.Link(valve)
			link.Law = throttled
			if err := s.SetLink(valve, link); err != nil {
				b.Fatal(err)
			}
			middle(b, run(Options{Start: last}))
			b.ReportMetric(told.Again, "engine-ns")
			b.ReportMetric(float64(last.Iterations), "steps")
			b.ReportMetric(told.Iterations.Again, "engine-steps")
			link.Law = open
			if err := s.SetLink(valve, link); err != nil {
				b.Fatal(err)
			}
		})
	}
}

// middle times each run and reports the middle one.
func middle(b *testing.B, run func()) {
	var times []float64
	for b.Loop() {
		start := time.Now()
		run()
		times = append(times, float64(time.Since(start).Nanoseconds()))
	}
	slices.Sort(times)
	b.ReportMetric(times[len(times)/2], "own-ns")
}
