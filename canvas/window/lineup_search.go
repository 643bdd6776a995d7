package window

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"rinsewright/canvas/edit"
	"rinsewright/model"
	"rinsewright/model/lineup"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

// mostOptions is how many line-ups are offered for a step.
const mostOptions = 4

// lineUpFound is what was found for one step.
type lineUpFound struct {
	step    *model.Step
	options []lineUpOption // best first; empty: there is none
	missing string         // then what is in the way
	at      model.Place    // and where to look; none: the step itself
	key     string         // of the step's property that is to be told first
}

// lineUpOption is one line-up that a step could have.
type lineUpOption struct {
	step     *model.Step         // with the line-up in it, steam shut
	ask      lineup.Ask          // that the proposal is for
	proposal *lineup.Proposal    // of a step that empties: of the step before
	empties  *lineup.Emptying    // of a step that lets the line before it run empty
	steam    map[model.ID]string // valves that open steam to the heaters on the way
	cold     []model.ID          // heaters that no way leads to from a steam supply
}

// askOf says what line-up a step wants. A step that washes nothing may wet what its
// programme washes.
func askOf(step *model.Step, programme []*model.Step) lineup.Ask {
	ask := lineup.Ask{Source: step.Source, Destination: step.Destination, Through: step.Cleans, Medium: step.Medium.Or(""), Most: mostOptions}
	ask.Ordered = len(ask.Through) > lineup.MostFree
	if len(ask.Through) == 0 {
		for _, s := range programme {
			for _, id := range s.Cleans {
				if !slices.Contains(ask.May, id) && id != ask.Source && id != ask.Destination {
					ask.May = append(ask.May, id)
				}
			}
		}
	}
	return ask
}

// empties says whether a step lets the line of the step before it run empty: it
// drains, and draws from nothing.
func empties(s *model.Step) bool { return s.Purpose.Or("") == model.Drain && s.Source == "" }

// findLineUps finds the line-ups for a step of a programme, whose steps are given in
// order. before is what was found for the steps before in the same search, by id; what
// is not there stands as its step has it.
func findLineUps(p *network.Plant, step *model.Step, programme []*model.Step, before map[model.ID]*lineUpOption) lineUpFound {
	out := lineUpFound{step: step, at: model.PlaceOf(step.ID)}
	if empties(step) {
		return findEmptying(p, step, programme, before)
	}
	switch {
	case step.Purpose.Or("") == model.Hold:
		out.missing, out.key = "a step that holds moves nothing: its valves stay as they are", "purpose"
		return out
	case step.Source == "":
		out.missing, out.key = "the step does not tell where its liquid comes from", "source"
		return out
	case step.Destination == "":
		out.missing, out.key = "the step does not tell where its liquid goes to", "destination"
		return out
	}
	ask := askOf(step, programme)
	found, err := lineup.Find(p, ask)
	switch {
	case err != nil:
		out.missing = strings.TrimPrefix(err.Error(), "lineup: ")
		return out
	case !found[0].Found:
		out.missing, out.at = found[0].Missing, found[0].At
		return out
	}
	for i := range found {
		x := lineUpOption{step: model.Clone(step), ask: ask, proposal: &found[i]}
		found[i].Into(x.step, ask)
		x.steam, x.cold = lineup.Heating(p, found[i].Route)
		maps.DeleteFunc(x.steam, func(id model.ID, at string) bool { return x.step.Positions[id] == at })
		out.options = append(out.options, x)
	}
	return out
}

// findEmptying finds how the line of the step before runs empty.
func findEmptying(p *network.Plant, step *model.Step, programme []*model.Step, before map[model.ID]*lineUpOption) lineUpFound {
	out := lineUpFound{step: step, at: model.PlaceOf(step.ID)}
	at := slices.IndexFunc(programme, func(s *model.Step) bool { return s.ID == step.ID })
	for at--; at >= 0 && (empties(programme[at]) || programme[at].Source == ""); at-- {
	}
	if at < 0 {
		out.missing = "no step before this one sends anything through a line that could be emptied"
		return out
	}
	last := before[programme[at].ID]
	if last == nil {
		var why string
		if last, why = standing(p, programme[at], programme); last == nil {
			out.missing, out.at = "the step before, "+stepName(programme[at])+", has no line-up to be emptied: "+why, model.PlaceOf(programme[at].ID)
			return out
		}
	}
	x, why := emptied(p, step, last)
	if x == nil {
		out.missing = why
		return out
	}
	out.options = []lineUpOption{*x}
	return out
}

// emptied gives the line-up of a step in which what another has wetted runs empty, or
// why there is none.
func emptied(p *network.Plant, step *model.Step, last *lineUpOption) (*lineUpOption, string) {
	e, err := lineup.Empty(p, last.ask, last.proposal)
	switch {
	case err != nil:
		return nil, strings.TrimPrefix(err.Error(), "lineup: ")
	case e.Missing != "":
		return nil, e.Missing
	}
	x := &lineUpOption{step: model.Clone(step), ask: last.ask, proposal: last.proposal, empties: &e}
	x.step.Destination, x.step.Positions, x.step.Running = e.Destination, e.Moved, nil
	return x, ""
}

// standing gives the line-up that a step has now: every valve is kept where it stands.
// Where that is no way, the best one that could be found is taken.
func standing(p *network.Plant, step *model.Step, programme []*model.Step) (*lineUpOption, string) {
	ask := askOf(step, programme)
	ask.Most, ask.Keep = 1, p.LineUp(step).Positions
	found, err := lineup.Find(p, ask)
	if err == nil && !found[0].Found {
		ask.Keep = nil
		found, err = lineup.Find(p, ask)
	}
	switch {
	case err != nil:
		return nil, strings.TrimPrefix(err.Error(), "lineup: ")
	case !found[0].Found:
		return nil, found[0].Missing
	}
	ask.Keep = nil // what the emptying moves is free again
	return &lineUpOption{step: step, ask: ask, proposal: &found[0]}, ""
}

