package main

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rinsewright/canvas/draw"
	"rinsewright/checks"
	"rinsewright/checks/checktest"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/flow"
	"rinsewright/model/network"
)

// scaleFile writes the plant of so many runs to a file, to be measured from
// outside: go test -run TestScaleFile ./cmd/circuit -scale-file FILE -scale-runs 100000
var (
	scaleFile = flag.String("scale-file", "", "write the circuit of the benchmarks to this file")
	scaleRuns = flag.Int("scale-runs", 100_000, "runs of the circuit that -scale-file writes")
)

// scales are the sizes of the benchmarks in runs; there are about as many parts.
var scales = []int{100, 1_000, 10_000, 100_000}

// scaled makes a station that washes lines on a supply and a return header, as many
// as give n runs or a few more, each with valves, instruments, a strainer and a
// drain, laid out on the drawing. Twelve steps wash twelve of the lines, whatever
// the size: what is measured is how cost grows with the circuit, not with the steps.
func scaled(t testing.TB, n int) *model.Circuit {
	t.Helper()
	const perLine = 13
	lines := max((n-2)/perLine, 1)
	var b strings.Builder
	fmt.Fprintf(&b, `
part T-1 alkali-tank size=DN50 inlet_size=DN50 diameter_m=1.2 height_m=1.8 elevation_m=1 level_m=1.2 working_volume_L=1500 vented=yes
part P-1 centrifugal-pump size=DN50 outlet_size=DN50 elevation_m=0.5 casing_drain=yes outlet_way=up rated_flow_m3h=12 rated_head_m=%d efficiency_pct=55 npsh_required_m=1 motor_kW=4 hold_up_L=2
run h T-1.outlet P-1.a DN50 1/-0.5
`, 20+lines)
	supply, back := "P-1.b", "T-1.return"
	for i := range lines {
		fmt.Fprintf(&b, `
part SA-%[1]d tee size=DN50 second_size=DN50 stub_mm=30 run_mm=120 branch_way=side
part VA-%[1]d butterfly-valve size=DN50 seat_a_mm=25 seat_b_mm=25 position_proof=yes
part FT-%[1]d flow-transmitter size=DN50
part TT-%[1]d temperature-transmitter size=DN50 stub_mm=10 pocket_bore_mm=20
part ST-%[1]d strainer size=DN50
part F-%[1]d filler-line size=DN50 needs_flow_m3h=11 smallest_bore_mm=50 largest_bore_mm=50 length_m=4 hold_up_L=8
part AT-%[1]d conductivity-transmitter size=DN50 stub_mm=10 pocket_bore_mm=20
part SD-%[1]d tee size=DN50 second_size=DN25 stub_mm=20 run_mm=120 branch_way=down
part VD-%[1]d butterfly-valve size=DN25 seat_a_mm=20 seat_b_mm=20
part X-%[1]d sewer-drain size=DN25 air_gap_mm=60
part VB-%[1]d butterfly-valve size=DN50 seat_a_mm=25 seat_b_mm=25 position_proof=yes
part SB-%[1]d tee size=DN50 second_size=DN50 stub_mm=30 run_mm=120 branch_way=side
run a%[1]d %[2]s SA-%[1]d.a DN50 1/0.01
run b%[1]d SA-%[1]d.branch VA-%[1]d.a DN50 face
run c%[1]d VA-%[1]d.b FT-%[1]d.a DN50 0.5/0.005
run d%[1]d FT-%[1]d.b TT-%[1]d.a DN50 0.5/0.005
run e%[1]d TT-%[1]d.b ST-%[1]d.a DN50 1/-0.02
run f%[1]d ST-%[1]d.b F-%[1]d.a DN50 1/-0.02
run g%[1]d F-%[1]d.b AT-%[1]d.a DN50 2/-0.03
run i%[1]d AT-%[1]d.b SD-%[1]d.a DN50 2/-0.03
run j%[1]d SD-%[1]d.branch VD-%[1]d.a DN25 face
run k%[1]d VD-%[1]d.b X-%[1]d.a DN25 0.5/-0.5
run l%[1]d SD-%[1]d.b VB-%[1]d.a DN50 1/0.02
run m%[1]d VB-%[1]d.b SB-%[1]d.branch DN50 face
run o%[1]d SB-%[1]d.b %[3]s DN50 1/-0.01
`, i, supply, back)
		supply, back = fmt.Sprintf("SA-%d.b", i), fmt.Sprintf("SB-%d.a", i)
	}
	for k := range 12 {
		i := k * lines / 12
		purpose := []string{"first-rinse", "alkali-wash", "rinse-between", "final-rinse"}[k%4]
		fmt.Fprintf(&b, "step s%d %s from=T-1 to=T-1 cleans=F-%d flow_m3h=11 temperature_C=60 strength_pct=1 running=P-1 VA-%d=open VB-%d=open\n", k, purpose, i, i, i)
	}
	c, err := checktest.Sketch(b.String())
	if err != nil {
		t.Fatal(err)
	}
	return laidOut(t, c)
}

