package isolation

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	. "rinsewright/model/quantity"
)

// Caution stands wherever a plan is shown or printed.
const Caution = "An aid for qualified people, not a permit. Site lock-out rules, local codes and permits come first. Verify every valve, drain and reading on site before anything is opened."

// cautions of single media, said beside what is done with them.
var cautions = map[model.Medium]string{
	model.Alkali:    "Caustic burns skin and eyes: goggles, gloves, apron; water and eye wash at hand.",
	model.Acid:      "Acid burns skin and eyes and must not meet alkali or chlorine: goggles, gloves, apron; water and eye wash at hand.",
	model.Disinfect: "Disinfectant irritates and gasses off: goggles, gloves, air; keep it from acid.",
	model.Steam:     "Steam and condensate scald: let the line cool and drain before it is opened.",
	model.Gas:       "Gas displaces air: vent to the open, test the air before anyone bends over or enters.",
}

// order puts the work into words, step by step.
func (f *field) order(pl *Plan) {
	do := func(deed Deed, part model.ID, pos, text, caution string) {
		pl.Order = append(pl.Order, Action{deed, part, pos, said(text), said(caution)})
	}
	do(Stop, "", "", "Stop the programme, tell everyone who works with the circuit, and hang the notice.", "")
	for _, d := range pl.Drives {
		do(LockOff, d.Part, "", "Stop "+f.name(d.Part)+" and lock its drive off at the isolator.", "")
	}
	for _, id := range pl.Empty {
		if f.p.Circuit.Part(id).Class() == model.ClassTerminal {
			do(Shut, id, "", "Shut and lock the line beyond "+f.name(id)+": no valve on this drawing does.", cautions[model.Steam])
			continue
		}
		do(Drain, id, "", "Empty "+f.name(id)+": no valve shuts it off from the work.", "")
	}
	for _, b := range slices.Concat(pl.Second, pl.Barriers) {
		f.shutOne(b, do)
	}
	// A vacuum breaker lets air in, not pressure out.
	var ways []model.ID
	for _, id := range slices.Concat(pl.Vents, pl.Drains) { // one may be both
		if !f.kindOf(id).Has(catalogue.TraitRelief) && !slices.Contains(ways, id) {
			ways = append(ways, id)
		}
	}
	vents := f.names(ways)
	if vents == "" {
		do(Relieve, "", "", "Relieve the pressure: no vent is drawn inside. Open the highest joint slowly, standing clear of it.", f.worst(pl))
	} else {
		do(Relieve, "", "", "Relieve the pressure slowly through "+vents+".", f.worst(pl))
	}
	for _, o := range pl.Open {
		do(Drain, o.Valve, o.Position, "Put "+f.name(o.Valve)+" in position "+o.Position+".", "")
	}
	if drains := f.names(pl.Drains); drains != "" {
		do(Drain, "", "", "Let it run empty through "+drains+".", "")
	} else {
		do(Drain, "", "", "Catch the liquid at the lowest joint: no drain is drawn inside.", f.worst(pl))
	}
	if slices.ContainsFunc(pl.Contents, func(c Content) bool { return dangerous(c.Medium) }) {
		do(Flush, "", "", "Flush with water until the runoff is neutral, and drain again.", f.worst(pl))
	}
	if hottest, ok := pl.Hottest().Get(); ok && hottest > Coolest {
		pl.Order = append(pl.Order, Action{Deed: Cool, Text: Say("Let the parts cool to %v or less.", Coolest), Caution: said("Hot surfaces burn and hot liquid scalds.")})
	}
	for _, p := range pl.Proofs {
		pl.Order = append(pl.Order, Action{Deed: Prove, Part: p.Part, Text: f.proving(p)})
	}
	if len(pl.Proofs) == 0 {
		do(Prove, "", "", "No gauge or drain is drawn inside: prove zero at a joint opened with care.", f.worst(pl))
	}
	for _, id := range f.ask.Work {
		if _, ok := f.p.Circuit.Part(id).(*model.Vessel); ok {
			do(Prove, id, "", "Before anyone puts the head into "+f.name(id)+" or enters: entry permit, tested air, a guard outside, rescue at hand.", "A vessel that was shut can hold air that kills. Entry is for trained people under the site's own permit only.")
		}
	}
	f.back(pl)
}

