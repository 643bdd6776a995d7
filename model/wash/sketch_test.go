package wash_test

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
	"rinsewright/model/wash"
)

// sketch draws a circuit for a test.
type sketch struct {
	t       testing.TB
	changes []model.Change
	runs    int
}

func newSketch(t testing.TB) *sketch { return &sketch{t: t} }

// part adds a part of a kind with properties as they stand in a circuit file.
func (s *sketch) part(id, kind, properties string) {
	s.t.Helper()
	p, err := catalogue.Builtin().Kind(kind).New(model.ID(id), model.Point{})
	if err != nil {
		s.t.Fatal(err)
	}
	if err := json.Unmarshal([]byte("{"+properties+"}"), p); err != nil {
		s.t.Fatal(err)
	}
	p.Meta().Tag = id
	s.changes = append(s.changes, model.Adding(p))
}

const dn50 = "EN 10357-A DN50" // inside diameter 50 mm, wall 1.5 mm

// run joins two ports, each written part.port, by a level DN50 tube of a length in m;
// without any where it is negative.
func (s *sketch) run(from, to string, length float64) model.ID {
	s.runs++
	r := &model.Run{ID: model.ID(fmt.Sprintf("r%05d", s.runs)), From: endOf(from), To: endOf(to), Size: Some(model.TubeSize(dn50)), Elbows: Some(0)}
	if length >= 0 {
		r.Stretches = []model.Stretch{{Length: Some(Length(length)), Rise: Some(Length(0))}}
	}
	s.changes = append(s.changes, model.Adding(r))
	return r.ID
}

func endOf(s string) model.End {
	part, port, _ := strings.Cut(s, ".")
	return model.End{Part: model.ID(part), Port: port}
}

func (s *sketch) plant() *network.Plant {
	s.t.Helper()
	c, err := model.New("test").Apply(model.Edit{Label: "draw", Changes: s.changes})
	if err != nil {
		s.t.Fatal(err)
	}
	return network.Build(c, catalogue.Builtin())
}

// tank adds a flat-bottomed tank of 2 m² that holds litres.
func (s *sketch) tank(id, kind string, litres float64) {
	d := math.Sqrt(8 / math.Pi)
	s.part(id, kind, fmt.Sprintf(`"diameter_m":%.17g,"height_m":5,"bottom":"flat","top":"flat","level_m":%.17g,"elevation_m":1,"size":"%s","inlet_size":"%s"`, d, litres/2000, dn50, dn50))
}

// run runs steps and holds the record to what is true of any.
func run(t testing.TB, p *network.Plant, opt wash.Options, steps ...*model.Step) *wash.Record {
	t.Helper()
	for i, st := range steps {
		st.ID, st.Order = model.ID(fmt.Sprintf("s%d", i+1)), i
		if st.Name == "" {
			st.Name = string(st.ID)
		}
	}
	r, err := wash.Run(p, p.Heights(), steps, opt)
	if err != nil {
		t.Fatal(err)
	}
	balanced(t, r)
	return r
}

// simulated fails where a step was not simulated to its end.
func simulated(t testing.TB, r *wash.Record) *wash.Record {
	t.Helper()
	for _, s := range r.Steps {
		if !s.Simulated || s.Why != "" {
			t.Fatalf("%s: simulated %v: %s, missing %v", s.Step.Name, s.Simulated, s.Why, s.Missing)
		}
	}
	return r
}

// balanced holds a record to the conservation of volume, mass, heat and chemicals, and
// to bounds that nothing may leave.
func balanced(t testing.TB, r *wash.Record) {
	t.Helper()
	for name, a := range map[string]wash.Account{"volume": r.Balance.Volume, "mass": r.Balance.Mass, "heat": r.Balance.Heat, "solute": r.Balance.Solute} {
		if !(math.Abs(a.Error) < 1e-9) {
			t.Errorf("%s does not balance: in %g, out %g, stored %g, error %g", name, a.In, a.Out, a.Stored, a.Error)
		}
	}
	for _, trend := range r.Trends {
		last := -1.0
		for _, x := range trend.Points {
			if k, ok := x.Temperature.Get(); ok && !(k.Celsius() > 0 && k.Celsius() < 150) {
				t.Fatalf("%s at %v s: %v °C", trend.What, x.Time, k.Celsius())
			}
			if !(x.Strength >= -1e-12 && x.Strength <= 1) || !(x.Share >= -1e-9 && x.Share <= 1+1e-9) {
				t.Fatalf("%s at %v s: strength %v, share %v", trend.What, x.Time, x.Strength, x.Share)
			}
			if float64(x.Time) < last {
				t.Fatalf("%s: time runs back from %v to %v", trend.What, last, x.Time)
			}
			last = float64(x.Time)
		}
	}
	for _, tank := range r.Tanks {
		for _, x := range tank.Points {
			if x.Volume < -1e-12 {
				t.Fatalf("%s holds %v m³", tank.Vessel, x.Volume)
			}
		}
	}
}

// rinse makes a step with water at 20 °C.
func rinse(source, destination string, m3h, minutes float64) *model.Step {
	return &model.Step{Purpose: Some(model.FirstRinse), Medium: Some(model.Water), Temperature: Some(Celsius(20)),
		Source: model.ID(source), Destination: model.ID(destination), Flow: Some(CubicMetresPerHour(m3h)), Time: Some(Duration(60 * minutes))}
}

func trendOf(t testing.TB, r *wash.Record, what string) []wash.Sample {
	t.Helper()
	for _, x := range r.Trends {
		if x.What == what {
			return x.Points
		}
	}
	t.Fatalf("no trend %q", what)
	return nil
}

func near(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.9g, want %.9g within %.2g", what, got, want, tolerance)
	}
}

func known[T ~float64](t testing.TB, what string, v Opt[T]) float64 {
	t.Helper()
	x, ok := v.Get()
	if !ok {
		t.Fatalf("%s is not known", what)
	}
	return float64(x)
}
