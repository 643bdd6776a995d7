package model

import . "rinsewright/model/quantity"

// Class is one of the closed set of sorts of part; each has its own struct.
type Class string

const (
	ClassVessel     Class = "vessel"
	ClassPump       Class = "pump"
	ClassValve      Class = "valve"
	ClassExchanger  Class = "exchanger"
	ClassSpray      Class = "spray"
	ClassInstrument Class = "instrument"
	ClassFitting    Class = "fitting"
	ClassTerminal   Class = "terminal"
	ClassObject     Class = "object"
	ClassFrame      Class = "frame"
)

// Classes lists every class in the order of the file's documentation.
func Classes() []Class {
	return []Class{ClassVessel, ClassPump, ClassValve, ClassExchanger, ClassSpray,
		ClassInstrument, ClassFitting, ClassTerminal, ClassObject, ClassFrame}
}

// Part is one thing placed on the drawing. The set of implementations is
// closed: the unexported method keeps code that switches over classes honest.
type Part interface {
	Record
	Meta() *Item // the part's own item; never change it, see [With]
	Class() Class
	part()
}

// Item is what every part has, whatever its class.
type Item struct {
	ID        ID          `json:"id"`
	Kind      string      `json:"kind"` // names the entry in the catalogue
	Tag       string      `json:"tag,omitempty"`
	At        Point       `json:"at_mm"`
	Turn      Turn        `json:"turn,omitempty"` // quarter turns clockwise
	Mirrored  bool        `json:"mirrored,omitempty"`
	Label     *Point      `json:"label_mm,omitempty"`   // middle of its tag from At, on the drawing; nil: where there is room
	Elevation Opt[Length] `json:"elevation_m,omitzero"` // of the part's reference point, above the plant's zero
	Note      string      `json:"note,omitempty"`
}

// TubeSize names a tube of a published table: "EN 10357-A DN50".
type TubeSize string

// CurvePoint is one point of a pump's curve at its rated speed.
type CurvePoint struct {
	Flow Opt[Flow]   `json:"flow_m3h,omitzero"`
	Head Opt[Length] `json:"head_m,omitzero"`
}

// Vessel is a tank: one that stores a medium, or one to be cleaned.
type Vessel struct {
	Item
	Holds       Opt[Medium]   `json:"holds,omitzero"`
	Diameter    Opt[Length]   `json:"diameter_m,omitzero"`
	Height      Opt[Length]   `json:"height_m,omitzero"` // inside, from the outlet to the top
	Bottom      Opt[Shape]    `json:"bottom,omitzero"`
	Top         Opt[Shape]    `json:"top,omitzero"`
	Working     Opt[Volume]   `json:"working_volume_L,omitzero"`
	Size        Opt[TubeSize] `json:"size,omitzero"`       // outlet
	InletSize   Opt[TubeSize] `json:"inlet_size,omitzero"` // return, fill and spray nozzles
	Level       Opt[Length]   `json:"level_m,omitzero"`    // liquid above the outlet
	GasPressure Opt[Pressure] `json:"gas_bar,omitzero"`    // gauge
	Agitated    Opt[bool]     `json:"agitated,omitzero"`
	Vented      Opt[bool]     `json:"vented,omitzero"` // open to air through a vent that cannot be shut

	LowLevel         Opt[Length]      `json:"low_level_m,omitzero"`         // above the outlet, below which nothing is drawn
	StartTemperature Opt[Temperature] `json:"start_temperature_C,omitzero"` // of what it holds before a programme
	Wall             Opt[Bore]        `json:"wall_mm,omitzero"`             // thickness of the steel
	Insulation       Opt[Bore]        `json:"insulation_mm,omitzero"`       // thickness; zero: bare

	Soil         Opt[Soil]     `json:"soil,omitzero"`             // that is to be washed off
	Material     Opt[Material] `json:"material,omitzero"`         // of the wall
	Gas          Opt[HeadGas]  `json:"gas,omitzero"`              // above the liquid
	Chemical     Opt[Chemical] `json:"chemical,omitzero"`         // of the solution that it holds
	RatedVacuum  Opt[Pressure] `json:"rated_vacuum_bar,omitzero"` // below the air around, that the vessel stands
	VentSize     Opt[TubeSize] `json:"vent_size,omitzero"`        // of a vent that is not drawn
	OverflowSize Opt[TubeSize] `json:"overflow_size,omitzero"`    // of an overflow that is not drawn
	Baffled      Opt[bool]     `json:"baffled,omitzero"`
	Bund         Opt[string]   `json:"bund,omitzero"` // that catches what leaks
}

