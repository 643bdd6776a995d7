package network

import (
	"rinsewright/model"
	. "rinsewright/model/quantity"
	"rinsewright/model/vessel"
)

// full gives what a vessel holds when full.
func full(p model.Part) (Opt[Volume], []Missing) {
	body, missing := body(p)
	if missing != nil {
		return Opt[Volume]{}, missing
	}
	return Some(body.Total()), nil
}

// body gives the inside of a vessel, or what is missing for it. Measures that
// cannot be, such as ends deeper than the vessel is high, count as missing.
func body(p model.Part) (vessel.Body, []Missing) {
	v, ok := p.(*model.Vessel)
	if !ok {
		return vessel.Body{}, []Missing{{p.RecordID(), "height_m"}}
	}
	b, keys, err := vessel.Of(v)
	if err != nil {
		keys = []string{"height_m"}
	}
	var missing []Missing
	for _, key := range keys {
		missing = append(missing, Missing{v.ID, key})
	}
	return b, missing
}
