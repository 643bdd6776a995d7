package checks

import (
	"math"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

var ruleConcentricOnLevel = &Rule{
	Name: "concentric-on-level",
	Doc: Doc{
		Title: "Concentric reducer in a level run",
		Why:   "In a level line the step at the bottom of a concentric reducer keeps liquid, the step at its top keeps air.",
		How: "A concentric reducer that is told to lie level, or, where nothing is told, with a stretch beside it that rises or falls less than half its length. " +
			"Beside the suction of a pump the flat side belongs at the top, against air, and the line then keeps liquid: the two aims collide and the choice is the designer's.",
		Blind:    "Which of the two aims counts more at a pump suction.",
		Remedy:   "Use an eccentric reducer, flat at the bottom; flat at the top at a pump suction.",
		Cites:    []Citation{commonPractice, {Source: "HI 9.6.6", Clause: "pump suction", Standing: StandingMemory}},
		Severity: Fix,
	},
	Run: runConcentricOnLevel,
}

func runConcentricOnLevel(p *Pass) {
	for _, part := range p.ofTrait(catalogue.TraitConcentric) {
		reducer, ok := part.(*model.Fitting)
		if !ok {
			continue
		}
		at := model.PlaceOf(reducer.ID)
		level, known := p.liesLevel(reducer)
		if !known {
			p.NotAssessed(at, missingKey(reducer, "lie"))
			continue
		}
		if !level {
			continue
		}
		text, sides := Say("%v is concentric and lies level", p.Name(reducer.ID)), []model.FlatSide{model.FlatBottom}
		if pump := p.sucksFrom(reducer.ID); pump != "" {
			text = Say("%v is concentric, lies level and leads to the suction of %v: flat at the top keeps air out, flat at the bottom lets it drain", p.Name(reducer.ID), p.Name(pump))
			sides = []model.FlatSide{model.FlatTop, model.FlatBottom}
		}
		p.Report(Finding{At: at, Message: text, Fixes: p.eccentricInstead(reducer, sides)})
	}
}

// liesLevel tells how a reducer lies, by its own word or the stretch beside it.
func (p *Pass) liesLevel(f *model.Fitting) (level, known bool) {
	if lie, told := f.Lie.Get(); told {
		return lie == model.Level, true
	}
	for _, run := range p.Circuit.RunsAt(f.ID) {
		if len(run.Stretches) == 0 {
			continue
		}
		s := run.Stretches[0]
		if run.To.Part == f.ID {
			s = run.Stretches[len(run.Stretches)-1]
		}
		length, knowsLength := s.Length.Get()
		rise, knowsRise := s.Rise.Get()
		if knowsLength && knowsRise && length > 0 {
			return math.Abs(float64(rise)) < 0.5*float64(length), true
		}
	}
	return false, false
}

// sucksFrom gives the pump whose suction a run joins to a part, if any.
func (p *Pass) sucksFrom(id model.ID) model.ID {
	for _, run := range p.Circuit.RunsAt(id) {
		for _, end := range []model.End{run.From, run.To} {
			pump, ok := p.Circuit.Part(end.Part).(*model.Pump)
			if !ok {
				continue
			}
			if kind := p.Kind(pump); kind != nil {
				if port, ok := kind.Port(end.Port); ok && port.Role == "in" {
					return pump.ID
				}
			}
		}
	}
	return ""
}

func (p *Pass) eccentricInstead(f *model.Fitting, sides []model.FlatSide) []Remedy {
	kind := p.eccentric()
	if kind == nil || !samePorts(kind, p.Kind(f)) {
		return nil
	}
	var out []Remedy
	for _, side := range sides {
		after := model.Clone(f)
		after.Kind, after.FlatSide = kind.Name, quantity.Some(side)
		says := "swap for an eccentric reducer, flat at the " + string(side)
		out = append(out, Remedy{Message: says, Edit: model.Edit{Label: "eccentric reducer at " + p.Name(f.ID), Changes: []model.Change{model.Replacing(f, after)}}})
	}
	return out
}
