package sizing

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/group"
	. "rinsewright/model/quantity"
	"rinsewright/model/vessel"
)

// groupSize is the tube of the liquid in the ready stations, from which the others
// follow.
const groupSize = "EN 10357-A DN50"

// Station gives the ready group that fits a proposal, with its tubes, pumps, tanks
// and heater of the sizes proposed. Seats, pockets and valve flows follow the bore.
// The error names what is not known that is needed, or says that a tank would not fit
// into the height that the group has for it.
func Station(p Proposal, cat *catalogue.Catalogue) (*group.Group, error) {
	if err := p.complete(); err != nil {
		return nil, err
	}
	g := group.Named(GroupFor(p.Tanks))
	r, err := newResizing(p, cat)
	if err != nil {
		return nil, err
	}
	var out []model.Record
	for _, part := range g.Circuit.Parts() {
		next := model.Clone(part)
		r.tubes(next)
		if err := r.part(next); err != nil {
			return nil, err
		}
		out = append(out, next)
	}
	for _, run := range g.Circuit.Runs() {
		next := model.Clone(run)
		if size, ok := next.Size.Get(); ok {
			next.Size = Some(r.size(size))
		}
		out = append(out, next)
	}
	return g.With(out...)
}

// complete tells what of a proposal lacks.
func (p Proposal) complete() error {
	var lacks []string
	for _, x := range []struct {
		known bool
		what  string
	}{
		{p.Flow.Known(), "the flow"}, {p.Size.Known(), "the tube"}, {p.PumpHead.Known(), "the head of the supply pump"}, {p.PumpMotor.Known(), "the motor of the supply pump"},
		{p.ReturnHead.Known(), "the head of the return pump"}, {p.ReturnMotor.Known(), "the motor of the return pump"}, {p.TankVolume.Known(), "the volume of the tanks"},
	} {
		if !x.known {
			lacks = append(lacks, x.what)
		}
	}
	if len(lacks) > 0 {
		return errors.New("the station cannot be placed while these are not known: " + strings.Join(lacks, ", "))
	}
	return nil
}

// resizing brings a ready station to the sizes of a proposal.
type resizing struct {
	p      Proposal
	to     catalogue.Tube
	from   catalogue.Tube
	series []catalogue.Tube
	cat    *catalogue.Catalogue
}

func newResizing(p Proposal, cat *catalogue.Catalogue) (*resizing, error) {
	r := &resizing{p: p, cat: cat}
	var ok bool
	if r.to, ok = cat.Tube(p.Size.Or("")); !ok {
		return nil, fmt.Errorf("there is no tube %s", p.Size.Or(""))
	}
	if r.from, ok = cat.Tube(groupSize); !ok {
		return nil, fmt.Errorf("there is no tube %s", groupSize)
	}
	r.series = cat.Series(r.to.Size)
	return r, nil
}

// scale is by how much the bore grows.
func (r *resizing) scale() float64 { return float64(r.to.Inside() / r.from.Inside()) }

// liquid are the sizes of the liquid side in the groups. What carries steam and
// condensate there is of other sizes, which stay.
var liquid = []model.TubeSize{"EN 10357-A DN15", "EN 10357-A DN25", groupSize, "EN 10357-A DN80"}

// size gives the size that takes the place of one of the group: the same share of
// the bore of the common tube, or the next above; for branches narrower than it, the
// nearest that is narrower too.
func (r *resizing) size(old model.TubeSize) model.TubeSize {
	if old == groupSize {
		return r.to.Size
	}
	t, ok := r.cat.Tube(old)
	if !ok || !slices.Contains(liquid, old) {
		return old
	}
	want := float64(t.Inside()) * r.scale()
	if t.Inside() < r.from.Inside() {
		best := r.series[0]
		for _, s := range r.series {
			if s.Inside() < r.to.Inside() && math.Abs(float64(s.Inside())-want) < math.Abs(float64(best.Inside())-want) {
				best = s
			}
		}
		return best.Size
	}
	for _, s := range r.series {
		if float64(s.Inside()) >= want*0.98 {
			return s.Size
		}
	}
	return r.series[len(r.series)-1].Size
}

