package service

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// Wear is what one part does in a week.
type Wear struct {
	Part model.ID

	Hours Opt[Duration] // that it runs in a week
	Least Duration      // what is known of Hours

	Switchings Opt[float64] // in a week; unknown for what has no positions and is no pump, too
	Fewest     float64      // what is known of Switchings
	Switches   bool         // it is a valve or a pump

	Steps    []model.ID        // that use it
	Optional bool              // one of them is not done every time, and is counted as if it were
	Missing  []network.Missing // what nobody told, in the order of the steps
}

// Left is a step that could not be counted but for the pumps that it runs and the
// valves that it moves, and why.
type Left struct {
	Step model.ID
	Why  string
}

// Report is what all parts do in a week.
type Report struct {
	Wears []Wear // of pumps, valves, instruments, exchangers and spray devices, in order of id
	Left  []Left // in the order of the steps
}

// Of tells what the parts of a plant do in a week.
func Of(p *network.Plant) *Report {
	c := p.Circuit
	report := &Report{}
	often := frequencies(c)
	var out []Wear
	at := map[model.ID]int{}
	for _, part := range c.Parts() {
		switch part.(type) {
		case *model.Pump, *model.Valve:
			at[part.RecordID()] = len(out)
			out = append(out, Wear{Part: part.RecordID(), Switches: true, Hours: Some(Duration(0)), Switchings: Some(0.0)})
		case *model.Instrument, *model.Exchanger, *model.Spray:
			at[part.RecordID()] = len(out)
			out = append(out, Wear{Part: part.RecordID(), Hours: Some(Duration(0))})
		}
	}
	normal := p.LineUp(nil)
	for _, list := range programmes(c) {
		week := often[list[0].Programme]
		lineUps := make([]*network.LineUp, len(list))
		for i, s := range list {
			lineUps[i] = p.LineUp(s)
			route := p.Route(lineUps[i])
			if !route.Found {
				report.Left = append(report.Left, Left{s.ID, route.Why})
			}
			surely, maybe, valves := reach(p, route)
			for k := range out {
				w := &out[k]
				_, pump := c.Part(w.Part).(*model.Pump)
				switch {
				case pump && slices.Contains(s.Running, w.Part), !pump && surely[w.Part]:
					w.runs(s, week)
				case !pump && maybe[w.Part]:
					w.Hours = Opt[Duration]{}
					for _, v := range valves {
						w.miss(v, "normal")
					}
				}
			}
		}
		for k := range out {
			if w := &out[k]; w.Switches {
				w.switches(p, list, lineUps, normal, week)
			}
		}
	}
	report.Wears = out
	return report
}

// programmes gives the steps of each programme, in their order.
func programmes(c *model.Circuit) [][]*model.Step {
	var out [][]*model.Step
	at := map[string]int{}
	for _, s := range c.Steps() {
		i, ok := at[s.Programme]
		if !ok {
			i = len(out)
			at[s.Programme] = i
			out = append(out, nil)
		}
		out[i] = append(out[i], s)
	}
	return out
}

// frequencies gives how often programmes run in a week; the first that is told of
// a programme counts.
func frequencies(c *model.Circuit) map[string]Opt[float64] {
	out := map[string]Opt[float64]{}
	for _, f := range c.Header().Programmes {
		if _, told := out[f.Name]; told {
			continue
		}
		if x, ok := f.PerWeek.Get(); ok {
			out[f.Name] = Some(float64(x))
		}
	}
	return out
}

// reach tells which parts a route reaches with liquid, which it may reach where
// nobody told how valves stand, and those valves.
func reach(p *network.Plant, r *network.Route) (surely, maybe map[model.ID]bool, valves []model.ID) {
	surely, maybe = map[model.ID]bool{}, map[model.ID]bool{}
	if !r.Found {
		return surely, maybe, nil
	}
	doubt := p.Doubt(r.LineUp)
	if doubt != nil {
		valves = doubt.Valves
	}
	for e := range p.Edges {
		in := surely
		switch {
		case doubt != nil && doubt.Edges[e]:
			in = maybe
		case !r.Wet[e] && !r.InFlow[e]:
			continue
		}
		in[p.Edges[e].Part] = true
		for _, n := range []int{p.Edges[e].From, p.Edges[e].To} {
			in[p.Nodes[n].Part] = true // a shut seat is wet, too
		}
	}
	return surely, maybe, valves
}

// runs adds a step that uses the part.
func (w *Wear) runs(s *model.Step, week Opt[float64]) {
	w.Steps = append(w.Steps, s.ID)
	w.Optional = w.Optional || s.Optional.Or(false)
	n, told := week.Get()
	if told && n == 0 {
		return // never run: no matter how long it takes
	}
	t, timed := s.Time.Get()
	if !timed {
		w.miss(s.ID, "time_min")
	}
	if !told {
		w.miss(model.HeaderID, "programmes")
	}
	if !timed || !told {
		w.Hours = Opt[Duration]{}
		return
	}
	w.Least += t * Duration(n)
	if w.Hours.Known() {
		w.Hours = Some(w.Least)
	}
}

// switches adds what the part switches in a programme.
func (w *Wear) switches(p *network.Plant, list []*model.Step, lineUps []*network.LineUp, normal *network.LineUp, week Opt[float64]) {
	changes := 0
	if _, pump := p.Circuit.Part(w.Part).(*model.Pump); pump {
		on := false
		for _, s := range list {
			if next := slices.Contains(s.Running, w.Part); next != on {
				on = next
				changes++
			}
		}
		if on {
			changes++
		}
	} else {
		for i := 0; i <= len(lineUps); i++ {
			before, after := normal, normal
			if i > 0 {
				before = lineUps[i-1]
			}
			if i < len(lineUps) {
				after = lineUps[i]
			}
			if before.Positions[w.Part] != after.Positions[w.Part] {
				changes++
			}
			if i < len(lineUps) && slices.Contains(lineUps[i].Unknown, w.Part) {
				w.Switchings = Opt[float64]{}
				w.miss(w.Part, "normal")
				return
			}
		}
	}
	if changes == 0 {
		return
	}
	n, told := week.Get()
	if !told {
		w.Switchings = Opt[float64]{}
		w.miss(model.HeaderID, "programmes")
		return
	}
	w.Fewest += float64(changes) * n
	if w.Switchings.Known() {
		w.Switchings = Some(w.Fewest)
	}
}

func (w *Wear) miss(record model.ID, key string) {
	m := network.Missing{Record: record, Key: key}
	if !slices.Contains(w.Missing, m) {
		w.Missing = append(w.Missing, m)
	}
}
