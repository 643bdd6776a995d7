package wash

import (
	"math"
	"sort"

	"rinsewright/model"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// State is what is where at one time.
type State struct {
	Time    Duration     // since the programme began
	Step    int          // that runs
	Runs    []RunFill    // of liquid, with a volume, in order of id
	Parts   []PartFill   // hold-ups without a length on the way, in order of the flow
	Vessels []VesselFill // that some step draws from, returns to or passes, in order of id
}

// RunFill is what a run holds, from its From to its To.
type RunFill struct {
	Run      model.ID
	Flow     Flow // from its From to its To
	Segments []Segment
}

// Segment is a length of a run in which what it holds is the same to the eye. From
// and To are shares of the length of the run.
type Segment struct {
	From, To    Ratio
	Medium      model.Medium
	Strength    Strength
	Temperature Opt[Temperature] // unknown for air
}

// PartFill is what a hold-up holds.
type PartFill struct {
	Part        model.ID
	Medium      model.Medium
	Strength    Strength
	Temperature Opt[Temperature]
}

// VesselFill is what a vessel holds.
type VesselFill struct {
	Vessel model.ID
	TankSample
}

// film holds pictures of the whole programme.
type film struct {
	p     *network.Plant
	every float64
	step  int
	reels []reel
}

// reel is the film of one step.
type reel struct {
	start, end float64
	base       [][]band // by edge, at the start, from its From to its To
	strips     []strip
	lines      []float64 // capacities
	mixers     []model.ID
	frames     []frame
}

// strip says which part of which line an edge is.
type strip struct {
	edge       int
	line       int
	forward    bool
	start, end float64 // m³ from the outlet of the line
	flow       float64
}

type frame struct {
	time   float64
	bands  [][]band // by line, from its outlet to its inlet
	mixers []band
	tanks  []VesselFill
}

// band is a length of liquid that is the same to the eye.
type band struct {
	end      float32 // m³ from where counting begins
	celsius  float32 // NaN for air
	strength float32
	medium   model.Medium
}

func newFilm(s *sim) *film { return &film{p: s.p, every: s.every} }

// begin opens the reel of a step.
func (f *film) begin(s *sim, i int) {
	f.step = i
	r := reel{start: s.clock, base: make([][]band, len(s.held))}
	for e := range s.held {
		if len(s.held[e]) > 0 {
			r.base[e] = s.bands(s.held[e])
		}
	}
	f.reels = append(f.reels, r)
	f.shoot(s, nil)
}

// lay notes where the edges of a circulation lie.
func (f *film) lay(c *circulation) {
	r := &f.reels[len(f.reels)-1]
	at := 0
	for i := range c.elements {
		x := &c.elements[i]
		if x.mixer != nil && x.mixer.volume > 0 {
			r.mixers = append(r.mixers, c.s.p.Edges[x.mixer.edge].Part)
		}
		if x.line == nil {
			continue
		}
		r.lines = append(r.lines, x.line.capacity)
		for _, p := range x.line.pieces {
			r.strips = append(r.strips, strip{p.edge, at, p.forward, p.start, p.end, c.q[p.edge]})
		}
		at++
	}
	sort.Slice(r.strips, func(i, j int) bool { return r.strips[i].edge < r.strips[j].edge })
}

// shoot takes a picture; c is nil while nothing flows.
func (f *film) shoot(s *sim, c *circulation) {
	r := &f.reels[len(f.reels)-1]
	fr := frame{time: s.clock, tanks: s.vessels()}
	if c != nil {
		for i := range c.elements {
			x := &c.elements[i]
			switch {
			case x.line != nil:
				fr.bands = append(fr.bands, s.bands(x.line.slugs[x.line.first:]))
			case x.mixer != nil && x.mixer.volume > 0:
				fr.mixers = append(fr.mixers, s.band(&x.mixer.holds))
			}
		}
	}
	r.frames = append(r.frames, fr)
}

func (f *film) end(s *sim, i int) {
	f.reels[len(f.reels)-1].end = s.clock
	if i == len(s.steps)-1 {
		f.begin(s, i) // what is left at the end
		f.reels[len(f.reels)-1].end = s.clock
	}
}

func (s *sim) band(a *amount) band {
	m, strength := s.classify(a)
	return band{celsius: float32(a.celsius()), strength: float32(strength), medium: m}
}

// bands joins slugs that look alike.
func (s *sim) bands(slugs []amount) []band {
	var out []band
	at := 0.0
	for i := range slugs {
		at += slugs[i][volume]
		b := s.band(&slugs[i])
		b.end = float32(at)
		if n := len(out); n > 0 && out[n-1].looks(&b) {
			out[n-1].end = b.end
			continue
		}
		out = append(out, b)
	}
	return out
}

func (b *band) looks(c *band) bool {
	warm := math.Abs(float64(b.celsius-c.celsius)) < 1 || b.medium == model.Air
	return b.medium == c.medium && warm && math.Abs(float64(b.strength-c.strength)) <= 0.03*float64(max(b.strength, c.strength))+1e-5
}

// classify names the medium of an amount: air or product where they are more than
// half, a solution where it is at least half as strong as the programme asks for, else
// water. The strength is that of the chemical of which there is most.
func (s *sim) classify(a *amount) (model.Medium, float64) {
	switch {
	case a.share(air) > 0.5:
		return model.Air, 0
	case a.share(product) > 0.5:
		return model.Product, 0
	}
	best, most := 0, 0.0
	for i := range chemicalMedia {
		if x := a.solute(alkali+i) / s.nominal[i]; x > most {
			best, most = i, x
		}
	}
	strength := a.solute(alkali + best)
	switch {
	case most >= 0.5:
		return chemicalMedia[best], strength
	case a.share(recovered) > 0.5:
		return model.Recovered, strength
	}
	return model.Water, strength
}

// State gives what is where at a time since the programme began, as the nearest
// picture before it shows. Times outside the programme give its beginning or end.
func (r *Record) State(t Duration) State {
	f := r.film
	now := float64(t)
	k := sort.Search(len(f.reels)-1, func(i int) bool { return f.reels[i].end > now })
	reel := &f.reels[k]
	n := sort.Search(len(reel.frames), func(i int) bool { return reel.frames[i].time > now+1e-9 })
	fr := &reel.frames[max(n-1, 0)]
	s := State{Time: t, Step: min(k, len(r.Steps)-1)}
	for _, run := range f.p.Circuit.Runs() {
		if fill, ok := f.run(reel, fr, run.ID); ok {
			s.Runs = append(s.Runs, fill)
		}
	}
	for i, id := range reel.mixers {
		if i < len(fr.mixers) {
			b := fr.mixers[i]
			s.Parts = append(s.Parts, PartFill{id, b.medium, Strength(b.strength), b.temperature()})
		}
	}
	s.Vessels = fr.tanks
	return s
}

func (b *band) temperature() Opt[Temperature] {
	if math.IsNaN(float64(b.celsius)) {
		return Opt[Temperature]{}
	}
	return Some(Celsius(float64(b.celsius)))
}

// run puts together what a run holds.
func (f *film) run(r *reel, fr *frame, id model.ID) (RunFill, bool) {
	fill := RunFill{Run: id}
	total := 0.0
	edges := f.p.RunEdges(id)
	for _, e := range edges {
		if len(r.base[e]) == 0 && r.strip(e) == nil {
			continue
		}
		total += float64(f.p.Edges[e].Volume.Or(0))
	}
	if total <= 0 {
		return fill, false
	}
	at := 0.0
	for _, e := range edges {
		v := float64(f.p.Edges[e].Volume.Or(0))
		if v <= 0 {
			continue
		}
		bands := r.base[e]
		if st := r.strip(e); st != nil {
			fill.Flow = Flow(st.flow)
			if st.line < len(fr.bands) {
				bands = st.cut(fr.bands[st.line])
			}
		}
		from := at
		for _, b := range bands {
			to := at + float64(b.end)
			fill.append(Segment{Ratio(from / total), Ratio(min(to/total, 1)), b.medium, Strength(b.strength), b.temperature()})
			from = to
		}
		at += v
	}
	if n := len(fill.Segments); n > 0 {
		fill.Segments[0].From, fill.Segments[n-1].To = 0, 1
	}
	return fill, len(fill.Segments) > 0
}

// append adds a segment; one that looks as the last makes that longer.
func (r *RunFill) append(s Segment) {
	if s.To <= s.From {
		return
	}
	if n := len(r.Segments); n > 0 {
		last := &r.Segments[n-1]
		if last.Medium == s.Medium && last.Strength == s.Strength && last.Temperature == s.Temperature {
			last.To = s.To
			return
		}
		s.From = last.To
	}
	if s.To > s.From {
		r.Segments = append(r.Segments, s)
	}
}

func (r *reel) strip(e int) *strip {
	i := sort.Search(len(r.strips), func(i int) bool { return r.strips[i].edge >= e })
	if i < len(r.strips) && r.strips[i].edge == e {
		return &r.strips[i]
	}
	return nil
}

// cut gives the bands of an edge, from its From to its To, counted from its From.
func (s *strip) cut(line []band) []band {
	var out []band
	from := 0.0
	for _, b := range line {
		to := float64(b.end)
		if to > s.start+1e-12 && from < s.end-1e-12 {
			b.end = float32(min(to, s.end) - max(from, s.start)) // a length for now
			out = append(out, b)
		}
		from = to
	}
	if s.forward {
		for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
			out[i], out[j] = out[j], out[i]
		}
	}
	at := float32(0)
	for i := range out {
		at += out[i].end
		out[i].end = at
	}
	return out
}

// vessels gives what every vessel holds now.
func (s *sim) vessels() []VesselFill {
	out := make([]VesselFill, 0, len(s.order))
	for _, t := range s.order {
		out = append(out, VesselFill{t.id, s.tankSample(t)})
	}
	sort.Slice(out, func(i, j int) bool { return out[i].Vessel < out[j].Vessel })
	return out
}
