package main

import (
	"rinsewright/model"
	"rinsewright/model/flow"
	"rinsewright/model/heat"
	"rinsewright/model/quantity"
)

// solveJSON is one line of solve --json: one step. Numbers are in the unit that
// their key ends in; what is unknown is left out. The shape only ever grows.
type solveJSON struct {
	File        string           `json:"file"`
	Programme   string           `json:"programme,omitempty"`
	Step        string           `json:"step"`
	StepID      model.ID         `json:"step_id"`
	Solved      bool             `json:"solved"`
	Supply      supplyJSON       `json:"supply"`
	Pumps       []pumpJSON       `json:"pumps,omitempty"`
	Sprays      []sprayJSON      `json:"sprays,omitempty"`
	Vessels     []vesselJSON     `json:"vessels,omitempty"`
	Splits      []splitJSON      `json:"splits,omitempty"`
	Runs        []runJSON        `json:"runs,omitempty"`
	Along       []alongJSON      `json:"along,omitempty"`
	Assumptions []assumptionJSON `json:"assumptions,omitempty"`
	Missing     []missingJSON    `json:"missing,omitempty"`
	Failures    []string         `json:"failures,omitempty"`
	Heat        *heatJSON        `json:"heat,omitempty"`
}

type (
	supplyJSON struct {
		Asked quantity.Opt[quantity.Flow]  `json:"asked_m3h,omitzero"`
		Flow  quantity.Opt[quantity.Flow]  `json:"flow_m3h,omitzero"`
		Pump  model.ID                     `json:"pump,omitempty"`
		Speed quantity.Opt[quantity.Ratio] `json:"speed_ratio,omitzero"`
		Full  quantity.Opt[quantity.Flow]  `json:"full_speed_m3h,omitzero"`
		Short quantity.Opt[quantity.Flow]  `json:"short_m3h,omitzero"`

		Over   quantity.Opt[quantity.Flow]  `json:"over_m3h,omitzero"`
		Drawn  quantity.Opt[quantity.Flow]  `json:"drawn_m3h,omitzero"` // from the source, with what leaves the route
		Lost   quantity.Opt[quantity.Flow]  `json:"lost_m3h,omitzero"`  // leaves the route
		Needed quantity.Opt[quantity.Ratio] `json:"needed_speed_ratio,omitzero"`
	}
	pumpJSON struct {
		Pump      model.ID                          `json:"pump"`
		Tag       string                            `json:"tag"`
		Running   bool                              `json:"running"`
		Speed     quantity.Opt[quantity.Ratio]      `json:"speed_ratio,omitzero"`
		Flow      quantity.Opt[quantity.Flow]       `json:"flow_m3h,omitzero"`
		Head      quantity.Opt[quantity.Length]     `json:"head_m,omitzero"`
		OutCurve  bool                              `json:"beyond_curve,omitempty"`
		Power     quantity.Opt[quantity.ShaftPower] `json:"shaft_kW,omitzero"`
		Available quantity.Opt[quantity.Length]     `json:"npsh_available_m,omitzero"`
		Required  quantity.Opt[quantity.Length]     `json:"npsh_required_m,omitzero"`
	}
	sprayJSON struct {
		Spray    model.ID                        `json:"spray"`
		Tag      string                          `json:"tag"`
		Flow     quantity.Opt[quantity.Flow]     `json:"flow_m3h,omitzero"`
		Pressure quantity.Opt[quantity.Pressure] `json:"pressure_bar,omitzero"`
	}
	vesselJSON struct {
		Vessel   model.ID                      `json:"vessel"`
		Tag      string                        `json:"tag"`
		Balance  flow.Balance                  `json:"balance,omitempty"`
		Inflow   quantity.Opt[quantity.Flow]   `json:"inflow_m3h,omitzero"`
		Outflow  quantity.Opt[quantity.Flow]   `json:"outflow_m3h,omitzero"`
		Capacity quantity.Opt[quantity.Flow]   `json:"return_capacity_m3h,omitzero"`
		Level    quantity.Opt[quantity.Length] `json:"puddle_m,omitzero"`
		Gravity  bool                          `json:"gravity_return,omitempty"`
		PartFull bool                          `json:"part_full,omitempty"`
	}
	splitJSON struct {
		At     model.ID  `json:"at"`
		Shares []float64 `json:"share_pct"`
	}
	runJSON struct {
		Run          model.ID                           `json:"run"`
		Name         string                             `json:"name"`
		Stretch      int                                `json:"stretch"` // from 1
		Flow         quantity.Opt[quantity.Flow]        `json:"flow_m3h,omitzero"`
		Velocity     quantity.Opt[quantity.Velocity]    `json:"velocity_ms,omitzero"`
		Reynolds     quantity.Opt[quantity.Ratio]       `json:"reynolds,omitzero"`
		ShearPa      *float64                           `json:"shear_Pa,omitempty"`
		Loss         quantity.Opt[quantity.Length]      `json:"loss_m,omitzero"`
		PressureFrom quantity.Opt[quantity.Pressure]    `json:"pressure_from_bar,omitzero"`
		PressureTo   quantity.Opt[quantity.Pressure]    `json:"pressure_to_bar,omitzero"`
		PartFull     bool                               `json:"part_full,omitempty"`
		In           quantity.Opt[quantity.Temperature] `json:"in_C,omitzero"` // of the liquid, in the direction of the flow, while the wash runs
		Out          quantity.Opt[quantity.Temperature] `json:"out_C,omitzero"`
		Lost         quantity.Opt[quantity.Power]       `json:"heat_lost_kW,omitzero"`
	}
	alongJSON struct {
		Distance  quantity.Opt[quantity.Length]   `json:"distance_m,omitzero"`
		Elevation quantity.Opt[quantity.Length]   `json:"elevation_m,omitzero"`
		Pressure  quantity.Opt[quantity.Pressure] `json:"pressure_bar,omitzero"`
	}
	assumptionJSON struct {
		What   string   `json:"what"`
		Value  string   `json:"value"`
		Basis  string   `json:"basis"`
		Record model.ID `json:"record,omitempty"`
		Key    string   `json:"key,omitempty"`
	}
	missingJSON struct {
		Record model.ID `json:"record"`
		Key    string   `json:"key"`
	}
)

