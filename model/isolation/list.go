package isolation

import (
	"slices"
	"strconv"
	"strings"

	"rinsewright/model"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// Columns are the headings of [Plan.Rows].
var Columns = []string{"No.", "Action", "Tag", "Position", "What to do", "Caution", "Done by", "Checked by"}

// Rows gives the order of work, and how it is put back, as a table under Columns;
// the last two columns are to be signed by hand.
func (pl *Plan) Rows(p *network.Plant, s System) [][]string {
	var out [][]string
	for _, a := range slices.Concat(pl.Order, pl.Back) {
		tag := ""
		if a.Part != "" {
			tag = nameOf(p, a.Part)
		}
		out = append(out, []string{strconv.Itoa(len(out) + 1), string(a.Deed), tag, a.Position, a.Text.In(s), a.Caution.In(s), "", ""})
	}
	return out
}

// Lines tells a plan as text: what is shut, what is inside, the order of work, what
// cannot run meanwhile, how to put back; the caution last.
func (pl *Plan) Lines(p *network.Plant, s System) []string {
	if !pl.Found {
		return []string{"No plan: " + pl.Why + ".", Caution}
	}
	var out []string
	say := func(text string) { out = append(out, text) }
	name := func(id model.ID) string { return nameOf(p, id) }
	for _, b := range pl.Barriers {
		say("shut " + name(b.Valve) + " (" + b.Position + ")" + holding(b))
	}
	for _, b := range pl.Second {
		say("second, with a bleed between: " + name(b.Valve) + " (" + b.Position + ")" + holding(b))
	}
	out = append(out, pl.Warnings(p)...)
	out = append(out, pl.Holding(p, s)...)
	say("order of work:")
	number := func(list []Action) {
		for i, a := range list {
			line := "  " + strconv.Itoa(i+1) + ". " + a.Text.In(s)
			if !a.Caution.Empty() {
				line += " " + a.Caution.In(s)
			}
			say(line)
		}
	}
	number(pl.Order)
	out = append(out, pl.Meanwhile(p)...)
	say("to put back:")
	number(pl.Back)
	if len(pl.Missing) > 0 {
		say("not told: " + missing(p, pl.Missing))
	}
	say(Caution)
	return out
}

// Warnings tells what a plan leaves open: single barriers where two are wanted, what
// no valve shuts off, vapour that reaches the work.
func (pl *Plan) Warnings(p *network.Plant) []string {
	var out []string
	say := func(text string) { out = append(out, text) }
	name := func(id model.ID) string { return nameOf(p, id) }
	list := func(ids []model.ID) string {
		var names []string
		for _, id := range ids {
			names = append(names, name(id))
		}
		return strings.Join(names, ", ")
	}
	for _, u := range pl.Unmet {
		say("CAUTION: only " + name(u.Valve) + " holds off " + words(u.Medium) + ": " + u.Why)
	}
	if len(pl.Empty) > 0 {
		say("shut off by no valve on the drawing, must be empty or shut off elsewhere: " + list(pl.Empty))
	}
	if len(pl.Borders) > 0 {
		say("open into the gas space of " + list(pl.Borders) + ": its vapour reaches the work")
	}
	return out
}

// Holding tells what the zone holds, what may be in it after which step, and what
// stays behind when it is drained.
func (pl *Plan) Holding(p *network.Plant, s System) []string {
	var out []string
	say := func(text string) { out = append(out, text) }
	held := "holds " + Text(pl.Held, s)
	if len(pl.Unknown) > 0 {
		held += " at least; not told: " + missing(p, pl.Unknown)
	}
	say(held)
	for _, line := range pl.contents(p, s) {
		say(line)
	}
	for _, q := range pl.Stays {
		text := "does not run out: " + OptText(q.Volume, s)
		if q.NoDrain {
			text += ", no drain inside reaches it"
		}
		say(text + ", at " + nodeName(p, q.Lowest))
	}
	return out
}

// Meanwhile tells which steps cannot run while the plan stands, and which press on a
// barrier.
func (pl *Plan) Meanwhile(p *network.Plant) []string {
	var out, heads []string
	blocked := map[string][]string{}
	for _, b := range pl.Blocked {
		if blocked[b.Why] == nil {
			heads = append(heads, b.Why)
		}
		blocked[b.Why] = append(blocked[b.Why], stepName(p, b.Step))
	}
	for _, why := range heads {
		out = append(out, "cannot run, "+why+": "+strings.Join(blocked[why], ", "))
	}
	for _, id := range pl.Against {
		out = append(out, "can run, pressing on a barrier: "+stepName(p, id))
	}
	return out
}

// contents tells what may be inside, what is alike in one line.
func (pl *Plan) contents(p *network.Plant, s System) []string {
	var heads []string
	most, after := map[string]Volume{}, map[string][]string{}
	for _, c := range pl.Contents {
		text := words(c.Medium)
		if x, ok := c.Strength.Get(); ok {
			text += ", " + Text(x, s)
		}
		if x, ok := c.Temperature.Get(); ok {
			text += ", " + Text(x, s)
		}
		if after[text] == nil {
			heads = append(heads, text)
		}
		most[text] = max(most[text], c.Volume)
		after[text] = append(after[text], stepName(p, c.Step))
	}
	var out []string
	for _, text := range heads {
		out = append(out, "may hold up to "+Text(most[text], s)+" of "+text+", after "+strings.Join(after[text], ", "))
	}
	return out
}

func holding(b Barrier) string {
	var media []string
	for _, m := range b.Holds {
		media = append(media, words(m))
	}
	if len(media) == 0 {
		return ""
	}
	return ", holds off " + strings.Join(media, ", ")
}

func words(m model.Medium) string {
	if m == "" {
		return "something nobody named"
	}
	return strings.ReplaceAll(string(m), "-", " ")
}

func stepName(p *network.Plant, id model.ID) string {
	s := p.Circuit.Step(id)
	if s == nil {
		return string(id)
	}
	if s.Programme == "" {
		return s.Name
	}
	return s.Programme + "/" + s.Name
}

func nodeName(p *network.Plant, n int) string {
	if id := p.Nodes[n].Part; id != "" {
		return nameOf(p, id)
	}
	return nameOf(p, p.Nodes[n].Run)
}

func missing(p *network.Plant, list []network.Missing) string {
	var out []string
	for _, m := range list {
		out = append(out, nameOf(p, m.Record)+" "+keyWords(p, m))
	}
	return strings.Join(out, ", ")
}

// keyWords gives the label of a property of a part; of a run its key in words.
func keyWords(p *network.Plant, m network.Missing) string {
	if part := p.Circuit.Part(m.Record); part != nil {
		if k := p.Catalogue.Kind(part.Meta().Kind); k != nil {
			if info, ok := k.Property(m.Key); ok {
				return strings.ToLower(info.Label)
			}
		}
	}
	key, _, _ := strings.Cut(m.Key, "_")
	return key
}
