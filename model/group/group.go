package group

import (
	"fmt"
	"slices"
	"strings"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// Group is a fragment of a circuit.
type Group struct {
	Name    string // lower case, digits and dashes
	Title   string
	Heading string
	Words   []string
	Help    string
	Free    []End
	Circuit *model.Circuit // its parts and runs; nothing else counts

	Own bool // the user's, not one that the program carries
}

// End is a port that is to be joined where the group is placed.
type End struct {
	Part  model.ID `json:"part"`
	Port  string   `json:"port"`
	Title string   `json:"title"` // what it leads to or comes from
}

// OwnHeading is what the user's own groups stand under.
const OwnHeading = "Own groups"

// Of makes a group of the user's of parts and runs, which it copies. Runs to a
// part that is not among them are left out, and their ports become free ends. The
// error tells of a title that is empty, of no parts, and of two records with one id.
func Of(title string, parts []model.Part, runs []*model.Run, cat *catalogue.Catalogue) (*Group, error) {
	title = strings.Join(strings.Fields(title), " ")
	g := &Group{Name: NameOf(title), Title: title, Heading: OwnHeading, Own: true}
	among := map[model.ID]bool{}
	var copied model.Records
	for _, p := range parts {
		among[p.RecordID()] = true
		copied.Parts = append(copied.Parts, model.Clone(p))
	}
	has := func(e model.End) bool { return e.Loose() || among[e.Part] }
	for _, r := range runs {
		if has(r.From) && has(r.To) {
			copied.Runs = append(copied.Runs, model.Clone(r))
		}
	}
	copied.Header = &model.Header{Name: title}
	c, err := copied.Circuit()
	if err != nil {
		return nil, err
	}
	g.Circuit = c
	g.Free = g.freeEnds(runs, cat)
	return g, g.Check(cat)
}

// freeEnds gives the ports that nothing in the group is joined to and that must
// be joined, or that one of the runs beside it was joined to.
func (g *Group) freeEnds(beside []*model.Run, cat *catalogue.Catalogue) []End {
	joined := g.joined()
	left := map[model.End]bool{}
	for _, r := range beside {
		left[model.End{Part: r.From.Part, Port: r.From.Port}] = true
		left[model.End{Part: r.To.Part, Port: r.To.Port}] = true
	}
	var out []End
	for _, p := range g.Circuit.Parts() {
		k := cat.Kind(p.Meta().Kind)
		if k == nil {
			continue
		}
		for _, port := range k.Ports {
			e := model.End{Part: p.RecordID(), Port: port.Name}
			if joined[e] == 0 && (port.Required || left[e]) {
				out = append(out, End{e.Part, e.Port, strings.TrimSpace(p.Meta().Tag + " " + portTitle(port))})
			}
		}
	}
	return out
}

func portTitle(p catalogue.Port) string {
	if p.Title != "" {
		return p.Title
	}
	return "port " + p.Name
}

// joined counts the runs of the group by the port that they end on.
func (g *Group) joined() map[model.End]int {
	out := map[model.End]int{}
	for _, r := range g.Circuit.Runs() {
		for _, e := range []model.End{r.From, r.To} {
			if !e.Loose() {
				out[model.End{Part: e.Part, Port: e.Port}]++
			}
		}
	}
	return out
}

// With gives the group with other records in the place of those of the same id. The
// error tells of an id that the group does not have.
func (g *Group) With(records ...model.Record) (*Group, error) {
	e := model.Edit{Label: g.Title}
	for _, r := range records {
		before := g.Circuit.Record(r.RecordID())
		if before == nil {
			return nil, fmt.Errorf("group %s: there is no record %s", g.Name, r.RecordID())
		}
		e.Changes = append(e.Changes, model.Replacing(before, r))
	}
	c, err := g.Circuit.Apply(e)
	if err != nil {
		return nil, err
	}
	next := *g
	next.Circuit = c
	return &next, nil
}

// FreeEnd gives the free end of a title; false if there is none.
func (g *Group) FreeEnd(title string) (End, bool) {
	i := slices.IndexFunc(g.Free, func(e End) bool { return e.Title == title })
	if i < 0 {
		return End{}, false
	}
	return g.Free[i], true
}

// NameOf gives the name of a group of a title: lower case letters and digits, other
// characters as dashes. A title without either gives "group".
func NameOf(title string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(title) {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	name := strings.Trim(b.String(), "-")
	if len(name) > 60 {
		name = strings.Trim(name[:60], "-")
	}
	if name == "" {
		return "group"
	}
	return name
}
