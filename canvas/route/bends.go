package route

import (
	"math"

	"rinsewright/canvas/place"
	"rinsewright/model"
)

// arrival is the best line so far that comes to a stop in one direction.
type arrival struct {
	into model.Point
	cost float64
	line []model.Point
}

// throughBends joins the legs between the stops so that the whole costs least.
// For each stop it keeps the best line for each direction of arrival.
func (r *Router) throughBends(from stop, bends []model.Point, to stop) ([]model.Point, place.Rect) {
	l := &r.leg
	at := []arrival{{line: []model.Point{from.at}}}
	l.a = from
	for i := 0; i <= len(bends); i++ {
		l.b = to
		if i < len(bends) {
			l.b = stop{at: bends[i], lead: bends[i], box: -1}
		}
		best := l.search()
		next := []arrival{}
		for j := range l.tried {
			// Of the many ways of a long search only the simple ones and the best
			// are worth keeping.
			if t := &l.tried[j]; j < fewChecks || j == best {
				l.check(t, math.Inf(1))
				next = better(next, joined(at, t))
			}
		}
		at = next
		l.a = l.b
	}
	best := at[0]
	for _, a := range at[1:] {
		if a.cost < best.cost-same {
			best = a
		}
	}
	if len(best.line) == 1 {
		best.line = append(best.line, best.line[0])
	}
	return best.line, l.seen
}

// joined gives the cheapest way of going on from one of the arrivals along t.
func joined(at []arrival, t *tried) arrival {
	if unit(t.p[1].Sub(t.p[0])) == (model.Point{}) { // the stop lies on the one before
		best := at[0]
		for _, a := range at[1:] {
			if a.cost < best.cost-same {
				best = a
			}
		}
		return best
	}
	out := t.out()
	pick, cost := -1, 0.0
	for i, a := range at {
		c := a.cost + t.cost
		switch {
		case a.into == (model.Point{}), a.into == out:
		case a.into.X == -out.X && a.into.Y == -out.Y:
			c += reversalCost
		default:
			c += bendCost
		}
		if pick < 0 || c < cost-same {
			pick, cost = i, c
		}
	}
	a := at[pick]
	line := append([]model.Point(nil), a.line...)
	if a.into == out {
		line = line[:len(line)-1] // straight on through the bend
	}
	return arrival{into: t.into(), cost: cost, line: append(line, t.p[1:t.n]...)}
}

// better keeps the cheaper of two arrivals in the same direction.
func better(list []arrival, a arrival) []arrival {
	for i := range list {
		if list[i].into == a.into {
			if a.cost < list[i].cost-same {
				list[i] = a
			}
			return list
		}
	}
	return append(list, a)
}
