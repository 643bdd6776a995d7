package main

import (
	"encoding/json"

	"rinsewright/model"
	"rinsewright/model/coverage"
	"rinsewright/model/lineup"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
	"rinsewright/model/wash"
)

// washJSON is one line of wash --json: one programme. Numbers are in the unit that
// their key ends in; what is unknown is left out. The shape only ever grows.
type washJSON struct {
	File        string           `json:"file"`
	Programme   string           `json:"programme"`
	Left        []string         `json:"left_out,omitempty"` // optional steps
	Steps       []washStepJSON   `json:"steps,omitempty"`
	Total       *useJSON         `json:"total,omitempty"`
	Cycle       float64          `json:"cycle_min,omitempty"`
	Saved       *savedJSON       `json:"saved,omitempty"`
	Balance     *balanceJSON     `json:"balance_error,omitempty"`
	Trends      []trendJSON      `json:"trends,omitempty"`
	Tanks       []tankJSON       `json:"tanks,omitempty"`
	Coverage    []covered        `json:"coverage,omitempty"`
	Switching   []changeJSON     `json:"switching,omitempty"`
	Conflicts   []string         `json:"conflicts,omitempty"`
	LineUps     []lineUpJSON     `json:"line_ups,omitempty"`
	Assumptions []assumptionJSON `json:"assumptions,omitempty"`
	Cautions    []string         `json:"cautions"`
}

