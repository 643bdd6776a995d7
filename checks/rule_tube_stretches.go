package checks

import (
	"rinsewright/model"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
	"rinsewright/model/thermal"
)

var ruleTubeStretches = &Rule{
	Name: "tube-stretches",
	Doc: Doc{
		Title:    "Long straight tube that gets hot",
		Why:      "The tube grows and, held at both ends, bends out of its slope, pushes nozzles and tears gaskets.",
		How:      "Every straight stretch on the route of a cleaning step, grown from the temperature at which it was put up to that of the step: α L ΔT, stainless steel. Stretches of one run meet at bends, which take the growth up.",
		Blind:    "Supports and loops, and stretches that go on straight through a valve or fitting.",
		Remedy:   "Put a bend or a loop into it, and let its supports slide.",
		Cites:    []Citation{{Source: "EN 10088-1", Clause: "16 µm/(m·K)", Standing: StandingMemory}, commonPractice},
		Severity: Note,
		Merge:    AnyStep,
		Limits:   []string{"stretch-most", "assembly-temperature"},
	},
	Run: runTubeStretches,
}

func runTubeStretches(p *Pass) {
	if !p.sweeps() || !p.Route().Found {
		return
	}
	most, cold := p.Limit("stretch-most"), quantity.Temperature(p.Limit("assembly-temperature").Is())
	hot, known := p.Step.Temperature.Get()
	if !known && warm(p.Step) {
		hot = quantity.Celsius(100) // the most that an open tank can have
	} else if !known {
		return // water whose temperature nobody told is not meant to be hot
	}
	if hot <= cold {
		return
	}
	for _, run := range p.runEdges() {
		if !p.Route().InFlow[run.first] || run.face {
			continue
		}
		if len(run.Stretches) == 0 {
			p.NotAssessed(model.PlaceOf(run.ID), network.Missing{Record: run.ID, Key: "stretches"})
		}
		for i, stretch := range run.Stretches {
			at := model.PlaceOfStretch(run.ID, i)
			length, told := stretch.Length.Get()
			if !told {
				p.NotAssessed(at, network.Missing{Record: run.ID, Key: "stretches"})
				continue
			}
			grows := quantity.Bore(thermal.Expansion(length, cold, hot))
			switch {
			case !above(float64(grows), most.Is()):
			case !known:
				p.NotAssessed(at, missingKey(p.Step, "temperature_C"))
			default:
				p.Report(Finding{At: at, Measured: Of(grows), LimitName: "stretch-most",
					Message: Say("%v: %v of straight tube grow by %v from %v to %v, more than %v", p.Where(at), Of(length), Of(grows), Of(cold), Of(hot), most.Value)})
			}
		}
	}
}
