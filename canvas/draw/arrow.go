package draw

import (
	"math"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

const (
	leastArrow = 6.0  // mm of straight piece that an arrow needs
	longArrow  = 15.0 // mm of straight piece that has its own arrow if none is near
	arrowApart = 40.0 // mm between the arrows of a line
	arrowRoom  = 0.9  // mm about an arrow that labels keep off
)

// arrow is the sign of flow on a run, pointing right.
var arrow = &catalogue.Kind{
	Name: "flow-arrow",
	Symbol: catalogue.Symbol{
		Box:  [4]float64{-1.4, -1.1, 1.4, 1.1},
		Draw: []catalogue.Shape{{Path: "M 1.4 0 L -1.4 1.1 L -1.4 -1.1 Z", Fill: "medium", NoLine: true}},
	},
}

// arrows puts the sign of flow on the long pieces of each line, so far apart that
// the eye is not kept busy; a line of short pieces has one.
func (d *drawing) arrows(lines []line) {
	if d.opt.HideArrows {
		return
	}
	for i := range lines {
		var placed []model.Point
		some := map[int]bool{} // ways that have an arrow
		for _, p := range lines[i].pieces {
			dr := &d.run[p.run]
			if p.length < leastArrow {
				break
			}
			if dr.way == 0 || p.length < longArrow && some[dr.way] {
				continue
			}
			at, ok := dr.free(p.piece, arrow.Symbol.Box[2])
			if !ok {
				continue
			}
			if some[dr.way] && near(placed, at, arrowApart) {
				continue
			}
			some[dr.way] = true
			placed = append(placed, at)
			ink := dr.style.Stroke
			if pieces, ok := d.pieces(dr.run); ok {
				ink = Faint
				if there, ok := dr.pieceAt(pieces, p.piece, at); ok {
					ink = there.Style.Stroke
				}
			}
			dr.arrows = append(dr.arrows, Symbol{Kind: arrow, At: at, Turn: dr.turn(p.piece), Ink: ink, Medium: ink})
		}
	}
}

// near says whether one of some signs is less than a distance from a further one.
// Of a very long line only the last ones are asked.
func near(signs []model.Point, at model.Point, apart float64) bool {
	for _, a := range signs[max(0, len(signs)-200):] {
		if math.Abs(a.X-at.X) < apart && math.Abs(a.Y-at.Y) < apart {
			return true
		}
	}
	return false
}

// turn gives how an arrow on a piece is turned.
func (dr *drawnRun) turn(piece int) model.Turn {
	along := dr.line[piece+1].Sub(dr.line[piece])
	if dr.way < 0 {
		along = dr.line[piece].Sub(dr.line[piece+1])
	}
	switch {
	case math.Abs(along.Y) > math.Abs(along.X) && along.Y > 0:
		return 1
	case math.Abs(along.Y) > math.Abs(along.X):
		return 3
	case along.X < 0:
		return 2
	}
	return 0
}

// free gives the place on a piece nearest to its middle, of a few, that is at
// least room from any crossing.
func (dr *drawnRun) free(piece int, room float64) (model.Point, bool) {
	a, b := dr.line[piece], dr.line[piece+1]
	for _, t := range []float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8} {
		at := model.Point{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y)}
		ok := true
		for _, list := range [][]hop{dr.hops, dr.over} {
			for _, h := range list {
				if h.piece == piece && math.Abs(at.X-h.at.X)+math.Abs(at.Y-h.at.Y) < room+h.half {
					ok = false
				}
			}
		}
		if ok {
			return at, true
		}
	}
	return model.Point{}, false
}
