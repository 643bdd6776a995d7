package sheet

import (
	"math"

	"rinsewright/canvas/draw"
	"rinsewright/canvas/place"
	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// fitScale is the scale at which a drawing fits into a room, at most 1, in steps
// of a hundredth.
func fitScale(of, room place.Rect) float64 {
	k := min(room.Width()/max(of.Width(), 1), room.Height()/max(of.Height(), 1), 1)
	return max(math.Floor(k*100)/100, min(k, 0.01))
}

// tiles cuts a drawing into windows that each have room on a sheet at one scale,
// row by row. Cuts keep off symbols and texts as far as the spare room allows.
func tiles(p *draw.Picture, room place.Rect, scale float64) []place.Rect {
	w, h := room.Width()/scale, room.Height()/scale
	xs := cuts(p, w, p.Bounds.Min.X, p.Bounds.Max.X, true)
	ys := cuts(p, h, p.Bounds.Min.Y, p.Bounds.Max.Y, false)
	var out []place.Rect
	for j := 1; j < len(ys); j++ {
		for i := 1; i < len(xs); i++ {
			out = append(out, rect(xs[i-1], ys[j-1], xs[i], ys[j]))
		}
	}
	return out
}

// cuts gives the borders of the windows along one axis, as few as there can be.
func cuts(p *draw.Picture, length, from, to float64, across bool) []float64 {
	n := max(1, int(math.Ceil((to-from)/length-1e-9)))
	if n == 1 {
		return []float64{from, to}
	}
	// Ports lie on a grid of 2.5 mm; a cut through one would part two runs without
	// crossing either.
	const (
		step  = 1.0 // mm
		aside = 0.3
	)
	from = math.Floor(from) - 1 + aside
	cost := make([]float64, int((to-from)/step)+2)
	charge := func(a, b, much float64) {
		for i := max(0, int(math.Ceil((a-from)/step))); i < len(cost) && from+float64(i)*step <= b; i++ {
			cost[i] += much
		}
	}
	for i := range p.Items {
		it := &p.Items[i]
		a, b := it.Bounds.Min.X, it.Bounds.Max.X
		if !across {
			a, b = it.Bounds.Min.Y, it.Bounds.Max.Y
		}
		switch it.Figure.(type) {
		case draw.Symbol:
			if it.Layer == draw.LayerPart {
				charge(a-2, b+2, 20)
			}
		case draw.Text:
			charge(a-0.5, b+0.5, 5)
		case draw.Path:
			if it.Layer == draw.LayerRun {
				charge(a, b, 1) // one more connector
				charge(a-0.6, a+0.6, 10)
				charge(b-0.6, b+0.6, 10)
				if b-a < 4 {
					charge(a-2, b+2, 10) // along the cut
				}
			}
		}
	}
	out := []float64{from}
	for k := 1; k < n; k++ {
		lo := max(to-float64(n-k)*length, out[k-1]+length/4)
		hi := out[k-1] + length
		best := hi
		least := math.Inf(1)
		even := out[k-1] + (to-out[k-1])/float64(n-k+1)
		for x := hi; x >= lo; x -= step {
			i := int(math.Round((x - from) / step))
			if i < 0 || i >= len(cost) {
				continue
			}
			// Of cuts that harm alike, the one that parts more evenly.
			if c := cost[i] + math.Abs(x-even)/length; c < least {
				least, best = c, from+float64(i)*step
			}
		}
		out = append(out, min(best, hi))
	}
	return append(out, to)
}

// frames gives a window about each named frame that stands in no other one, in
// order of its place: from the top, then from the left.
func frames(c *model.Circuit, cat *catalogue.Catalogue) (windows []place.Rect, titles []string) {
	const about = 3.3 // mm; off the grid of ports
	type named struct {
		box   place.Rect
		title string
	}
	var all []named
	for _, p := range c.Parts() {
		f, ok := p.(*model.Frame)
		kind := cat.Kind(p.Meta().Kind)
		if !ok || kind == nil || !kind.Has(catalogue.TraitBoundary) {
			continue
		}
		title := f.Tag
		if text := f.Text.Or(""); text != "" {
			title = joined(title, text)
		}
		all = append(all, named{place.Box(p, kind).Grown(about), title})
	}
	for i, a := range all {
		inner := false
		for j, b := range all {
			inner = inner || i != j && b.box.Holds(a.box) && (b.box != a.box || j < i)
		}
		if inner {
			continue
		}
		at := len(windows)
		for at > 0 && (windows[at-1].Min.Y > a.box.Min.Y || windows[at-1].Min.Y == a.box.Min.Y && windows[at-1].Min.X > a.box.Min.X) {
			at--
		}
		windows = append(windows[:at], append([]place.Rect{a.box}, windows[at:]...)...)
		titles = append(titles[:at], append([]string{a.title}, titles[at:]...)...)
	}
	return windows, titles
}

func joined(a, b string) string {
	if a == "" {
		return b
	}
	return a + " " + b
}

// within says whether a point belongs to a window; borders belong to the window
// on the right and beneath.
func within(w place.Rect, p model.Point) bool {
	return p.X >= w.Min.X && p.X < w.Max.X && p.Y >= w.Min.Y && p.Y < w.Max.Y
}
