package main

import (
	"rinsewright/model"
	"rinsewright/model/quantity"
)

// heatJSON is the heat side of one step; left out where there is nothing to tell.
type heatJSON struct {
	Asked       quantity.Opt[quantity.Temperature] `json:"asked_C,omitzero"`
	Start       quantity.Opt[quantity.Temperature] `json:"start_C,omitzero"`    // of what is drawn at the start
	Supplied    quantity.Opt[quantity.Temperature] `json:"supplied_C,omitzero"` // while it runs
	Back        quantity.Opt[quantity.Temperature] `json:"end_C,omitzero"`      // at the end of the way, while it runs
	Coldest     quantity.Opt[quantity.Temperature] `json:"coldest_C,omitzero"`
	Air         float64                            `json:"air_C"`
	Lost        quantity.Opt[quantity.Power]       `json:"lost_kW,omitzero"`
	KnownLost   float64                            `json:"known_lost_kW"`
	Exchangers  []exchangerJSON                    `json:"exchangers,omitempty"`
	WarmUp      *warmUpJSON                        `json:"warm_up,omitempty"`
	Losses      []lossJSON                         `json:"losses,omitempty"`
	Assumptions []assumptionJSON                   `json:"assumptions,omitempty"`
	Missing     []missingForJSON                   `json:"missing,omitempty"`
	Failures    []string                           `json:"failures,omitempty"`
}

type (
	exchangerJSON struct {
		Exchanger      model.ID                            `json:"exchanger"`
		Tag            string                              `json:"tag"`
		Cools          bool                                `json:"cools,omitempty"`
		Idle           bool                                `json:"idle,omitempty"` // nothing to do in this step
		Flow           quantity.Opt[quantity.Flow]         `json:"flow_m3h,omitzero"`
		Inlet          quantity.Opt[quantity.Temperature]  `json:"inlet_C,omitzero"`
		Asked          quantity.Opt[quantity.Temperature]  `json:"outlet_asked_C,omitzero"`
		Needed         quantity.Opt[quantity.Power]        `json:"needed_kW,omitzero"` // in one pass
		Duty           quantity.Opt[quantity.Power]        `json:"duty_kW,omitzero"`
		Area           quantity.Opt[quantity.Area]         `json:"area_m2,omitzero"`
		Coefficient    quantity.Opt[quantity.HeatTransfer] `json:"coefficient_Wm2K,omitzero"`
		MeanDifference quantity.Opt[quantity.Difference]   `json:"mean_difference_K,omitzero"`
		Conductance    quantity.Opt[quantity.Conductance]  `json:"conductance_kWK,omitzero"`
		TransferUnits  quantity.Opt[quantity.Ratio]        `json:"transfer_units,omitzero"`
		Effectiveness  quantity.Opt[quantity.Ratio]        `json:"effectiveness,omitzero"`
		NeededArea     quantity.Opt[quantity.Area]         `json:"needed_area_m2,omitzero"`
		Gives          quantity.Opt[quantity.Power]        `json:"gives_kW,omitzero"`
		Reaches        quantity.Opt[quantity.Temperature]  `json:"reaches_C,omitzero"`
		OnceThrough    quantity.Opt[quantity.Flow]         `json:"once_through_m3h,omitzero"`
		Holds          quantity.Opt[quantity.Power]        `json:"running_kW,omitzero"`
		Steam          *steamJSON                          `json:"steam,omitempty"`
		Cooling        *coolingJSON                        `json:"cooling,omitempty"`
	}
	steamJSON struct {
		Supply     model.ID                           `json:"supply,omitempty"`
		Gauge      quantity.Opt[quantity.Pressure]    `json:"gauge_bar,omitzero"`
		Absolute   quantity.Opt[quantity.Pressure]    `json:"absolute_bar,omitzero"`
		Saturation quantity.Opt[quantity.Temperature] `json:"saturation_C,omitzero"`
		Flow       quantity.Opt[quantity.MassFlow]    `json:"steam_kgh,omitzero"`
		Condensate quantity.Opt[quantity.MassFlow]    `json:"condensate_kgh,omitzero"`
		Hold       quantity.Opt[quantity.MassFlow]    `json:"running_kgh,omitzero"`
	}
	coolingJSON struct {
		Supply model.ID                           `json:"supply,omitempty"`
		Flow   quantity.Opt[quantity.Flow]        `json:"flow_m3h,omitzero"`
		Inlet  quantity.Opt[quantity.Temperature] `json:"inlet_C,omitzero"`
		Outlet quantity.Opt[quantity.Temperature] `json:"outlet_C,omitzero"`
	}
	warmUpJSON struct {
		Tank    model.ID                           `json:"tank"`
		Tag     string                             `json:"tag"`
		From    quantity.Opt[quantity.Temperature] `json:"from_C"`
		To      quantity.Opt[quantity.Temperature] `json:"to_C"`
		Liquid  quantity.Opt[quantity.Volume]      `json:"tank_L,omitzero"`
		Held    quantity.Opt[quantity.Volume]      `json:"circuit_L"`
		Steel   float64                            `json:"steel_kg"`
		Time    quantity.Opt[quantity.Duration]    `json:"time_min,omitzero"`
		AtLeast bool                               `json:"at_least,omitempty"`     // some of what warms up is not known
		Outlet  quantity.Opt[quantity.Temperature] `json:"outlet_C,omitzero"`      // the hottest that leaves the heaters meanwhile
		Steady  quantity.Opt[quantity.Duration]    `json:"held_time_min,omitzero"` // with the outlet held at to_C, to half a kelvin below it
		Never   bool                               `json:"never,omitempty"`
		Tends   quantity.Opt[quantity.Temperature] `json:"tends_C,omitzero"`
	}
	lossJSON struct {
		Record     model.ID                           `json:"record"`
		Name       string                             `json:"name"`
		Length     quantity.Opt[quantity.Length]      `json:"length_m,omitzero"`
		Area       quantity.Opt[quantity.Area]        `json:"area_m2,omitzero"`
		Insulation quantity.Opt[quantity.Bore]        `json:"insulation_mm,omitzero"` // left out: not told, taken as bare
		Power      quantity.Opt[quantity.Power]       `json:"lost_kW,omitzero"`
		In         quantity.Opt[quantity.Temperature] `json:"in_C,omitzero"`
		Out        quantity.Opt[quantity.Temperature] `json:"out_C,omitzero"`
	}
	missingForJSON struct {
		missingJSON
		For string `json:"for"`
	}
)

