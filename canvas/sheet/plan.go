package sheet

import (
	"slices"
	"strconv"
	"strings"

	"rinsewright/canvas/draw"
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/isolation"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

// PlanSections gives the tables of a plan of isolation: its points with boxes to sign,
// what is inside, the order of work, how it is put back, and what cannot run
// meanwhile. signs are those of the points, in their order, as they stand on the
// drawing.
func PlanSections(p *network.Plant, pl *isolation.Plan, signs []draw.Sign, system quantity.System) []Section {
	if !pl.Found {
		return []Section{{Heading: "No plan", Note: sentence(pl.Why), Columns: nil}}
	}
	lines := func(heading, column string, list []string) Section {
		s := Section{Heading: heading, Columns: []string{column}, Shares: []float64{1}}
		for _, line := range list {
			s.Rows = append(s.Rows, []string{sentence(line)})
		}
		return s
	}
	points := Section{Heading: "Points of the plan", Columns: []string{"", "Point", "Tag", "Position", "What it is", "Done by, time", "Checked by, time"},
		Shares: []float64{0.06, 0.09, 0.13, 0.11, 0.31, 0.15, 0.15}, Signs: signs, Signed: 2,
		Note: isolation.Caution}
	for _, pt := range pl.Points(p) {
		points.Rows = append(points.Rows, []string{"", pt.Name(), isolation.PlaceName(p, pt.Part), strings.ReplaceAll(pt.Position, "-", " "), pt.What, "", ""})
	}
	out := []Section{points}
	if w := pl.Warnings(p); len(w) > 0 {
		out = append(out, lines("Cautions of this plan", "What it leaves open", w))
	}
	out = append(out, lines("What is inside", "Contents", pl.Holding(p, system)))
	order := func(heading string, list []isolation.Action, from int) Section {
		s := Section{Heading: heading, Columns: []string{"No.", "Action", "What to do", "Caution", "Done by, time", "Checked by, time"},
			Shares: []float64{0.05, 0.09, 0.33, 0.25, 0.14, 0.14}, Signed: 2}
		for i, a := range list {
			s.Rows = append(s.Rows, []string{strconv.Itoa(from + i), string(a.Deed), sentence(a.Text.In(system)), a.Caution.In(system), "", ""})
		}
		return s
	}
	out = append(out, order("Order of work", pl.Order, 1), order("To put back", pl.Back, len(pl.Order)+1))
	if m := pl.Meanwhile(p); len(m) > 0 {
		out = append(out, lines("Meanwhile", "Steps of the wash programmes", m))
	}
	return out
}

// sentence makes the first letter large and ends with a full stop.
func sentence(s string) string {
	if s == "" {
		return s
	}
	s = strings.ToUpper(s[:1]) + s[1:]
	if !strings.HasSuffix(s, ".") && !strings.HasSuffix(s, ":") {
		s += "."
	}
	return s
}

// SetSigned is [Set] with signs on the drawing that have their size of paper whatever
// the scale of the drawing is, as far as three times their size on it.
func SetSigned(c *model.Circuit, cat *catalogue.Catalogue, p *draw.Picture, signs []draw.Sign, opt Options) (*Book, error) {
	bare, err := Set(c, cat, p, opt)
	if err != nil {
		return nil, err
	}
	signed := &draw.Picture{Bounds: p.Bounds, Items: slices.Clone(p.Items)}
	draw.Signs(signed, signs, min(max(1/bare.Scale, 1), 3))
	return Set(c, cat, signed, opt)
}
