package heat

import (
	"errors"

	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
	"rinsewright/model/thermal"
)

// warm works out how long the tank that the step draws from takes to get hot, pumped
// round through the heaters with all that the way holds.
func (w *work) warm() {
	tank, ok := w.p.Circuit.Part(w.step.Source).(*model.Vessel)
	from, known := w.out.Start.Get()
	to, told := w.out.Asked.Get()
	if !ok || !known || !told || to-from < 1e-6 || !w.heated() {
		return
	}
	u := &WarmUp{Tank: tank.ID, From: from, To: to}
	w.out.WarmUp = u
	need := func(missing []network.Missing) {
		u.AtLeast = u.AtLeast || len(missing) > 0
		w.need("time to get hot", missing...)
	}
	volume, missing := TankVolume(tank)
	need(missing)
	if len(missing) == 0 {
		u.Liquid = Some(volume)
	}
	u.Held, missing = HoldUp(w.p, w.sol.Route)
	need(missing)
	steel, missing := w.steel()
	u.Steel = Kilograms(steel)
	need(missing)
	var can Capability
	for _, x := range w.out.Exchangers {
		if !x.Cools {
			can.Add(w.able[x.Exchanger])
		}
	}
	q, flows := w.whole()
	if !flows || len(can.Missing) > 0 || !u.Liquid.Known() {
		return
	}
	if w.step.Destination != w.step.Source {
		w.assume(flow.Assumption{What: "way back while the tank is warmed", Value: "pumped round through what the step passes", Basis: practice, Record: tank.ID})
	}
	liquid := w.liquid
	liquid.Temperature = from
	heating, err := thermal.HeatingOf(liquid, q, to)
	if err != nil {
		w.failOnce(model.PlaceOf(w.step.ID), err)
		return
	}
	capacity, err := thermal.Content{Liquid: liquid, Volume: volume + u.Held, Steel: steel}.Capacity(to)
	if err != nil {
		w.failOnce(model.PlaceOf(w.step.ID), err)
		return
	}
	time, err := can.WarmUp(capacity, heating.Capacity(), from, to, w.loss(u))
	var never *NeverError
	switch {
	case errors.As(err, &never):
		u.Never, u.Tends = true, Some(never.Tends)
	case err != nil:
		w.failOnce(model.PlaceOf(w.step.ID), err)
	default:
		u.Time = Some(time)
	}
	if err == nil {
		w.steady(u, can, capacity, heating.Capacity(), w.loss(u))
	}
}

// steady tells how hot the outlet gets in the shortest time, and how long it takes where a
// controller holds it.
func (w *work) steady(u *WarmUp, can Capability, c thermal.Capacity, rate thermal.CapacityRate, loss thermal.Loss) {
	hottest, err := can.Hottest(rate, u.From, u.To)
	if err != nil {
		w.failOnce(model.PlaceOf(w.step.ID), err)
		return
	}
	u.Outlet = Some(hottest)
	if time, err := can.WarmUpHeld(c, rate, u.From, u.To, loss); err == nil {
		u.Steady = Some(time)
	}
}

// loss adds up what the way and its vessels lose while they get hot.
func (w *work) loss(u *WarmUp) thermal.Loss {
	sum := 0.0
	for e := range w.p.Edges {
		k := w.edgeLeak[e]
		u.AtLeast = u.AtLeast || k.unknown
		sum += k.conductance
	}
	for _, v := range w.vessels {
		k := w.vesselLeak[v.ID]
		u.AtLeast = u.AtLeast || k.unknown
		sum += k.conductance
	}
	return thermal.Loss{Conductance: Conductance(sum), Air: w.opt.Air}
}

// whole gives the flow of the step.
func (w *work) whole() (Flow, bool) {
	if q, known := w.sol.Supply.Flow.Get(); known && q > 0 {
		return q, true
	}
	q, told := w.step.Flow.Get()
	return q, told && q > 0
}
