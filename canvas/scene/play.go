package scene

import (
	"maps"
	"math"
	"slices"
	"sort"

	"rinsewright/canvas/draw"
	"rinsewright/model"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
	"rinsewright/model/wash"
)

// Play gives the drawing options of a programme at any time: valves as its step
// sets them, liquid where it has come to, levels as they stand. Between two
// pictures of the record liquid moves on as a plug. Not for concurrent use.
type Play struct {
	Plant  *network.Plant
	Record *wash.Record

	times []quantity.Duration // of the record's pictures
	bases map[int]draw.Options
	runs  map[model.ID]*tube
	held  [2]wash.State // the two pictures looked at last
	at    [2]int        // their number, -1: none
}

// tube tells how the volume of a run lies along its line.
type tube struct {
	volume  float64 // m³
	volumes []float64
	lengths []float64 // shares of the whole at the end of each stretch
}

// NewPlay makes the play of a record of a programme of the plant.
func NewPlay(plant *network.Plant, record *wash.Record) *Play {
	p := &Play{Plant: plant, Record: record, bases: map[int]draw.Options{}, runs: map[model.ID]*tube{}, at: [2]int{-1, -1}}
	add := func(t quantity.Duration) { p.times = append(p.times, t) }
	for _, s := range record.Steps {
		add(s.Start)
		add(s.Start + s.Time)
	}
	for _, t := range record.Tanks {
		for _, x := range t.Points {
			add(x.Time)
		}
	}
	for _, t := range record.Trends {
		for _, x := range t.Points {
			add(x.Time)
		}
	}
	slices.Sort(p.times)
	p.times = slices.CompactFunc(p.times, func(a, b quantity.Duration) bool { return math.Abs(float64(a-b)) < 1e-6 })
	for _, r := range plant.Circuit.Runs() {
		p.runs[r.ID] = newTube(plant, r.ID)
	}
	return p
}

func newTube(plant *network.Plant, run model.ID) *tube {
	t := &tube{}
	long := 0.0
	for _, e := range plant.RunEdges(run) {
		v, ok := plant.Edges[e].Volume.Get()
		if !ok || v <= 0 {
			continue
		}
		t.volume += float64(v)
		long += float64(plant.Edges[e].Length.Or(0))
		t.volumes, t.lengths = append(t.volumes, t.volume), append(t.lengths, long)
	}
	for i := range t.volumes {
		t.volumes[i] /= t.volume
		if long > 0 {
			t.lengths[i] /= long
		} else {
			t.lengths[i] = t.volumes[i]
		}
	}
	return t
}

// along turns a share of the volume into a share of the length.
func (t *tube) along(share float64) float64 {
	v, l := 0.0, 0.0
	for i := range t.volumes {
		if share <= t.volumes[i] {
			return l + (share-v)/(t.volumes[i]-v)*(t.lengths[i]-l)
		}
		v, l = t.volumes[i], t.lengths[i]
	}
	return 1
}

// End is how long the programme takes, s.
func (p *Play) End() quantity.Duration { return p.Record.Cycle }

// Step gives the index of the step that runs at a time. Between two steps it is
// the later one; one that could not be simulated takes no time.
func (p *Play) Step(t quantity.Duration) int {
	at := 0
	for i, s := range p.Record.Steps {
		if s.Time > 0 && s.Start <= t+1e-9 {
			at = i
		}
	}
	return at
}

// At gives the drawing options at a time since the programme began, s. Times
// outside of it give its beginning or its end.
func (p *Play) At(t quantity.Duration) draw.Options {
	t = min(max(t, 0), p.End())
	i := sort.Search(len(p.times), func(i int) bool { return p.times[i] > t }) - 1
	i = max(i, 0)
	begin, end := quantity.Duration(0), quantity.Duration(0)
	if len(p.times) > 0 {
		begin, end = p.times[i], p.times[min(i+1, len(p.times)-1)]
	}
	step := p.Step(t)
	before := p.picture(i)
	after := before
	if end > begin {
		after = p.picture(i + 1) // steps begin with a picture, so this is still of the same step
	}
	base := p.base(step)
	opt := base
	opt.Media, opt.Flow, opt.Levels = maps.Clone(base.Media), maps.Clone(base.Flow), maps.Clone(base.Levels)
	opt.Pieces = map[model.ID][]draw.Piece{}
	m := moment{play: p, opt: &opt, since: float64(t - begin), left: float64(end - t), ends: map[model.ID]model.Medium{}}
	if step < len(p.Record.Steps) {
		m.draining = p.Record.Steps[step].Step.Purpose.Or("") == model.Drain
	}
	m.fill(before, after)
	m.parts(before)
	m.levels(before, after)
	return opt
}

// base is what the step alone shows.
func (p *Play) base(step int) draw.Options {
	if opt, ok := p.bases[step]; ok {
		return opt
	}
	var s *model.Step
	if step < len(p.Record.Steps) {
		s = p.Record.Steps[step].Step
	}
	opt := Of(p.Plant, s)
	p.bases[step] = opt
	return opt
}

// picture gives a picture of the record, kept from the last time if it can be.
func (p *Play) picture(i int) wash.State {
	for k := range p.at {
		if p.at[k] == i {
			return p.held[k]
		}
	}
	k := i % 2
	if len(p.times) == 0 {
		p.held[k] = p.Record.State(0)
	} else {
		p.held[k] = p.Record.State(p.times[min(i, len(p.times)-1)])
	}
	p.at[k] = i
	return p.held[k]
}

// moment is one time between two pictures.
type moment struct {
	play        *Play
	opt         *draw.Options
	since, left float64                   // s to the picture before and the one after
	draining    bool                      // the step drains
	ends        map[model.ID]model.Medium // in parts, told by the runs that lead into them
}

