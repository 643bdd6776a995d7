package edit

import (
	"fmt"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// Taps says whether a part of the kind is put on a run by way of a tee: it has
// one port and belongs on a pipe.
func Taps(k *catalogue.Kind) bool {
	if k == nil || len(k.Ports) != 1 || k.Ports[0].Service == "signal" {
		return false
	}
	switch k.Class {
	case model.ClassValve, model.ClassInstrument, model.ClassFitting, model.ClassTerminal:
	default:
		return false
	}
	for _, ofVessels := range []string{catalogue.TraitHatch, catalogue.TraitAgitator, catalogue.TraitLevel, catalogue.TraitLevelHigh, catalogue.TraitLevelLow} {
		if k.Has(ofVessels) {
			return false
		}
	}
	return true
}

// tap puts a tee into a run and a new part face to face on its branch.
func (f *draft) tap(k *catalogue.Kind, tag string, run *model.Run, at model.Point, lie Pose) (model.Part, error) {
	tee, err := f.teeKind()
	if err != nil {
		return nil, err
	}
	line := f.after().Line(run)
	if len(line) < 2 {
		return nil, fmt.Errorf("%s has no line on the drawing", f.name(run))
	}
	s := spotOn(line, at)
	port := k.Ports[0]
	_, faces := port.PortAt(&model.Item{Turn: lie.Turn, Mirrored: lie.Mirrored})
	// The branch points against the port if the run lets it; else down or to the
	// right.
	branch := scaled(faces, -1)
	if way := direction(line[s.piece], line[s.piece+1]); dot(way, branch) != 0 {
		branch = model.Point{X: 1}
		if way.X != 0 {
			branch = model.Point{Y: 1}
		}
	}
	toward := s.at.Add(branch)
	t, _, err := f.insert(tee, f.nextTag(tee.Prefix), run, at, &toward)
	if err != nil {
		return nil, err
	}
	outlet, err := branchOf(tee)
	if err != nil {
		return nil, err
	}
	outletAt, outletFaces := outlet.PortAt(t.Meta())
	p, err := k.New(f.newID("p"), model.Point{})
	if err != nil {
		return nil, err
	}
	m := p.Meta()
	m.Tag, m.Mirrored = tag, lie.Mirrored
	for turn := range model.Turn(4) {
		m.Turn = (lie.Turn + turn) % 4
		portAt, faces := port.PortAt(&model.Item{Turn: m.Turn, Mirrored: m.Mirrored})
		if faces == scaled(outletFaces, -1) {
			m.At = outletAt.Sub(portAt)
			break
		}
	}
	f.put(p)
	// An equal tee, unless the kind has a size of its own.
	f.sizeNew(model.End{Part: m.ID, Port: port.Name}, run.Size)
	f.put(withSize(t, outlet, f.sizeAt(model.End{Part: m.ID, Port: port.Name})))
	f.faceToFace(model.End{Part: t.RecordID(), Port: outlet.Name}, model.End{Part: m.ID, Port: port.Name})
	return p, nil
}

// branchOf gives the port of a tee that is not in the main.
func branchOf(tee *catalogue.Kind) (catalogue.Port, error) {
	in, out, _ := through(tee)
	for _, port := range tee.Ports {
		if port.Name != in.Name && port.Name != out.Name {
			return port, nil
		}
	}
	return catalogue.Port{}, fmt.Errorf("the kind %q has no branch", tee.Name)
}
