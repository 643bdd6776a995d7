package route

import (
	"cmp"
	"math"
	"slices"

	"rinsewright/canvas/place"
	"rinsewright/model"
)

// Lanes: where two lines would lie on each other, one of them moves aside.
const (
	laneWide  = raster // mm between two lanes
	mostLanes = 6      // that a piece is moved aside at most
	onOneLine = 1.2    // mm within which two pieces lie on each other
	leastLap  = 1.0    // mm of two pieces on each other that may stay so
	leastStub = stub   // mm of a piece from a port that must be left
	leastTurn = 1.0    // mm of another piece, likewise
)

// lane is a straight piece of a line that may have to share its place.
type lane struct {
	run    int32
	number int32 // of its first point in the line
	level  bool
	fixed  float64 // y of a level piece, x of an upright one
	lo, hi float64
	free   bool // it may move: between two others, in a line without bends by hand
}

// laning puts the pieces of all lines into lanes.
type laning struct {
	runs  []*model.Run
	lines [][]model.Point
	own   []bool // the line is a copy and may be changed
	index *index
	all   []lane
	key   []int32   // by lane: its bucket
	of    [][]int32 // by bucket: lanes
	base  [2]float64
	width [2]int
}

// laned gives the lines with those that lie on each other moved aside: between
// ports and corners, by a few lanes, where no symbol and no other line is in the
// way. Lines with bends by hand stay, as do pieces at ports. Of two that could
// move the later one does. The lines themselves are not changed.
func laned(runs []*model.Run, lines [][]model.Point, x *index) [][]model.Point {
	l := &laning{runs: runs, lines: lines, index: x}
	if !l.collect() {
		return lines
	}
	copied := false
	for b := 0; b < len(l.of); b++ {
		list := l.of[b]
		if len(list) < 2 || !slices.ContainsFunc(list, func(i int32) bool { return l.all[i].free }) {
			continue
		}
		slices.SortFunc(list, func(i, j int32) int {
			a, b := &l.all[i], &l.all[j]
			return cmp.Or(cmp.Compare(a.lo, b.lo), cmp.Compare(a.run, b.run), cmp.Compare(a.number, b.number))
		})
		for i := 0; i < len(list); i++ {
			for j := i + 1; j < len(list) && l.all[list[j]].lo < l.all[list[i]].hi-leastLap; j++ {
				if !l.meet(list[i], list[j], onOneLine) {
					continue
				}
				if !copied {
					copied = true
					l.lines = slices.Clone(lines)
					l.own = make([]bool, len(lines))
				}
				l.part(list[i], list[j])
			}
		}
	}
	return l.lines
}

// collect fills in the pieces by bucket and says whether there are any that could
// have to move.
func (l *laning) collect() bool {
	n := 0
	low, high := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, line := range l.lines {
		if len(line) < 2 {
			continue
		}
		n += len(line) - 1
		for _, p := range line {
			low = [2]float64{min(low[0], p.X), min(low[1], p.Y)}
			high = [2]float64{max(high[0], p.X), max(high[1], p.Y)}
		}
	}
	if n < 2 || !(high[0]-low[0] < 1e6) || !(high[1]-low[1] < 1e6) { // places beyond all reason
		return false
	}
	l.base = low
	for i := range l.width {
		l.width[i] = int((high[i]-low[i])/laneWide) + 2
	}
	l.all = make([]lane, 0, n)
	l.key = make([]int32, 0, n)
	count := make([]int32, l.width[0]+l.width[1])
	for r, line := range l.lines {
		for i := 1; i < len(line); i++ {
			a, b := line[i-1], line[i]
			p := lane{run: int32(r), number: int32(i - 1)}
			if p.level = math.Abs(b.X-a.X) >= math.Abs(b.Y-a.Y); p.level {
				p.fixed, p.lo, p.hi = a.Y, min(a.X, b.X), max(a.X, b.X)
			} else {
				p.fixed, p.lo, p.hi = a.X, min(a.Y, b.Y), max(a.Y, b.Y)
			}
			p.free = i > 1 && i < len(line)-1 && len(l.runs[r].Bends) == 0
			k := l.bucket(&p)
			l.all, l.key = append(l.all, p), append(l.key, k)
			count[k]++
		}
	}
	room := make([]int32, len(l.all))
	l.of = make([][]int32, len(count))
	for k, c := range count {
		l.of[k], room = room[:0:c], room[c:]
	}
	for i, k := range l.key {
		l.of[k] = append(l.of[k], int32(i))
	}
	return true
}

