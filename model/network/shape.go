package network

import (
	"reflect"
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	. "rinsewright/model/quantity"
)

// Names of the two points of a vessel's inside: liquid that has come in, and
// liquid about to leave. They are one body of liquid except where the vessel is
// source or destination of a step.
const (
	Inside = "inside"
	Draw   = "draw"
)

// shape is a kind prepared for making nodes and edges of many parts.
type shape struct {
	kind   *catalogue.Kind
	points []point
	ways   []way
	joins  [][2]int // inside and draw of each vessel point
	inner  int      // point at which a terminal gives or takes: its first inner one, else its first port; -1
	read   *reader
}

type point struct {
	name   string
	alias  string // own name of a vessel's inside in the kind
	role   string
	mark   mark
	height *catalogue.Height
	size   string // key of a port's tube size
}

type way struct {
	from, to int
	flow     bool   // one-way for what moves
	rest     bool   // one-way also for what stands or sinks
	open     uint64 // positions in which it is open
	path     catalogue.Path
	boreKey  string // key of its tube size or bore; of its port's where it has none
	tube     bool   // without a told volume it is that of a tube
}

func newShape(k *catalogue.Kind) *shape {
	s := &shape{kind: k, inner: -1, read: newReader(k.Class)}
	outlet, found := (*catalogue.Height)(nil), false
	for _, port := range k.Ports {
		p := point{name: port.Name, height: port.Height, size: port.Size}
		if port.Service != "process" || k.Class == model.ClassVessel && overflows(port) {
			p.mark |= isDry
		}
		if port.Role == "out" && port.Service == "process" && !overflows(port) && !found {
			outlet, found = port.Height, true
		}
		s.points = append(s.points, p)
	}
	draws := map[string]int{}
	for _, in := range k.Inner {
		p := point{name: in.Name, role: in.Role, height: in.Height}
		switch in.Role {
		case catalogue.RoleVessel:
			if p.height == nil {
				p.height = outlet
			}
			s.addVessel(p, draws)
			continue
		case catalogue.RoleSeat, catalogue.RoleClosed:
			p.mark |= isClosed
		case catalogue.RoleAir:
			p.mark |= isAir
			if k.Has(catalogue.TraitSewer) || k.Class == model.ClassValve && !k.Has(catalogue.TraitVent) {
				p.mark |= isDrain
			}
		case catalogue.RoleTee:
			p.mark |= isTee
		}
		s.points = append(s.points, p)
	}
	s.findInner()
	for _, path := range k.Paths {
		s.ways = append(s.ways, s.way(path, draws))
	}
	return s
}

func (s *shape) addVessel(p point, draws map[string]int) {
	at := len(s.points)
	p.mark |= isVessel
	in, draw := p, p
	if len(s.joins) == 0 {
		in.alias, in.name, draw.name = p.name, Inside, Draw
	} else {
		draw.name = p.name + " " + Draw // a second chamber
	}
	s.points = append(s.points, in, draw)
	s.joins = append(s.joins, [2]int{at, at + 1})
	draws[p.name] = at + 1
}

func (s *shape) findInner() {
	switch {
	case len(s.kind.Inner) > 0:
		s.inner = len(s.kind.Ports)
	case len(s.kind.Ports) > 0:
		s.inner = 0
	}
	if s.kind.Class == model.ClassTerminal && s.inner >= 0 {
		s.points[s.inner].mark |= isMouth
	}
}

func (s *shape) way(path catalogue.Path, draws map[string]int) way {
	w := way{from: s.point(path.From), to: s.point(path.To), flow: path.OneWay, rest: path.OneWay, path: path, boreKey: path.Bore}
	port, isPort := s.kind.Port(path.From)
	if to, ok := s.kind.Port(path.To); ok {
		port, isPort = to, true
	}
	if isPort {
		s.tapVessel(&w, port, draws)
		if path.Length != "" && w.boreKey == "" {
			w.boreKey = port.Size
		}
	}
	if s.kind.Class == model.ClassPump && !s.kind.Has(catalogue.TraitDisplacement) {
		w.rest = false
	}
	w.tube = path.Volume == "" || path.Length != "" && s.kind.Class == model.ClassFitting
	if len(path.OpenIn) == 0 {
		w.open = ^uint64(0)
	}
	for i, pos := range s.kind.Positions {
		if slices.Contains(path.OpenIn, pos) {
			w.open |= 1 << min(i, 63)
		}
	}
	return w
}

// tapVessel joins a port to the right side of a vessel's liquid. Liquid comes
// out of ports of role "out" and "any" only: an inlet opens above the liquid.
func (s *shape) tapVessel(w *way, port catalogue.Port, draws map[string]int) {
	fromDraw, fromVessel := draws[w.path.From]
	toDraw, toVessel := draws[w.path.To]
	switch {
	case port.Role == "out" && !overflows(port):
		if fromVessel {
			w.from = fromDraw
		}
		if toVessel {
			w.to = toDraw
		}
	case port.Role == "in" && fromVessel:
		w.from, w.to, w.flow, w.rest = w.to, w.from, true, true
	case port.Role == "in" && toVessel:
		w.flow, w.rest = true, true
	}
}

// overflows says whether an outlet lies so high that it works only when the
// vessel is too full.
func overflows(p catalogue.Port) bool {
	return p.Role == "out" && p.Height != nil && p.Height.Property == "height_m" && p.Height.Factor >= 0.5
}

// point gives the index of a point by its name, or -1.
func (s *shape) point(name string) int {
	for i := range s.points {
		if p := &s.points[i]; p.name == name || p.alias == name && name != "" {
			return i
		}
	}
	return -1
}

// reader reads properties by key without looking them up for every part.
type reader struct {
	fields map[string]int
}

func newReader(c model.Class) *reader {
	r := &reader{fields: map[string]int{}}
	blank := model.NewPart(c)
	t := reflect.TypeOf(blank).Elem()
	for _, p := range model.Properties(blank) {
		for i := range t.NumField() {
			if f := t.Field(i); jsonKey(f) == p.Key {
				r.fields[p.Key] = i
			}
		}
	}
	return r
}

func jsonKey(f reflect.StructField) string {
	tag := f.Tag.Get("json")
	for i := range tag {
		if tag[i] == ',' {
			return tag[:i]
		}
	}
	return tag
}

// number gives a quantity in SI.
func (r *reader) number(part reflect.Value, key string) (float64, bool) {
	i, ok := r.fields[key]
	if !ok {
		return 0, false
	}
	switch o := part.Field(i).Addr().Interface().(type) {
	case *Opt[Length]:
		v, known := o.Get()
		return float64(v), known
	case *Opt[Bore]:
		v, known := o.Get()
		return float64(v), known
	case *Opt[Volume]:
		v, known := o.Get()
		return float64(v), known
	}
	return 0, false
}

// bore gives the inside diameter that a tube size or bore stands for.
func (r *reader) bore(part reflect.Value, key string, c *catalogue.Catalogue) Opt[Bore] {
	i, ok := r.fields[key]
	if !ok {
		return Opt[Bore]{}
	}
	switch o := part.Field(i).Addr().Interface().(type) {
	case *Opt[Bore]:
		return *o
	case *Opt[model.TubeSize]:
		return tubeBore(*o, c)
	}
	return Opt[Bore]{}
}

func tubeBore(size Opt[model.TubeSize], c *catalogue.Catalogue) Opt[Bore] {
	if s, known := size.Get(); known {
		if t, ok := c.Tube(s); ok {
			return Some(t.Inside())
		}
	}
	return Opt[Bore]{}
}
