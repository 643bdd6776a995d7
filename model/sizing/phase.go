package sizing

import (
	"rinsewright/model"
	"rinsewright/model/fluid"
	"rinsewright/model/programme"
	. "rinsewright/model/quantity"
)

// phase is a step of the ready programme that sends something.
type phase struct {
	name        string
	purpose     model.Purpose
	medium      model.Medium
	or          model.Medium
	agent       fluid.Medium
	round       bool // back to the tank it comes from
	strength    Opt[Strength]
	temperature Opt[Temperature]
	time        Opt[Duration]
}

var agents = map[string]fluid.Medium{"NaOH": fluid.Caustic, "HNO3": fluid.NitricAcid, "H3PO4": fluid.PhosphoricAcid, "peracetic acid": fluid.PeraceticAcid}

// phasesOf gives the steps that are done in every wash and send liquid.
func phasesOf(t *programme.Template) []phase {
	var out []phase
	for _, s := range t.Steps {
		if s.Optional != "" || s.Purpose == model.Drain || s.Purpose == model.Prepare {
			continue
		}
		f := phase{name: s.Name, purpose: s.Purpose, medium: s.Medium, or: s.Or, agent: agents[s.Agent], round: s.To == programme.ToSource}
		if f.agent == "" {
			f.agent = fluid.PureWater
		}
		if s.Strength != nil {
			f.strength = Some(Strength(s.Strength.Value / 100))
		}
		if s.Temperature != nil {
			f.temperature = Some(Celsius(s.Temperature.Value))
		}
		if s.Time != nil {
			f.time = Some(Duration(s.Time.Value * 60))
		}
		out = append(out, f)
	}
	return out
}

// chemical says whether the phase sends a solution.
func (f phase) chemical() bool { return f.medium == model.Alkali || f.medium == model.Acid }
