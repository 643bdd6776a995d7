package scene

import (
	"rinsewright/canvas/draw"
	"rinsewright/model"
	"rinsewright/model/isolation"
	"rinsewright/model/network"
)

// How runs are drawn around work: by colour, and by dashes for those who cannot tell
// them by colour.
var (
	zoneStyle    = draw.Style{Stroke: draw.Accent, Width: 1.2, Dash: []float64{2.4, 1}}
	outsideStyle = draw.Style{Stroke: draw.Ink, Width: 0.5}
	noWayStyle   = draw.Style{Stroke: draw.Error, Width: 1.3, Dash: []float64{0.8, 1}}
	workStyle    = draw.Style{Stroke: draw.Accent, Width: 0.9}
)

// IsolationKey gives the key to a drawing of a plan.
func IsolationKey(pl *isolation.Plan) []draw.KeyEntry {
	if !pl.Found {
		return []draw.KeyEntry{{Style: noWayStyle, Words: "open to a source, no valve that may be relied on"}, {Style: outsideStyle, Words: "all else"}, {Style: workStyle, Words: "work"}}
	}
	return []draw.KeyEntry{{Style: zoneStyle, Words: "shut off"}, {Style: outsideStyle, Words: "still under pressure, or may be"}, {Style: workStyle, Words: "work"}}
}

// SignWords tell what the signs of a plan mean, in the order in which a legend has
// them.
func SignWords() []struct {
	Sign  draw.Sign
	Words string
} {
	return []struct {
		Sign  draw.Sign
		Words string
	}{
		{draw.Sign{Shape: draw.Square, Role: draw.Accent}, "lock"},
		{draw.Sign{Shape: draw.Pointing, Role: draw.Ink}, "drain"},
		{draw.Sign{Shape: draw.Roof, Role: draw.Ink}, "vent"},
		{draw.Sign{Shape: draw.Disc, Role: draw.Ink}, "prove zero"},
	}
}

// Isolation gives the drawing options and the signs that show a plan: the zone within
// the barriers, what is outside, the work outlined, and the valves as the plan puts
// them. Of a plan that was not found it shows the way that no valve shuts.
func Isolation(plant *network.Plant, pl *isolation.Plan, work []model.ID) (draw.Options, []draw.Sign) {
	style := func(e int) draw.Style {
		if pl.Zone != nil && pl.Zone[e] {
			return zoneStyle
		}
		return outsideStyle
	}
	if !pl.Found {
		on := map[int]bool{}
		for _, e := range pl.Way {
			on[e] = true
		}
		style = func(e int) draw.Style {
			if on[e] {
				return noWayStyle
			}
			return outsideStyle
		}
	}
	opt := edgeOptions(plant, style)
	for _, id := range work {
		opt.Outlines[id] = workStyle
		if plant.Circuit.Run(id) != nil {
			opt.Pieces[id] = []draw.Piece{{From: 0, To: 1, Style: workStyle}}
		}
	}
	for _, list := range [][]isolation.Barrier{pl.Barriers, pl.Second} {
		for _, b := range list {
			opt.Positions[b.Valve] = b.Position
		}
	}
	for _, o := range pl.Open {
		opt.Positions[o.Valve] = o.Position
	}
	var signs []draw.Sign
	if pl.Found {
		looks := map[isolation.Sort]draw.Sign{}
		for i, sort := range []isolation.Sort{isolation.PointLock, isolation.PointDrain, isolation.PointVent, isolation.PointZero} {
			looks[sort] = SignWords()[i].Sign
		}
		for _, pt := range pl.Points(plant) {
			s := looks[pt.Sort]
			s.Place, s.Number = model.PlaceOf(pt.Part), pt.Number
			signs = append(signs, s)
		}
		for _, id := range pl.Inside {
			opt.Inks[id] = draw.Accent
		}
	}
	return opt, signs
}

// edgeOptions draws the runs of a plant stretch by stretch in the styles of their
// edges, at rest.
func edgeOptions(plant *network.Plant, style func(edge int) draw.Style) draw.Options {
	opt := draw.Options{
		Positions: plant.LineUp(nil).Positions, Levels: restLevels(plant.Circuit),
		Flow: map[model.ID]draw.Flow{}, Media: map[model.ID]model.Medium{},
		Pieces: map[model.ID][]draw.Piece{}, Outlines: map[model.ID]draw.Style{}, Inks: map[model.ID]draw.Role{},
	}
	for _, r := range plant.Circuit.Runs() {
		edges := plant.RunEdges(r.ID)
		out := []draw.Piece{}
		for i, at := range sharesOf(plant, edges) {
			out = append(out, draw.Piece{From: at[0], To: at[1], Style: style(edges[i])})
		}
		opt.Pieces[r.ID] = out
	}
	return opt
}

// sharesOf gives from where to where along a run its edges reach, as shares of its
// length; alike where a length is not known.
func sharesOf(plant *network.Plant, edges []int) [][2]float64 {
	total := 0.0
	lengths := make([]float64, len(edges))
	for i, e := range edges {
		l, ok := plant.Edges[e].Length.Get()
		if !ok || l <= 0 {
			for j := range lengths {
				lengths[j] = 1
			}
			total = float64(len(edges))
			break
		}
		lengths[i] = float64(l)
		total += lengths[i]
	}
	out := make([][2]float64, len(edges))
	at := 0.0
	for i := range edges {
		next := at + lengths[i]/total
		if i == len(edges)-1 {
			next = 1
		}
		out[i] = [2]float64{at, next}
		at = next
	}
	return out
}