// shutOne adds what is done at one barrier.
func (f *field) shutOne(b Barrier, do func(Deed, model.ID, string, string, string)) {
	caution := ""
	for _, m := range b.Holds {
		if c := cautions[m]; c != "" {
			caution = c
			break
		}
	}
	stands := f.p.Circuit.Part(b.Valve).(*model.Valve).Normal == Some(b.Position)
	switch {
	case isBend(f.kindOf(b.Valve)) && stands:
		do(Take, b.Valve, b.Position, "See that "+f.name(b.Valve)+" is away and its open ends are capped.", caution)
		return
	case isBend(f.kindOf(b.Valve)):
		do(Take, b.Valve, b.Position, "Take "+f.name(b.Valve)+" away, drain it, and cap the open ends.", caution)
		return
	case stands:
		do(Shut, b.Valve, b.Position, "See that "+f.name(b.Valve)+" stands in position "+b.Position+", its normal one.", caution)
	default:
		do(Shut, b.Valve, b.Position, "Put "+f.name(b.Valve)+" in position "+b.Position+".", caution)
	}
	switch lockable, told := b.Lockable.Get(); {
	case told && !lockable:
		do(Lock, b.Valve, b.Position, "Tag "+f.name(b.Valve)+"; it cannot be locked, so take its lever or its air off and keep it.", "")
	case b.ByHand:
		do(Lock, b.Valve, b.Position, "Lock "+f.name(b.Valve)+" and tag it.", "")
	default:
		do(Lock, b.Valve, b.Position, "Vent and lock off the air of "+f.name(b.Valve)+" and tag it.", "")
	}
}

// said takes a text as it is.
func said(text string) Words {
	if text == "" {
		return Words{}
	}
	return Say("%s", text)
}

func (f *field) proving(p Proof) Words {
	switch name := f.name(p.Part); p.Of {
	case "pressure":
		return Say("Read %s: no pressure.", name)
	case "temperature":
		return Say("Read %s: %v or less.", name, Coolest)
	case "level":
		return Say("Read %s: empty.", name)
	case "no start":
		return Say("Try to start %s: it must not run. Then put its switch back.", name)
	default:
		return Say("See that %s has run dry and stays dry.", name)
	}
}

// Hottest gives the highest temperature that the contents may have; unknown where
// the steps that reach it tell none.
func (pl *Plan) Hottest() Opt[Temperature] {
	for _, c := range pl.Contents {
		if c.Temperature.Known() {
			return c.Temperature // the hottest stands first
		}
	}
	return Opt[Temperature]{}
}

// worst gives the caution for the most dangerous thing that may be inside.
func (f *field) worst(pl *Plan) string {
	best := ""
	at := 99
	for _, c := range pl.Contents {
		if d := danger(c.Medium); cautions[c.Medium] != "" && d < at {
			best, at = cautions[c.Medium], d
		}
	}
	return best
}

// back says how all is put back, in the reverse order.
func (f *field) back(pl *Plan) {
	do := func(deed Deed, part model.ID, pos, text string) {
		pl.Back = append(pl.Back, Action{Deed: deed, Part: part, Position: pos, Text: said(text)})
	}
	do(Restore, "", "", "See that all parts are mounted, gaskets are in and no one is at the work; take tools away.")
	for _, o := range slices.Backward(pl.Open) {
		do(Close, o.Valve, "", "Put "+f.name(o.Valve)+" back to its normal position.")
	}
	for _, b := range slices.Backward(slices.Concat(pl.Second, pl.Barriers)) {
		if isBend(f.kindOf(b.Valve)) {
			do(Restore, b.Valve, "", "Mount "+f.name(b.Valve)+" with new gaskets if the programme needs it.")
			continue
		}
		do(Unlock, b.Valve, "", "Take lock and tag off "+f.name(b.Valve)+" and put it back to its normal position.")
	}
	for _, d := range slices.Backward(pl.Drives) {
		do(Unlock, d.Part, "", "Unlock the drive of "+f.name(d.Part)+"; see that it turns the right way.")
	}
	do(Restore, "", "", "Fill with cold water, look for leaks, and wash the circuit before product returns.")
}