func supplyOf(s flow.Supply) supplyJSON {
	return supplyJSON{Asked: s.Asked, Flow: s.Flow, Pump: s.Pump, Speed: s.Speed, Full: s.Full, Short: s.Short,
		Over: s.Over, Drawn: s.Drawn, Lost: s.Lost, Needed: s.Needed}
}

func (t *told) json() solveJSON {
	s := t.sol
	out := solveJSON{File: t.file, Programme: s.Step.Programme, Step: s.Step.Name, StepID: s.Step.ID, Solved: s.Solved(),
		Supply: supplyOf(s.Supply)}
	for _, p := range s.Pumps {
		out.Pumps = append(out.Pumps, pumpJSON{p.Pump, t.Name(p.Pump), p.Running, p.Speed, p.Flow, p.Head, p.OutOfCurve, p.Power, p.Available, p.Required})
	}
	for _, x := range s.Sprays {
		out.Sprays = append(out.Sprays, sprayJSON{x.Spray, t.Name(x.Spray), x.Flow, x.Pressure})
	}
	for _, v := range s.Vessels {
		out.Vessels = append(out.Vessels, vesselJSON{v.Vessel, t.Name(v.Vessel), v.Balance, v.Inflow, v.Outflow, v.Capacity, v.Level, v.Gravity, v.PartFull})
	}
	for _, split := range s.Splits {
		j := splitJSON{At: s.Plant.Nodes[split.Node].Part}
		for _, b := range split.Branches {
			j.Shares = append(j.Shares, 100*float64(b.Share))
		}
		out.Splits = append(out.Splits, j)
	}
	t.eachEdge(func(run *model.Run, stretch int, e flow.Edge, h heat.Edge, from, to flow.Node) {
		j := runJSON{run.ID, t.Name(run.ID), stretch + 1, e.Flow, e.Velocity, e.Reynolds, nil, e.Loss, from.Pressure, to.Pressure, e.PartFull, h.In, h.Out, h.Lost}
		if shear, ok := e.Shear.Get(); ok {
			pa := float64(shear)
			j.ShearPa = &pa
		}
		out.Runs = append(out.Runs, j)
	})
	for _, p := range s.Along {
		out.Along = append(out.Along, alongJSON{p.Distance, p.Elevation, p.Pressure})
	}
	for _, a := range s.Assumptions {
		out.Assumptions = append(out.Assumptions, assumptionJSON{a.What, a.Value, a.Basis, a.Record, a.Key})
	}
	for _, m := range s.Missing {
		out.Missing = append(out.Missing, missingJSON{m.Record, m.Key})
	}
	for _, f := range s.Failures {
		out.Failures = append(out.Failures, f.Text)
	}
	out.Heat = t.heatJSON()
	return out
}