// tubes puts other sizes into a part, and brings what is measured in bores along.
func (r *resizing) tubes(p model.Part) {
	of := func(s Opt[model.TubeSize]) Opt[model.TubeSize] {
		if size, ok := s.Get(); ok {
			return Some(r.size(size))
		}
		return s
	}
	in := func(b Opt[Bore]) Opt[Bore] {
		if x, ok := b.Get(); ok {
			return Some(Bore(math.Round(float64(x)*r.scale()*1e4) / 1e4)) // to 0.1 mm
		}
		return b
	}
	switch p := p.(type) {
	case *model.Vessel:
		p.Size, p.InletSize, p.OverflowSize = of(p.Size), of(p.InletSize), of(p.OverflowSize)
	case *model.Pump:
		p.Size, p.OutletSize = of(p.Size), of(p.OutletSize)
	case *model.Valve:
		if p.Size.Or("") == groupSize {
			p.SeatA, p.SeatB, p.SeatC = in(p.SeatA), in(p.SeatB), in(p.SeatC)
			if kv, ok := p.Kv.Get(); ok {
				p.Kv = Some(ValveFlow(float64(kv) * r.scale() * r.scale()))
			}
		} else if r.size(p.Size.Or("")) != p.Size.Or("") {
			p.SeatA, p.SeatB = in(p.SeatA), in(p.SeatB)
		}
		p.Size, p.SecondSize = of(p.Size), of(p.SecondSize)
	case *model.Exchanger:
		p.Size = of(p.Size)
	case *model.Instrument:
		if p.Size.Known() {
			p.Stub, p.Pocket = in(p.Stub), in(p.Pocket)
		}
		p.Size = of(p.Size)
	case *model.Fitting:
		if p.Size.Or("") == groupSize {
			p.Stub, p.RunLength = in(p.Stub), in(p.RunLength)
		}
		p.Size, p.SecondSize = of(p.Size), of(p.SecondSize)
	case *model.Terminal:
		if gap, ok := p.AirGap.Get(); ok {
			p.AirGap = Some(Bore(math.Ceil(max(float64(gap)*r.scale(), 0.02)*100) / 100))
		}
		p.Size = of(p.Size)
	}
}

// part puts the figures of the proposal into a part.
func (r *resizing) part(p model.Part) error {
	switch p := p.(type) {
	case *model.Pump:
		switch p.Kind {
		case "centrifugal-pump":
			duty(p, r.p.PumpFlow, r.p.PumpHead, 1.2)
			p.Motor, p.Efficiency, p.MotorYield = r.p.PumpMotor, r.p.Efficiency, r.p.MotorYield
		case "self-priming-pump":
			duty(p, r.p.ReturnFlow, r.p.ReturnHead, 1.3)
			p.Motor, p.Efficiency, p.MotorYield = r.p.ReturnMotor, r.p.ReturnYield, r.p.MotorYield
		}
	case *model.Vessel:
		return r.tank(p)
	case *model.Exchanger:
		if !r.p.Heater.Known() {
			return nil // nothing is heated: the group's heater stays
		}
		p.Duty, p.Area, p.Coefficient = r.p.Heater, r.p.HeaterArea, r.p.Coefficient
		p.RatedFlow, p.PressureDrop = r.p.PumpFlow, r.p.HeaterDrop
	case *model.Terminal:
		switch p.Kind {
		case "steam-supply":
			p.Pressure = r.p.SteamGauge
		case "water-supply":
			// The tank is filled as fast as it is emptied.
			p.Most = Some(Flow(math.Ceil(float64(r.p.PumpFlow.Or(0))*3600) / 3600))
		}
	}
	return nil
}

// duty gives a pump its duty, and a parabola through it with a head at rest that is a
// multiple of the rated one.
func duty(p *model.Pump, flow Opt[Flow], head Opt[Length], rest float64) {
	q, h := float64(flow.Or(0)), float64(head.Or(0))
	p.RatedFlow, p.RatedHead, p.Curve = flow, head, nil
	for _, share := range []float64{0, 0.5, 0.8, 1, 1.25, 1.5} {
		y := h * (rest - (rest-1)*share*share)
		p.Curve = append(p.Curve, model.CurvePoint{Flow: Some(Flow(round(q*share*3600, 3) / 3600)), Head: Some(Length(round(y, 2)))})
	}
	p.HoldUp = Some(Volume(round(max(0.001, q*3600*0.2e-3), 4)))
}

func round(x float64, digits int) float64 {
	f := math.Pow(10, float64(digits))
	return math.Round(x*f) / f
}

// tank makes a tank as wide as its working volume, between the low level and 95 % of
// the height, asks for. The height stays: the joints around the tank depend on it.
func (r *resizing) tank(v *model.Vessel) error {
	need := r.p.TankVolume.Or(0)
	h := v.Height.Or(0)
	low := v.LowLevel.Or(0)
	for d := Length(0.6); d <= 3.5+1e-9; d += 0.05 {
		b, err := vessel.New(v.Bottom.Or(model.Flat), v.Top.Or(model.Flat), d, h)
		if err != nil {
			break // the ends do not fit into the height any more
		}
		has := b.At(0.95*h) - b.At(low)
		if has >= need {
			v.Diameter = Some(Length(round(float64(d), 2)))
			v.Working = Some(Volume(round(float64(need), 4)))
			return nil
		}
	}
	return fmt.Errorf("%s does not fit into a tank %s high; raise the tanks of the ready group by hand, or wash less at a time", Text(need, Metric), Text(h, Metric))
}
