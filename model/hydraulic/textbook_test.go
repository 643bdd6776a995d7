package hydraulic

import (
	"math"
	"testing"

	"rinsewright/model/quantity"
)

// Units of the American examples, exact by definition (NIST SP 811).
const (
	feet       = 0.3048
	inches     = 0.0254
	cubicFeet  = feet * feet * feet
	poundMass  = 0.45359237
	psi        = poundMass * StandardGravity / (inches * inches)
	gallon     = 231 * inches * inches * inches
	gpm        = gallon / 60
	horsepower = 550 * feet * poundMass * StandardGravity
)

// drawn solves one pipe through which a flow is drawn from a tank, and gives the
// state of the pipe and the head lost.
func drawn(t *testing.T, p Pipe, flow, lift float64, f Fluid) (PipeState, float64) {
	t.Helper()
	n := Network{
		Nodes: []Node{tank(0), {Elevation: metres(lift), Demand: quantity.Flow(flow)}},
		Links: []Link{{From: 0, To: 1, Law: p}},
	}
	r := solve(t, n, f, Options{})
	return p.At(quantity.Flow(flow), f), -float64(r.Pressure[1]) / (f.Density * StandardGravity)
}

// Y. A. Çengel, J. M. Cimbala, Fluid Mechanics, chapter 8, head loss in a pipe:
// water at 60 °F, 2 in, 0.2 ft³/s, 200 ft of stainless steel (7e-6 ft): 9.17 ft/s,
// Re 126 400, f 0.0174, 27.3 ft, 11.8 psi, 461 W.
func TestCengelHeadLoss(t *testing.T) {
	f := Fluid{62.36 * poundMass / cubicFeet, 7.536e-4 * poundMass / feet}
	p := Pipe{metres(200 * feet), quantity.Bore(2 * inches), metres(7e-6 * feet), 0}
	flow := 0.2 * cubicFeet
	s, head := drawn(t, p, flow, 0, f)
	near(t, "velocity", float64(s.Velocity)/feet, 9.17, 0.001)
	near(t, "Re", float64(s.Reynolds), 126400, 0.001)
	near(t, "f", float64(s.Friction), 0.0174, 0.003)
	near(t, "head, ft", head/feet, 27.3, 0.003)
	pressure := head * f.Density * StandardGravity
	near(t, "psi", pressure/psi, 11.8, 0.004)
	near(t, "power", pressure*flow, 461, 0.002)
}

