package heat

import (
	"fmt"
	"math"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/fluid"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
	"rinsewright/model/thermal"
)

// Capability is what some heaters give together: their duty at most, and no more than steam
// that condenses passes through their surfaces.
type Capability struct {
	Duty    float64     // W; infinite where only a surface is told
	Surface Conductance // of those whose area, coefficient and steam are told
	Steam   Temperature // at which it condenses, the lowest of them; 0 without surfaces
	Missing []network.Missing
}

// CapabilityOf gives what one heater gives. atmosphere is the absolute pressure of the air.
func CapabilityOf(p *network.Plant, x *model.Exchanger, atmosphere Pressure) Capability {
	out := Capability{Duty: math.Inf(1)}
	need := func(id model.ID, key string) {
		out.Missing = append(out.Missing, network.Missing{Record: id, Key: key})
	}
	duty, told := x.Duty.Get()
	if told {
		out.Duty = float64(duty)
	}
	kind := p.Catalogue.Kind(x.Kind)
	area, okA := x.Area.Get()
	u, okU := x.Coefficient.Get()
	if kind == nil || !kind.Has(catalogue.TraitSteamHeated) || !okA || !okU {
		if !told {
			need(x.ID, "duty_kW")
		}
		return out
	}
	supply := SupplyOf(p, x.ID, servicePort(kind))
	if supply == nil {
		if !told {
			need(x.ID, "duty_kW")
		}
		return out
	}
	gauge, known := supply.Pressure.Get()
	if !known {
		need(supply.ID, "pressure_bar")
		return out
	}
	sat, err := fluid.SaturatedAt(gauge + atmosphere)
	if err != nil {
		need(supply.ID, "pressure_bar")
		return out
	}
	out.Surface, out.Steam = Conductance(float64(area)*float64(u)), sat.Temperature
	return out
}

// Add adds what other heaters give.
func (p *Capability) Add(q Capability) {
	p.Duty += q.Duty
	if q.Surface > 0 && (p.Surface == 0 || q.Steam < p.Steam) {
		p.Steam = q.Steam
	}
	p.Surface += q.Surface
	p.Missing = append(p.Missing, q.Missing...)
}

// To gives what passes to a stream in one pass, at most.
func (p Capability) To(cold thermal.Stream) (power float64, err error) {
	if p.Surface == 0 {
		return p.Duty, nil
	}
	if p.Steam <= cold.Inlet {
		return 0, nil
	}
	x, err := thermal.RateCondensing(p.Steam, cold, p.Surface)
	return math.Min(p.Duty, float64(x.Power)), err
}

// Rate gives the greatest capacity rate that is brought from one temperature to another
// in one pass; 0 where the steam is not hot enough.
func (p Capability) Rate(from, to Temperature) (thermal.CapacityRate, error) {
	most := p.Duty / float64(to-from)
	if p.Surface == 0 {
		return thermal.CapacityRate(most), nil
	}
	if p.Steam <= to {
		return 0, nil
	}
	units, err := thermal.TransferUnits(float64(to-from)/float64(p.Steam-from), 0)
	if err != nil {
		return 0, err
	}
	return thermal.CapacityRate(math.Min(most, float64(p.Surface)/units)), nil
}

// NeverError says that a content never gets as hot as asked for.
type NeverError struct {
	To    Temperature
	Tends Temperature // to which it comes
}

func (e *NeverError) Error() string {
	return fmt.Sprintf("heat: %.4g °C is never reached; the content tends to %.4g °C", e.To.Celsius(), e.Tends.Celsius())
}

// WarmUp gives the time in which a well mixed content gets from one temperature to a
// higher one while it is pumped round at a capacity rate. As long as the surface would
// pass more than the duty the heaters give their duty, then what the surface passes. The
// error is a [NeverError], or says that there is no power.
func (p Capability) WarmUp(c thermal.Capacity, rate thermal.CapacityRate, from, to Temperature, loss thermal.Loss) (Duration, error) {
	if p.Surface == 0 {
		if p.Duty > 0 && loss.Conductance > 0 {
			if tends := loss.Air + Temperature(p.Duty/float64(loss.Conductance)); tends <= to {
				return 0, &NeverError{to, tends}
			}
		}
		return thermal.WarmUpAtPower(c, from, to, Power(p.Duty), loss)
	}
	ua, err := thermal.Circulated(rate, p.Surface)
	if err != nil {
		return 0, err
	}
	k := float64(ua) + float64(loss.Conductance)
	if tends := Temperature((float64(ua)*float64(p.Steam) + float64(loss.Conductance)*float64(loss.Air)) / k); tends <= to {
		return 0, &NeverError{to, tends}
	}
	if math.IsInf(p.Duty, 1) {
		return thermal.WarmUpBySteam(c, from, to, p.Steam, ua, loss)
	}
	turn := p.Steam - Temperature(p.Duty/float64(ua)) // from here on the surface passes less than the duty
	turn = min(max(turn, from), to)
	if loss.Conductance > 0 {
		if tends := loss.Air + Temperature(p.Duty/float64(loss.Conductance)); tends <= turn {
			return 0, &NeverError{to, tends}
		}
	}
	var time Duration
	if turn > from {
		if time, err = thermal.WarmUpAtPower(c, from, turn, Power(p.Duty), loss); err != nil {
			return 0, err
		}
	}
	if turn < to {
		rest, err := thermal.WarmUpBySteam(c, turn, to, p.Steam, ua, loss)
		if err != nil {
			return 0, err
		}
		time += rest
	}
	return time, nil
}
