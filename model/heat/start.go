package heat

import (
	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/flow"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

const practice = "common practice, no source"

// Start is the temperature at which heating begins, and on what it stands.
type Start struct {
	Temperature Opt[Temperature]
	Assumed     []flow.Assumption
	Missing     []network.Missing
}

// StartOf gives the temperature of what the source of a step holds or gives: of a
// terminal as it is told; of a tank its own, else that of the coldest supply of water that
// tells one, of any supply but product, else otherwise.
func StartOf(p *network.Plant, step *model.Step, otherwise Temperature) Start {
	switch source := p.Circuit.Part(step.Source).(type) {
	case *model.Terminal:
		if source.Temperature.Known() {
			return Start{Temperature: source.Temperature}
		}
		return Start{Missing: []network.Missing{{Record: source.ID, Key: "temperature_C"}}}
	case *model.Vessel:
		if source.StartTemperature.Known() {
			return Start{Temperature: source.StartTemperature}
		}
	}
	assume := func(t Temperature, why string) Start {
		return Start{Temperature: Some(t), Assumed: []flow.Assumption{
			flow.Assume(Say("%v, %s", t, why), flow.Assumption{What: "temperature of the source at the start", Basis: practice, Record: step.Source, Key: "start_temperature_C"})}}
	}
	if t, of := coldest(p, func(m model.Medium) bool { return m == model.Water || m == model.Recovered }); of != "" {
		return assume(t, "that of "+name(p.Circuit, of)+", the coldest supply of water")
	}
	if t, of := coldest(p, func(m model.Medium) bool { return m != model.Product }); of != "" {
		return assume(t, "that of "+name(p.Circuit, of)+", the coldest supply")
	}
	return assume(otherwise, "no supply tells one")
}

// coldest gives the temperature of the coldest supply of some media that tells one, and
// which it is; empty for none.
func coldest(p *network.Plant, of func(model.Medium) bool) (least Temperature, id model.ID) {
	for _, part := range p.Circuit.Parts() {
		t, ok := part.(*model.Terminal)
		if !ok || !of(t.Medium.Or("")) {
			continue
		}
		kind := p.Catalogue.Kind(t.Kind)
		if kind == nil || !kind.Has(catalogue.TraitSupply) {
			continue
		}
		if at, told := t.Temperature.Get(); told && (id == "" || at < least) {
			least, id = at, t.ID
		}
	}
	return least, id
}

// name gives the tag of a record, else its id.
func name(c *model.Circuit, id model.ID) string {
	switch r := c.Record(id).(type) {
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
