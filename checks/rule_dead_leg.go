package checks

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

var ruleDeadLeg = &Rule{
	Name: "dead-leg",
	Doc: Doc{
		Title: "Dead leg",
		Why:   "Liquid that stands beside the flow is not exchanged: soil stays, and the next batch meets it.",
		How: "In each step, everything wet that hangs on the flowing tube and that no flow passes is a dead leg. Its length L runs from the inner wall of the flowing tube " +
			"along the longest wet way to the closed end (cap, seat, instrument); its diameter D is the smallest inside diameter on that way. L > k D is a fault. " +
			"Above the second limit, there measured from the axis of the flowing tube, the circuit must not be built so.",
		Blind:  "How the flow meets the leg (towards it is better than away from it), and pockets inside parts that the catalogue does not know. Legs that end in an instrument are told by sensor-in-dead-leg.",
		Remedy: "Bring the valve up to the main, use a tee with a short outlet or a valve that is its own branch, or lead flow through the leg.",
		Cites: []Citation{{Source: "a secondary text quoting ASME BPE-2012", Clause: "L/d of 2 as a target", Standing: StandingRead},
			{Source: "FDA guide to inspections of high purity water systems, 1993", Clause: "6 diameters from the axis", Standing: StandingRead}, commonPractice},
		Severity: Fix,
		Merge:    AnyStep,
		Limits:   []string{"dead-leg-ratio", "dead-leg-stop"},
	},
	Run: runDeadLeg,
}

func runDeadLeg(p *Pass) {
	if !p.sweeps() {
		return
	}
	for _, leg := range Legs.Of(p.Snapshot, p.Step) {
		if _, atSensor := p.partOfNode(leg.End).(*model.Instrument); atSensor || p.runsOut(leg) {
			continue
		}
		p.judgeLeg(leg, NodePlace(p.Plant(), leg.End))
	}
}

// runsOut says whether a leg is open to a sewer: it is no dead leg but a leak, told
// by open-to-two.
func (p *Pass) runsOut(leg network.Leg) bool {
	return leg.Opens >= 0 && p.Has(p.partOfNode(leg.Opens), catalogue.TraitSewer)
}

// judgeLeg reports a leg that is too long.
func (p *Pass) judgeLeg(leg network.Leg, at model.Place) {
	ratio := p.Limit("dead-leg-ratio")
	bore, knownBore := leg.Bore.Get()
	length, knownLength := leg.Length.Get()
	if !knownLength {
		length = leg.AtLeast // enough to condemn it, not to pass it
	}
	if length == 0 && knownLength {
		return
	}
	if !knownBore || !knownLength && !above(float64(length), ratio.Is()*float64(bore)) {
		p.NotAssessed(at, leg.Missing...)
		return
	}
	if !above(float64(length), ratio.Is()*float64(bore)) {
		return
	}
	plant := p.Plant()
	f := Finding{At: at, Way: EdgePlaces(plant, leg.Way), LimitName: "dead-leg-ratio", Measured: Diameters(float64(length) / float64(bore)),
		Fixes: p.shortOutlet(leg, quantity.Length(ratio.Is()*float64(bore))-length, knownLength)}
	atLeast := ""
	if !knownLength {
		atLeast = "at least "
	}
	f.Message = Say("%v: %v%v long and %v wide, %v, longer than %v", p.legName(leg, at), atLeast, Of(quantity.Bore(length)), Of(bore), f.Measured, ratio.Value)
	severity, stop := p.Rule.Doc.Severity, p.Limit("dead-leg-stop")
	if fromAxis := float64(length) + float64(leg.Main.Or(0))/2; above(fromAxis, stop.Is()*float64(bore)) {
		severity = Stop
		f.LimitName, f.Measured = "dead-leg-stop", Diameters(fromAxis/float64(bore))
		f.Message = Say("%v; %v from the axis of the flowing tube, longer than the %v above which it must not be built", f.Message, f.Measured, stop.Value)
	}
	p.ReportAs(severity, f)
}

// legName tells a leg by its two ends.
func (p *Pass) legName(leg network.Leg, at model.Place) string {
	root := NodePlace(p.Plant(), leg.Root)
	if root.Element == at.Element {
		return "dead leg in " + p.Name(at.Element) // the pocket of an instrument
	}
	return "dead leg from " + p.Where(root) + " to " + p.Where(at)
}

// shortOutlet swaps the tee at the root of a leg for one with a short outlet,
// where that alone can bring the leg within the limit. Spare is the limit less
// the length of the leg: negative.
func (p *Pass) shortOutlet(leg network.Leg, spare quantity.Length, known bool) []Remedy {
	tee, ok := p.partOfNode(leg.Root).(*model.Fitting)
	kind := p.kindWith(model.ClassFitting, catalogue.TraitTee, traitShortOutlet)
	if !ok || !known || kind == nil || !p.Has(tee, catalogue.TraitTee) || p.Has(tee, traitShortOutlet) || len(leg.Way) == 0 || !p.Plant().Edges[leg.Way[0]].Branch {
		return nil
	}
	stub, told := tee.Stub.Get()
	allowed := quantity.Bore(float64(stub) + float64(spare))
	if !told || allowed < 0 {
		return nil
	}
	after := model.Clone(tee)
	after.Kind, after.Stub = kind.Name, quantity.Some(allowed)
	return []Remedy{remedy(Say("swap for a tee with an outlet of at most %v", Of(allowed)),
		model.Edit{Label: "short outlet at " + p.Name(tee.ID), Changes: []model.Change{model.Replacing(tee, after)}})}
}

// traitShortOutlet marks tees whose branch is cut short.
const traitShortOutlet = "short-outlet"
