package main

import (
	"fmt"
	"slices"
	"strings"
	"text/tabwriter"

	"rinsewright/model"
	"rinsewright/model/coverage"
	"rinsewright/model/lineup"
	"rinsewright/model/quantity"
)

// velocity gives the velocities of the solved steps; none where the limits tell no
// least one, so that nothing is called swept at speed.
func (w *washed) velocity(step *model.Step, edge int) (quantity.Velocity, bool) {
	if !w.least.Known() {
		return 0, false
	}
	for i := range w.record.Steps {
		s := &w.record.Steps[i]
		if s.Step != step || s.Flow == nil || edge >= len(s.Flow.Edges) {
			continue
		}
		v, ok := s.Flow.Edges[edge].Velocity.Get()
		return max(v, -v), ok
	}
	return 0, false
}

// covered is one thing and what it gets of one medium.
type covered struct {
	Sort     coverage.Sort                   `json:"what"`
	Element  model.ID                        `json:"element"`
	Place    string                          `json:"place"`
	For      string                          `json:"washed_for"`
	Medium   model.Medium                    `json:"medium"`
	State    string                          `json:"state"`
	Velocity quantity.Opt[quantity.Velocity] `json:"velocity_ms,omitzero"`
	Step     string                          `json:"step,omitempty"`
	of       coverage.State
}

func (w *washed) covered(t *coverage.Table) []covered {
	var out []covered
	for i := range t.Rows {
		r := &t.Rows[i]
		names := w.names(r.Objects)
		place := w.placed(r)
		for _, c := range r.Cells {
			x := covered{r.Sort, r.At.Element, place, strings.Join(names, ", "), c.Medium, c.State.String(), c.Velocity, "", c.State}
			if s, ok := w.Circuit.Record(c.Step).(*model.Step); ok {
				x.Step = s.Name
			}
			out = append(out, x)
		}
	}
	return out
}

// placed names the place of a row: a run and its stretch, or a part and the way in it.
func (w *washed) placed(r *coverage.Row) string {
	place := w.Name(r.At.Element)
	switch {
	case r.At.Port != "":
		place += " " + r.At.Port
	case r.At.First > 0:
		place += fmt.Sprintf(" stretch %d", r.At.First)
	case r.Edge >= 0 && w.plant.Edges[r.Edge].Part != "" && w.plant.Edges[r.Edge].Path >= 0:
		if k := w.Kind(w.Circuit.Part(r.At.Element)); k != nil && len(k.Paths) > 1 {
			way := k.Paths[w.plant.Edges[r.Edge].Path]
			place += " " + way.From + "-" + way.To
		}
	}
	return place
}

// coverage tells what everything gets. What is not reached by a medium that the
// programme promises, or too slowly, is to be put right; where liquid stands in a dead
// leg is for the checks to judge.
func (w *washed) coverage() (int, error) {
	t := coverage.Of(w.plant, w.steps, coverage.Options{Least: w.least.Or(0), Velocity: w.velocity})
	code := exitDone
	for _, x := range t.Totals {
		if x.State == coverage.Missed || x.State == coverage.Slow {
			code = exitFindings
		}
	}
	switch {
	case w.opt.json:
		return code, w.encode(w.coverageJSON(t))
	case w.opt.csv:
		w.coverageRows(t)
		return code, nil
	}
	for _, x := range t.Totals {
		fmt.Fprintf(w.text, "    %s: %d, %s of tube\n", x.State, x.Rows, quantity.Text(x.Length, w.opt.system))
	}
	for _, l := range t.Left {
		fmt.Fprintf(w.text, "    not counted: %s: %s\n", w.Name(l.Step), l.Why)
	}
	if w.least.Known() {
		fmt.Fprintf(w.text, "    swept: at %s and more\n", quantity.OptText(w.least, w.opt.system))
	} else {
		fmt.Fprintln(w.text, "    the limits tell no least velocity, so nothing counts as swept at speed")
	}
	w.uncovered(t)
	return code, nil
}

// uncovered lists what does not get everything at speed, a column a medium.
func (w *washed) uncovered(t *coverage.Table) {
	rows := t.Worst(coverage.Swept + 1)
	if len(rows) == 0 {
		fmt.Fprintln(w.text, "    nothing is left out")
		return
	}
	tab := tabwriter.NewWriter(w.text, 0, 0, 2, ' ', 0)
	heads := "    what\tplace\twashed for"
	for _, m := range t.Media {
		heads += "\t" + string(m)
	}
	fmt.Fprintln(tab, heads)
	for i := range rows {
		r := &rows[i]
		line := fmt.Sprintf("    %s\t%s\t%s", r.Sort, w.placed(r), strings.Join(w.names(r.Objects), ", "))
		for _, m := range t.Media {
			line += "\t"
			for _, c := range r.Cells {
				if c.Medium != m {
					continue
				}
				line += c.State.String()
				if v, ok := c.Velocity.Get(); ok {
					line += " " + quantity.Text(v, w.opt.system)
				}
			}
		}
		fmt.Fprintln(tab, line)
	}
	tab.Flush()
}

