package checks

import (
	"cmp"
	"strings"

	"rinsewright/model"
	"rinsewright/model/catalogue"
)

// Kind gives the catalogue entry of a part, or nil.
func (s *Snapshot) Kind(p model.Part) *catalogue.Kind {
	if p == nil {
		return nil
	}
	return s.Catalogue.Kind(p.Meta().Kind)
}

// Has says whether a part's kind has a trait.
func (s *Snapshot) Has(p model.Part, trait string) bool {
	k := s.Kind(p)
	return k != nil && k.Has(trait)
}

// Name tells a reader which record an id is: its tag, or what it is and between
// what.
func (s *Snapshot) Name(id model.ID) string {
	switch r := s.Circuit.Record(id).(type) {
	case model.Part:
		if r.Meta().Tag != "" {
			return r.Meta().Tag
		}
		title := string(r.Class())
		if k := s.Kind(r); k != nil {
			title = strings.ToLower(k.Title)
		}
		return title + " " + string(id)
	case *model.Run:
		if r.Tag != "" {
			return r.Tag
		}
		return "run from " + s.endName(r.From) + " to " + s.endName(r.To)
	case *model.Step:
		if r.Name == "" {
			return "step " + string(id)
		}
		return "step " + r.Name
	case *model.Header:
		return "the circuit"
	}
	return string(id)
}

func (s *Snapshot) endName(e model.End) string {
	if e.Loose() {
		return "nowhere"
	}
	if s.Circuit.Part(e.Part) == nil {
		return string(e.Part)
	}
	return s.Name(e.Part)
}

// Where tells a place in words.
func (s *Snapshot) Where(p model.Place) string {
	out := s.Name(p.Element)
	if title := s.portTitle(p); title != "" {
		out += ", " + title
	}
	if p.First > 0 {
		if r := s.Circuit.Run(p.Element); r != nil && len(r.Stretches) > 1 {
			out += ", stretch " + Number(float64(p.First)).Text(0)
			if p.Last > p.First {
				out += " to " + Number(float64(p.Last)).Text(0)
			}
		}
	}
	if p.Key != "" {
		out += ", " + s.PropertyLabel(p.Element, p.Key)
	}
	return out
}

// portTitle gives the words for a port, or for a seat inside a valve; empty for
// other points inside a part, which only the part itself need know.
func (s *Snapshot) portTitle(p model.Place) string {
	k := s.Kind(s.Circuit.Part(p.Element))
	if p.Port == "" || k == nil {
		return p.Port
	}
	if port, ok := k.Port(p.Port); ok {
		return cmp.Or(port.Title, port.Name)
	}
	for _, in := range k.Inner {
		if in.Name == p.Port && in.Role == catalogue.RoleSeat {
			return "seat"
		}
	}
	return ""
}

// PropertyLabel gives the words for a property, by its key in the circuit file.
func (s *Snapshot) PropertyLabel(id model.ID, key string) string {
	if k := s.Kind(s.Circuit.Part(id)); k != nil {
		if p, ok := k.Property(key); ok {
			return strings.ToLower(p.Label)
		}
	}
	if label, ok := recordLabels[key]; ok {
		return label
	}
	return key
}

// recordLabels are the words for properties of runs, steps and all parts.
var recordLabels = map[string]string{
	"elevation_m": "elevation", "size": "tube size", "stretches": "lengths of the stretches", "length_m": "length",
	"rise_m": "rise", "flow_m3h": "flow", "medium": "medium", "source": "source", "destination": "destination",
	"positions": "position", "temperature_C": "temperature", "strength_pct": "strength", "time_min": "time",
	"purpose": "purpose", "carries": "medium carried", "normal": "normal position", "kind": "kind",
}

// lower writes a title inside a sentence.
func lower(title string) string {
	if title == "" {
		return title
	}
	return strings.ToLower(title[:1]) + title[1:]
}