func (t *told) heatJSON() *heatJSON {
	h := t.heat
	if !tellsHeat(h) {
		return nil
	}
	out := &heatJSON{Asked: h.Asked, Start: h.Start, Supplied: h.Supplied, Back: h.Back, Coldest: h.Coldest, Air: h.Air.Celsius(), Lost: h.Lost, KnownLost: float64(h.KnownLost) / 1e3}
	for _, x := range h.Exchangers {
		j := exchangerJSON{Exchanger: x.Exchanger, Tag: t.Name(x.Exchanger), Cools: x.Cools, Idle: x.Idle, Flow: x.Flow, Inlet: x.Inlet, Asked: x.Asked, Needed: x.Needed, Duty: x.Duty, Area: x.Area,
			Coefficient: x.Coefficient, MeanDifference: x.MeanDifference, Conductance: x.Conductance, TransferUnits: x.TransferUnits, Effectiveness: x.Effectiveness, NeededArea: x.NeededArea,
			Gives: x.Gives, Reaches: x.Reaches, OnceThrough: x.OnceThrough, Holds: x.Holds}
		if s := x.Steam; s != nil {
			j.Steam = &steamJSON{s.Supply, s.Gauge, s.Absolute, s.Saturation, s.Flow, s.Condensate, s.Hold}
		}
		if c := x.Cooling; c != nil {
			j.Cooling = &coolingJSON{c.Supply, c.Flow, c.Inlet, c.Outlet}
		}
		out.Exchangers = append(out.Exchangers, j)
	}
	if u := h.WarmUp; u != nil {
		out.WarmUp = &warmUpJSON{u.Tank, t.Name(u.Tank), quantity.Some(u.From), quantity.Some(u.To), u.Liquid, quantity.Some(u.Held), float64(u.Steel), u.Time, u.AtLeast, u.Outlet, u.Steady, u.Never, u.Tends}
	}
	for _, l := range h.Losses {
		out.Losses = append(out.Losses, lossJSON{l.Record, t.Name(l.Record), l.Length, l.Area, l.Insulation, l.Power, l.In, l.Out})
	}
	for _, a := range h.Assumptions {
		out.Assumptions = append(out.Assumptions, assumptionJSON{a.What, a.Value, a.Basis, a.Record, a.Key})
	}
	for _, m := range h.Missing {
		out.Missing = append(out.Missing, missingForJSON{missingJSON{m.Record, m.Key}, m.For})
	}
	for _, f := range h.Failures {
		out.Failures = append(out.Failures, f.Text)
	}
	return out
}
