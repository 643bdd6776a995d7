package group

import (
	"errors"
	"fmt"
	"regexp"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

var named = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

// Check tells all that keeps a group from being placed: kinds that the catalogue
// does not have, ports that do not exist or are joined twice, tags that stand twice,
// and free ends that are not told or not free. Nil for none.
func (g *Group) Check(cat *catalogue.Catalogue) error {
	var wrong []error
	say := func(format string, args ...any) {
		wrong = append(wrong, fmt.Errorf("group %s: "+format, append([]any{g.Name}, args...)...))
	}
	if !named.MatchString(g.Name) {
		say("the name must be of small letters, digits and single dashes")
	}
	if g.Title == "" || g.Heading == "" {
		say("title and heading must be given")
	}
	if len(g.Circuit.Parts()) == 0 {
		say("there is no part in it")
	}
	tags := map[string]bool{}
	take := func(tag string) {
		if tag != "" && tags[tag] {
			say("the tag %s stands twice", tag)
		}
		tags[tag] = true
	}
	for _, p := range g.Circuit.Parts() {
		m := p.Meta()
		take(m.Tag)
		if k := cat.Kind(m.Kind); k == nil {
			say("%s: the catalogue has no kind %q", m.ID, m.Kind)
		} else if k.Class != p.Class() {
			say("%s: a %s is of class %s, not %s", m.ID, m.Kind, k.Class, p.Class())
		}
	}
	for _, r := range g.Circuit.Runs() {
		take(r.Tag)
		for _, e := range []model.End{r.From, r.To} {
			switch {
			case !e.Loose():
				if err := g.port(cat, e.Part, e.Port); err != nil {
					say("run %s: %w", r.ID, err)
				}
			case e.At == nil:
				say("run %s: an end hangs free and has no place", r.ID)
			}
		}
	}
	g.checkEnds(cat, say)
	return errors.Join(wrong...)
}

func (g *Group) checkEnds(cat *catalogue.Catalogue, say func(string, ...any)) {
	joined := g.joined()
	free := map[model.End]bool{}
	for _, f := range g.Free {
		e := model.End{Part: f.Part, Port: f.Port}
		switch err := g.port(cat, f.Part, f.Port); {
		case err != nil:
			say("free end: %w", err)
		case joined[e] > 0:
			say("free end: %s:%s is joined", f.Part, f.Port)
		case free[e]:
			say("free end: %s:%s stands twice", f.Part, f.Port)
		case f.Title == "":
			say("free end: %s:%s has no title", f.Part, f.Port)
		}
		free[e] = true
	}
	for _, p := range g.Circuit.Parts() {
		k := cat.Kind(p.Meta().Kind)
		if k == nil {
			continue
		}
		for _, port := range k.Ports {
			e := model.End{Part: p.RecordID(), Port: port.Name}
			switch {
			case joined[e] > 1:
				say("%s:%s is joined to %d runs", e.Part, e.Port, joined[e])
			case port.Required && joined[e] == 0 && !free[e]:
				say("%s:%s must be joined, or stand among the free ends", e.Part, e.Port)
			}
		}
	}
}

// port tells whether the group has a part with a port.
func (g *Group) port(cat *catalogue.Catalogue, id model.ID, name string) error {
	p := g.Circuit.Part(id)
	if p == nil {
		return fmt.Errorf("there is no part %s", id)
	}
	if k := cat.Kind(p.Meta().Kind); k != nil {
		if _, ok := k.Port(name); !ok {
			return fmt.Errorf("%s has no port %q", id, name)
		}
	}
	return nil
}
