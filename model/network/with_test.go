package network

import (
	"testing"

	"rinsewright/model"
)

// The plant of a circuit in which only a tag differs shares all and knows the new tag.
func TestPlantWith(t *testing.T) {
	s := newSketch(t)
	s.part("V", "butterfly-valve", `"elevation_m":1`)
	p := s.plant()
	after := model.Clone(p.Circuit.Part("V"))
	after.Meta().Tag = "V-9"
	c, err := p.Circuit.Apply(model.Edit{Changes: []model.Change{model.Replacing(p.Circuit.Part("V"), after)}})
	if err != nil {
		t.Fatal(err)
	}
	q := p.With(c)
	if q.PartOfNode(0).Meta().Tag != "V-9" || p.PartOfNode(0).Meta().Tag == "V-9" || &q.Edges[0] != &p.Edges[0] || q.PartOfEdge(0) != q.PartOfNode(0) || q.RunOfEdge(0) != nil {
		t.Errorf("%+v", q.PartOfNode(0))
	}
}
