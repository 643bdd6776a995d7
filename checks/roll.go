package checks

import (
	"rinsewright/model"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
)

// roll is the circuit sorted for the rules, so that none has to look through all
// parts for the few it is about.
type roll struct {
	byTrait    map[string][]model.Part // in order of id
	byClass    map[model.Class][]model.Part
	partOfNode []model.Part // nil for joints and loose ends
	partOfEdge []model.Part // nil for stretches
	runs       []runEdge    // in order of id
	ends       []int32      // by node: run ends that meet there
}

// runEdge is a run with the first of its edges. What flows in one flows in all.
type runEdge struct {
	*model.Run
	first int
	face  bool // joins two parts without any tube
}

var rollOf = NewFact("roll", func(s *Snapshot) *roll {
	plant := Plant.Of(s)
	out := &roll{byTrait: map[string][]model.Part{}, byClass: map[model.Class][]model.Part{},
		partOfNode: make([]model.Part, len(plant.Nodes)), partOfEdge: make([]model.Part, len(plant.Edges))}
	for _, part := range s.Circuit.Parts() {
		out.byClass[part.Class()] = append(out.byClass[part.Class()], part)
		if k := s.Kind(part); k != nil {
			for _, t := range k.Traits {
				out.byTrait[t] = append(out.byTrait[t], part)
			}
		}
	}
	for n := range plant.Nodes {
		out.partOfNode[n] = plant.PartOfNode(n)
	}
	out.runs = make([]runEdge, 0, len(s.Circuit.Runs()))
	out.ends = make([]int32, len(plant.Nodes))
	for e := range plant.Edges {
		edge := &plant.Edges[e]
		out.partOfEdge[e] = plant.PartOfEdge(e)
		r := plant.RunOfEdge(e)
		if r == nil {
			continue
		}
		if edge.Stretch == 0 {
			out.runs = append(out.runs, runEdge{r, e, r.Length() == quantity.Some(quantity.Length(0))})
			out.ends[edge.From]++
		}
		if edge.Stretch >= len(r.Stretches)-1 {
			out.ends[edge.To]++
		}
	}
	return out
})

// ofTrait gives the parts whose kind has a trait, in order of id.
func (s *Snapshot) ofTrait(trait string) []model.Part { return rollOf.Of(s).byTrait[trait] }

// ofClass gives the parts of a class, in order of id.
func (s *Snapshot) ofClass(class model.Class) []model.Part { return rollOf.Of(s).byClass[class] }

// runEdges gives the runs with their first edges, in order of id.
func (s *Snapshot) runEdges() []runEdge { return rollOf.Of(s).runs }

// partOfNode gives the part that a node belongs to, or nil.
func (s *Snapshot) partOfNode(node int) model.Part { return rollOf.Of(s).partOfNode[node] }

// partOfEdge gives the part that an edge is a path of, or nil.
func (s *Snapshot) partOfEdge(edge int) model.Part { return rollOf.Of(s).partOfEdge[edge] }

// passes says whether any edge of a part is in a set.
func passes(plant *network.Plant, part model.ID, in []bool) bool {
	for _, e := range plant.PartEdges(part) {
		if in[e] {
			return true
		}
	}
	return false
}
