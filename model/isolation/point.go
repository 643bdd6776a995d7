package isolation

import (
	"strconv"
	"strings"

	"rinsewright/model"
	"rinsewright/model/network"
)

// Sort is what a point of a plan is for.
type Sort string

const (
	PointLock  Sort = "lock"
	PointDrain Sort = "drain"
	PointVent  Sort = "vent"
	PointZero  Sort = "zero"
)

// Point is a place where something of a plan is done. Each sort is numbered from 1.
type Point struct {
	Sort     Sort
	Number   int
	Part     model.ID
	Position string // of a valve; of a drive "off"
	What     string // "holds off hot alkali"
}

// Name gives what a point is called: "lock 3".
func (pt Point) Name() string { return string(pt.Sort) + " " + strconv.Itoa(pt.Number) }

// Points lists the points of a plan: what is locked off, drives first, in the order
// of work, then drains, vents and where zero is proved.
func (pl *Plan) Points(p *network.Plant) []Point {
	var out []Point
	count := map[Sort]int{}
	add := func(sort Sort, part model.ID, position string, what ...string) {
		count[sort]++
		out = append(out, Point{sort, count[sort], part, position, strings.Join(what, ", ")})
	}
	barrier := func(b Barrier, first string) {
		what := []string{first}
		if b.Double {
			what = append(what, "holds twice with a drained space between")
		}
		if lock, ok := b.Lockable.Get(); ok && !lock {
			what = append(what, "cannot be locked as told: tag and guard it")
		} else if !ok {
			what = append(what, "whether it can be locked nobody told")
		}
		if b.Pinned {
			what = append(what, "asked for")
		}
		add(PointLock, b.Valve, b.Position, strings.TrimPrefix(strings.Join(what, ", ")+holding(b), ", "))
	}
	for _, d := range pl.Drives {
		what := "pushes against a barrier"
		if d.Inside {
			what = "inside the zone"
		}
		add(PointLock, d.Part, "off", "drive, "+what)
	}
	for _, b := range pl.Second {
		barrier(b, "second barrier")
	}
	for _, b := range pl.Barriers {
		barrier(b, "")
	}
	open := map[model.ID]string{}
	for _, o := range pl.Open {
		open[o.Valve] = o.Position
	}
	for _, id := range pl.Drains {
		add(PointDrain, id, open[id], "runs empty here")
	}
	for _, id := range pl.Vents {
		add(PointVent, id, open[id], "air comes in here")
	}
	at := map[model.ID]int{}
	for _, x := range pl.Proofs {
		if i, ok := at[x.Part]; ok {
			out[i].What += ", " + x.Of
			continue
		}
		at[x.Part] = len(out)
		add(PointZero, x.Part, "", x.Of)
	}
	return out
}

// PlaceName names a part or a run of a plan by its tag, or by its kind.
func PlaceName(p *network.Plant, id model.ID) string { return nameOf(p, id) }