// bucket gives the number under which pieces of about one place are kept: upright
// ones first, then level ones.
func (l *laning) bucket(p *lane) int32 {
	axis, first := 0, 0
	if p.level {
		axis, first = 1, l.width[0]
	}
	k := int(math.Round((p.fixed - l.base[axis]) / laneWide))
	return int32(first + min(max(k, 0), l.width[axis]-1))
}

// meet says whether two pieces lie on each other, or nearer than a distance.
func (l *laning) meet(i, j int32, near float64) bool {
	a, b := &l.all[i], &l.all[j]
	return a.run != b.run && math.Abs(a.fixed-b.fixed) < near && min(a.hi, b.hi)-max(a.lo, b.lo) > leastLap
}

// part moves one of two pieces aside.
func (l *laning) part(i, j int32) {
	if l.all[i].run > l.all[j].run {
		i, j = j, i
	}
	for _, k := range []int32{j, i} {
		if !l.all[k].free {
			continue
		}
		for n := 1; n <= mostLanes; n++ {
			by := laneWide * float64((n+1)/2)
			if n%2 == 0 {
				by = -by
			}
			if l.move(k, by) {
				return
			}
		}
		l.all[k].free = false // there is no room beside it
	}
}

// move moves a piece aside, if nothing is in the way there.
func (l *laning) move(i int32, by float64) bool {
	p := l.all[i]
	line := l.lines[p.run]
	n := int(p.number)
	shift := model.Point{Y: by}
	if !p.level {
		shift = model.Point{X: by}
	}
	a, b := line[n].Add(shift), line[n+1].Add(shift)
	if !keeps(line[n-1], line[n], a, n == 1) || !keeps(line[n+2], line[n+1], b, n+2 == len(line)-1) {
		return false
	}
	p.fixed += by
	k := l.bucket(&p)
	was := l.all[i]
	l.all[i] = p
	for _, near := range []int32{k - 1, k, k + 1} {
		if near < 0 || int(near) >= len(l.of) {
			continue
		}
		for _, j := range l.of[near] {
			if j != i && l.all[j].level == p.level && l.meet(i, j, laneWide-0.1) {
				l.all[i] = was
				return false
			}
		}
	}
	pieces := []place.Rect{place.Spanned(a, b)}
	if n > 1 {
		pieces = append(pieces, place.Spanned(line[n-1], a))
	}
	if n+2 < len(line)-1 {
		pieces = append(pieces, place.Spanned(b, line[n+2]))
	}
	for _, r := range pieces {
		clear := true
		l.index.through(r, func(int32) bool { clear = false; return false })
		if !clear {
			l.all[i] = was
			return false
		}
	}
	if !l.own[p.run] {
		l.own[p.run] = true
		line = slices.Clone(line)
		l.lines[p.run] = line
	}
	line[n], line[n+1] = a, b
	if k != l.key[i] {
		l.key[i] = k
		l.of[k] = append(l.of[k], i) // it stays in its old bucket too, where it meets nothing any more
	}
	return true
}

// keeps says whether a piece goes on in its direction, and long enough, when its
// end moves along it.
func keeps(from, end, next model.Point, port bool) bool {
	least := leastTurn
	if port {
		least = leastStub
	}
	was, is := end.Sub(from), next.Sub(from)
	along := unit(was)
	if along == (model.Point{}) {
		return false
	}
	return is.X*along.X+is.Y*along.Y >= least
}