// with gives the step of an option, with steam open to its heaters or not.
func (x *lineUpOption) with(steam bool) *model.Step {
	if !steam || len(x.steam) == 0 {
		return x.step
	}
	s := model.Clone(x.step)
	if s.Positions == nil {
		s.Positions = map[model.ID]string{}
	}
	maps.Copy(s.Positions, x.steam)
	return s
}

// drainBehind gives a step that lets the line of a step run empty after it.
func drainBehind(p *network.Plant, of *model.Step, line *lineUpOption) (*model.Step, string) {
	step := &model.Step{Name: "Drain", Programme: of.Programme, Purpose: quantity.Some(model.Drain), Medium: of.Medium, Cleans: slices.Clone(of.Cleans)}
	x, why := emptied(p, step, line)
	if x == nil {
		return nil, why
	}
	return x.step, ""
}

// lineUpWords tells options in the units shown.
type lineUpWords struct {
	drawing *edit.Drawing
	name    func(model.ID) string
	units   quantity.System
}

func (w *Window) lineUpWords() lineUpWords {
	return lineUpWords{w.drawing(), w.nameOfID, w.units()}
}

// nameOfID names a record that may be gone.
func (w *Window) nameOfID(id model.ID) string {
	if r := w.circuit().Record(id); r != nil {
		return nameOf(r, w.cat)
	}
	return string(id)
}

func (t lineUpWords) names(ids []model.ID) string {
	out := make([]string, len(ids))
	for i, id := range ids {
		out[i] = t.name(id)
	}
	return strings.Join(out, ", ")
}

// moves tells valves with their positions: "V-101 open, V-232 to T-102".
func (t lineUpWords) moves(to map[model.ID]string) string {
	ids := slices.Collect(maps.Keys(to))
	slices.SortFunc(ids, func(a, b model.ID) int { return strings.Compare(t.name(a), t.name(b)) })
	var out []string
	for _, id := range ids {
		words := plainWords(to[id])
		if v, ok := t.drawing.Circuit().Part(id).(*model.Valve); ok {
			words = t.drawing.PositionWords(v, to[id])
		}
		out = append(out, t.name(id)+" "+words)
	}
	return strings.Join(out, ", ")
}

// head tells an option in a line.
func (t lineUpWords) head(x *lineUpOption) string {
	if x.empties != nil {
		return "Runs empty to " + t.names(x.empties.Drains)
	}
	r := x.proposal
	about := ""
	if !r.Length.Known() {
		about = "at least "
	}
	return about + quantity.Text(r.AtLeast, t.units) + ", " + plural(len(r.Moved), "valve") + " moved"
}

// under tells what speaks against an option in a line.
func (t lineUpWords) under(x *lineUpOption) string {
	if x.empties != nil {
		return plural(len(x.empties.Moved), "valve") + " moved, no pump runs"
	}
	r := x.proposal
	text := plural(len(r.Legs), "dead leg")
	if len(r.Legs) == 0 {
		text = "no dead leg"
	}
	text += ", " + quantity.Text(r.Wet, t.units) + " wet beside the way"
	if r.Proven {
		return text + "; proven"
	}
	return text + "; not proven"
}

// lines tells all about an option.
func (t lineUpWords) lines(x *lineUpOption) []string {
	if x.empties != nil {
		return []string{
			"The source is shut off, the way stays open and every drain that leads to a sewer alone is opened. Nearest behind what was washed: " + t.name(x.empties.Destination) + ".",
			"Moved: " + t.moves(x.step.Positions) + ".",
			"Whether anything is left standing is judged by the checks.",
		}
	}
	r := x.proposal
	var out []string
	if len(r.Moved) > 0 {
		out = append(out, "Moved: "+t.moves(r.Moved)+".")
	} else {
		out = append(out, "No valve has to be moved.")
	}
	if len(r.Pumps) > 0 {
		out = append(out, "Pumps on the way: "+t.names(r.Pumps)+".")
	} else {
		out = append(out, "No pump is on the way: only height or the supply's pressure moves the liquid.")
	}
	if n := len(r.Legs); n > 0 {
		out = append(out, fmt.Sprintf("Of %s %d end at shut seats that this line-up makes; the others are always there.", plural(n, "dead leg"), r.AtSeats))
	}
	out = append(out, t.barriers(r.Barriers)...)
	for _, id := range x.cold {
		out = append(out, "No way leads from a steam supply to "+t.name(id)+".")
	}
	if r.Proven {
		return append(out, "Proven: no line-up that does the same is shorter and cleaner than this one and those above it.")
	}
	return append(out, "Not proven: the search ended at its limit of work, so a better line-up may exist.")
}

// barriers tells which shut valves keep the liquid back, product first.
func (t lineUpWords) barriers(list []lineup.Barrier) []string {
	var single, double, rest []model.ID
	for _, b := range list {
		switch {
		case b.Medium != model.Product:
			rest = append(rest, b.Valve)
		case b.Double:
			double = append(double, b.Valve)
		default:
			single = append(single, b.Valve)
		}
	}
	var out []string
	if len(single) > 0 {
		out = append(out, "CAUTION: only one seat keeps product away at "+t.names(single)+".")
	}
	if len(double) > 0 {
		out = append(out, "Two seats, or a bend taken away, keep product apart at "+t.names(double)+".")
	}
	if len(rest) > 0 {
		out = append(out, "Liquid stands at "+plural(len(rest), "other shut valve")+": "+t.names(rest)+".")
	}
	return out
}