// F. M. White, Fluid Mechanics, chapter 6, minor losses: water lifted 100 ft between
// reservoirs at 0.2 ft³/s through 400 ft of 2 in, ε/d 0.001, ΣK 12.2: f 0.0216,
// losses 84 ft, pump head 184 ft, 4.2 hp.
func TestWhitePumpPower(t *testing.T) {
	density := 1.94 * 32.174 * poundMass / cubicFeet
	f := Fluid{density, density * 1.1e-5 * feet * feet}
	p := Pipe{metres(400 * feet), quantity.Bore(2 * inches), metres(0.002 * inches), 12.2}
	flow := 0.2 * cubicFeet
	n := series(-100*feet, Valve{0}, p)
	s := solver(t, n)
	head, _, err := s.HeadFor(0, quantity.Flow(flow), f, Options{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "f", float64(p.At(quantity.Flow(flow), f).Friction), 0.0216, 0.002)
	near(t, "losses, ft", float64(head)/feet-100, 84, 0.007)
	near(t, "pump head, ft", float64(head)/feet, 184, 0.004)
	near(t, "hp", float64(head)*f.Density*StandardGravity*flow/horsepower, 4.2, 0.01)
}

// Crane TP-410, example 7-15: 100 gpm of water at 70 °F through 500 ft of 3" schedule
// 40 with four elbows, a gate valve and a 2½" lift check valve, lifted 400 ft: total
// head 421 ft, 15.2 bhp at an efficiency of 0.70 (an independent code: 420.35 and
// 15.15). Coefficients by its appendix A, friction factor for full turbulence 0.018:
// elbow 30, gate valve 8, lift check valve 600 of it; the check valve with its
// reducers by formula 2 and 4 there; exit 1.
func TestCraneLiftedWater(t *testing.T) {
	const ft, bore, small = 0.018, 3.068 * inches, 2.469 * inches
	f := Fluid{62.298 * poundMass / cubicFeet, 0.95e-3}
	narrow, err := Contraction(bore, small)
	value(t, narrow, err)
	widen, err := Expansion(small, bore)
	value(t, widen, err)
	beta := small / bore
	check := (600*ft + beta*(narrow+widen)) / math.Pow(beta, 4)
	p := Pipe{metres(500 * feet), quantity.Bore(bore), metres(0.00015 * feet), quantity.Ratio(4*30*ft + 8*ft + check + ExitLoss)}
	_, head := drawn(t, p, 100*gpm, 400*feet, f)
	near(t, "head, ft", head/feet, 421, 0.002)
	near(t, "losses, ft", head/feet-400, 20.35, 0.05)
	near(t, "bhp", head*f.Density*StandardGravity*100*gpm/0.70/horsepower, 15.2, 0.01)
}

// Crane TP-410, example 7-27: 250 gpm from 80.6 to 70.8 psi need Cv 79.9, in units
// where Cv 1 is Kv 0.864978.
func TestCraneControlValve(t *testing.T) {
	n := Network{
		Nodes: []Node{{Fixed: true, Gas: 80.6 * psi}, {Fixed: true, Gas: 70.8 * psi}},
		Links: []Link{{From: 0, To: 1, Law: Valve{79.9 * 0.864978 / 3600}}},
	}
	r := solve(t, n, Fluid{999, 1e-3}, Options{})
	near(t, "gpm", float64(r.Flow[0])/gpm, 250, 0.002)
	settings, _, err := solver(t, n).Balance([]Branch{{0, quantity.Flow(250 * gpm)}}, Fluid{999, 1e-3}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	// Cv is told with water of 60 °F, Kv by definition with 1000 kg/m³: 0.1 % apart.
	near(t, "Cv", float64(settings[0].Kv)*3600/0.864978, 79.9, 0.0015)
}

// Two branches side by side, water of 80 °C, wall 1.5 µm, ΣK 3 each, 10.6 m³/h
// together (computed from Colebrook's equation by an independent root search,
// rounded to the digits here).
func TestSplitBetweenBranches(t *testing.T) {
	for _, c := range []struct {
		a, b   Pipe
		va, vb float64
		share  float64
	}{
		{tube(20, 50, 3), tube(40, 50, 3), 0.858, 0.642, 57.2},
		{tube(20, 50, 3), tube(20, 38, 3), 0.995, 0.873, 66.4},
	} {
		total := quantity.CubicMetresPerHour(10.6)
		n := Network{
			Nodes: []Node{tank(0), {Demand: total}},
			Links: []Link{{From: 0, To: 1, Law: c.a}, {From: 0, To: 1, Law: c.b}},
		}
		r := solve(t, n, water80, Options{})
		near(t, "velocity A", float64(c.a.At(r.Flow[0], water80).Velocity), c.va, 0.001)
		near(t, "velocity B", float64(c.b.At(r.Flow[1], water80).Velocity), c.vb, 0.001)
		near(t, "share of A", 100*float64(r.Flow[0]/total), c.share, 0.001)
	}
}

// Hygienic tubes at 1.5 m/s, water of 80 °C, wall 1.5 µm: bar in 100 m and wall
// shear in Pa (computed from Colebrook's equation, to the digits here).
func TestTubesOfEN10357(t *testing.T) {
	for _, c := range []struct{ bore, bar, shear float64 }{
		{10, 2.44, 6.10}, {16, 1.37, 5.48}, {20, 1.04, 5.22}, {26, 0.76, 4.93}, {32, 0.59, 4.73}, {38, 0.48, 4.56},
		{50, 0.35, 4.32}, {66, 0.25, 4.09}, {81, 0.19, 3.93}, {100, 0.15, 3.78}, {125, 0.12, 3.63}, {150, 0.09, 3.51},
	} {
		p := tube(100, c.bore, 0)
		d := float64(p.Bore)
		s := p.At(quantity.Flow(1.5*math.Pi/4*d*d), water80)
		bar := float64(s.Gradient) * 100 * water80.Density * StandardGravity / 1e5
		if math.Abs(bar-c.bar) > 0.0055 {
			t.Errorf("%g mm: %.4f bar, want %g", c.bore, bar, c.bar)
		}
		if math.Abs(float64(s.Shear)-c.shear) > 0.0055 {
			t.Errorf("%g mm: %.4f Pa, want %g", c.bore, float64(s.Shear), c.shear)
		}
	}
}
