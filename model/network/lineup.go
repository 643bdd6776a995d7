package network

import (
	"maps"
	"slices"

	"rinsewright/model"
)

// LineUp puts every valve into the position of a step: what the step says, else
// the valve's normal position. A valve of which neither is told, or told a
// position that its kind does not have, stands in the first position of its kind
// and is listed as unknown. With a nil step every valve stands in its normal
// position, and there is no source and no destination.
//
// A pump that does not run is open: a centrifugal pump at rest lets liquid
// through.
func (p *Plant) LineUp(step *model.Step) *LineUp {
	p.resting.Do(func() { p.atRest = p.lineUp(nil, asTaken) })
	l := &LineUp{Step: step, Positions: maps.Clone(p.atRest.Positions), Unknown: slices.Clone(p.atRest.Unknown),
		Open: slices.Clone(p.atRest.Open), Source: -1, Dest: -1}
	if step == nil {
		return l
	}
	for id := range step.Positions { // the order does not matter: each says its own
		p.move(l, id)
	}
	p.findEnds(l)
	return l
}

// move puts a valve of a line-up at rest where the step says.
func (p *Plant) move(l *LineUp, id model.ID) {
	i, ok := p.partAt[id]
	if !ok || p.shapes[i] == nil || len(p.shapes[i].kind.Positions) == 0 {
		return
	}
	s := p.shapes[i]
	was := len(l.Unknown)
	at, known := l.position(p.Circuit.Parts()[i], s)
	l.Unknown = l.Unknown[:was]
	k, listed := slices.BinarySearch(l.Unknown, id)
	switch {
	case known && listed:
		l.Unknown = slices.Delete(l.Unknown, k, k+1)
	case !known && !listed:
		l.Unknown = slices.Insert(l.Unknown, k, id)
	}
	for k := range s.ways {
		l.Open[int(p.partEdge[i])+k] = s.ways[k].open>>at&1 == 1
	}
}

// opening says which paths are open of a valve whose position nobody told.
type opening uint8

const (
	asTaken     opening = iota // those of the position that it is taken to stand in
	openAlways                 // those that are open in all its positions
	openSomehow                // those that are open in any
)

func (p *Plant) lineUp(step *model.Step, untold opening) *LineUp {
	l := &LineUp{Step: step, Positions: map[model.ID]string{}, Open: make([]bool, len(p.Edges)), Source: -1, Dest: -1}
	for e := range l.Open {
		l.Open[e] = true
	}
	for i, part := range p.Circuit.Parts() {
		s := p.shapes[i]
		if s == nil || len(s.kind.Positions) == 0 {
			continue
		}
		at, known := l.position(part, s)
		for k := range s.ways {
			positions := s.ways[k].open & (1<<len(s.kind.Positions) - 1)
			open := positions>>at&1 == 1
			switch {
			case known:
			case untold == openAlways:
				open = positions == 1<<len(s.kind.Positions)-1
			case untold == openSomehow:
				open = positions != 0
			}
			l.Open[int(p.partEdge[i])+k] = open
		}
	}
	if step != nil {
		p.findEnds(l)
	}
	return l
}

// findEnds finds where the step of a line-up takes and leaves liquid.
func (p *Plant) findEnds(l *LineUp) {
	l.Source = p.ending(l.Step.Source, Draw)
	l.Dest = p.ending(l.Step.Destination, Inside)
	p.divide(l, l.Step.Source)
	p.divide(l, l.Step.Destination)
}

// position notes where a valve stands and gives its index among the kind's, and
// whether that is known.
func (l *LineUp) position(part model.Part, s *shape) (at int, known bool) {
	id := part.RecordID()
	name, told := "", false
	if l.Step != nil {
		name, told = l.Step.Positions[id]
	}
	if v, ok := part.(*model.Valve); ok && !told {
		name, told = v.Normal.Get()
	}
	at, known = slices.Index(s.kind.Positions, name), true
	if !told || at < 0 {
		at = 0
		if len(s.kind.Positions) > 1 {
			l.Unknown = append(l.Unknown, id)
			known = false
		}
	}
	l.Positions[id] = s.kind.Positions[at]
	return at, known
}

// ending gives the node at which a step takes or leaves liquid: the named point
// of a vessel, the innermost of another part; -1 if there is no such part.
func (p *Plant) ending(id model.ID, point string) int {
	i, ok := p.partAt[id]
	if !ok || p.shapes[i] == nil {
		return -1
	}
	s := p.shapes[i]
	k := s.inner
	if len(s.joins) > 0 {
		k = s.point(point)
	}
	if k < 0 {
		return -1
	}
	return int(p.partNode[i]) + k
}

// divide parts the liquid that comes into a vessel from what is drawn from it.
func (p *Plant) divide(l *LineUp, id model.ID) {
	i, ok := p.partAt[id]
	if !ok || p.shapes[i] == nil {
		return
	}
	for k := range p.shapes[i].joins {
		l.Open[int(p.partEdge[i])+len(p.shapes[i].ways)+k] = false
	}
}
