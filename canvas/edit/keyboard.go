package edit

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"rinsewright/canvas/place"
	"rinsewright/model"
)

// selectNeighbour selects the part that comes so many after the selected one in
// the order of reading: rows from above, each from the left.
func (d *Document) selectNeighbour(by int) {
	parts := slices.Clone(d.Circuit().Parts())
	slices.SortStableFunc(parts, func(a, b model.Part) int {
		p, q := a.Meta().At, b.Meta().At
		return cmp.Or(cmp.Compare(p.Y, q.Y), cmp.Compare(p.X, q.X))
	})
	n := len(parts)
	at := -1
	if selected := d.selectedParts(); len(selected) > 0 {
		at = slices.Index(parts, selected[len(selected)-1])
	} else if by < 0 {
		at = n
	}
	d.Select(parts[((at+by)%n+n)%n].RecordID())
}

// connectSelected connects the first of two selected parts to the second.
func (d *Document) connectSelected() error {
	parts := d.selectedParts()
	if len(parts) != 2 {
		return errors.New("select the two parts that are to be connected")
	}
	from, to, err := d.drawing.portsBetween(parts[0], parts[1])
	if err != nil {
		return err
	}
	e, err := d.drawing.Connect(from, to, nil)
	if err != nil {
		return err
	}
	return d.Apply(e)
}

// portsBetween picks the free ports by which liquid would go from a part to
// another: outlet to inlet, of the same service, near to each other.
func (d *Drawing) portsBetween(a, b model.Part) (from, to Joint, err error) {
	best := math.Inf(1)
	for _, p := range place.Ports(a, d.kindOf(a)) {
		for _, q := range place.Ports(b, d.kindOf(b)) {
			if !d.PortFree(a.RecordID(), p.Name) || !d.PortFree(b.RecordID(), q.Name) {
				continue
			}
			cost := distance(p.Place, q.Place) + wrongWay(p.Role, "out") + wrongWay(q.Role, "in")
			if p.Service != q.Service {
				cost += 1e4
			}
			if cost < best {
				best = cost
				from, to = OnPort(a.RecordID(), p.Name), OnPort(b.RecordID(), q.Name)
			}
		}
	}
	if math.IsInf(best, 1) {
		return from, to, fmt.Errorf("%s and %s have no free ports for a run", d.name(a), d.name(b))
	}
	return from, to, nil
}

// wrongWay is what a port of a role costs, in mm of distance, where another role
// is wanted.
func wrongWay(role, wanted string) float64 {
	switch role {
	case wanted:
		return 0
	case "any":
		return 10
	}
	return 1e3
}
