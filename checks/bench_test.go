package checks_test

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"rinsewright/assets"
	"rinsewright/checks"
	"rinsewright/checks/checktest"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	"rinsewright/model/quantity"
)

// plantOf makes a station with as many objects on its supply and return headers
// as give about n parts: twelve parts an object, with valves, instruments, a drain
// and a strainer. Twelve steps wash twelve of the objects one after the other.
func plantOf(tb testing.TB, n int) *model.Circuit {
	tb.Helper()
	var b strings.Builder
	fmt.Fprintf(&b, `
part T-1 alkali-tank size=DN50 inlet_size=DN50 diameter_m=1.2 height_m=1.8 elevation_m=1 level_m=1.2 working_volume_L=1500 vented=yes
part P-1 centrifugal-pump size=DN50 outlet_size=DN50 elevation_m=0.5 casing_drain=yes outlet_way=up rated_flow_m3h=12 rated_head_m=%d efficiency_pct=55 npsh_required_m=1 motor_kW=4 hold_up_L=2
part E-1 plate-heater size=DN50 service_size=DN25 over_temperature_limit=yes duty_kW=700 pressure_drop_bar=0.5 rated_flow_m3h=12 hold_up_L=10
run h1 T-1.outlet P-1.a DN50 1/-0.5
run h2 P-1.b E-1.a DN50 1/0.1
`, 20+n/20) // the last object lies far down the headers
	supply, back := "E-1.b", "T-1.return"
	objects := max(n/12, 1)
	for i := range objects {
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
		i := k * objects / 12
		purpose := []string{"first-rinse", "alkali-wash", "rinse-between", "final-rinse"}[k%4]
		fmt.Fprintf(&b, "step s%d %s from=T-1 to=T-1 cleans=F-%d flow_m3h=11 temperature_C=60 strength_pct=1 running=P-1 VA-%d=open VB-%d=open\n", k, purpose, i, i, i)
	}
	c, err := checktest.Sketch(b.String())
	if err != nil {
		tb.Fatal(err)
	}
	return c
}

// What the benchmark measures is solved: all of the steps, each for itself.
func TestBenchmarkPlantIsSolved(t *testing.T) {
	rules := []*checks.Rule{checks.Find(checks.Rules(), "pump-too-small"), checks.Find(checks.Rules(), "weak-shear")}
	for _, n := range []int{100, 1000, 10000} {
		r, err := checks.Run(context.Background(), plantOf(t, n), catalogue.Builtin(), checks.Builtin("food"), rules)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range append(r.Findings, r.NotAssessed...) {
			t.Errorf("%d parts: %s at %s: %s", n, f.Rule, f.Where, f.Message.In(0))
		}
	}
}

// BenchmarkDemo checks the station that the program shows first.
func BenchmarkDemo(b *testing.B) {
	data, err := assets.Files.ReadFile("demo/oat-drink-station.circuit.json")
	if err != nil {
		b.Fatal(err)
	}
	c, err := circuitfile.Decode("demo", data)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := checks.Run(context.Background(), c, catalogue.Builtin(), checks.Builtin("food"), checks.Rules()); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAllRules(b *testing.B) {
	for _, n := range []int{100, 1000, 10000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			c := plantOf(b, n)
			b.ReportMetric(float64(len(c.Parts())), "parts")
			b.ReportAllocs()
			for b.Loop() {
				if _, err := checks.Run(context.Background(), c, catalogue.Builtin(), checks.Builtin("food"), checks.Rules()); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkRule shows what each rule costs beside the facts that all share.
func BenchmarkRule(b *testing.B) {
	c := plantOf(b, 1000)
	for _, r := range checks.Rules() {
		b.Run(r.Name, func(b *testing.B) {
			for b.Loop() {
				if _, err := checks.Run(context.Background(), c, catalogue.Builtin(), checks.Builtin("food"), []*checks.Rule{r}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkEdit shows what comes after one edit: of a tag, of one step, of a run that one
// object alone is fed by, and of a run that every step passes.
func BenchmarkEdit(b *testing.B) {
	for _, n := range []int{1000, 10000} {
		c := plantOf(b, n)
		tag := model.Clone(c.Part("f-3"))
		tag.Meta().Tag = "L-3"
		step := model.Clone(c.Step("s5"))
		step.Flow = quantity.Some(quantity.CubicMetresPerHour(10))
		side, header := model.Clone(c.Run("g7")), model.Clone(c.Run("h2"))
		side.Stretches[0].Length = quantity.Some(quantity.Length(3))
		header.Stretches[0].Length = quantity.Some(quantity.Length(3))
		for _, edit := range []struct {
			name          string
			before, after model.Record
		}{
			{"tag", c.Part("f-3"), tag}, {"step", c.Step("s5"), step},
			{"side", c.Run("g7"), side}, {"header", c.Run("h2"), header},
		} {
			next, err := c.Apply(model.Edit{Changes: []model.Change{model.Replacing(edit.before, edit.after)}})
			if err != nil {
				b.Fatal(err)
			}
			b.Run(fmt.Sprint(edit.name, " ", n), func(b *testing.B) {
				var kept checks.Checker
				both := [2]*model.Circuit{c, next}
				for i := 0; b.Loop(); i++ {
					if _, err := kept.Run(context.Background(), both[i%2], catalogue.Builtin(), checks.Builtin("food"), checks.Rules()); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
