package coverage

import (
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// Of works out the coverage of the steps of one programme. Steps of other programmes
// must not be among them: what one programme leaves, another may reach.
func Of(p *network.Plant, steps []*model.Step, o Options) *Table {
	c := &cover{p: p, o: o, t: &Table{Edges: make([]State, len(p.Edges))}, media: map[model.ID][]model.Medium{}}
	for _, step := range steps {
		c.t.Programme = step.Programme
		c.add(step)
	}
	c.findObjects()
	c.stretches()
	for _, part := range p.Circuit.Parts() {
		switch part.Class() {
		case model.ClassValve:
			c.seats(part.RecordID())
		case model.ClassVessel:
			c.vessel(part.RecordID())
		case model.ClassSpray:
			c.spray(part.RecordID())
		}
	}
	slices.SortStableFunc(c.t.Rows, func(a, b Row) int { return rank(a.Sort) - rank(b.Sort) })
	c.total()
	return c.t
}

func rank(s Sort) int { return slices.Index([]Sort{Stretch, Seat, Vessel, Spray}, s) }

// cover is the work of one call.
type cover struct {
	p     *network.Plant
	o     Options
	t     *Table
	washs []*wash
	media map[model.ID][]model.Medium // promised to each object
	on    []map[model.ID]bool         // by edge: objects for which it is washed as part of the line; nil for none
}

// wash is a step that cleans, and its route.
type wash struct {
	step   *model.Step
	medium model.Medium
	route  *network.Route
	part   map[model.ID][]role // by object, by edge
}

// role is what an edge is to the washing of an object in one step.
type role uint8

const (
	dry role = iota
	approach
	line
)

// add takes up a step that sends a cleaning medium through something.
func (c *cover) add(step *model.Step) {
	switch step.Purpose.Or("") {
	case model.Drain, model.AirBlow, model.Hold, model.Prepare, model.Production:
		return
	}
	medium, known := step.Medium.Get()
	if !known {
		medium = holds(c.p.Circuit.Part(step.Source))
	}
	left := func(why string) { c.t.Left = append(c.t.Left, Left{step.ID, why}) }
	if medium == "" {
		left("its medium is not told")
		return
	}
	if !medium.Cleaning() || len(step.Cleans) == 0 {
		return
	}
	r := c.p.Route(c.p.LineUp(step))
	if !r.Found {
		left(r.Why)
	}
	c.washs = append(c.washs, &wash{step: step, medium: medium, route: r, part: map[model.ID][]role{}})
	if !slices.Contains(c.t.Media, medium) {
		c.t.Media = append(c.t.Media, medium)
	}
	for _, id := range step.Cleans {
		if !slices.Contains(c.media[id], medium) {
			c.media[id] = append(c.media[id], medium)
		}
	}
}

func holds(part model.Part) model.Medium {
	switch x := part.(type) {
	case *model.Vessel:
		return x.Holds.Or("")
	case *model.Terminal:
		return x.Medium.Or("")
	}
	return ""
}

// findObjects divides the wet edges of the steps of each object into the line and
// its approaches.
func (c *cover) findObjects() {
	c.on = make([]map[model.ID]bool, len(c.p.Edges))
	ids := make([]model.ID, 0, len(c.media))
	for id := range c.media {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	for _, id := range ids {
		var mine []*wash
		for _, w := range c.washs {
			if slices.Contains(w.step.Cleans, id) && w.route.Found {
				mine = append(mine, w)
			}
		}
		common := make([]bool, len(c.p.Edges))
		for e := range common {
			common[e] = len(mine) > 0
			for _, w := range mine {
				common[e] = common[e] && w.route.InFlow[e]
			}
		}
		// What is an approach in one step and a dead leg beside the line in another
		// stays an approach: the outlet of a tank that is not in use.
		inLine := make([]role, len(c.p.Edges))
		for _, w := range mine {
			w.part[id] = c.roles(w, common)
			for e, r := range w.part[id] {
				if r != dry && inLine[e] != approach {
					inLine[e] = r
				}
			}
		}
		for e, r := range inLine {
			if r == line {
				if c.on[e] == nil {
					c.on[e] = map[model.ID]bool{}
				}
				c.on[e][id] = true
			}
		}
	}
}

// roles tells the approaches of a step: what flows and is joined to its source or
// destination without the line in common, and the dead legs that hang on that alone.
// Without a line in common nothing is an approach.
func (c *cover) roles(w *wash, common []bool) []role {
	out := make([]role, len(c.p.Edges))
	r := w.route
	wet := func(e int) bool { return r.Wet[e] || r.InFlow[e] }
	onLine := make([]bool, len(c.p.Nodes)) // nodes of the line in common
	any := false
	for e := range out {
		if wet(e) {
			out[e] = line
		}
		if common[e] {
			onLine[c.p.Edges[e].From], onLine[c.p.Edges[e].To] = true, true
			any = true
		}
	}
	if !any {
		return out
	}
	// Approaches: all that is wet and reached from the ends without the line.
	seen := make([]bool, len(c.p.Nodes))
	for _, end := range []int{r.LineUp.Source, r.LineUp.Dest} {
		if onLine[end] || seen[end] {
			continue
		}
		seen[end] = true
		queue := []int{end}
		for i := 0; i < len(queue); i++ {
			for _, e := range c.p.IncidentEdges(queue[i]) {
				if !wet(e) || common[e] {
					continue
				}
				out[e] = approach
				if n := c.p.Other(e, queue[i]); !seen[n] && !onLine[n] {
					seen[n] = true
					queue = append(queue, n)
				}
			}
		}
	}
	return out
}

// stretches makes the rows of the edges.
func (c *cover) stretches() {
	for e := range c.p.Edges {
		d := &c.p.Edges[e]
		if d.Path < 0 {
			continue // the liquid of a vessel
		}
		row := Row{Sort: Stretch, Edge: e, Length: d.Length, At: place(d)}
		c.promise(&row, e)
		if len(row.Cells) == 0 {
			continue
		}
		for i := range row.Cells {
			cell := &row.Cells[i]
			cell.State = Missed
			for _, w := range c.washs {
				if w.medium != cell.Medium {
					continue
				}
				state, v := c.swept(w, e)
				c.better(cell, w, state, v)
			}
		}
		c.keep(row)
	}
}

// place is a stretch, or the far point of a part's path.
func place(d *network.Edge) model.Place {
	if d.Part == "" {
		return model.PlaceOfStretch(d.Run, d.Stretch)
	}
	return model.PlaceOf(d.Part)
}

// promise fills in for what and with which media an edge is to be washed: those of
// the objects in whose line it lies, else those of the steps that wet it as an
// approach.
func (c *cover) promise(row *Row, edge int) {
	var media []model.Medium
	row.Approach = c.on[edge] == nil
	for id := range c.on[edge] {
		row.Objects = append(row.Objects, id)
		media = append(media, c.media[id]...)
	}
	if row.Approach {
		for _, w := range c.washs {
			for _, id := range w.step.Cleans {
				if roles := w.part[id]; roles != nil && roles[edge] == approach {
					media = append(media, w.medium)
					row.Objects = append(row.Objects, id)
				}
			}
		}
	}
	slices.Sort(row.Objects)
	row.Objects = slices.Compact(row.Objects)
	for _, m := range c.t.Media {
		if slices.Contains(media, m) {
			row.Cells = append(row.Cells, Cell{Medium: m})
		}
	}
}

// swept is what an edge gets in one step.
func (c *cover) swept(w *wash, e int) (State, Opt[Velocity]) {
	var none Opt[Velocity]
	d := &c.p.Edges[e]
	switch {
	case !w.route.Found:
		return Missed, none
	case !w.route.InFlow[e] && w.route.Wet[e]:
		return Standing, none
	case !w.route.InFlow[e]:
		return Missed, none
	}
	v, known := c.velocity(w, e)
	switch {
	case !known && c.boreless(d):
		return Swept, none
	case !known:
		return Unknown, none
	case v < c.o.Least:
		return Slow, Some(v)
	}
	return Swept, Some(v)
}

func (c *cover) velocity(w *wash, e int) (Velocity, bool) {
	if c.o.Velocity != nil {
		return c.o.Velocity(w.step, e)
	}
	v, _ := c.p.Velocity(w.route, e)
	return v.Get()
}

// boreless says whether a way has no bore of its own, rather than one that nobody
// told.
func (c *cover) boreless(d *network.Edge) bool {
	if d.Part == "" || d.Bore.Known() {
		return false
	}
	k := c.p.Catalogue.Kind(c.p.Circuit.Part(d.Part).Meta().Kind)
	path := &k.Paths[d.Path]
	if path.Bore != "" {
		return false
	}
	return path.Length == "" || d.Length == Some(Length(0))
}

// better takes what a step gives if that is better than what was known.
func (c *cover) better(cell *Cell, w *wash, state State, v Opt[Velocity]) {
	if state < cell.State || state == cell.State && state == Slow && v.Or(0) > cell.Velocity.Or(0) {
		cell.State, cell.Velocity = state, v
		if state < Missed {
			cell.Step = w.step.ID
		}
	}
}

func (c *cover) keep(row Row) {
	for _, cell := range row.Cells {
		row.Worst = max(row.Worst, cell.State)
	}
	if row.Edge >= 0 {
		c.t.Edges[row.Edge] = row.Worst
	}
	c.t.Rows = append(c.t.Rows, row)
}

// seats makes a row for each side of a valve's seats. A side is promised what the
// way is promised that leads to it.
func (c *cover) seats(id model.ID) {
	for _, n := range c.p.PartNodes(id) {
		if c.p.Nodes[n].Role != catalogue.RoleSeat {
			continue
		}
		k := c.p.Catalogue.Kind(c.p.Circuit.Part(id).Meta().Kind)
		var gates []int
		row := Row{Sort: Seat, Edge: -1, At: model.PlaceOfPort(id, c.p.Nodes[n].Point)}
		for _, e := range c.p.IncidentEdges(n) {
			if d := &c.p.Edges[e]; d.Part == id && len(k.Paths[d.Path].OpenIn) > 0 {
				gates = append(gates, e)
			} else if row.Cells == nil {
				c.promise(&row, e)
			}
		}
		if len(row.Cells) == 0 || len(gates) == 0 {
			continue
		}
		for i := range row.Cells {
			cell := &row.Cells[i]
			cell.State = Missed
			for _, w := range c.washs {
				if w.medium == cell.Medium && w.route.Found {
					c.better(cell, w, c.seat(w, n, gates), Opt[Velocity]{})
				}
			}
		}
		c.keep(row)
	}
}

// seat is what one side of a seat gets in one step.
func (c *cover) seat(w *wash, n int, gates []int) State {
	for _, e := range gates {
		lifted := c.p.Nodes[c.p.Other(e, n)].Role == catalogue.RoleAir
		if w.route.InFlow[e] || lifted && w.route.Wet[e] {
			return Swept
		}
	}
	for _, e := range c.p.IncidentEdges(n) {
		if w.route.Wet[e] || w.route.InFlow[e] {
			return Standing
		}
	}
	return Missed
}

// vessel makes the row of a vessel that some step cleans.
func (c *cover) vessel(id model.ID) {
	inside, ok := c.p.PortNode(id, network.Inside)
	if !ok || len(c.media[id]) == 0 {
		return
	}
	var byDevice, plain []int
	for _, e := range c.p.IncidentEdges(inside) {
		if d := &c.p.Edges[e]; d.Part != id || d.Path < 0 {
			continue
		}
		if c.sprays(id, c.p.Nodes[c.p.Other(e, inside)].Point) {
			byDevice = append(byDevice, e)
		} else {
			plain = append(plain, e)
		}
	}
	row := Row{Sort: Vessel, Edge: -1, At: model.PlaceOf(id), Objects: []model.ID{id}}
	c.whole(&row, id, func(w *wash) State {
		flows := func(e int) bool { return w.route.InFlow[e] }
		switch {
		case slices.ContainsFunc(byDevice, flows):
			return Swept
		case slices.ContainsFunc(plain, flows) && len(byDevice) > 0:
			return Slow
		case slices.ContainsFunc(plain, flows):
			return Unknown // nobody told how its wall is wetted
		case slices.ContainsFunc(c.p.PartEdges(id), func(e int) bool { return w.route.Wet[e] }):
			return Standing
		}
		return Missed
	})
}

func (c *cover) sprays(id model.ID, port string) bool {
	for _, r := range c.p.Circuit.RunsAt(id) {
		for _, ends := range [2][2]model.End{{r.From, r.To}, {r.To, r.From}} {
			_, spray := c.p.Circuit.Part(ends[1].Part).(*model.Spray)
			if ends[0].Part == id && ends[0].Port == port && spray {
				return true
			}
		}
	}
	return false
}

// spray makes the row of a spray device: it is promised what its vessel is, and
// without a vessel that is cleaned what its line is.
func (c *cover) spray(id model.ID) {
	owner := id
	for _, r := range c.p.Circuit.RunsAt(id) {
		for _, end := range []model.End{r.From, r.To} {
			if len(c.media[end.Part]) > 0 {
				owner = end.Part
			}
		}
	}
	if len(c.media[owner]) == 0 {
		return
	}
	row := Row{Sort: Spray, Edge: -1, At: model.PlaceOf(id), Objects: []model.ID{owner}}
	c.whole(&row, owner, func(w *wash) State {
		state := Missed
		for _, e := range c.p.PartEdges(id) {
			switch {
			case w.route.InFlow[e]:
				state = min(state, Swept)
			case w.route.Wet[e]:
				state = min(state, Standing)
			}
		}
		return state
	})
}

// whole fills in a row of a part that is promised what an object is.
func (c *cover) whole(row *Row, object model.ID, get func(*wash) State) {
	for _, m := range c.t.Media {
		if !slices.Contains(c.media[object], m) {
			continue
		}
		cell := Cell{Medium: m, State: Missed}
		for _, w := range c.washs {
			if w.medium == m && w.route.Found {
				c.better(&cell, w, get(w), Opt[Velocity]{})
			}
		}
		row.Cells = append(row.Cells, cell)
	}
	c.keep(*row)
}

func (c *cover) total() {
	totals := make([]Total, len(States()))
	for i := range c.t.Rows {
		r := &c.t.Rows[i]
		totals[r.Worst].State = r.Worst
		totals[r.Worst].Rows++
		totals[r.Worst].Length += r.Length.Or(0)
	}
	for _, t := range totals[1:] {
		if t.Rows > 0 {
			c.t.Totals = append(c.t.Totals, t)
		}
	}
}