// Pump moves liquid from its suction to its discharge.
type Pump struct {
	Item
	Size         Opt[TubeSize]   `json:"size,omitzero"` // suction
	OutletSize   Opt[TubeSize]   `json:"outlet_size,omitzero"`
	RatedFlow    Opt[Flow]       `json:"rated_flow_m3h,omitzero"`
	RatedHead    Opt[Length]     `json:"rated_head_m,omitzero"`
	Curve        []CurvePoint    `json:"curve,omitempty"`
	Efficiency   Opt[Strength]   `json:"efficiency_pct,omitzero"`
	NPSHRequired Opt[Length]     `json:"npsh_required_m,omitzero"`
	Motor        Opt[ShaftPower] `json:"motor_kW,omitzero"`
	MotorYield   Opt[Strength]   `json:"motor_efficiency_pct,omitzero"` // of the motor with its converter
	RatedSpeed   Opt[Speed]      `json:"rated_speed_rpm,omitzero"`
	SelfPriming  Opt[bool]       `json:"self_priming,omitzero"`
	CasingDrain  Opt[bool]       `json:"casing_drain,omitzero"`
	OutletWay    Opt[Way]        `json:"outlet_way,omitzero"`
	HoldUp       Opt[Volume]     `json:"hold_up_L,omitzero"`
	Seal         Opt[string]     `json:"seal,omitzero"`
	Serviced     Opt[Date]       `json:"serviced,omitzero"` // day of the last service
}

// Valve opens, shuts, regulates or diverts. Seats are measured from the face of
// each port to the closed seat.
type Valve struct {
	Item
	Size          Opt[TubeSize]  `json:"size,omitzero"`
	SecondSize    Opt[TubeSize]  `json:"second_size,omitzero"` // other line of a mix-proof valve
	SeatA         Opt[Bore]      `json:"seat_a_mm,omitzero"`
	SeatB         Opt[Bore]      `json:"seat_b_mm,omitzero"`
	SeatC         Opt[Bore]      `json:"seat_c_mm,omitzero"`
	Kv            Opt[ValveFlow] `json:"kv_m3h,omitzero"`
	Normal        Opt[string]    `json:"normal,omitzero"` // a position of its kind
	Actuation     Opt[Actuation] `json:"actuation,omitzero"`
	Lockable      Opt[bool]      `json:"lockable,omitzero"` // can be locked where it stands
	FailsTo       Opt[FailsTo]   `json:"fails_to,omitzero"`
	PositionProof Opt[bool]      `json:"position_proof,omitzero"` // reports where it stands
	SetPressure   Opt[Pressure]  `json:"set_bar,omitzero"`        // relief, gauge
	Seal          Opt[string]    `json:"seal,omitzero"`
	Drains        Opt[bool]      `json:"turned_to_drain,omitzero"` // of a diaphragm valve: its body stands at the mark
	Serviced      Opt[Date]      `json:"serviced,omitzero"`        // day of the last service
}

// Exchanger heats or cools the circuit's liquid.
type Exchanger struct {
	Item
	Size            Opt[TubeSize]     `json:"size,omitzero"`
	ServiceSize     Opt[TubeSize]     `json:"service_size,omitzero"`
	Area            Opt[Area]         `json:"area_m2,omitzero"`
	Coefficient     Opt[HeatTransfer] `json:"coefficient_Wm2K,omitzero"`
	Duty            Opt[Power]        `json:"duty_kW,omitzero"`
	HoldUp          Opt[Volume]       `json:"hold_up_L,omitzero"`
	ServiceHoldUp   Opt[Volume]       `json:"service_hold_up_L,omitzero"`
	PressureDrop    Opt[Pressure]     `json:"pressure_drop_bar,omitzero"` // liquid side, at the rated flow
	RatedFlow       Opt[Flow]         `json:"rated_flow_m3h,omitzero"`
	RatedPressure   Opt[Pressure]     `json:"rated_pressure_bar,omitzero"`
	OverTemperature Opt[bool]         `json:"over_temperature_limit,omitzero"` // has a limit independent of the control
	Seal            Opt[string]       `json:"seal,omitzero"`
	Serviced        Opt[Date]         `json:"serviced,omitzero"` // day of the last service
}

// Spray brings cleaning liquid onto the wall of a vessel.
type Spray struct {
	Item
	Size          Opt[TubeSize] `json:"size,omitzero"`
	RatedFlow     Opt[Flow]     `json:"rated_flow_m3h,omitzero"`
	RatedPressure Opt[Pressure] `json:"rated_pressure_bar,omitzero"`
	LeastPressure Opt[Pressure] `json:"least_pressure_bar,omitzero"`
	MostPressure  Opt[Pressure] `json:"most_pressure_bar,omitzero"`
	Serviced      Opt[Date]     `json:"serviced,omitzero"` // day of the last service
}

// Instrument measures. Its stub is the pocket between the inner wall of the
// flowing tube and the sensor's face.
type Instrument struct {
	Item
	Letters  Opt[string]   `json:"letters,omitzero"` // ISA-5.1, where they differ from the kind's
	Size     Opt[TubeSize] `json:"size,omitzero"`
	Stub     Opt[Bore]     `json:"stub_mm,omitzero"`
	Pocket   Opt[Bore]     `json:"pocket_bore_mm,omitzero"`
	SetAt    Opt[string]   `json:"set_at,omitzero"`   // alarm or switching point, in words
	Serviced Opt[Date]     `json:"serviced,omitzero"` // day of the last service
}

