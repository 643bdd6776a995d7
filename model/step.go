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
	Chemical    Opt[Chemical]    `json:"chemical,omitzero"` // that strength is of
	Strength    Opt[Strength]    `json:"strength_pct,omitzero"`
	Temperature Opt[Temperature] `json:"temperature_C,omitzero"`
	Flow        Opt[Flow]        `json:"flow_m3h,omitzero"`
	PumpSpeed   Opt[Strength]    `json:"pump_speed_pct,omitzero"` // of the rated speed; where no flow is asked
	Time        Opt[Duration]    `json:"time_min,omitzero"`

	// Ends beside the time. The step is over when all that are told are met: the
	// time since the timer started, the return's conductivity (risen to it by a
	// chemical, fallen to it by any other medium), the return's temperature, the
	// volume sent. Longest ends it in any case.
	EndConductivity Opt[Conductivity] `json:"end_conductivity_mScm,omitzero"`
	EndTemperature  Opt[Temperature]  `json:"end_temperature_C,omitzero"`
	EndVolume       Opt[Volume]       `json:"end_volume_L,omitzero"`
	TimerFrom       Opt[TimerFrom]    `json:"timer_from,omitzero"`
	Longest         Opt[Duration]     `json:"longest_min,omitzero"`
	Optional        Opt[bool]         `json:"optional,omitzero"` // not done every time

	EndsOn      string        `json:"ends_on,omitempty"`     // further end condition in words
	Source      ID            `json:"source,omitempty"`      // terminal or vessel the liquid comes from
	Destination ID            `json:"destination,omitempty"` // terminal or vessel it goes to
	Cleans      []ID          `json:"cleans,omitempty"`      // vessels and objects washed in this step
	Positions   map[ID]string `json:"positions,omitempty"`   // valves that do not stand in their normal position
	Running     []ID          `json:"running,omitempty"`     // pumps that run
	Note        string        `json:"note,omitempty"`
}

func (s *Step) RecordID() ID { return s.ID }
func (s *Step) record()      {}
