package checks_test

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"math/rand/v2"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"rinsewright/checks"
	"rinsewright/checks/checktest"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
)

var oracleFlag = flag.Int("circuits", 1000, "random circuits of TestOracle")

// asked is a circuit as oracle.py reads it.
type asked struct {
	Nodes []askedNode          `json:"nodes"`
	Edges []askedEdge          `json:"edges"`
	Parts map[string]askedPart `json:"parts"`
	Joins [][2]string          `json:"joins"` // parts that a run joins
	Steps []askedStep          `json:"steps"`
	Limit float64              `json:"limit"` // of dead legs, m
}

type askedNode struct {
	Part     string `json:"part"`
	Role     string `json:"role"`
	Label    string `json:"label"` // as the finding names the place
	Terminal bool   `json:"terminal"`
	Mouth    bool   `json:"mouth"` // inner point of a terminal
}

type askedEdge struct {
	U      int     `json:"u"`
	V      int     `json:"v"`
	Part   string  `json:"part"`
	Run    string  `json:"run"`
	Length float64 `json:"length"`
	OneWay bool    `json:"one_way"` // from u to v
	Branch bool    `json:"branch"`
	Dry    bool    `json:"dry"`
}

type askedPart struct {
	Class  string   `json:"class"`
	Traits []string `json:"traits"`
	Medium string   `json:"medium"`
}

type askedStep struct {
	ID     string   `json:"id"`
	Open   []bool   `json:"open"`
	Source int      `json:"source"`
	Dest   int      `json:"dest"`
	Medium string   `json:"medium"`
	Cleans []string `json:"cleans"`
}

// answered is what the rules should find: ids, sorted.
type answered struct {
	Loose     [][]string `json:"loose"`
	NoRoute   []string   `json:"no_route"`
	WrongWay  []string   `json:"wrong_way"`
	OpenTo    []string   `json:"open_to"`
	Never     []string   `json:"never"`
	Undrained []string   `json:"undrained"`
	Legs      []string   `json:"legs"`
	Product   []string   `json:"product"`
	Skip      []string   `json:"skip"`
	OneWays   bool       `json:"one_ways"`
}

// drawn draws a circuit of a few parts that are joined at random, each port at most
// once, with one to three cleaning steps that throw every valve anyhow. In every fifth
// circuit check valves stand.
func drawn(r *rand.Rand, number int) string {
	var b strings.Builder
	var free []string
	add := func(id, kind, rest string, ports ...string) {
		fmt.Fprintf(&b, "part %s %s %s\n", id, kind, rest)
		for _, p := range ports {
			free = append(free, id+"."+p)
		}
	}
	take := func(from, to int) string {
		i := from + r.IntN(to-from)
		p := free[i]
		free = slices.Delete(free, i, i+1)
		return p
	}
	runs := 0
	join := func(p, q string) {
		runs++
		fmt.Fprintf(&b, "run r%d %s %s DN50 %.3f/0\n", runs, p, q, 0.01+0.49*r.Float64())
	}
	tee := func() string {
		return fmt.Sprintf("size=DN50 second_size=DN50 stub_mm=%.1f run_mm=%.1f", 1+60*r.Float64(), 1+200*r.Float64())
	}
	add("W-1", "water-supply", "size=DN50", "a")
	add("K-1", "tee", tee(), "b", "branch")
	join(take(0, 1), "K-1.a")
	add("T-1", "alkali-tank", "size=DN50 inlet_size=DN50 elevation_m=1")
	add("D-1", "sewer-drain", "size=DN50")
	choice := []string{"tee", "tee", "tee", "tee", "tee", "butterfly-valve", "butterfly-valve", "butterfly-valve", "cap", "filler-line", "product", "product", "sewer-drain"}
	if number%5 == 0 {
		choice = append(choice, "check-valve", "check-valve", "check-valve", "check-valve")
	}
	var valves, objects []string
	for i := range 4 + r.IntN(9) {
		old := len(free)
		id := fmt.Sprintf("X-%d", i)
		mm := func(most int) string { return fmt.Sprintf("%.1f", 1+float64(most)*r.Float64()) }
		switch kind := choice[r.IntN(len(choice))]; kind {
		case "tee":
			add(id, kind, tee(), "a", "b", "branch")
		case "product": // behind a valve
			add(id, "butterfly-valve", "size=DN50 normal=closed seat_a_mm="+mm(60)+" seat_b_mm="+mm(60), "a")
			add(id+"p", "product-supply", "size=DN50")
			join(id+".b", id+"p.a")
			if r.IntN(3) == 0 {
				valves = append(valves, id)
			}
		case "butterfly-valve":
			add(id, kind, "size=DN50 normal=closed seat_a_mm="+mm(60)+" seat_b_mm="+mm(60), "a", "b")
			valves = append(valves, id)
		case "check-valve":
			add(id, kind, "size=DN50", "a", "b")
		case "filler-line":
			add(id, kind, "size=DN50 smallest_bore_mm=50 largest_bore_mm=50 length_m=1 hold_up_L=4", "a", "b")
			objects = append(objects, id)
		default:
			add(id, kind, "size=DN50", "a")
		}
		if old > 0 && len(free) > old && r.IntN(12) > 0 {
			mine := take(old, len(free))
			join(take(0, old), mine)
		}
	}
	for _, p := range []string{"T-1.outlet", "T-1.return", "D-1.a"} {
		if len(free) > 0 && r.IntN(20) > 0 {
			join(take(0, len(free)), p)
		}
	}
	for range r.IntN(4) {
		if len(free) > 1 {
			p := take(0, len(free))
			join(p, take(0, len(free)))
		}
	}
	for i := range 1 + r.IntN(3) {
		fmt.Fprintf(&b, "step s%d %s from=%s to=%s", i, []string{"alkali-wash", "final-rinse"}[r.IntN(2)], []string{"W-1", "T-1"}[r.IntN(2)], []string{"D-1", "T-1"}[r.IntN(2)])
		if id, ok := pick(r, objects); ok && r.IntN(2) == 0 {
			b.WriteString(" cleans=" + id)
		}
		for _, v := range valves {
			if r.IntN(4) > 0 {
				b.WriteString(" " + v + "=open")
			}
		}
		b.WriteByte('\n')
	}
	return b.String()
}