// Fitting is a tee, reducer, cap, strainer, sight glass, hose and the like.
type Fitting struct {
	Item
	Size       Opt[TubeSize] `json:"size,omitzero"`
	SecondSize Opt[TubeSize] `json:"second_size,omitzero"` // small end, or branch
	Stub       Opt[Bore]     `json:"stub_mm,omitzero"`     // branch, from the inner wall of the main to its face
	RunLength  Opt[Bore]     `json:"run_mm,omitzero"`      // face to face along the main
	BranchWay  Opt[Way]      `json:"branch_way,omitzero"`
	FlatSide   Opt[FlatSide] `json:"flat_side,omitzero"`
	Lie        Opt[Lie]      `json:"lie,omitzero"`
	HoldUp     Opt[Volume]   `json:"hold_up_L,omitzero"`
	Mesh       Opt[Bore]     `json:"mesh_mm,omitzero"`
}

// Terminal is where liquid, steam, air or current enters or leaves the circuit.
type Terminal struct {
	Item
	Size         Opt[TubeSize]     `json:"size,omitzero"`
	Medium       Opt[Medium]       `json:"medium,omitzero"`
	Pressure     Opt[Pressure]     `json:"pressure_bar,omitzero"` // gauge
	Temperature  Opt[Temperature]  `json:"temperature_C,omitzero"`
	Strength     Opt[Strength]     `json:"strength_pct,omitzero"`
	AirGap       Opt[Bore]         `json:"air_gap_mm,omitzero"`
	Most         Opt[Flow]         `json:"flow_m3h,omitzero"`          // that it gives, or takes, at most
	Conductivity Opt[Conductivity] `json:"conductivity_mScm,omitzero"` // of the water that it supplies, at 25 °C
	Chemical     Opt[Chemical]     `json:"chemical,omitzero"`
	Backflow     Opt[Backflow]     `json:"backflow,omitzero"` // what keeps liquid from running back into it
	Bund         Opt[string]       `json:"bund,omitzero"`     // that catches what leaks
}

// Object is something to be cleaned whose inside is not drawn: a filler, a
// line of a machine.
type Object struct {
	Item
	Size         Opt[TubeSize] `json:"size,omitzero"`
	NeedsFlow    Opt[Flow]     `json:"needs_flow_m3h,omitzero"`
	SmallestBore Opt[Bore]     `json:"smallest_bore_mm,omitzero"`
	LargestBore  Opt[Bore]     `json:"largest_bore_mm,omitzero"`
	Length       Opt[Length]   `json:"length_m,omitzero"`
	HoldUp       Opt[Volume]   `json:"hold_up_L,omitzero"`
	SelfDraining Opt[bool]     `json:"self_draining,omitzero"`
	Soil         Opt[Soil]     `json:"soil,omitzero"`     // that is to be washed off
	Material     Opt[Material] `json:"material,omitzero"` // of what the liquid touches
}

// Frame is a boundary or a box on the drawing: a station frame, a panel.
type Frame struct {
	Item
	Width Opt[Bore]   `json:"width_mm,omitzero"` // on the drawing
	Depth Opt[Bore]   `json:"depth_mm,omitzero"` // on the drawing
	Text  Opt[string] `json:"text,omitzero"`
}

func (i *Item) Meta() *Item  { return i }
func (i *Item) RecordID() ID { return i.ID }
func (i *Item) part()        {}
func (i *Item) record()      {}

func (*Vessel) Class() Class     { return ClassVessel }
func (*Pump) Class() Class       { return ClassPump }
func (*Valve) Class() Class      { return ClassValve }
func (*Exchanger) Class() Class  { return ClassExchanger }
func (*Spray) Class() Class      { return ClassSpray }
func (*Instrument) Class() Class { return ClassInstrument }
func (*Fitting) Class() Class    { return ClassFitting }
func (*Terminal) Class() Class   { return ClassTerminal }
func (*Object) Class() Class     { return ClassObject }
func (*Frame) Class() Class      { return ClassFrame }

// NewPart gives an empty part of a class, or nil for an unknown class.
func NewPart(c Class) Part {
	switch c {
	case ClassVessel:
		return new(Vessel)
	case ClassPump:
		return new(Pump)
	case ClassValve:
		return new(Valve)
	case ClassExchanger:
		return new(Exchanger)
	case ClassSpray:
		return new(Spray)
	case ClassInstrument:
		return new(Instrument)
	case ClassFitting:
		return new(Fitting)
	case ClassTerminal:
		return new(Terminal)
	case ClassObject:
		return new(Object)
	case ClassFrame:
		return new(Frame)
	}
	return nil
}
