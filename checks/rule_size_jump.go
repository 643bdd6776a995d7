package checks

import (
	"math"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/quantity"
)

var ruleSizeJump = &Rule{
	Name: "size-jump",
	Doc: Doc{
		Title:    "Two bores meet without a reducer",
		Why:      "A step in the bore holds soil and liquid, and the two ends do not fit.",
		How:      "At each end of a run the inside diameter of the run and of the port it ends on are compared; of parts joined face to face, those of the two ports. A run that fits at neither end is told once.",
		Blind:    "Outside diameters and the form of the faces.",
		Remedy:   "Fit a reducer, or make both ends one size.",
		Cites:    []Citation{commonPractice},
		Severity: Fix,
		Limits:   []string{"bore-step-most"},
	},
	Run: runSizeJump,
}

// sized is an end with its tube size.
type sized struct {
	at      model.Place
	part    model.Part
	port    catalogue.Port
	hasSize bool // the kind knows a tube size for it
	size    model.TubeSize
	bore    quantity.Opt[quantity.Bore]
}

func runSizeJump(p *Pass) {
	for _, run := range p.Circuit.Runs() {
		from, to := p.sizedEnd(run.From), p.sizedEnd(run.To)
		size, known := run.Size.Get()
		tube, inTable := p.Catalogue.Tube(size)
		switch {
		case known && !inTable:
			p.NotAssessed(model.PlaceOf(run.ID), missingKey(run, "size"))
		case known:
			a, b := p.jumps(from, tube.Inside()), p.jumps(to, tube.Inside())
			switch {
			case a && b && from.at.Element != to.at.Element:
				p.wrongRun(run, from, to, tube)
			case a || b:
				if b {
					from, to = to, from
				}
				p.wrongEnd(run, from, tube, to)
			}
		case run.Length() == quantity.Some(quantity.Length(0)):
			p.compareFaces(run, from, to)
		case from.hasSize || to.hasSize:
			p.NotAssessed(model.PlaceOf(run.ID), missingKey(run, "size"))
		}
	}
}

func (p *Pass) sizedEnd(e model.End) sized {
	out := sized{part: p.Circuit.Part(e.Part), at: model.PlaceOfPort(e.Part, e.Port)}
	kind := p.Kind(out.part)
	if kind == nil {
		return out
	}
	out.port, _ = kind.Port(e.Port)
	if out.hasSize = out.port.Size != ""; out.hasSize {
		size, known := sizeOf(out.part, out.port.Size).Get()
		if tube, inTable := p.Catalogue.Tube(size); known && inTable {
			out.size, out.bore = size, quantity.Some(tube.Inside())
		}
	}
	return out
}

// jumps says whether the bore of a run and that of the port at one of its ends
// differ.
func (p *Pass) jumps(end sized, bore quantity.Bore) bool {
	if !end.hasSize {
		return false
	}
	port, known := end.bore.Get()
	if !known {
		p.NotAssessed(end.at, missingKey(end.part, end.port.Size))
	}
	return known && p.step(port, bore)
}

// wrongEnd reports a run that does not fit at one end; other is its far end.
func (p *Pass) wrongEnd(run *model.Run, end sized, tube catalogue.Tube, other sized) {
	port := end.bore.Or(0)
	fixes := p.reducers(run, tube.Size, tube.Inside(), end)
	if far, known := other.bore.Get(); !other.hasSize || known && !p.step(port, far) {
		fixes = append(fixes, resize(run, end.size))
	}
	p.reportStep(end.at, model.PlaceOf(run.ID), port, tube.Inside(), fixes)
}

// wrongRun reports a run that fits at neither end.
func (p *Pass) wrongRun(run *model.Run, from, to sized, tube catalogue.Tube) {
	at, bore, a, b := model.PlaceOf(run.ID), tube.Inside(), from.bore.Or(0), to.bore.Or(0)
	var fixes []Remedy
	if p.endsAt(from.at.Element, from.at.Port) == 1 && p.endsAt(to.at.Element, to.at.Port) == 1 {
		if !p.step(a, b) {
			fixes = append(fixes, resize(run, from.size))
		}
		fixes = append(fixes, p.reducers(run, tube.Size, bore, from, to)...)
	}
	off := max(math.Abs(float64(a-bore)), math.Abs(float64(b-bore)))
	p.Report(Finding{At: at, Places: []model.Place{at, from.at, to.at}, LimitName: "bore-step-most", Measured: Of(quantity.Bore(off)).Difference(),
		Message: Say("%v has a bore of %v, %v at one end %v and %v at the other %v, and no reducer is between them",
			p.Where(at), Of(bore), p.Name(from.at.Element), Of(a), p.Name(to.at.Element), Of(b)),
		Fixes: fixes})
}

