package checks

import "rinsewright/model"

var ruleSensorInDeadLeg = &Rule{
	Name: "sensor-in-dead-leg",
	Doc: Doc{
		Title:    "Instrument in a dead leg",
		Why:      "Soil stays in the pocket before the sensor, and the sensor measures what stands there, not what flows.",
		How:      "As dead-leg, for legs that end at the face of an instrument: length from the inner wall of the flowing tube to the face, diameter the smallest on the way.",
		Blind:    "How far the sensor reaches into the flow.",
		Remedy:   "Use an instrument tee with a flush face, or shorten the stub.",
		Cites:    []Citation{{Source: "a secondary text quoting ASME BPE-2012", Clause: "L/d of 2 as a target", Standing: StandingRead}, commonPractice},
		Severity: Fix,
		Merge:    AnyStep,
		Limits:   []string{"dead-leg-ratio", "dead-leg-stop"},
	},
	Run: runSensorInDeadLeg,
}

func runSensorInDeadLeg(p *Pass) {
	if !p.sweeps() {
		return
	}
	for _, leg := range Legs.Of(p.Snapshot, p.Step) {
		if i, atSensor := p.partOfNode(leg.End).(*model.Instrument); atSensor {
			p.judgeLeg(leg, model.PlaceOf(i.ID))
		}
	}
}