func askOf(c *model.Circuit) asked {
	cat := catalogue.Builtin()
	plant := network.Build(c, cat)
	q := asked{Parts: map[string]askedPart{}, Joins: [][2]string{}, Limit: 1.5 * 0.050}
	for _, p := range c.Parts() {
		x := askedPart{Class: string(p.Class()), Traits: cat.Kind(p.Meta().Kind).Traits}
		switch p := p.(type) {
		case *model.Vessel:
			x.Medium = string(p.Holds.Or(""))
		case *model.Terminal:
			x.Medium = string(p.Medium.Or(""))
		}
		if x.Traits == nil {
			x.Traits = []string{}
		}
		q.Parts[string(p.RecordID())] = x
	}
	for n, node := range plant.Nodes {
		kind := plant.KindOfNode(n)
		terminal := q.Parts[string(node.Part)].Class == "terminal"
		q.Nodes = append(q.Nodes, askedNode{Part: string(node.Part), Role: node.Role, Label: checks.NodePlace(plant, n).String(), Terminal: terminal,
			Mouth: terminal && len(kind.Inner) > 0 && kind.Inner[0].Name == node.Point})
	}
	for e, edge := range plant.Edges {
		g := plant.Graph().Edge(e)
		q.Edges = append(q.Edges, askedEdge{U: g.U, V: g.V, Part: string(edge.Part), Run: string(edge.Run), Length: float64(edge.Length.Or(0)), OneWay: g.OneWay, Branch: edge.Branch, Dry: plant.Dry(e)})
	}
	for _, r := range c.Runs() {
		if !r.From.Loose() && !r.To.Loose() {
			q.Joins = append(q.Joins, [2]string{string(r.From.Part), string(r.To.Part)})
		}
	}
	for _, s := range c.Steps() {
		l := plant.LineUp(s)
		x := askedStep{ID: string(s.ID), Open: l.Open, Source: l.Source, Dest: l.Dest, Medium: string(s.Medium.Or("")), Cleans: []string{}}
		for _, id := range s.Cleans {
			x.Cleans = append(x.Cleans, string(id))
		}
		q.Steps = append(q.Steps, x)
	}
	return q
}

