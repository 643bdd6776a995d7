package flow

import (
	"cmp"
	"slices"
	"strings"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/hydraulic"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// work is one solve in the making; once done it serves the design questions.
type work struct {
	p     *network.Plant
	h     *network.Heights
	step  *model.Step
	opt   Options
	route *network.Route
	sol   *Solution

	fluid  hydraulic.Fluid
	vapour Pressure // absolute

	assumed map[assumed]struct{}
	running map[model.ID]bool // of the step's pumps
	order   []int32           // by edge: place on the way from the source, -1 beside it
	lone    map[int]bool      // valve edges that get a link of their own

	live     []bool // by edge: may carry flow
	ends     map[int]*end
	inlets   map[int]int // by edge into a vessel: the node that stands for its mouth
	mouths   []mouth     // of the nodes beyond those of the plant
	sections []*section
	inflow   map[model.ID]Opt[Flow] // of the vessels on the way
	through  map[model.ID]bool      // vessels on the way
	sprayed  map[int]model.ID       // by edge of a spray device: its vessel
}

// end is a node whose head is known, or that a vessel feeds.
type end struct {
	node    int
	kind    endKind
	record  model.ID
	level   float64 // m, of the liquid or the open mouth
	gas     Pressure
	missing []network.Missing
	broken  bool // a told number cannot be
}

type endKind uint8

const (
	endFixed  endKind = iota // an open mouth, a tank, a supply: what flows there follows
	endSource                // the source of the step
	endDraw                  // outlet of a vessel on the way: it gives what comes into the vessel
)

// mouth is where an inlet ends above the liquid of a vessel.
type mouth struct {
	end
	edge   int
	vessel model.ID
	inside int // node
}

func (w *work) fail(at model.Place, format string, a ...any) {
	w.sol.Failures = append(w.sol.Failures, Fail(Say(format, a...), at))
}

// z gives the elevation of a node and what would give it one.
func (w *work) z(n int) (float64, []network.Missing) {
	if z, known := w.h.Of[n].Get(); known {
		return float64(z), nil
	}
	if id := w.p.Nodes[n].Part; id != "" {
		if part := w.p.Circuit.Part(id); part != nil && !part.Meta().Elevation.Known() {
			return 0, []network.Missing{{Record: id, Key: "elevation_m"}}
		}
	}
	return 0, []network.Missing{w.h.Underived[w.h.Group[n]]}
}

func (w *work) isVessel(n int) bool { return w.p.Nodes[n].Role == catalogue.RoleVessel }

func isDraw(n network.Node) bool {
	return n.Point == network.Draw || strings.HasSuffix(n.Point, " "+network.Draw)
}

// name gives the tag of a record, else its id.
func (w *work) name(id model.ID) string {
	switch r := w.p.Circuit.Record(id).(type) {
	case model.Part:
		if r.Meta().Tag != "" {
			return r.Meta().Tag
		}
	case *model.Run:
		if r.Tag != "" {
			return r.Tag
		}
	}
	return string(id)
}

// label tells a missing property in words: "rated flow of P-101".
func (w *work) label(m network.Missing) string {
	what := m.Key
	if part := w.p.Circuit.Part(m.Record); part != nil {
		if kind := w.p.Catalogue.Kind(part.Meta().Kind); kind != nil {
			if p, ok := kind.Property(m.Key); ok && p.Label != "" {
				what = p.Label
			}
		}
	}
	what = strings.ReplaceAll(strings.ToLower(what[:1])+what[1:], "_", " ")
	return what + " of " + w.name(m.Record)
}

func compareMissing(a, b network.Missing) int {
	return cmp.Or(cmp.Compare(a.Record, b.Record), cmp.Compare(a.Key, b.Key))
}

// sortMissing brings the missing properties in order, each once.
func sortMissing(list []network.Missing) []network.Missing {
	slices.SortFunc(list, compareMissing)
	return slices.Compact(list)
}