type (
	washStepJSON struct {
		Step      string                              `json:"step"`
		ID        model.ID                            `json:"step_id"`
		Simulated bool                                `json:"simulated"`
		Why       string                              `json:"why,omitempty"`
		Start     quantity.Opt[quantity.Duration]     `json:"start_min,omitzero"`
		Time      quantity.Opt[quantity.Duration]     `json:"time_min,omitzero"`
		Hold      quantity.Opt[quantity.Duration]     `json:"timer_from_min,omitzero"`
		Return    model.ID                            `json:"return_at,omitempty"`
		Strong    quantity.Opt[quantity.Duration]     `json:"at_strength_min,omitzero"`
		Warm      quantity.Opt[quantity.Duration]     `json:"warm_min,omitzero"`
		Degree    quantity.Opt[quantity.Temperature]  `json:"end_temperature_C,omitzero"`
		Strength  quantity.Opt[quantity.Strength]     `json:"end_strength_pct,omitzero"`
		At25      quantity.Opt[quantity.Conductivity] `json:"end_conductivity_at_25C_mScm,omitzero"`
		Mixed     quantity.Opt[quantity.Volume]       `json:"mixed_phase_L,omitzero"`
		MixedOf   string                              `json:"mixed_phase_of,omitempty"`
		MixedFrom quantity.Opt[quantity.Duration]     `json:"mixed_phase_from_min,omitzero"`
		MixedTo   quantity.Opt[quantity.Duration]     `json:"mixed_phase_to_min,omitzero"`
		Endings   []endingJSON                        `json:"endings,omitempty"`
		Use       useJSON                             `json:"use"`
		Missing   []missingJSON                       `json:"missing,omitempty"`
		Notes     []string                            `json:"notes,omitempty"`
	}
	endingJSON struct {
		Key   string                          `json:"key"`
		Place model.ID                        `json:"at,omitempty"`
		Met   quantity.Opt[quantity.Duration] `json:"met_min,omitzero"`
	}
	useJSON struct {
		Drawn       quantity.Opt[quantity.Volume] `json:"drawn_L"`
		Fresh       quantity.Opt[quantity.Volume] `json:"fresh_L"`
		Water       quantity.Opt[quantity.Volume] `json:"water_sent_L"`
		Returned    quantity.Opt[quantity.Volume] `json:"back_to_its_tank_L"`
		Recovered   quantity.Opt[quantity.Volume] `json:"recovered_L"`
		Filled      quantity.Opt[quantity.Volume] `json:"filled_L"`
		Sewer       quantity.Opt[quantity.Volume] `json:"sewer_L"`
		Elsewhere   quantity.Opt[quantity.Volume] `json:"elsewhere_L"`
		Heat        float64                       `json:"heat_kWh"`
		Lost        float64                       `json:"lost_to_air_kWh"`
		Steam       *float64                      `json:"steam_kg,omitempty"`
		Electricity *float64                      `json:"electricity_kWh,omitempty"` // pumps and electric heaters
		Concentrate []dosedJSON                   `json:"concentrate,omitempty"`
		Missing     []missingJSON                 `json:"missing,omitempty"`
	}
	dosedJSON struct {
		Supply   model.ID                        `json:"supply,omitempty"` // none: by hand
		Medium   model.Medium                    `json:"medium"`
		Strength quantity.Opt[quantity.Strength] `json:"strength_pct"`
		Mass     float64                         `json:"mass_kg"`
		Volume   quantity.Opt[quantity.Volume]   `json:"volume_L"`
	}
	savedJSON struct {
		Recovered  backJSON `json:"by_recovery"`
		Circulated backJSON `json:"by_going_round"`
	}
	backJSON struct {
		Volume   quantity.Opt[quantity.Volume] `json:"volume_L"`
		Heat     float64                       `json:"heat_kWh"`
		Chemical map[model.Medium]float64      `json:"pure_chemical_kg,omitempty"`
	}
	balanceJSON struct {
		Volume float64 `json:"volume"`
		Mass   float64 `json:"mass"`
		Heat   float64 `json:"heat"`
		Solute float64 `json:"chemicals"`
	}
	trendJSON struct {
		What   string       `json:"what"`
		Place  model.ID     `json:"place"`
		Points []sampleJSON `json:"points"`
	}
	sampleJSON struct {
		Time         quantity.Opt[quantity.Duration]     `json:"time_min"`
		Step         int                                 `json:"step"`
		Flow         quantity.Opt[quantity.Flow]         `json:"flow_m3h"`
		Medium       model.Medium                        `json:"medium"`
		Temperature  quantity.Opt[quantity.Temperature]  `json:"temperature_C,omitzero"`
		Strength     quantity.Opt[quantity.Strength]     `json:"strength_pct"`
		Conductivity quantity.Opt[quantity.Conductivity] `json:"conductivity_mScm,omitzero"`
		At25         quantity.Opt[quantity.Conductivity] `json:"conductivity_at_25C_mScm,omitzero"`
	}
	tankJSON struct {
		Vessel model.ID        `json:"vessel"`
		Points []tankPointJSON `json:"points"`
	}
	tankPointJSON struct {
		Time        quantity.Opt[quantity.Duration]    `json:"time_min"`
		Volume      quantity.Opt[quantity.Volume]      `json:"volume_L"`
		Level       quantity.Opt[quantity.Length]      `json:"level_m,omitzero"`
		Temperature quantity.Opt[quantity.Temperature] `json:"temperature_C,omitzero"`
		Strength    quantity.Opt[quantity.Strength]    `json:"strength_pct"`
		Medium      model.Medium                       `json:"medium"`
	}
	changeJSON struct {
		Step   string     `json:"step"`
		StepID model.ID   `json:"step_id"`
		Stops  []model.ID `json:"stops,omitempty"`
		Moves  []moveJSON `json:"moves,omitempty"`
		Starts []model.ID `json:"starts,omitempty"`
	}
	moveJSON struct {
		Valve  model.ID `json:"valve"`
		Tag    string   `json:"tag"`
		From   string   `json:"from"`
		To     string   `json:"to"`
		ByHand bool     `json:"by_hand,omitempty"`
	}
	lineUpJSON struct {
		Step      string         `json:"step"`
		StepID    model.ID       `json:"step_id"`
		Same      bool           `json:"first_as_the_step_stands"`
		Missing   string         `json:"missing,omitempty"`
		Proposals []proposalJSON `json:"proposals,omitempty"`
	}
	proposalJSON struct {
		Why    string                        `json:"why"`
		Moved  map[model.ID]string           `json:"moved"`
		Pumps  []model.ID                    `json:"pumps,omitempty"`
		Length quantity.Opt[quantity.Length] `json:"length_m,omitzero"`
		Cost   float64                       `json:"cost"`
		Proven bool                          `json:"proven"`
	}
)

func (w *washed) encode(x washJSON) error {
	x.File, x.Programme, x.Cautions = w.file, w.name, cautions(w.steps)
	for _, s := range w.left {
		x.Left = append(x.Left, s.Name)
	}
	return json.NewEncoder(w.text).Encode(x)
}

func useOf(u *wash.Use) useJSON {
	some := func(v quantity.Volume) quantity.Opt[quantity.Volume] { return quantity.Some(v) }
	out := useJSON{Drawn: some(u.Drawn), Fresh: some(u.Fresh), Water: some(u.Water), Returned: some(u.Returned), Recovered: some(u.Recovered),
		Filled: some(u.Filled), Sewer: some(u.Sewer), Elsewhere: some(u.Elsewhere), Heat: u.Heat.KilowattHours(), Lost: u.Lost.KilowattHours(), Missing: missingOf(u.Missing)}
	if x, ok := u.Steam.Get(); ok {
		kg := float64(x)
		out.Steam = &kg
	}
	if x, ok := u.Electricity.Get(); ok {
		kwh := (x + u.Electric).KilowattHours()
		out.Electricity = &kwh
	}
	for _, d := range u.Concentrate {
		out.Concentrate = append(out.Concentrate, dosedJSON{d.Supply, d.Medium, quantity.Some(d.Strength), float64(d.Mass), quantity.Some(d.Volume)})
	}
	return out
}

