package network

import (
	"strings"

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
// cannot be, such as ends deeper than the vessel is high, count as missing, with
// the reason.
func body(p model.Part) (vessel.Body, []Missing) {
	v, ok := p.(*model.Vessel)
	if !ok {
		return vessel.Body{}, []Missing{{Record: p.RecordID(), Key: "height_m"}}
	}
	b, keys, err := vessel.Of(v)
	if err != nil {
		return b, []Missing{{Record: v.ID, Key: "height_m", Why: strings.TrimPrefix(err.Error(), "vessel: ")}}
	}
	var missing []Missing
	for _, key := range keys {
		missing = append(missing, Missing{Record: v.ID, Key: key})
	}
	return b, missing
}
