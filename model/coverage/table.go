package coverage

import (
	"rinsewright/model"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// State is what something gets of a medium, from good to bad.
type State int

const (
	None     State = iota // nothing is promised
	Swept                 // at speed
	Unknown               // flow passes at a velocity that is not known
	Slow                  // flow passes below the least velocity
	Standing              // liquid reaches it and no flow passes
	Missed                // liquid does not reach it
)

// States lists the states in their order.
func States() []State { return []State{None, Swept, Unknown, Slow, Standing, Missed} }

// String gives the state in words.
func (s State) String() string {
	return [...]string{"nothing promised", "swept", "velocity unknown", "too slow", "standing", "not reached"}[s]
}

// Class is a short name of the state for a drawing's colours.
func (s State) Class() string {
	return [...]string{"none", "swept", "unknown", "slow", "standing", "missed"}[s]
}

// Sort is what a row is about.
type Sort string

const (
	Stretch Sort = "stretch" // an edge: a stretch of a run, or a way through a part
	Seat    Sort = "seat"    // one side of a valve's seat
	Vessel  Sort = "vessel"
	Spray   Sort = "spray"
)

// Table is the coverage of a programme.
type Table struct {
	Programme string
	Media     []model.Medium // promised to anything, in the order of their steps
	Rows      []Row          // stretches in order of edge, then seats, vessels and spray devices in order of id
	Edges     []State        // by edge: the worst of its row; None for what is not concerned
	Totals    []Total        // one a state that occurs, without None, in order
	Left      []Left         // cleaning steps that were left out
}

// Row is what one thing gets.
type Row struct {
	Sort     Sort
	At       model.Place
	Edge     int        // of a stretch, else -1
	Objects  []model.ID // for which it is washed, in order of id
	Approach bool       // lies between a tank and the line in common: promised only what flows there
	Cells    []Cell     // one a medium promised, in the order of Table.Media
	Worst    State
	Length   Opt[Length] // of a stretch
}

// Cell is what it gets of one medium, in the best step.
type Cell struct {
	Medium   model.Medium
	State    State
	Step     model.ID      // in which; empty where it is missed
	Velocity Opt[Velocity] // of a stretch in that step
}

// Total counts the rows whose worst state is one.
type Total struct {
	State  State
	Rows   int
	Length Length // of the stretches among them, as far as known
}

// Left is a cleaning step that could not be counted.
type Left struct {
	Step model.ID
	Why  string
}

// Options are what the states depend on.
type Options struct {
	Least Velocity // least mean velocity of a swept stretch, m/s

	// Velocity gives the mean velocity in an edge in a step, m/s, and whether it is
	// known; nil for the step's flow where the whole flow passes
	// ([network.Plant.Velocity]).
	Velocity func(step *model.Step, edge int) (Velocity, bool)
}

// Worst gives the rows in a state or a worse one.
func (t *Table) Worst(than State) []Row {
	var out []Row
	for _, r := range t.Rows {
		if r.Worst >= than {
			out = append(out, r)
		}
	}
	return out
}

// Columns are the headings of [Table.Records].
func (t *Table) Columns() []string {
	out := []string{"What", "Place", "Washed for", "Worst"}
	for _, m := range t.Media {
		out = append(out, string(m))
	}
	return out
}

// Records gives the rows as a table under [Table.Columns]: a state a medium, with
// the velocity in m/s where it is known; empty where a medium is not promised.
func (t *Table) Records(p *network.Plant) [][]string {
	out := make([][]string, 0, len(t.Rows))
	for i := range t.Rows {
		r := &t.Rows[i]
		rec := []string{string(r.Sort), placeName(p, r.At), "", r.Worst.String()}
		for k, id := range r.Objects {
			if k > 0 {
				rec[2] += ", "
			}
			rec[2] += name(p, id)
		}
		for _, m := range t.Media {
			text := ""
			for _, c := range r.Cells {
				if c.Medium == m {
					text = c.State.String()
					if v, known := c.Velocity.Get(); known {
						text += " " + Number(float64(int(float64(v)*100+0.5))/100)
					}
				}
			}
			rec = append(rec, text)
		}
		out = append(out, rec)
	}
	return out
}

func placeName(p *network.Plant, at model.Place) string {
	text := name(p, at.Element)
	if at.Port != "" {
		text += " " + at.Port
	}
	if at.First > 0 {
		text += " stretch " + Number(float64(at.First))
	}
	return text
}

// name gives the tag of a part or run, else its id.
func name(p *network.Plant, id model.ID) string {
	if part := p.Circuit.Part(id); part != nil && part.Meta().Tag != "" {
		return part.Meta().Tag
	}
	if r := p.Circuit.Run(id); r != nil && r.Tag != "" {
		return r.Tag
	}
	return string(id)
}
