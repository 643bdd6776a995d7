package model

import (
	"cmp"
	"fmt"
	"strings"
)

// Place says where in a circuit something is: a whole record, a port or inner
// point of a part, some stretches of a run, or one property of a record. It is
// never a place on the drawing, so that it outlives any move of symbols. The
// zero Place is no place. Places can be compared with ==.
type Place struct {
	Element ID     `json:"element"`
	Port    string `json:"port,omitempty"`  // port or inner point of a part
	First   int    `json:"first,omitempty"` // first stretch of a run, counted from 1; 0: the whole run
	Last    int    `json:"last,omitempty"`  // last stretch of a run, not before First
	Key     string `json:"key,omitempty"`   // property, by its key in the circuit file
}

// PlaceOf is the whole of a record.
func PlaceOf(id ID) Place { return Place{Element: id} }

// PlaceOfPort is a port or inner point of a part.
func PlaceOfPort(part ID, port string) Place { return Place{Element: part, Port: port} }

// PlaceOfStretch is one stretch of a run, given by its index in
// [Run.Stretches].
func PlaceOfStretch(run ID, index int) Place {
	return Place{Element: run, First: index + 1, Last: index + 1}
}

// String writes the place in a form that stays the same over the life of its
// records: "p1", "p1:branch", "r2[3]", "r2[3-5]", "p1.size".
func (p Place) String() string {
	var b strings.Builder
	b.WriteString(string(p.Element))
	if p.Port != "" {
		b.WriteString(":" + p.Port)
	}
	switch {
	case p.First > 0 && p.Last > p.First:
		fmt.Fprintf(&b, "[%d-%d]", p.First, p.Last)
	case p.First > 0:
		fmt.Fprintf(&b, "[%d]", p.First)
	}
	if p.Key != "" {
		b.WriteString("." + p.Key)
	}
	return b.String()
}

// ComparePlace orders places by element, port, stretch and property.
func ComparePlace(a, b Place) int {
	return cmp.Or(cmp.Compare(a.Element, b.Element), cmp.Compare(a.Port, b.Port), cmp.Compare(a.First, b.First),
		cmp.Compare(a.Last, b.Last), cmp.Compare(a.Key, b.Key))
}