// fill shows what is in the runs.
func (m *moment) fill(before, after wash.State) {
	next := map[model.ID]wash.RunFill{}
	for _, f := range after.Runs {
		next[f.Run] = f
	}
	for _, f := range before.Runs {
		segments := f.Segments
		t := m.play.runs[f.Run]
		moving := math.Abs(float64(f.Flow)) > 1e-9
		// What drains is not followed on its way: only that it does, and which way.
		way := m.opt.Flow[f.Run]
		drains := !moving && m.draining && way != draw.Dry && way != draw.Still
		if g, ok := next[f.Run]; ok && moving && t.volume > 0 {
			segments = moved(f.Segments, g.Segments, float64(f.Flow)/t.volume, m.since, m.left)
		}
		var pieces []draw.Piece
		liquid := false
		for i := 0; i < len(segments); i++ {
			from, to, medium := segments[i].From, segments[i].To, segments[i].Medium
			for i+1 < len(segments) && segments[i+1].Medium == medium {
				i++
				to = segments[i].To
			}
			liquid = liquid || medium != model.Air
			pieces = append(pieces, draw.Holding(t.along(float64(from)), t.along(float64(to)), medium, moving || drains))
		}
		if len(pieces) == 0 {
			continue
		}
		m.opt.Pieces[f.Run] = pieces
		delete(m.opt.Media, f.Run)
		switch {
		case drains:
		case !moving && liquid:
			m.opt.Flow[f.Run] = draw.Still
		case !moving:
			m.opt.Flow[f.Run] = draw.Dry
		case f.Flow > 0:
			m.opt.Flow[f.Run] = draw.Forward
		default:
			m.opt.Flow[f.Run] = draw.Backward
		}
		run := m.play.Plant.Circuit.Run(f.Run)
		first, last := segments[0].Medium, segments[len(segments)-1].Medium
		// What flows into a part tells what is in it, before what flows out.
		if f.Flow < 0 {
			m.tell(run.From.Part, first, true)
			m.tell(run.To.Part, last, false)
		} else {
			m.tell(run.To.Part, last, true)
			m.tell(run.From.Part, first, false)
		}
	}
}

func (m *moment) tell(part model.ID, medium model.Medium, in bool) {
	if _, told := m.ends[part]; !told || in {
		m.ends[part] = medium
	}
}

// parts shows what is in parts: their own hold-up, or what the runs beside bring.
func (m *moment) parts(before wash.State) {
	for _, p := range before.Parts {
		m.ends[p.Part] = p.Medium
	}
	for id, medium := range m.ends {
		part := m.play.Plant.Circuit.Part(id)
		if part == nil || part.Class() == model.ClassVessel || part.Class() == model.ClassTerminal {
			continue
		}
		if medium == model.Air {
			delete(m.opt.Media, id)
		} else {
			m.opt.Media[id] = medium
		}
	}
}

// leastPuddle is the share of its height to which a vessel that holds anything is
// drawn full at least, to be seen.
const leastPuddle = 0.015

// levels shows what vessels hold.
func (m *moment) levels(before, after wash.State) {
	next := map[model.ID]wash.VesselFill{}
	for _, v := range after.Vessels {
		next[v.Vessel] = v
	}
	share := 0.0
	if span := m.since + m.left; span > 0 {
		share = m.since / span
	}
	for _, v := range before.Vessels {
		part, ok := m.play.Plant.Circuit.Part(v.Vessel).(*model.Vessel)
		if !ok {
			continue
		}
		if v.Volume > 0 && v.Medium != "" && v.Medium != model.Air {
			m.opt.Media[v.Vessel] = v.Medium
		}
		level, known := v.Level.Get()
		height, told := part.Height.Get()
		if !known || !told || height <= 0 {
			continue
		}
		full := float64(level)
		if b, ok := next[v.Vessel]; ok {
			full += share * (float64(b.Level.Or(level)) - full)
		}
		full /= float64(height)
		if v.Volume > 1e-6 {
			full = max(full, leastPuddle)
		}
		// Thousandths are finer than a pixel; the screen keeps each level it has drawn.
		m.opt.Levels[v.Vessel] = math.Round(1000*min(max(full, 0), 1)) / 1000
	}
}

// moved gives what a run holds some time after a picture, since, and before the
// next one, left, both in s: what was in it has moved on by rate shares of the run a
// second, and behind it came in what the next picture shows.
func moved(before, after []wash.Segment, rate, since, left float64) []wash.Segment {
	shift, back := rate*since, rate*left
	var out []wash.Segment
	add := func(from, to float64, medium model.Medium) {
		from, to = max(from, 0), min(to, 1)
		if to-from < 1e-9 {
			return
		}
		if n := len(out); n > 0 && out[n-1].Medium == medium {
			out[n-1].To = quantity.Ratio(to)
			return
		}
		out = append(out, wash.Segment{From: quantity.Ratio(from), To: quantity.Ratio(to), Medium: medium})
	}
	came := func(lo, hi float64) {
		for i, s := range after {
			from, to := float64(s.From)-back, float64(s.To)-back
			// What left the run meanwhile looked as what is last in it.
			if i == 0 {
				from = min(from, lo)
			}
			if i == len(after)-1 {
				to = max(to, hi)
			}
			add(max(from, lo), min(to, hi), s.Medium)
		}
	}
	stayed := func(lo, hi float64) {
		for _, s := range before {
			add(max(float64(s.From)+shift, lo), min(float64(s.To)+shift, hi), s.Medium)
		}
	}
	if rate >= 0 {
		came(0, min(shift, 1))
		stayed(min(shift, 1), 1)
	} else {
		stayed(0, max(1+shift, 0))
		came(max(1+shift, 0), 1)
	}
	return out
}
