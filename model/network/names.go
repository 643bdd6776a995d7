package network

import "rinsewright/model"

// name gives the tag of a part or run, else its kind, for use in words.
func (p *Plant) name(id model.ID) string {
	if part := p.Circuit.Part(id); part != nil {
		m := part.Meta()
		if m.Tag != "" {
			return m.Tag
		}
		if k := p.Catalogue.Kind(m.Kind); k != nil {
			return k.Title + " " + string(id)
		}
		return string(id)
	}
	if r := p.Circuit.Run(id); r != nil && r.Tag != "" {
		return r.Tag
	}
	return string(id)
}
