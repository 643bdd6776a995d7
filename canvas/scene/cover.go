package scene

import (
	"rinsewright/canvas/draw"
	"rinsewright/model"
	"rinsewright/model/coverage"
	"rinsewright/model/network"
)

// CoverStyle gives how a line in a state of coverage is drawn: by colour, and by
// dashes for those who cannot tell it by colour.
func CoverStyle(s coverage.State) draw.Style {
	switch s {
	case coverage.Swept:
		return draw.Style{Stroke: draw.Advice, Width: 0.7}
	case coverage.Unknown:
		return draw.Style{Stroke: draw.Accepted, Width: 0.9, Dash: []float64{3, 1, 0.8, 1}}
	case coverage.Slow:
		return draw.Style{Stroke: draw.Warning, Width: 1.1, Dash: []float64{4, 1.2}}
	case coverage.Standing:
		return draw.Style{Stroke: draw.Error, Width: 1.1, Dash: []float64{1.8, 1.2}}
	case coverage.Missed:
		return draw.Style{Stroke: draw.Error, Width: 1.3, Dash: []float64{0.7, 1}}
	}
	return draw.Style{Stroke: draw.Faint, Width: 0.35}
}

// CoverWords tells the states of coverage as a key to a drawing does.
func CoverWords(s coverage.State) string {
	switch s {
	case coverage.None:
		return "nothing promised"
	case coverage.Swept:
		return "at speed"
	case coverage.Unknown:
		return "velocity unknown"
	case coverage.Slow:
		return "too slow"
	case coverage.Standing:
		return "standing"
	}
	return "not reached"
}

// CoverKey gives the key to a drawing of coverage.
func CoverKey() []draw.KeyEntry {
	var out []draw.KeyEntry
	for _, s := range coverage.States() {
		out = append(out, draw.KeyEntry{Style: CoverStyle(s), Words: CoverWords(s)})
	}
	return out
}

// Cover gives the drawing options that show what everything gets of a medium, or
// the worst of all for an empty one. Parts are outlined unless all of them is
// swept at speed; those in question have the colour of their state.
func Cover(plant *network.Plant, table *coverage.Table, medium model.Medium) draw.Options {
	opt := draw.Options{
		Positions: plant.LineUp(nil).Positions, Levels: restLevels(plant.Circuit),
		Flow: map[model.ID]draw.Flow{}, Media: map[model.ID]model.Medium{},
		Pieces: map[model.ID][]draw.Piece{}, Outlines: map[model.ID]draw.Style{}, Inks: map[model.ID]draw.Role{},
	}
	edges := make([]coverage.State, len(plant.Edges))
	worst := map[model.ID]coverage.State{}
	for i := range table.Rows {
		row := &table.Rows[i]
		s := CoverState(row, medium)
		if row.Edge >= 0 {
			edges[row.Edge] = s
		}
		if row.Sort == coverage.Stretch && plant.Edges[row.Edge].Run != "" {
			continue // a run shows its stretches itself
		}
		worst[row.At.Element] = max(worst[row.At.Element], s)
	}
	for _, r := range plant.Circuit.Runs() {
		opt.Pieces[r.ID] = coverPieces(plant, r.ID, edges)
	}
	for _, p := range plant.Circuit.Parts() {
		id := p.RecordID()
		s := worst[id]
		style := CoverStyle(s)
		switch {
		case s == coverage.None && p.Class() != model.ClassFrame:
			opt.Inks[id] = draw.Faint
		case s == coverage.Swept:
			opt.Inks[id] = style.Stroke
		case s != coverage.None:
			opt.Inks[id] = style.Stroke
			style.Width = 0.5
			opt.Outlines[id] = style
		}
	}
	return opt
}

// CoverState gives what a row gets of a medium, or its worst for an empty one.
func CoverState(row *coverage.Row, medium model.Medium) coverage.State {
	if medium == "" {
		return row.Worst
	}
	for _, c := range row.Cells {
		if c.Medium == medium {
			return c.State
		}
	}
	return coverage.None
}

// coverPieces gives the stretches of a run by the share of its length that each
// has; alike where a length is not known.
func coverPieces(plant *network.Plant, run model.ID, states []coverage.State) []draw.Piece {
	edges := plant.RunEdges(run)
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
	out := []draw.Piece{}
	at := 0.0
	for i, e := range edges {
		next := at + lengths[i]/total
		if i == len(edges)-1 {
			next = 1
		}
		if s := states[e]; s != coverage.None {
			out = append(out, draw.Piece{From: at, To: next, Style: CoverStyle(s)})
		}
		at = next
	}
	return out
}