func missingOf(list []network.Missing) []missingJSON {
	var out []missingJSON
	for _, m := range list {
		out = append(out, missingJSON{m.Record, m.Key})
	}
	return out
}

func backOf(b wash.Back) backJSON {
	out := backJSON{Volume: quantity.Some(b.Volume), Heat: b.Heat.KilowattHours()}
	for _, k := range b.Chemical {
		if out.Chemical == nil {
			out.Chemical = map[model.Medium]float64{}
		}
		out.Chemical[k.Medium] = float64(k.Mass)
	}
	return out
}

// json gives the run, and its trends where they are asked for.
func (w *washed) json() washJSON {
	r := w.record
	total := useOf(&r.Total)
	out := washJSON{Total: &total, Cycle: float64(r.Cycle) / 60, Saved: &savedJSON{backOf(r.Saved.Recovered), backOf(r.Saved.Circulated)},
		Balance: &balanceJSON{r.Balance.Volume.Error, r.Balance.Mass.Error, r.Balance.Heat.Error, r.Balance.Solute.Error}}
	for i := range r.Steps {
		s := &r.Steps[i]
		j := washStepJSON{Step: s.Step.Name, ID: s.Step.ID, Simulated: s.Simulated, Why: s.Told(w.opt.system), Use: useOf(&s.Use), Missing: missingOf(s.Missing), Notes: s.ToldNotes(w.opt.system),
			Return: s.Return.Element, Strong: s.ReachedStrength, Warm: s.ReachedHeat, Degree: s.ReturnTemperature, Strength: s.ReturnStrength, At25: s.ReturnAt25,
			Mixed: s.Interface.Volume, MixedOf: s.Interface.Of, MixedFrom: s.Interface.From, MixedTo: s.Interface.To, Hold: s.Hold}
		if s.Simulated {
			j.Start, j.Time = quantity.Some(s.Start), quantity.Some(s.Time)
		}
		for _, e := range s.Endings {
			j.Endings = append(j.Endings, endingJSON{e.Key, e.Place.Element, e.Met})
		}
		out.Steps = append(out.Steps, j)
	}
	if w.opt.show == showTrends {
		out.Trends, out.Tanks = w.trendsJSON()
	}
	for _, a := range r.Assumptions {
		out.Assumptions = append(out.Assumptions, assumptionJSON{a.What, a.Told(w.opt.system), a.Basis, a.Record, a.Key})
	}
	return out
}

func (w *washed) trendsJSON() (trends []trendJSON, tanks []tankJSON) {
	for _, t := range w.record.Trends {
		j := trendJSON{What: t.What, Place: t.Place.Element}
		for _, x := range t.Points {
			j.Points = append(j.Points, sampleJSON{quantity.Some(x.Time), x.Step, quantity.Some(x.Flow), x.Medium, x.Temperature, quantity.Some(x.Strength), x.Conductivity, x.At25})
		}
		trends = append(trends, j)
	}
	for _, t := range w.record.Tanks {
		j := tankJSON{Vessel: t.Vessel}
		for _, x := range t.Points {
			j.Points = append(j.Points, tankPointJSON{quantity.Some(x.Time), quantity.Some(x.Volume), x.Level, x.Temperature, quantity.Some(x.Strength), x.Medium})
		}
		tanks = append(tanks, j)
	}
	return trends, tanks
}

func (w *washed) coverageJSON(t *coverage.Table) washJSON {
	return washJSON{Coverage: w.covered(t)}
}

func (w *washed) switchingJSON(list *lineup.Switching) washJSON {
	var out washJSON
	for _, c := range list.Changes {
		j := changeJSON{Step: c.Step.Name, StepID: c.Step.ID, Stops: c.Stops, Starts: c.Starts}
		for _, m := range c.Moves {
			j.Moves = append(j.Moves, moveJSON{m.Valve, w.Name(m.Valve), m.From, m.To, m.ByHand})
		}
		out.Switching = append(out.Switching, j)
	}
	for i := range list.Conflicts {
		out.Conflicts = append(out.Conflicts, list.Conflicts[i].Step.Name+": "+list.Conflicts[i].Text(w.plant))
	}
	return out
}

func (w *washed) lineUpsJSON(list []proposed) washJSON {
	var out washJSON
	for _, p := range list {
		j := lineUpJSON{Step: p.step.Name, StepID: p.step.ID, Same: p.same}
		for i := range p.list {
			x := &p.list[i]
			if !x.Found {
				j.Missing = x.Missing
				continue
			}
			j.Proposals = append(j.Proposals, proposalJSON{x.Why, x.Moved, x.Pumps, x.Length, x.Cost, x.Proven})
		}
		out.LineUps = append(out.LineUps, j)
	}
	return out
}