func (p *Pass) compareFaces(run *model.Run, from, to sized) {
	if !from.hasSize || !to.hasSize {
		return
	}
	a, known := from.bore.Get()
	if !known {
		p.NotAssessed(from.at, missingKey(from.part, from.port.Size))
	}
	b, alsoKnown := to.bore.Get()
	if !alsoKnown {
		p.NotAssessed(to.at, missingKey(to.part, to.port.Size))
	}
	if known && alsoKnown && p.step(a, b) {
		p.reportStep(from.at, to.at, a, b, p.reducers(run, to.size, b, from))
	}
}

func (p *Pass) step(a, b quantity.Bore) bool {
	return above(math.Abs(float64(a-b)), p.Limit("bore-step-most").Is())
}

func (p *Pass) reportStep(at, other model.Place, here, there quantity.Bore, fixes []Remedy) {
	if p.endsAt(at.Element, at.Port) > 1 {
		fixes = nil // the tee comes first: told by port-shared
	}
	p.Report(Finding{At: at, Places: []model.Place{at, other}, LimitName: "bore-step-most",
		Measured: Of(quantity.Bore(math.Abs(float64(here - there)))).Difference(),
		Message:  Say("%v has a bore of %v, %v one of %v, and no reducer is between them", p.Where(at), Of(here), p.Where(other), Of(there)),
		Fixes:    fixes})
}

// reducers puts an eccentric reducer between a run and each of some of its ends.
func (p *Pass) reducers(run *model.Run, size model.TubeSize, bore quantity.Bore, ends ...sized) []Remedy {
	kind := p.eccentric()
	if kind == nil || run.From.Part == run.To.Part {
		return nil
	}
	after := model.Clone(run)
	var changes []model.Change
	for _, end := range ends {
		added := reducerAt(kind, after, end, size, bore)
		if added == nil {
			return nil
		}
		changes = append(changes, added...)
	}
	says, label := "fit an eccentric reducer", "fit a reducer"
	if len(ends) > 1 {
		says, label = "fit eccentric reducers at both ends", "fit reducers"
	}
	return []Remedy{{Message: says, Edit: model.Edit{Label: label, Changes: append(changes, model.Replacing(run, after))}}}
}

// reducerAt leads a run to a new reducer instead of to one of its ends, and gives
// the reducer and the run between the two.
func reducerAt(kind *catalogue.Kind, run *model.Run, end sized, runSize model.TubeSize, runBore quantity.Bore) []model.Change {
	at, way := end.port.PortAt(end.part.Meta())
	part, err := kind.New(model.NewID("p"), at.Add(model.Point{X: 10 * way.X, Y: 10 * way.Y}))
	if err != nil {
		return nil
	}
	f, ok := part.(*model.Fitting)
	if !ok {
		return nil
	}
	large, small := "", "" // ports by the property that holds their size
	for _, port := range kind.Ports {
		switch port.Size {
		case "size":
			large = port.Name
		case "second_size":
			small = port.Name
		}
	}
	toRun, toPort := small, large
	f.Size, f.SecondSize, f.FlatSide = quantity.Some(end.size), quantity.Some(runSize), quantity.Some(model.FlatBottom)
	if runBore > end.bore.Or(0) {
		f.Size, f.SecondSize = f.SecondSize, f.Size
		toRun, toPort = large, small
	}
	joined := model.End{Part: f.ID, Port: toRun}
	if run.From.Part == end.at.Element && run.From.Port == end.at.Port {
		run.From = joined
	} else {
		run.To = joined
	}
	return []model.Change{model.Adding(f), model.Adding(faceRun(model.End{Part: f.ID, Port: toPort}, model.End{Part: end.at.Element, Port: end.at.Port}))}
}

// eccentric gives the kind of an eccentric reducer, or nil.
func (s *Snapshot) eccentric() *catalogue.Kind {
	for _, k := range s.Catalogue.Kinds() {
		if k.Class == model.ClassFitting && k.Has(catalogue.TraitReducer) && !k.Has(catalogue.TraitConcentric) {
			return k
		}
	}
	return nil
}
