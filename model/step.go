package model

import . "rinsewright/model/quantity"

// Step is one phase of a wash programme with its line-up.
type Step struct {
	ID          ID               `json:"id"`
	Programme   string           `json:"programme,omitempty"` // name of the programme it belongs to
	Order       int              `json:"order"`               // place in the programme, ascending
	Name        string           `json:"name"`
	Purpose     Opt[Purpose]     `json:"purpose,omitzero"`
	Medium      Opt[Medium]      `json:"medium,omitzero"`
	Strength    Opt[Strength]    `json:"strength_pct,omitzero"`
	Temperature Opt[Temperature] `json:"temperature_C,omitzero"`
	Flow        Opt[Flow]        `json:"flow_m3h,omitzero"`
	Time        Opt[Duration]    `json:"time_min,omitzero"`
	EndsOn      string           `json:"ends_on,omitempty"`     // end condition in words
	Source      ID               `json:"source,omitempty"`      // terminal or vessel the liquid comes from
	Destination ID               `json:"destination,omitempty"` // terminal or vessel it goes to
	Cleans      []ID             `json:"cleans,omitempty"`      // vessels and objects washed in this step
	Positions   map[ID]string    `json:"positions,omitempty"`   // valves that do not stand in their normal position
	Running     []ID             `json:"running,omitempty"`     // pumps that run
	Note        string           `json:"note,omitempty"`
}

func (s *Step) RecordID() ID { return s.ID }
func (s *Step) record()      {}

// Header is what the circuit says of itself.
type Header struct {
	Name     string `json:"name"`
	Plant    string `json:"plant,omitempty"`
	Author   string `json:"author,omitempty"`
	Revision string `json:"revision,omitempty"`
	Date     string `json:"date,omitempty"`
	Profile  string `json:"profile,omitempty"` // limits it is checked against
	Note     string `json:"note,omitempty"`
}

func (h *Header) RecordID() ID { return HeaderID }
func (h *Header) record()      {}
