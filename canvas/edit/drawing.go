package edit

import (
	"fmt"
	"slices"
	"strings"

	"rinsewright/canvas/place"
	"rinsewright/canvas/route"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// Grid is the distance in mm of the points on which parts are placed. Ports of
// all kinds lie on it.
const Grid = 2.5

// Drawing is one snapshot of a circuit as it lies on the drawing.
type Drawing struct {
	circuit *model.Circuit
	cat     *catalogue.Catalogue
	cache   *route.Cache
	router  *route.Router // of runs that are not in the circuit
	lines   [][]model.Point
	extents []extent
	ports   []portPlace
}

// extent is where a part lies.
type extent struct {
	box   place.Rect
	reach place.Rect // the box and all ports
}

// NewDrawing looks at a circuit with the kinds of a catalogue.
func NewDrawing(c *model.Circuit, cat *catalogue.Catalogue) *Drawing {
	return &Drawing{circuit: c, cat: cat}
}

// Along takes the lines of runs from a cache, which must be for the same
// catalogue.
func (d *Drawing) Along(lines *route.Cache) *Drawing {
	d.cache = lines
	return d
}

// Circuit gives the snapshot.
func (d *Drawing) Circuit() *model.Circuit { return d.circuit }

// Catalogue gives the kinds.
func (d *Drawing) Catalogue() *catalogue.Catalogue { return d.cat }

// Lines gives the lines of all runs in the order of Circuit().Runs(). They
// belong to the drawing.
func (d *Drawing) Lines() [][]model.Point {
	if d.lines == nil {
		if d.cache != nil {
			d.lines = d.cache.Lines(d.circuit)
		} else {
			d.lines = route.All(d.circuit, d.cat)
		}
	}
	return d.lines
}

// Line gives the line of a run, which need not be in the circuit; nil if one of
// its ends has no place.
func (d *Drawing) Line(r *model.Run) []model.Point {
	if d.lines == nil && d.cache != nil {
		d.Lines() // in their lanes
	}
	if d.lines != nil {
		i, found := slices.BinarySearchFunc(d.circuit.Runs(), r.ID, func(r *model.Run, id model.ID) int {
			return strings.Compare(string(r.ID), string(id))
		})
		if found && d.circuit.Runs()[i] == r {
			return d.lines[i]
		}
	}
	if d.router == nil {
		d.router = route.New(d.circuit, d.cat)
	}
	return d.router.Line(r)
}

func (d *Drawing) kindOf(p model.Part) *catalogue.Kind { return d.cat.Kind(p.Meta().Kind) }

// Box gives the box of a part's symbol.
func (d *Drawing) Box(p model.Part) place.Rect { return place.Box(p, d.kindOf(p)) }

// Bounds gives the smallest rectangle around the parts and runs of the ids, or
// around all if none are given; empty if there is nothing.
func (d *Drawing) Bounds(ids ...model.ID) place.Rect {
	var all place.Rect
	add := func(r model.Record) {
		switch r := r.(type) {
		case model.Part:
			all = all.Union(d.Box(r))
		case *model.Run:
			all = all.Union(place.Around(d.Line(r)))
		}
	}
	for _, id := range ids {
		add(d.circuit.Record(id))
	}
	if len(ids) == 0 {
		for _, p := range d.circuit.Parts() {
			add(p)
		}
		for i := range d.circuit.Runs() {
			all = all.Union(place.Around(d.Lines()[i]))
		}
	}
	return all
}

// extentsOf gives where the parts lie, in the order of the circuit.
func (d *Drawing) extentsOf() []extent {
	if d.extents == nil {
		d.extents = make([]extent, len(d.circuit.Parts()))
		for i, p := range d.circuit.Parts() {
			k := d.kindOf(p)
			e := extent{box: place.Box(p, k)}
			e.reach = e.box
			if k != nil {
				m := p.Meta()
				for j := range k.Ports {
					at, _ := k.Ports[j].PortAt(m)
					e.reach = e.reach.With(at)
				}
			}
			d.extents[i] = e
		}
	}
	return d.extents
}

// PortFree says whether no run ends on a port. A port that the part's kind does
// not have is not free.
func (d *Drawing) PortFree(part model.ID, port string) bool {
	p := d.circuit.Part(part)
	if p == nil {
		return false
	}
	if k := d.kindOf(p); k == nil || !hasPort(k, port) {
		return false
	}
	for _, r := range d.circuit.RunsAt(part) {
		if endsOn(r.From, part, port) || endsOn(r.To, part, port) {
			return false
		}
	}
	return true
}

func hasPort(k *catalogue.Kind, port string) bool {
	_, ok := k.Port(port)
	return ok
}

func endsOn(e model.End, part model.ID, port string) bool { return e.Part == part && e.Port == port }

// name tells what a record is called in labels and messages.
func (d *Drawing) name(r model.Record) string {
	switch r := r.(type) {
	case model.Part:
		if r.Meta().Tag != "" {
			return r.Meta().Tag
		}
		if k := d.kindOf(r); k != nil {
			return lowerFirst(k.Title)
		}
		return r.Meta().Kind
	case *model.Run:
		if r.Tag != "" {
			return r.Tag
		}
		return "run"
	case *model.Step:
		if r.Name != "" {
			return r.Name
		}
		return "step"
	case *model.Mark:
		return fmt.Sprintf("mark %d", r.Number)
	case *model.Deviation:
		return "deviation"
	case *model.Answer:
		return "answer"
	}
	return "circuit"
}

// names is name for several: the one thing, or how many.
func (d *Drawing) names(ids []model.ID) string {
	var records []model.Record
	for _, id := range ids {
		if r := d.circuit.Record(id); r != nil {
			records = append(records, r)
		}
	}
	if len(records) == 1 {
		return d.name(records[0])
	}
	parts, runs := 0, 0
	for _, r := range records {
		switch r.(type) {
		case model.Part:
			parts++
		case *model.Run:
			runs++
		}
	}
	switch {
	case parts > 0 && parts+runs == len(records):
		return counted(parts, "part") // its runs go without saying
	case runs > 0 && runs == len(records):
		return counted(runs, "run")
	}
	return counted(len(records), "element")
}

// allNames is names for what is done to each of several: it leaves out nothing.
func (d *Drawing) allNames(ids []model.ID) string {
	n := map[string]int{}
	var last model.Record
	for _, id := range ids {
		switch r := d.circuit.Record(id).(type) {
		case model.Part:
			n["part"]++
			last = r
		case *model.Run:
			n["run"]++
			last = r
		case nil:
		default:
			n["step"]++
			last = r
		}
	}
	if n["part"]+n["run"]+n["step"] == 1 {
		return d.name(last)
	}
	var words []string
	for _, noun := range []string{"part", "run", "step"} {
		if n[noun] > 0 {
			words = append(words, counted(n[noun], noun))
		}
	}
	return strings.Join(words, " and ")
}