// switching tells what an operator has to do. Media that stand open to each other
// within a step are to be put right.
func (w *washed) switching() (int, error) {
	list := lineup.SwitchingList(w.plant, w.steps)
	code := exitDone
	for _, c := range list.Conflicts {
		if !c.While {
			code = exitFindings
		}
	}
	switch {
	case w.opt.json:
		return code, w.encode(w.switchingJSON(list))
	case w.opt.csv:
		for _, row := range list.Rows(w.plant) {
			writeRow(w.text, append([]string{w.file}, row...))
		}
		return code, nil
	}
	for _, line := range list.Lines(w.plant) {
		fmt.Fprintln(w.text, "    "+line)
	}
	sayCautions(w.text, w.steps)
	return code, nil
}

// proposed is what was found for a step.
type proposed struct {
	step *model.Step
	ask  lineup.Ask
	list []lineup.Proposal
	same bool // the first stands as the step does
}

// proposals finds line-ups for the steps that move liquid from a source to a
// destination.
func (w *washed) proposals() ([]proposed, error) {
	var out []proposed
	for _, s := range w.steps {
		named := w.opt.step == "" || s.Name == w.opt.step || s.Programme+"/"+s.Name == w.opt.step
		if !named || s.Source == "" || s.Destination == "" {
			continue
		}
		ask := lineup.Ask{Source: s.Source, Destination: s.Destination, Through: s.Cleans, Medium: s.Medium.Or("")}
		got, err := lineup.Find(w.plant, ask)
		if err != nil {
			return nil, fmt.Errorf("step %s: %w", s.Name, err)
		}
		p := proposed{step: s, ask: ask, list: got}
		if got[0].Found {
			p.same = w.stands(s, &got[0])
		}
		out = append(out, p)
	}
	return out, nil
}

// stands says whether a step's valves stand as a proposal wants those that the liquid
// touches.
func (w *washed) stands(s *model.Step, x *lineup.Proposal) bool {
	at := w.plant.LineUp(s).Positions
	for id, pos := range x.Moved {
		if at[id] != pos {
			return false
		}
	}
	for _, b := range x.Barriers {
		if at[b.Valve] != b.Position {
			return false
		}
	}
	return true
}

func (w *washed) lineUps() (int, error) {
	list, err := w.proposals()
	if err != nil {
		return 0, err
	}
	code := exitDone
	for _, p := range list {
		if !p.list[0].Found {
			code = exitFindings
		}
	}
	if w.opt.json {
		return code, w.encode(w.lineUpsJSON(list))
	}
	for _, p := range list {
		w.proposalText(p)
	}
	if len(list) == 0 {
		fmt.Fprintln(w.text, "    no step here moves liquid from a source to a destination")
	}
	sayCautions(w.text, w.steps)
	return code, nil
}

func (w *washed) proposalText(p proposed) {
	fmt.Fprintf(w.text, "    %s, from %s to %s", p.step.Name, w.Name(p.ask.Source), w.Name(p.ask.Destination))
	if len(p.ask.Through) > 0 {
		fmt.Fprintf(w.text, " through %s", strings.Join(w.names(p.ask.Through), ", "))
	}
	fmt.Fprintln(w.text)
	for i := range p.list {
		x := &p.list[i]
		if !x.Found {
			fmt.Fprintf(w.text, "      no line-up: %s\n", x.Missing)
			continue
		}
		word := ""
		switch {
		case i == 0 && p.same:
			word = ", as the step stands"
		case i == 0 && !x.Proven:
			word = ", the best that was found in the time"
		}
		fmt.Fprintf(w.text, "      %d: %s%s\n", i+1, x.Why, word)
		fmt.Fprintf(w.text, "         valves: %s\n", strings.Join(w.moved(x.Moved), ", "))
		if len(x.Pumps) > 0 {
			fmt.Fprintf(w.text, "         pumps: %s\n", strings.Join(w.names(x.Pumps), ", "))
		}
	}
}

func (w *washed) names(ids []model.ID) []string {
	out := make([]string, len(ids))
	for i, id := range ids {
		out[i] = w.Name(id)
	}
	return out
}

// moved lists valves with their positions, in order of name.
func (w *washed) moved(at map[model.ID]string) []string {
	out := make([]string, 0, len(at))
	for id, pos := range at {
		out = append(out, w.Name(id)+" "+pos)
	}
	slices.Sort(out)
	if len(out) == 0 {
		return []string{"all in their normal position"}
	}
	return out
}