// laidOut puts the parts of each line side by side, the lines below each other in
// columns of two hundred.
func laidOut(t testing.TB, c *model.Circuit) *model.Circuit {
	t.Helper()
	across := map[string]float64{"SA": 0, "VA": 20, "FT": 40, "TT": 60, "ST": 80, "F": 105, "AT": 135, "SD": 155, "VD": 155, "X": 155, "VB": 175, "SB": 195}
	down := map[string]float64{"VD": 12.5, "X": 25}
	var parts []model.Part
	for _, p := range c.Parts() {
		q := model.Clone(p)
		m := q.Meta()
		letters, number, _ := strings.Cut(m.Tag, "-")
		if x, ok := across[letters]; ok {
			var i int
			if _, err := fmt.Sscan(number, &i); err != nil {
				t.Fatal(err)
			}
			m.At = model.Point{X: 100 + x + float64(i/200)*300, Y: 100 + down[letters] + float64(i%200)*50}
		} else {
			m.At = model.Point{X: 40, Y: 60}
		}
		parts = append(parts, q)
	}
	out, err := model.FromRecords(c.Header(), parts, c.Runs(), c.Steps())
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestScaleFile(t *testing.T) {
	path, n := *scaleFile, *scaleRuns
	if path == "" { // the way itself is held small
		path, n = filepath.Join(t.TempDir(), "small.circuit.json"), 100
	}
	c := scaled(t, n)
	data, err := circuitfile.Encode(c)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	back, err := circuitfile.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got := len(back.Runs()); got < n-13 || got > n+13 {
		t.Errorf("%d runs, asked for were %d", got, n)
	}
	if code, _, errs := call("check", "--brief", path); code == exitBad {
		t.Errorf("check refuses it: %s", errs)
	}
	t.Logf("%d parts, %d runs, %d bytes", len(back.Parts()), len(back.Runs()), len(data))
}

// at runs a benchmark at each scale.
func at(b *testing.B, work func(b *testing.B, c *model.Circuit)) {
	for _, n := range scales {
		b.Run(fmt.Sprintf("runs=%d", n), func(b *testing.B) {
			c := scaled(b, n)
			b.ReportAllocs()
			work(b, c)
		})
	}
}

func BenchmarkLoad(b *testing.B) {
	at(b, func(b *testing.B, c *model.Circuit) {
		data, err := circuitfile.Encode(c)
		if err != nil {
			b.Fatal(err)
		}
		b.SetBytes(int64(len(data)))
		for b.Loop() {
			if _, err := circuitfile.Decode("x", data); err != nil {
				b.Fatal(err)
			}
		}
	})
}

func BenchmarkSave(b *testing.B) {
	at(b, func(b *testing.B, c *model.Circuit) {
		for b.Loop() {
			if _, err := circuitfile.Encode(c); err != nil {
				b.Fatal(err)
			}
		}
	})
}

func BenchmarkBuild(b *testing.B) {
	cat := catalogue.Builtin()
	at(b, func(b *testing.B, c *model.Circuit) {
		for b.Loop() {
			network.Build(c, cat)
		}
	})
}

// BenchmarkSolve solves one step with its line-up and route.
func BenchmarkSolve(b *testing.B) {
	cat := catalogue.Builtin()
	at(b, func(b *testing.B, c *model.Circuit) {
		p := network.Build(c, cat)
		h := p.Heights()
		for b.Loop() {
			s, err := flow.Solve(p, h, c.Steps()[1], flow.Options{})
			if err != nil {
				b.Fatal(err)
			}
			if !s.Solved() {
				b.Fatal(s.Missing, s.Failures)
			}
		}
	})
}

// BenchmarkCheck runs all rules over all twelve steps.
func BenchmarkCheck(b *testing.B) {
	at(b, func(b *testing.B, c *model.Circuit) {
		for b.Loop() {
			r, err := checks.Run(context.Background(), c, catalogue.Builtin(), checks.Builtin("food"), checks.Rules())
			if err != nil {
				b.Fatal(err)
			}
			if len(r.Errors) > 0 {
				b.Fatal(r.Errors)
			}
		}
	})
}

// BenchmarkDraw makes the picture, its lines laid anew.
func BenchmarkDraw(b *testing.B) {
	cat := catalogue.Builtin()
	at(b, func(b *testing.B, c *model.Circuit) {
		for b.Loop() {
			draw.Circuit(c, cat, draw.Options{})
		}
	})
}

func BenchmarkSVG(b *testing.B) {
	cat := catalogue.Builtin()
	at(b, func(b *testing.B, c *model.Circuit) {
		picture := draw.Circuit(c, cat, draw.Options{})
		for b.Loop() {
			var out bytes.Buffer
			if err := draw.WriteSVG(&out, picture, draw.Light); err != nil {
				b.Fatal(err)
			}
		}
	})
}
