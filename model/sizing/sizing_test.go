package sizing

import (
	"math"
	"slices"
	"strings"
	"testing"

	"rinsewright/assets"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/circuitfile"
	. "rinsewright/model/quantity"
)

func vesselOf(name string, d float64) Object {
	return Object{Name: name, Sort: VesselSort, Diameter: Some(Length(d)), Bottom: Some(model.DIN28011), Device: Some(Static),
		Supply: Some(Length(20)), Return: Some(Length(18)), Rise: Some(Length(4)), PerDay: Some(2.0)}
}

func lineOf(name string, size model.TubeSize, length float64) Object {
	return Object{Name: name, Sort: LineSort, Size: Some(size), Length: Some(Length(length)),
		Supply: Some(Length(20)), Return: Some(Length(18)), Rise: Some(Length(4)), PerDay: Some(1.0)}
}

// sheet sizes a project of some objects.
func sheet(t *testing.T, change func(*Project), objects ...Object) *Sheet {
	t.Helper()
	p := NewProject()
	p.Objects = objects
	if change != nil {
		change(p)
	}
	s, err := Size(p, catalogue.Builtin())
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// number gives a line in metric units.
func (s *Sheet) number(t *testing.T, key, of string) float64 {
	t.Helper()
	l, ok := s.Line(key, of)
	if !ok {
		t.Fatalf("there is no line %s of %q", key, of)
	}
	x, known := l.Value.Number(Metric)
	if !known {
		t.Fatalf("%s of %q: %s", key, of, l.Told(Metric))
	}
	return x
}

// set puts another value, in file units, into a project.
func set(key, text string) func(*Project) {
	return func(p *Project) {
		for i, a := range p.Assumptions {
			if a.Key == key {
				next, err := a.Read(text, Metric)
				if err != nil {
					panic(err)
				}
				p.Assumptions[i] = next
				return
			}
		}
		panic("no assumption " + key)
	}
}

func near(t *testing.T, what string, got, want, relative float64) {
	t.Helper()
	if math.Abs(got-want) > relative*math.Abs(want) {
		t.Errorf("%s is %v, want %v", what, got, want)
	}
}

// Flow of a line: π/4 × bore² × 1.5 m/s by arithmetic; the bores are those of EN 10357
// series A. Flow of a vessel: π × 2 m × 31 L/min·m = 11.69 m³/h by arithmetic.
func TestFlowsByHand(t *testing.T) {
	for size, want := range map[model.TubeSize]float64{
		"EN 10357-A DN25": 2.87, "EN 10357-A DN40": 6.12, "EN 10357-A DN50": 10.60, "EN 10357-A DN65": 18.47, "EN 10357-A DN100": 42.41} {
		near(t, string(size), sheet(t, nil, lineOf("L", size, 10)).number(t, "flow", "L"), want, 2e-3) // the table tells two places
	}
	near(t, "vessel of 2 m", sheet(t, nil, vesselOf("T", 2)).number(t, "flow", "T"), 11.69, 1e-3)
	// "Ø 3 ft takes 28 gpm" at 3 gpm/ft = 37.25 L/min·m: common practice, no source.
	s := sheet(t, set("wetting-static", "37.25"), vesselOf("T", 0.9144))
	near(t, "vessel of 3 ft in gpm", s.number(t, "flow", "T")*4.402868, 28, 0.02)
}

// The station is sized for the most demanding object.
func TestMostDemandingObjectDecides(t *testing.T) {
	s := sheet(t, nil, vesselOf("T", 2), lineOf("L", "EN 10357-A DN50", 30),
		Object{Name: "M", Sort: MachineSort, Needs: Some(CubicMetresPerHour(14)), HoldUp: Some(Volume(0.03)), Pressure: Some(Bar(1)), Supply: Some(Length(9)), Return: Some(Length(9)), Rise: Some(Length(1)), PerDay: Some(1.0)})
	near(t, "flow", s.number(t, "station-flow", ""), 14, 1e-9)
	near(t, "rated flow", s.number(t, "pump-flow", ""), 14*1.15, 1e-9)
	near(t, "return", s.number(t, "return-flow", ""), 14*1.2, 1e-9)
	if s.Proposal.Size != Some(model.TubeSize("EN 10357-A DN50")) {
		t.Errorf("tube %v", s.Proposal.Size)
	}
}

// Velocities in the table: 10.6 m³/h run at 1.5 m/s in DN50, at 2.6 in DN40 and at
// 0.86 in DN65, by the areas.
func TestTableOfTubes(t *testing.T) {
	p := NewProject()
	want := map[model.TubeSize]struct {
		v    float64
		fits bool
	}{"EN 10357-A DN40": {2.60, true}, "EN 10357-A DN50": {1.50, true}, "EN 10357-A DN65": {0.86, false}, "EN 10357-A DN32": {3.66, false}}
	seen := 0
	for _, r := range p.Tubes(catalogue.Builtin(), CubicMetresPerHour(10.603)) {
		w, ok := want[r.Tube.Size]
		if !ok {
			continue
		}
		seen++
		near(t, string(r.Tube.Size), float64(r.Velocity), w.v, 5e-3)
		if r.Fits != w.fits || r.Fits == (r.Why != "") {
			t.Errorf("%s fits: %v %q", r.Tube.Size, r.Fits, r.Why)
		}
	}
	if seen != len(want) {
		t.Errorf("%d of the sizes stand in the table", seen)
	}
}

// Objects that differ too much for one tube: the largest decides and the note says so.
func TestTooDifferentForOneTube(t *testing.T) {
	s := sheet(t, nil, lineOf("small", "EN 10357-A DN25", 5), lineOf("large", "EN 10357-A DN80", 5))
	l, _ := s.Line("station-tube", "")
	if l.Value.Text(Metric) != "EN 10357-A DN80" || !strings.Contains(l.Why, "differ too much") {
		t.Errorf("%s %q", l.Told(Metric), l.Why)
	}
}

// 10 m³/h of water from 20 to 80 °C take 696 kW and, at 4 bar absolute, 1,175 kg/h of
// steam; the duty is 1.161 kW a m³/h and K: computed with the properties of
// IAPWS-IF97 outside this program. The solution of the wash is caustic of 1 %, whose
// volume-related heat capacity is within 1.5 % of water's.
func TestHeatByPublishedProperties(t *testing.T) {
	ten := Object{Name: "M", Sort: MachineSort, Needs: Some(CubicMetresPerHour(10)), HoldUp: Some(Volume(0.03)), Pressure: Some(Bar(1)), Supply: Some(Length(9)), Return: Some(Length(9)), Rise: Some(Length(1)), PerDay: Some(1.0)}
	s := sheet(t, set("cold", "20"), ten)
	near(t, "kW a m³/h and K", s.number(t, "once-through", "")/10/(75-20), 1.161, 0.015)
	power := s.number(t, "heater", "")
	// 1,175 kg/h for 696 kW is 1.688 kg/h a kW; 3 bar gauge is 4.013 bar absolute.
	near(t, "steam a kW", s.number(t, "steam-flow", "")/power, 1.688, 0.003)
	near(t, "condensate", s.number(t, "condensate", ""), s.number(t, "steam-flow", ""), 0)
	// The same power warms the tank in the time assumed, or less as it is rounded up.
	if got := s.number(t, "warm-time", ""); got > 45 || got < 40 {
		t.Errorf("warm in %v min, want up to 45", got)
	}
}

// 2,000 L of water from 20 to 80 °C by 100 kW take 84 min: by arithmetic with
// IAPWS-IF97 for water. Here the power for a time is asked: the product is the same.
func TestWarmUpByHand(t *testing.T) {
	s := sheet(t, func(p *Project) { set("cold", "20")(p); set("warm-steel", "0")(p) }, vesselOf("T", 2))
	volume := s.number(t, "tank-volume", "") + s.number(t, "circuit", "") // L
	energy := s.number(t, "warm-power", "") * 45 / volume / (75 - 20)     // kW min a L and K
	near(t, "kW min a L and K", energy, 100.0*84/2000/60, 0.02)
}

// Tanks hold 1.3 to 1.5 times what circuit and puddle hold, or 3 to 5 minutes of
// flow: common practice, no source.
func TestTankRule(t *testing.T) {
	long := vesselOf("T", 2)
	long.Supply, long.Return = Some(Length(150)), Some(Length(150))
	s := sheet(t, nil, long)
	circuit := s.number(t, "circuit", "")
	near(t, "long lines", s.number(t, "tank-volume", ""), math.Ceil(circuit*1.4/100)*100, 1e-9)
	if ratio := s.number(t, "tank-volume", "") / circuit; ratio < 1.3 || ratio > 1.6 {
		t.Errorf("%v times what the circuit holds", ratio)
	}
	// 300 m of DN50 hold 1.963 L each: 589 L, by the bore.
	near(t, "lines", s.number(t, "hold-up", "T")-s.number(t, "own-volume", "T"), 300*1.9635, 1e-3)
	short := vesselOf("T", 2)
	short.Supply, short.Return = Some(Length(3)), Some(Length(3))
	s = sheet(t, nil, short)
	near(t, "short lines", s.number(t, "tank-volume", ""), math.Ceil(s.number(t, "station-flow", "")*1000/60*4/100)*100, 1e-9)
}

// Head lost: DN50 loses 0.35 bar on 100 m at 1.5 m/s, water of 80 °C (Colebrook,
// computed outside this program); cold water loses more by its viscosity, less than a
// third more. Power: ρgQH/η by arithmetic.
func TestPumpByHand(t *testing.T) {
	o := lineOf("L", "EN 10357-A DN50", 10)
	o.Supply = Some(Length(100))
	s := sheet(t, func(p *Project) { set("station-supply", "0.5")(p); set("fittings-share", "2")(p) }, o)
	perLength := s.number(t, "supply-loss", "L") / (100.5 * 1.02) * 100 * 998.2 * 9.80665 / 1e5
	if perLength < 0.35 || perLength > 0.35*4/3 {
		t.Errorf("%v bar on 100 m", perLength)
	}
	q, h := s.number(t, "pump-flow", "")/3600, s.number(t, "pump-head", "")
	near(t, "shaft", s.number(t, "pump-shaft", ""), 998.2*9.80665*q*h/0.55/1000, 1e-3)
	if m := s.number(t, "pump-motor", ""); m < s.number(t, "pump-shaft", "")*1.2 {
		t.Errorf("a motor of %v kW", m)
	}
}

// 1,000 L of 1.5 % NaOH at 20 °C (1.0155 kg/L) hold 15.23 kg, which are 30.47 kg of
// 50 %: worked example with a published density table of aqueous NaOH. The programme
// has 1 %; a tank of V litres then takes 1.0095·V·0.01/0.5 kg.
func TestConcentrateByHand(t *testing.T) {
	s := sheet(t, func(p *Project) { p.Tanks = 1 }, vesselOf("T", 2))
	near(t, "single use", s.number(t, "alkali-wash", "T"), s.number(t, "tank-volume", "")*1.0095*0.01/0.5, 2e-3)
	s = sheet(t, nil, vesselOf("T", 2))
	near(t, "reuse", s.number(t, "alkali-wash", "T"), s.number(t, "circuit", "")*0.15*1.0095*0.01/0.5, 2e-3)
	near(t, "a year", s.number(t, "alkali-year", ""), s.number(t, "alkali-wash", "T")*2*300, 1e-9)
}

// With a tank for recovered water the first rinse, 5 of 14 min, takes no fresh water.
func TestRecoveryTankSavesTheFirstRinse(t *testing.T) {
	three := sheet(t, nil, vesselOf("T", 2)).number(t, "water-wash", "T")
	four := sheet(t, func(p *Project) { p.Tanks = 4 }, vesselOf("T", 2)).number(t, "water-wash", "T")
	near(t, "water with recovery", four/three, 9.0/14, 1e-9)
}

func TestSharesAddUpAndBandsStandBeside(t *testing.T) {
	s := sheet(t, nil, vesselOf("T", 2))
	sum, bands := 0.0, 0
	for _, l := range s.Lines {
		if l.Key == "share" {
			x, _ := l.Value.Number(Metric)
			sum += x
			if strings.HasPrefix(l.Why, "usual: ") {
				bands++
			}
		}
	}
	near(t, "sum of shares", sum, 100, 1e-9)
	if bands != 4 {
		t.Errorf("%d bands", bands)
	}
	before := s.number(t, "cost-total", "")
	after := sheet(t, func(p *Project) {
		next, err := p.Prices.Set("panel", 28000)
		if err != nil {
			t.Fatal(err)
		}
		p.Prices = next
	}, vesselOf("T", 2)).number(t, "cost-total", "")
	near(t, "a dearer panel", after-before, 10000, 1e-9)
	for _, bad := range []float64{-1, math.NaN(), math.Inf(1)} {
		if _, err := DefaultPrices().Set("panel", bad); err == nil {
			t.Errorf("%v was taken for a price", bad)
		}
	}
}

// More of the one never gives less of the other.
func TestMonotone(t *testing.T) {
	keys := []string{"station-flow", "pump-flow", "pump-head", "pump-shaft", "pump-motor", "return-flow", "return-shaft", "circuit", "tank-volume", "heater", "steam-flow",
		"water-day", "heat-day", "steam-day", "electricity-day", "alkali-day", "cost-total"}
	within := func(what string, steps []func(*Object), keys ...string) {
		last := map[string]float64{}
		for i, step := range steps {
			o := vesselOf("T", 2)
			o.Rated = Some(CubicMetresPerHour(11.7))
			step(&o)
			s := sheet(t, nil, o)
			for _, k := range keys {
				x := s.number(t, k, "")
				if x < last[k]*(1-1e-9) {
					t.Errorf("%s, step %d: %s falls from %v to %v", what, i, k, last[k], x)
				}
				last[k] = x
			}
		}
	}
	var length, rise, washes, flow []func(*Object)
	for i := range 8 {
		x := float64(i)
		length = append(length, func(o *Object) { o.Supply, o.Return = Some(Length(5+20*x)), Some(Length(5+20*x)) })
		rise = append(rise, func(o *Object) { o.Rise = Some(Length(x)) })
		washes = append(washes, func(o *Object) { o.PerDay = Some(x) })
		flow = append(flow, func(o *Object) { o.Rated = Some(CubicMetresPerHour(10.7 + 0.5*x)) }) // within one tube
	}
	within("length", length, keys...)
	within("rise", rise, keys...)
	within("washes", washes, keys...)
	within("flow", flow, keys...)
}

// What is not told is not known, and so is what follows from it; the rest is known.
func TestUnknownIsNotZero(t *testing.T) {
	for _, x := range []struct {
		what       string
		take       func(*Object)
		not, still []string
	}{
		{"diameter of T", func(o *Object) { o.Diameter = Opt[Length]{} }, []string{"station-flow", "pump-flow", "pump-head", "tank-volume", "heater", "water-year", "cost-total"}, []string{"tanks"}},
		{"spray device of T", func(o *Object) { o.Device = Opt[Device]{} }, []string{"station-flow", "pump-head"}, []string{"tanks"}},
		{"length of supply of T", func(o *Object) { o.Supply = Opt[Length]{} }, []string{"pump-head", "pump-motor", "circuit", "tank-volume", "heater", "cost-total"}, []string{"station-flow", "return-head", "water-year"}},
		{"length of return of T", func(o *Object) { o.Return = Opt[Length]{} }, []string{"return-head", "circuit"}, []string{"station-flow", "pump-head"}},
		{"rise of T", func(o *Object) { o.Rise = Opt[Length]{} }, []string{"pump-head", "electricity-year"}, []string{"tank-volume", "return-head"}},
		{"bottom of T", func(o *Object) { o.Bottom = Opt[model.Shape]{} }, []string{"circuit", "tank-volume"}, []string{"pump-head"}},
		{"washes a day of T", func(o *Object) { o.PerDay = Opt[float64]{} }, []string{"water-day", "alkali-year"}, []string{"tank-volume", "cost-total"}},
	} {
		o := vesselOf("T", 2)
		x.take(&o)
		s := sheet(t, nil, o, lineOf("L", "EN 10357-A DN50", 9))
		for _, k := range x.not {
			l, _ := s.Line(k, "")
			if l.Value.Known() || !slices.Contains(l.Missing, x.what) || !strings.HasPrefix(l.Told(Metric), NotKnown) {
				t.Errorf("without %s: %s is %s", x.what, k, l.Told(Metric))
			}
		}
		for _, k := range x.still {
			if l, ok := s.Line(k, ""); !ok || !l.Value.Known() {
				t.Errorf("without %s: %s is %s", x.what, k, l.Told(Metric))
			}
		}
	}
}

func TestEveryLineTellsFormulaAndSource(t *testing.T) {
	s := sheet(t, nil, vesselOf("T", 2), lineOf("L", "EN 10357-A DN50", 9))
	for _, l := range s.Lines {
		if l.Section == "" || l.Label == "" || l.Formula == "" || l.SourceWords() == "" || !l.Value.Known() {
			t.Errorf("%s of %q: %q by %q, %s", l.Key, l.Of, l.Label, l.Formula, l.Told(Metric))
		}
	}
	seen := map[[2]string]bool{}
	for _, l := range s.Lines {
		if seen[[2]string{l.Key, l.Of}] {
			t.Errorf("%s of %q stands twice", l.Key, l.Of)
		}
		seen[[2]string{l.Key, l.Of}] = true
	}
}

func TestAssumptionsAreReadAndChecked(t *testing.T) {
	a := Defaults()[0] // least velocity
	b, err := a.Read("6 ft/s", Metric)
	if err != nil || math.Abs(b.Value.si-1.8288) > 1e-9 || b.Basis.Standing != StandingTold || !b.Changed() || b.Unusual() {
		t.Errorf("%v %v %v", b.Value, b.Basis, err)
	}
	if c, err := b.Read("1.5", Metric); err != nil || c.Changed() {
		t.Errorf("the old value again: %v %v", c.Value, err)
	}
	for _, bad := range []string{"", "fast", "100", "-1", "0", "1.5 kg"} {
		if _, err := a.Read(bad, Metric); err == nil {
			t.Errorf("%q was taken", bad)
		}
	}
	if got := a.Value.Text(US); got != "4.92 ft/s" {
		t.Errorf("in US units %q", got)
	}
	for _, a := range Defaults() {
		if a.Changed() || a.Unusual() {
			t.Errorf("%s: %v is not what the program carries, or outside its own range", a.Key, a.Value)
		}
	}
}

func TestWhatCannotBeSized(t *testing.T) {
	for want, change := range map[string]func(*Project){
		"nothing to clean": func(p *Project) { p.Objects = nil },
		"name of its own":  func(p *Project) { p.Objects = append(p.Objects, p.Objects[0]) },
		"series of tubes":  func(p *Project) { p.Series = "wood" },
		"ready programme":  func(p *Project) { p.Programme = "soap" },
		"1 to 4 tanks":     func(p *Project) { p.Tanks = 5 },
		"assumption cold": func(p *Project) {
			p.Assumptions = slices.DeleteFunc(p.Assumptions, func(a Assumption) bool { return a.Key == "cold" })
		},
		"no unit prices": func(p *Project) { p.Prices = nil },
	} {
		p := NewProject()
		p.Objects = []Object{vesselOf("T", 2)}
		change(p)
		if _, err := Size(p, catalogue.Builtin()); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
}

// Steam of 0.2 bar gauge condenses at 105 °C (IAPWS-IF97) and heats to 75 °C; a wash at
// 75 °C with steam at the range's foot still gets a surface, one hotter than its steam
// does not.
func TestHeaterTellsWhenSteamIsTooCold(t *testing.T) {
	s := sheet(t, set("steam-pressure", "0.2"), vesselOf("T", 2))
	strong := sheet(t, nil, vesselOf("T", 2))
	if weak, usual := s.number(t, "heater-area", ""), strong.number(t, "heater-area", ""); weak <= usual {
		t.Errorf("weak steam takes %v m², strong %v m²", weak, usual)
	}
}

func TestStationTakesTheProposal(t *testing.T) {
	cat := catalogue.Builtin()
	for _, series := range []string{"EN 10357-A", "ASME BPE", "ISO 2037"} {
		for tanks := 1; tanks <= 4; tanks++ {
			s := sheet(t, func(p *Project) { p.Series, p.Tanks = series, tanks }, vesselOf("T", 2))
			g, err := Station(s.Proposal, cat)
			if err != nil {
				t.Fatal(err)
			}
			if err := g.Check(cat); err != nil {
				t.Error(err)
			}
			for _, p := range g.Circuit.Parts() {
				switch p := p.(type) {
				case *model.Vessel:
					if p.Working != s.Proposal.TankVolume || p.Size != s.Proposal.Size {
						t.Errorf("%s holds %v in %v", p.Tag, p.Working, p.Size)
					}
				case *model.Pump:
					if p.Kind == "centrifugal-pump" && (p.RatedFlow != s.Proposal.PumpFlow || p.RatedHead != s.Proposal.PumpHead || p.Motor != s.Proposal.PumpMotor) {
						t.Errorf("%s: %v at %v", p.Tag, p.RatedFlow, p.RatedHead)
					}
				case *model.Exchanger:
					if p.Duty != s.Proposal.Heater || p.Area != s.Proposal.HeaterArea {
						t.Errorf("%s: %v", p.Tag, p.Duty)
					}
				}
			}
		}
	}
	if _, err := Station(Proposal{Tanks: 3}, cat); err == nil || !strings.Contains(err.Error(), "the flow") {
		t.Errorf("a proposal of nothing: %v", err)
	}
	huge := sheet(t, set("tank-minutes", "10"), Object{Name: "M", Sort: MachineSort, Needs: Some(CubicMetresPerHour(95)), HoldUp: Some(Volume(18)), Pressure: Some(Bar(1)),
		Supply: Some(Length(90)), Return: Some(Length(90)), Rise: Some(Length(1)), PerDay: Some(1.0)})
	if _, err := Station(huge.Proposal, cat); err == nil || !strings.Contains(err.Error(), "does not fit") {
		t.Errorf("a tank of %v: %v", huge.Proposal.TankVolume, err)
	}
}

func TestObjectsOfTheDemo(t *testing.T) {
	b, err := assets.Files.ReadFile("demo/oat-drink-station.circuit.json")
	if err != nil {
		t.Fatal(err)
	}
	c, err := circuitfile.Decode("demo", b)
	if err != nil {
		t.Fatal(err)
	}
	objects := Objects(c, catalogue.Builtin())
	names := ""
	for _, o := range objects {
		names += o.Name + " "
	}
	if names != "FL-301 T-201 T-202 " {
		t.Fatalf("objects %s", names)
	}
	v := objects[1]
	if v.Sort != VesselSort || math.Abs(v.Rated.Or(0).CubicMetresPerHour()-12) > 1e-9 || v.Device != Some(Static) || math.Abs(v.Pressure.Or(0).Bar()-1.8) > 1e-9 || v.Diameter != Some(Length(2)) {
		t.Errorf("%+v", v)
	}
	// P-101 stands at 0.405 m, the way to T-201 goes over TE-211 at 4.465 m.
	near(t, "rise", float64(v.Rise.Or(0)), 4.06, 0.02)
	if l := float64(v.Supply.Or(0)); l < 9 || l > 13 {
		t.Errorf("supply %v m", l)
	}
	s := sheet(t, nil, objects...)
	near(t, "flow", s.number(t, "station-flow", ""), 12, 1e-9)
	if l, _ := s.Line("water-day", ""); l.Value.Known() {
		t.Error("water a day is known though no washes a day were told")
	}
}
