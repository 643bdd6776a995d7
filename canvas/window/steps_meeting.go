package window

import (
	"context"
	"slices"
	"time"

	"fyne.io/fyne/v2"

	"rinsewright/model"
	"rinsewright/model/lineup"
	"rinsewright/model/network"
)

// meetings tells of each step shown in the grid which supplies of different media
// meet in it and why it has no route. It is worked out beside the user.
type meetings struct {
	on    *Window
	work  *besideWork
	of    *model.Circuit // that it was worked out for
	which programmeChoice
	steps map[model.ID][]gripe
	open  map[model.ID]map[model.ID]bool // valves by step through which supplies meet
}

// gripe is one thing that is wrong with a step, the worst first.
type gripe struct {
	text string
	sign fyne.Resource
}

func newMeetings(on *Window) *meetings { return &meetings{on: on, work: &besideWork{on: on}} }

// settleGrid is how long the hand must rest before the grid is gone through.
const settleGrid = 60 * time.Millisecond

// want asks for what belongs to the steps in the grid now.
func (m *meetings) want() {
	p := m.on.steps
	if p == nil || m.of == m.on.circuit() && m.which == p.choice {
		return
	}
	c, which, plant := m.on.circuit(), p.choice, m.on.lines.plant
	m.of, m.which = c, which
	programmes := byProgramme(which.steps(c))
	if len(programmes) == 0 {
		m.work.stop()
		m.steps, m.open = nil, nil
		return
	}
	m.work.begin("look through the steps", settleGrid, func(ctx context.Context) func() {
		steps, open := lookThrough(ctx, plant, programmes)
		return func() {
			m.steps, m.open = steps, open
			p.table.Refresh()
			p.foot.refresh()
			m.on.events.tell("grid", map[string]any{"remarks": len(steps)})
		}
	})
}

// byProgramme parts steps, which are in order, into their programmes.
func byProgramme(steps []*model.Step) [][]*model.Step {
	var out [][]*model.Step
	for i, s := range steps {
		if i == 0 || steps[i-1].Programme != s.Programme {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], s)
	}
	return out
}

// lookThrough gives what is wrong with the steps of programmes.
func lookThrough(ctx context.Context, plant *network.Plant, programmes [][]*model.Step) (map[model.ID][]gripe, map[model.ID]map[model.ID]bool) {
	steps, open := map[model.ID][]gripe{}, map[model.ID]map[model.ID]bool{}
	for _, list := range programmes {
		var later []lineup.Conflict
		for _, k := range lineup.SwitchingList(plant, list).Conflicts {
			if k.While {
				later = append(later, k)
				continue
			}
			id := k.Step.ID
			steps[id] = append(steps[id], gripe{k.Text(plant) + ".", iconStop})
			if open[id] == nil {
				open[id] = map[model.ID]bool{}
			}
			for _, v := range k.Valves {
				open[id][v] = true
			}
		}
		for _, s := range list {
			if ctx.Err() != nil {
				return nil, nil
			}
			l := &shownLineUp{circuit: plant.Circuit, step: s, plant: plant, route: plant.Route(plant.LineUp(s))}
			if _, full, _ := l.trouble(); full != "" {
				steps[s.ID] = append(steps[s.ID], gripe{full + ".", iconFix})
			}
		}
		for _, k := range later {
			steps[k.Step.ID] = append(steps[k.Step.ID], gripe{"In this order: " + k.Text(plant) + ".", iconNote})
		}
	}
	return steps, open
}

// through says whether supplies meet through a valve in a step.
func (m *meetings) through(step, valve model.ID) bool { return m.open[step][valve] }

// gripes tells what is wrong with a step, the worst first.
func (m *meetings) gripes(step model.ID) []gripe { return m.steps[step] }

// sign gives the sign of the worst that is wrong with a step; nil for nothing. That
// the order of switching counts is no fault of the step.
func (m *meetings) sign(step model.ID) fyne.Resource {
	all := m.steps[step]
	if i := slices.IndexFunc(all, func(g gripe) bool { return g.sign != iconNote }); i >= 0 {
		return all[i].sign
	}
	return nil
}
