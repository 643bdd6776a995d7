package edit

import (
	"fmt"
	"reflect"
	"testing"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// difference tells the first thing in which two circuits differ; empty if none.
func difference(a, b *model.Circuit) string {
	if !reflect.DeepEqual(a.Header(), b.Header()) {
		return "header"
	}
	if len(a.Parts()) != len(b.Parts()) || len(a.Runs()) != len(b.Runs()) || len(a.Steps()) != len(b.Steps()) {
		return fmt.Sprintf("%d parts, %d runs, %d steps against %d, %d, %d", len(a.Parts()), len(a.Runs()), len(a.Steps()),
			len(b.Parts()), len(b.Runs()), len(b.Steps()))
	}
	for i := range a.Parts() {
		if !reflect.DeepEqual(a.Parts()[i], b.Parts()[i]) {
			return fmt.Sprintf("part %+v against %+v", a.Parts()[i], b.Parts()[i])
		}
	}
	for i := range a.Runs() {
		if !reflect.DeepEqual(a.Runs()[i], b.Runs()[i]) {
			return fmt.Sprintf("run %+v against %+v", a.Runs()[i], b.Runs()[i])
		}
	}
	for i := range a.Steps() {
		if !reflect.DeepEqual(a.Steps()[i], b.Steps()[i]) {
			return fmt.Sprintf("step %+v against %+v", a.Steps()[i], b.Steps()[i])
		}
	}
	return ""
}

// sound checks what must hold of every circuit that the editor makes: no end and
// no step names what is not there, no port has two runs, no tag stands twice.
func sound(t testing.TB, c *model.Circuit, cat *catalogue.Catalogue) {
	t.Helper()
	type port struct {
		part model.ID
		name string
	}
	used := map[port]bool{}
	for _, r := range c.Runs() {
		for _, e := range []model.End{r.From, r.To} {
			if e.Loose() {
				if e.At == nil {
					t.Errorf("a loose end of run %s has no place", r.ID)
				}
				continue
			}
			p := c.Part(e.Part)
			if p == nil {
				t.Errorf("run %s ends on part %s, which is not there", r.ID, e.Part)
				continue
			}
			if !hasPort(cat.Kind(p.Meta().Kind), e.Port) {
				t.Errorf("run %s ends on port %s, which a %s does not have", r.ID, e.Port, p.Meta().Kind)
			}
			if used[port{e.Part, e.Port}] {
				t.Errorf("port %s of %s has two runs", e.Port, e.Part)
			}
			used[port{e.Part, e.Port}] = true
		}
	}
	tags := map[string]bool{}
	for _, p := range c.Parts() {
		if tag := p.Meta().Tag; tag != "" {
			if tags[tag] {
				t.Errorf("tag %s stands twice", tag)
			}
			tags[tag] = true
		}
	}
	for _, s := range c.Steps() {
		refs := append(append([]model.ID{s.Source, s.Destination}, s.Cleans...), s.Running...)
		for id := range s.Positions {
			refs = append(refs, id)
		}
		for _, id := range refs {
			if id != "" && c.Part(id) == nil {
				t.Errorf("step %s names part %s, which is not there", s.ID, id)
			}
		}
	}
}
