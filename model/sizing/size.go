package sizing

import (
	"errors"
	"fmt"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/programme"
	. "rinsewright/model/quantity"
)

// Proposal is what is proposed for the station, as far as it is known.
type Proposal struct {
	Tanks       int       // 1 to 4
	Flow        Opt[Flow] // of the most demanding object
	Size        Opt[model.TubeSize]
	PumpFlow    Opt[Flow]
	PumpHead    Opt[Length]
	PumpMotor   Opt[ShaftPower]
	ReturnFlow  Opt[Flow]
	ReturnHead  Opt[Length]
	ReturnMotor Opt[ShaftPower]
	TankVolume  Opt[Volume] // working volume of each
	Heater      Opt[Power]
	HeaterArea  Opt[Area]
	Coefficient Opt[HeatTransfer]
	SteamGauge  Opt[Pressure]
	HeaterDrop  Opt[Pressure]
	Efficiency  Opt[Strength] // of the supply pump
	ReturnYield Opt[Strength]
	MotorYield  Opt[Strength]
}

// Size makes the sheet of a project. The error tells of a project that cannot be
// sized at all: no objects, two of one name, a series of tubes or a programme that
// there is not, an assumption that lacks.
func Size(p *Project, cat *catalogue.Catalogue) (*Sheet, error) {
	c := &calc{p: p, cat: cat, sheet: &Sheet{}, given: map[string]Assumption{}}
	for _, a := range p.Assumptions {
		c.given[a.Key] = a
	}
	for _, a := range defaults() {
		if _, ok := c.given[a.Key]; !ok {
			return nil, fmt.Errorf("sizing: the assumption %s lacks", a.Key)
		}
	}
	if len(p.Objects) == 0 {
		return nil, errors.New("sizing: there is nothing to clean; add a vessel, a line or a machine")
	}
	names := map[string]bool{}
	for _, o := range p.Objects {
		if o.Name == "" || names[o.Name] {
			return nil, fmt.Errorf("sizing: every object needs a name of its own; %q does not do", o.Name)
		}
		names[o.Name] = true
	}
	for _, t := range cat.Tubes() {
		if t.Series == p.Series {
			c.tubes = cat.Series(t.Size)
			break
		}
	}
	if len(c.tubes) == 0 {
		return nil, fmt.Errorf("sizing: there is no series of tubes %q", p.Series)
	}
	t := programme.Named(p.Programme)
	if t == nil {
		return nil, fmt.Errorf("sizing: there is no ready programme %q", p.Programme)
	}
	if p.Prices == nil {
		return nil, errors.New("sizing: there are no unit prices")
	}
	if p.Tanks < 0 || p.Tanks > 4 {
		return nil, fmt.Errorf("sizing: a station has 1 to 4 tanks, not %d", p.Tanks)
	}
	s := &sizer{calc: c, phases: phasesOf(t)}
	s.tanks = p.Tanks
	if s.tanks == 0 {
		s.tanks = tanksFor(s.phases)
	}
	s.flows()
	s.tubeSizes()
	s.supplyPump()
	s.returnPump()
	s.tankVolumes()
	s.heater()
	s.use()
	s.cost()
	s.propose()
	c.sheet.Cautions = cautions
	return c.sheet, nil
}

var cautions = []string{
	"An aid for qualified people: a first sizing, not a design. Hold it against suppliers' data, the rules and the site before anything is ordered.",
	"Hot caustic, acid, steam and pressure: design, relief and guarding follow local codes, site rules and licensed practice.",
	"Prices are invented until you put your own in their place.",
}

// tanksFor gives how many tanks a programme asks for: water; with alkali or with acid
// that goes round one more each.
func tanksFor(phases []phase) int {
	n := 1
	for _, m := range []model.Medium{model.Alkali, model.Acid} {
		for _, f := range phases {
			if f.medium == m && f.round {
				n++
				break
			}
		}
	}
	return n
}

// sizer goes through the sections; every field is filled by one of them.
type sizer struct {
	*calc
	phases []phase
	tanks  int

	flow                      []term // of each object
	station                   term
	size                      term // common tube, a word
	tube                      catalogue.Tube
	bore                      term
	pumpFlow, pumpHead, motor term
	shaft                     term
	backFlow, backHead        term
	backShaft, backMotor      term
	held                      []term // lines, object and puddle of each object
	rounds                    []term // with the station
	circuit, volume           term
	power, area               term
}

func (s *sizer) propose() {
	p := &s.sheet.Proposal
	p.Tanks = s.tanks
	p.Flow = opt[Flow](s.station.value)
	p.PumpFlow, p.PumpHead, p.PumpMotor = opt[Flow](s.pumpFlow.value), opt[Length](s.pumpHead.value), opt[ShaftPower](s.motor.value)
	p.ReturnFlow, p.ReturnHead, p.ReturnMotor = opt[Flow](s.backFlow.value), opt[Length](s.backHead.value), opt[ShaftPower](s.backMotor.value)
	p.TankVolume, p.Heater, p.HeaterArea = opt[Volume](s.volume.value), opt[Power](s.power.value), opt[Area](s.area.value)
	p.Coefficient = opt[HeatTransfer](s.assume("coefficient").value)
	p.SteamGauge, p.HeaterDrop = opt[Pressure](s.assume("steam-pressure").value), opt[Pressure](s.assume("heater-drop").value)
	p.Efficiency, p.ReturnYield = opt[Strength](s.assume("pump-efficiency").value), opt[Strength](s.assume("return-efficiency").value)
	p.MotorYield = opt[Strength](s.assume("motor-efficiency").value)
	if s.size.value.Known() {
		p.Size = Some(model.TubeSize(s.size.value.text))
	}
}

func opt[T ~float64](v Value) Opt[T] {
	x, ok := v.SI()
	if !ok {
		return Opt[T]{}
	}
	return Some(T(x))
}