// The rules on ways against networkx (Debian package python3-networkx) and enumeration
// of all paths, which share nothing with the program's searches: not-connected, no-route,
// wrong-way, open-to-two, never-swept, no-drain-path, dead-leg, product-touches-cleaning.
// More circuits: go test -run TestOracle -circuits 20000.
func TestOracle(t *testing.T) {
	var questions []asked
	var circuits []*model.Circuit
	var texts []string
	for i := range *oracleFlag {
		text := drawn(rand.New(rand.NewPCG(uint64(i), 7)), i)
		c, err := checktest.Sketch(text)
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		circuits, questions, texts = append(circuits, c), append(questions, askOf(c)), append(texts, text)
	}
	in, err := json.Marshal(questions)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("/usr/bin/python3", "oracle.py")
	cmd.Stdin = bytes.NewReader(in)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("python3 with networkx is needed (apt install python3-networkx): %v\n%s", err, stderr.Bytes())
	}
	var answers []answered
	if err := json.Unmarshal(out, &answers); err != nil {
		t.Fatal(err)
	}
	seen := map[string]int{}
	for i, want := range answers {
		compareRules(t, texts[i], circuits[i], want, seen)
	}
	t.Logf("findings compared: %v", seen)
	for _, name := range []string{"not-connected", "no-route", "wrong-way", "open-to-two", "never-swept", "no-drain-path", "dead-leg", "product-touches-cleaning"} {
		if seen[name] < *oracleFlag/50 {
			t.Errorf("only %d findings of %s in %d circuits", seen[name], name, *oracleFlag)
		}
	}
}

func compareRules(t *testing.T, text string, c *model.Circuit, want answered, seen map[string]int) {
	t.Helper()
	found := func(name string) []checks.Finding {
		r, err := checks.Run(context.Background(), c, catalogue.Builtin(), checks.Builtin("food"), []*checks.Rule{checks.Find(checks.Rules(), name)})
		if err != nil || len(r.Errors) > 0 {
			t.Fatal(err, r.Errors)
		}
		return r.Findings
	}
	hold := func(name string, got, want []string) {
		slices.Sort(got)
		got = slices.Compact(got)
		seen[name] += len(want)
		if !slices.Equal(got, want) {
			t.Errorf("%s finds %q, should %q in\n%s", name, got, want, text)
		}
	}
	elements := func(name string) (out []string) {
		for _, f := range found(name) {
			out = append(out, string(f.At.Element))
		}
		return out
	}
	var loose, lost []string
	for _, f := range found("not-connected") {
		var group []string
		for _, p := range f.Places {
			group = append(group, string(p.Element))
		}
		slices.Sort(group)
		loose = append(loose, strings.Join(group, " "))
	}
	for _, group := range want.Loose {
		lost = append(lost, strings.Join(group, " "))
	}
	slices.Sort(lost)
	hold("not-connected", loose, lost)
	if slices.Contains(want.Skip, "way out by an inlet") {
		return // a vessel's inlet against the flow is told by other words
	}
	hold("no-route", elements("no-route"), want.NoRoute)
	var against []string
	for _, f := range found("wrong-way") {
		for _, s := range f.Steps {
			against = append(against, string(s))
		}
	}
	hold("wrong-way", against, want.WrongWay)
	if want.OneWays {
		return // in a loop with a check valve more may count as flow: see network.Route
	}
	hold("open-to-two", elements("open-to-two"), want.OpenTo)
	hold("product-touches-cleaning", elements("product-touches-cleaning"), want.Product)
	var stays []string
	for _, f := range found("no-drain-path") {
		for _, p := range f.Places {
			if c.Run(p.Element) != nil { // a part may hold nothing, and names the place
				stays = append(stays, string(p.Element))
			}
		}
	}
	want.Undrained = slices.DeleteFunc(want.Undrained, func(id string) bool { return c.Run(model.ID(id)) == nil })
	hold("no-drain-path", stays, want.Undrained)
	if !slices.Contains(want.Skip, "two mouths equally near") {
		hold("never-swept", elements("never-swept"), want.Never)
		if len(want.Skip) == 0 {
			var ends []string
			for _, f := range found("dead-leg") {
				ends = append(ends, f.At.String())
			}
			hold("dead-leg", ends, want.Legs)
		}
	}
}
