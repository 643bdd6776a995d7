package sizing

import (
	"rinsewright/model"
	. "rinsewright/model/quantity"
)

// Sort is what sort of thing is to be cleaned.
type Sort string

const (
	VesselSort  Sort = "vessel"  // by spray devices
	LineSort    Sort = "line"    // a tube, by the velocity in it
	MachineSort Sort = "machine" // by the flow that its maker demands
)

// Sorts lists the sorts of objects.
func Sorts() []Sort { return []Sort{VesselSort, LineSort, MachineSort} }

// Device is the sort of spray device of a vessel.
type Device string

const (
	Static Device = "static" // spray ball
	Rotary Device = "rotary" // rotary spray head
	Jet    Device = "jet"    // rotary jet head
)

// Devices lists the sorts of spray devices.
func Devices() []Device { return []Device{Static, Rotary, Jet} }

// Object is something to be cleaned. What is not known of it is left unknown.
type Object struct {
	Part model.ID // on the drawing; empty for one that was typed
	Name string
	Sort Sort

	Diameter Opt[Length]         // of a vessel, inside
	Height   Opt[Length]         // of a vessel, inside
	Bottom   Opt[model.Shape]    // of a vessel
	Device   Opt[Device]         // of a vessel
	Rated    Opt[Flow]           // of all spray devices of a vessel together; unknown: by its circumference
	Size     Opt[model.TubeSize] // of a line, and of the tube inside a machine
	Bore     Opt[Bore]           // widest inside a line or machine, where no size tells it
	Length   Opt[Length]         // of a line or of the way through a machine
	Needs    Opt[Flow]           // of a machine
	HoldUp   Opt[Volume]         // of a machine
	Pressure Opt[Pressure]       // that the object needs at its inlet: of the spray device, or lost in a machine

	Supply Opt[Length] // tube from the station to it
	Return Opt[Length] // tube from it to the station
	Rise   Opt[Length] // of its highest point over the supply pump

	PerDay Opt[float64] // washes
}

// Project is what a sheet is made of.
type Project struct {
	Objects     []Object
	Series      string // of the tubes: "EN 10357-A"
	Programme   string // name of a ready programme
	Tanks       int    // of the station, 1 to 4; 0: as the programme asks
	Assumptions []Assumption
	Prices      *Prices
}

// NewProject gives a project without objects, with the assumptions and prices that
// the program carries.
func NewProject() *Project {
	return &Project{Series: "EN 10357-A", Programme: "oat-drink", Assumptions: Defaults(), Prices: DefaultPrices()}
}
