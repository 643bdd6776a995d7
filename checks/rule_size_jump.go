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
		How:      "At each end of a run the inside diameter of the run and of the port it ends on are compared; of parts joined face to face, those of the two ports.",
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
			p.compareBores(run, from, size, tube.Inside(), to)
			p.compareBores(run, to, size, tube.Inside(), from)
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

// compareBores compares a run with the port at one of its ends; other is its
// far end.
func (p *Pass) compareBores(run *model.Run, end sized, size model.TubeSize, bore quantity.Bore, other sized) {
	if !end.hasSize {
		return
	}
	port, known := end.bore.Get()
	if !known {
		p.NotAssessed(end.at, missingKey(end.part, end.port.Size))
		return
	}
	if !p.step(port, bore) {
		return
	}
	fixes := p.reducerBetween(run, end, size, bore, port)
	if far, known := other.bore.Get(); !other.hasSize || known && !p.step(port, far) {
		after := model.Clone(run)
		after.Size = quantity.Some(end.size)
		fixes = append(fixes, Remedy{Message: "make the run " + string(end.size),
			Edit: model.Edit{Label: "make the run " + string(end.size), Changes: []model.Change{model.Replacing(run, after)}}})
	}
	p.reportStep(end.at, model.PlaceOf(run.ID), port, bore, fixes)
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
		p.reportStep(from.at, to.at, a, b, p.reducerBetween(run, from, to.size, b, a))
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
		Measured: Of(quantity.Bore(math.Abs(float64(here - there)))),
		Message:  Say("%v has a bore of %v, %v one of %v, and no reducer is between them", p.Where(at), Of(here), p.Where(other), Of(there)),
		Fixes:    fixes})
}

// reducerBetween puts an eccentric reducer between a port and the run on it.
func (p *Pass) reducerBetween(run *model.Run, end sized, runSize model.TubeSize, runBore, portBore quantity.Bore) []Remedy {
	kind := p.eccentric()
	if kind == nil || run.From.Part == run.To.Part {
		return nil
	}
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
	if runBore > portBore {
		f.Size, f.SecondSize = f.SecondSize, f.Size
		toRun, toPort = large, small
	}
	after := model.Clone(run)
	joined := model.End{Part: f.ID, Port: toRun}
	if after.From.Part == end.at.Element && after.From.Port == end.at.Port {
		after.From = joined
	} else {
		after.To = joined
	}
	face := faceRun(model.End{Part: f.ID, Port: toPort}, model.End{Part: end.at.Element, Port: end.at.Port})
	return []Remedy{{Message: "fit an eccentric reducer", Edit: model.Edit{Label: "fit a reducer",
		Changes: []model.Change{model.Adding(f), model.Replacing(run, after), model.Adding(face)}}}}
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
