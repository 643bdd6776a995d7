package model

import . "rinsewright/model/quantity"

// Header is what the circuit says of itself.
type Header struct {
	Name     string `json:"name"`
	Plant    string `json:"plant,omitempty"`
	Author   string `json:"author,omitempty"`
	Revision string `json:"revision,omitempty"`
	Date     string `json:"date,omitempty"`
	Profile  string `json:"profile,omitempty"` // limits it is checked against
	Note     string `json:"note,omitempty"`

	// For the title block.
	Customer      string `json:"customer,omitempty"`
	Project       string `json:"project,omitempty"`
	DrawingNumber string `json:"drawing_number,omitempty"`
	Sheet         string `json:"sheet,omitempty"`

	Revisions []Revision    `json:"revisions,omitempty"` // oldest first
	Limits    []LimitChange `json:"limits,omitempty"`    // changes to the profile's limits; a limit stands once

	// For the plan of services; each name and each kind stands once.
	Programmes []Frequency `json:"programmes,omitempty"` // how often programmes run
	Service    []Interval  `json:"service,omitempty"`    // how far apart services are, by kind of part
}

// Frequency says how often a wash programme runs.
type Frequency struct {
	Name    string     `json:"name"`              // of the programme; empty: of the steps that name none
	PerWeek Opt[Plain] `json:"per_week,omitzero"` // on average
}

// Interval says how far apart the services of a kind of part may be. What is
// reached first counts; what is unknown does not limit.
type Interval struct {
	Kind       string     `json:"kind"`                // of the catalogue
	Hours      Opt[Plain] `json:"hours,omitzero"`      // that it runs
	Switchings Opt[Plain] `json:"switchings,omitzero"` // that it makes
	Months     Opt[Plain] `json:"months,omitzero"`
}

// Revision is one line of the table of revisions.
type Revision struct {
	Mark string `json:"mark,omitempty"` // "A", "B" ...
	Date string `json:"date,omitempty"` // as written in the title block
	By   string `json:"by,omitempty"`
	What string `json:"what,omitempty"`
}

// LimitChange is a limit of the profile that the user has changed for this
// circuit, with the reason.
type LimitChange struct {
	Limit  string `json:"limit"` // name of the limit in the profile
	Value  Plain  `json:"value"` // in Unit
	Unit   string `json:"unit,omitempty"`
	Reason string `json:"reason,omitempty"`
	By     string `json:"by,omitempty"`
	Date   Date   `json:"date,omitempty"`
}

// Plain is a number whose unit is told elsewhere. It is not converted.
type Plain float64

func (h *Header) RecordID() ID { return HeaderID }
func (h *Header) record()      {}
