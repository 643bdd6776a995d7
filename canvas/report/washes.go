package report

import (
	"slices"

	"rinsewright/checks"
	"rinsewright/checks/lists"
	"rinsewright/model"
	"rinsewright/model/quantity"
	"rinsewright/model/wash"
)

// ProgrammeUse is what a wash programme takes.
type ProgrammeUse struct {
	Programme string   `json:"programme"`
	PerWeek   string   `json:"runs_per_week,omitempty"`
	Left      []string `json:"left_out,omitempty"` // steps that are not done every time
	Use       Table    `json:"use"`
	Notes     []string `json:"notes,omitempty"`
	Missing   []Fact   `json:"missing,omitempty"`
	Assumed   []Fact   `json:"assumed,omitempty"`
	Failure   string   `json:"not_computed,omitempty"`
}

// programmesOf gives the programmes of a circuit in order of name.
func programmesOf(c *model.Circuit) []string {
	var names []string
	for _, s := range c.Steps() {
		if !slices.Contains(names, s.Programme) {
			names = append(names, s.Programme)
		}
	}
	slices.Sort(names)
	return names
}

func (m *maker) washes(names []string) error {
	for _, name := range names {
		m.out.Washes = append(m.out.Washes, m.wash(name))
		if err := m.step(1, "wash programme "+name); err != nil {
			return err
		}
	}
	return nil
}

// Units of energy and mass in a reader's system: kWh or thousands of Btu
// (international table, 1055.05585262 J), kg or lb (0.45359237 kg; both NIST
// SP 811, appendix B.8). Electricity is told in kWh everywhere.
func energyUnit(s quantity.System) (string, float64) {
	if s == quantity.US {
		return "kBtu", 1055.05585262e3
	}
	return "kWh", 3.6e6
}

func massUnit(s quantity.System) (string, float64) {
	if s == quantity.US {
		return "lb", 0.45359237
	}
	return "kg", 1
}

func (m *maker) wash(name string) ProgrammeUse {
	s := m.system
	energy, joules := energyUnit(s)
	mass, kilograms := massUnit(s)
	out := ProgrammeUse{Programme: name}
	out.Use = table("use", "Use by step", words("Step"), column[quantity.Duration]("Time", s), column[quantity.Volume]("Drawn", s), column[quantity.Volume]("Fresh water", s),
		column[quantity.Volume]("Recovered", s), column[quantity.Volume]("Sewer", s), column[quantity.Volume]("Concentrate", s), lists.Column{Heading: "Heat", Unit: energy},
		lists.Column{Heading: "Steam", Unit: mass}, lists.Column{Heading: "Electricity", Unit: "kWh"})
	for _, f := range m.Circuit.Header().Programmes {
		if n, ok := f.PerWeek.Get(); ok && f.Name == name {
			out.PerWeek = quantity.Number(float64(n))
		}
	}
	var steps []*model.Step
	for _, x := range m.Circuit.Steps() {
		switch {
		case x.Programme != name:
		case x.Optional.Or(false):
			out.Left = append(out.Left, x.Name)
		default:
			steps = append(steps, x)
		}
	}
	if len(steps) == 0 {
		out.Failure = "all of its steps are such as are not done every time"
		return out
	}
	record, err := wash.Run(checks.Plant.Of(m.Snapshot), checks.Heights.Of(m.Snapshot), steps, wash.Options{})
	if err != nil {
		out.Failure = err.Error()
		return out
	}
	row := func(id model.ID, what string, time quantity.Duration, u *wash.Use) {
		dosed := quantity.Volume(0)
		for _, d := range u.Concentrate {
			dosed += d.Volume
		}
		steam, current := lists.Cell{}, lists.Cell{}
		if x, ok := u.Steam.Get(); ok {
			steam = lists.Number(float64(x) / kilograms)
		}
		if x, ok := u.Electricity.Get(); ok {
			current = lists.Number((x + u.Electric).KilowattHours())
		}
		of := func(v quantity.Volume) lists.Cell { return cell(quantity.Some(v), s) }
		out.Use.row(id, lists.Text(what), cell(quantity.Some(time), s), of(u.Drawn), of(u.Fresh), of(u.Recovered), of(u.Sewer), of(dosed), lists.Number(float64(u.Heat)/joules), steam, current)
	}
	for i := range record.Steps {
		x := &record.Steps[i]
		if x.Simulated {
			row(x.Step.ID, x.Step.Name, x.Time, &x.Use)
		} else {
			out.Use.row(x.Step.ID, append([]lists.Cell{lists.Text(x.Step.Name + " (not simulated)")}, make([]lists.Cell, 9)...)...)
		}
		if why := x.Told(s); why != "" {
			out.Notes = append(out.Notes, x.Step.Name+": "+why)
		}
		for _, n := range x.Notes {
			out.Notes = append(out.Notes, x.Step.Name+": "+n)
		}
	}
	row("", "In all", record.Cycle, &record.Total)
	out.Use.Remarks = []string{"An empty cell is not known. Volumes are as metered; the programme was run in time on the flow solved for each step."}
	seen := map[string]bool{}
	for _, k := range record.Total.Missing {
		if id := string(k.Record) + k.Key; !seen[id] {
			seen[id] = true
			out.Missing = append(out.Missing, m.missing(k, ""))
		}
	}
	sheet := StepSheet{}
	m.assumed(&sheet, record.Assumptions)
	out.Assumed = sheet.Assumed
	return out
}
