package window

import (
	"encoding/csv"
	"fmt"
	"io"
	"strings"

	"rinsewright/canvas/edit"
	"rinsewright/checks/listing"
	"rinsewright/model"
	"rinsewright/model/lineup"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

// switchingList is what has to be done from step to step of one programme, in the
// words of an operator.
type switchingList struct {
	programme string
	steps     []switchingStep
}

type switchingStep struct {
	number  int
	name    string
	what    string // is sent, whence and whither; empty if nothing is told
	ends    string // the step; empty if nothing is told
	acts    []switchingAct
	caution []string
}

// switchingAct is one thing to do. From and to are positions of a valve in words.
type switchingAct struct {
	verb, tag, from, to string
	byHand              bool
}

// switchingOf makes the list of a programme. Its first step begins with every valve in
// its normal position and no pump running.
func switchingOf(plant *network.Plant, d *edit.Drawing, name func(model.ID) string, units quantity.System, programme string) switchingList {
	out := switchingList{programme: programme}
	list := lineup.SwitchingList(plant, d.StepsOf(programme))
	for i, c := range list.Changes {
		s := switchingStep{number: i + 1, name: stepName(c.Step), what: sends(c.Step, name, units), ends: endsWords(c.Step, units)}
		for _, id := range c.Stops {
			s.acts = append(s.acts, switchingAct{verb: "stop", tag: name(id)})
		}
		for _, m := range c.Moves {
			words := plainWords
			if v, ok := d.Circuit().Part(m.Valve).(*model.Valve); ok {
				words = func(at string) string { return d.PositionWords(v, at) }
			}
			s.acts = append(s.acts, switchingAct{switchingVerb(m), name(m.Valve), words(m.From), words(m.To), m.ByHand})
		}
		for _, id := range c.Starts {
			s.acts = append(s.acts, switchingAct{verb: "start", tag: name(id)})
		}
		for _, k := range list.Conflicts {
			if k.Step == c.Step {
				s.caution = append(s.caution, k.Text(plant))
			}
		}
		out.steps = append(out.steps, s)
	}
	return out
}

// switchingVerb is what is done to a valve: its position says the rest.
func switchingVerb(m lineup.Move) string {
	switch m.To {
	case "open":
		return "open"
	case "closed":
		return "shut"
	case "joined":
		return "join"
	case "away":
		return "take away"
	}
	return "set"
}

// sends tells in words what a step sends from where to where.
func sends(s *model.Step, name func(model.ID) string, units quantity.System) string {
	var parts []string
	if m, ok := s.Medium.Get(); ok {
		parts = append(parts, plainWords(string(m)))
	}
	if x, ok := s.Strength.Get(); ok {
		parts = append(parts, quantity.Text(x, units))
	}
	if t, ok := s.Temperature.Get(); ok {
		parts = append(parts, quantity.Text(t, units))
	}
	if q, ok := s.Flow.Get(); ok {
		parts = append(parts, quantity.Text(q, units))
	}
	text := strings.Join(parts, ", ")
	if s.Source != "" {
		text += " from " + name(s.Source)
	}
	if s.Destination != "" {
		text += " to " + name(s.Destination)
	}
	return strings.TrimSpace(text)
}

// endsWords tells in words what ends a step.
func endsWords(s *model.Step, units quantity.System) string {
	var parts []string
	if t, ok := s.Time.Get(); ok {
		text := quantity.Text(t, units)
		if from, ok := s.TimerFrom.Get(); ok && from != model.TimerStart {
			text += " from " + plainWords(string(from))
		}
		parts = append(parts, text)
	}
	if x, ok := s.EndConductivity.Get(); ok {
		parts = append(parts, "return conductivity "+quantity.Text(x, units))
	}
	if x, ok := s.EndTemperature.Get(); ok {
		parts = append(parts, "return at "+quantity.Text(x, units))
	}
	if x, ok := s.EndVolume.Get(); ok {
		parts = append(parts, quantity.Text(x, units)+" sent")
	}
	if s.EndsOn != "" {
		parts = append(parts, s.EndsOn)
	}
	text := strings.Join(parts, " and ")
	if x, ok := s.Longest.Get(); ok {
		text = strings.TrimPrefix(text+"; at the longest "+quantity.Text(x, units), "; ")
	}
	return text
}

// words tells an act: "shut V-101, by hand", "set V-232: to T-102 (was: to SW-103)".
func (a switchingAct) words() string {
	text := a.verb + " " + a.tag
	if a.verb == "set" {
		text += ": " + a.to + " (was: " + a.from + ")"
	}
	if a.byHand {
		text += ", by hand"
	}
	return text
}

// text writes the list for reading and copying.
func (l *switchingList) text(c *model.Circuit) string {
	var b strings.Builder
	fmt.Fprintf(&b, "Switching list: %s\n%s\n%s\n", l.title(), c.Header().Name, switchingBegins)
	for _, s := range l.steps {
		fmt.Fprintf(&b, "\n%d  %s\n", s.number, s.name)
		if s.what != "" {
			fmt.Fprintf(&b, "   %s\n", sentence(s.what))
		}
		if s.ends != "" {
			fmt.Fprintf(&b, "   Ends: %s\n", s.ends)
		}
		for _, k := range s.caution {
			fmt.Fprintf(&b, "   CAUTION: %s\n", k)
		}
		for _, a := range s.acts {
			fmt.Fprintf(&b, "   [ ] %s\n", a.words())
		}
		if len(s.acts) == 0 {
			b.WriteString("   nothing changes\n")
		}
	}
	return b.String()
}

func (l *switchingList) title() string {
	if l.programme == "" {
		return "programme without a name"
	}
	return l.programme
}

const switchingBegins = "Begins with every valve in its normal position and all pumps stopped. Within a step: from the top down."

// switchingCaution stands on everything that is handed on.
const switchingCaution = "Computed from the drawing, not checked on site. Verify each position before use; follow site rules, lock-out and permit procedures, supplier data, local codes and licensed practice. Hot caustic, acid and steam burn; vessels can be under pressure or vacuum."

// writeSwitching writes lists as text, as separated values or as a page to print, by
// the ending of the file's name.
func writeSwitching(out io.Writer, kind string, c *model.Circuit, lists []switchingList) error {
	switch kind {
	case ".csv":
		return switchingCSV(out, lists)
	case ".html":
		return switchingPage(out, c, lists)
	}
	for i := range lists {
		if i > 0 {
			io.WriteString(out, "\n\n")
		}
		if _, err := io.WriteString(out, lists[i].text(c)); err != nil {
			return err
		}
	}
	_, err := io.WriteString(out, "\n"+switchingCaution+"\n")
	return err
}

// switchingColumns are the headings of the list as separated values.
var switchingColumns = []string{"Programme", "Number", "Step", "Action", "Tag", "From", "To", "By hand"}

func switchingCSV(out io.Writer, lists []switchingList) error {
	w := csv.NewWriter(out)
	w.Write(switchingColumns) // an error stays until Flush
	for _, l := range lists {
		for _, s := range l.steps {
			row := func(verb, tag, from, to, hand string) {
				w.Write(listing.Plain([]string{l.programme, fmt.Sprint(s.number), s.name, verb, tag, from, to, hand}))
			}
			for _, k := range s.caution {
				row("caution", "", "", k, "")
			}
			for _, a := range s.acts {
				hand := ""
				if a.byHand {
					hand = "yes"
				}
				row(a.verb, a.tag, a.from, a.to, hand)
			}
		}
	}
	w.Flush()
	return w.Error()
}
