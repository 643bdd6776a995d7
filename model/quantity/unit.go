package quantity

import "reflect"

// Unit is one unit of a quantity: SI = Factor·x + Offset.
type Unit struct {
	Name   string  // as shown: "m³/h"
	Key    string  // as the end of a key in the circuit file: "m3h"
	Factor float64 // SI units in one of this unit
	Offset float64 // SI value of zero in this unit (temperatures only)
}

// ToSI converts x of this unit to SI.
func (u Unit) ToSI(x float64) float64 { return x*u.Factor + u.Offset }

// FromSI converts an SI value to this unit.
func (u Unit) FromSI(si float64) float64 { return (si - u.Offset) / u.Factor }

// Exact factors by definition: inch 25.4 mm, foot 0.3048 m, US gallon
// 231 in³ = 3.785411784 L, pound 0.45359237 kg, standard gravity 9.80665 m/s²
// (NIST SP 811, appendix B.8).
const (
	metresPerInch   = 0.0254
	metresPerFoot   = 0.3048
	litresPerGallon = 3.785411784
	pascalPerPsi    = 0.45359237 * 9.80665 / (metresPerInch * metresPerInch)
	wattsPerBtuHour = 0.29307107017 // international table Btu
	kilogramPerLb   = 0.45359237
	wattsPerHorse   = 550 * metresPerFoot * kilogramPerLb * 9.80665 // 550 ft·lbf/s
)

// System is a choice of display units.
type System int

const (
	Metric System = iota
	US
)

// units holds, by the type of a quantity, its unit in the file and in each
// display system.
type units struct{ file, metric, us Unit }

var bySort = map[reflect.Type]units{
	sort[Length]():       {Unit{"m", "m", 1, 0}, Unit{"m", "m", 1, 0}, Unit{"ft", "ft", metresPerFoot, 0}},
	sort[Bore]():         {Unit{"mm", "mm", 1e-3, 0}, Unit{"mm", "mm", 1e-3, 0}, Unit{"in", "in", metresPerInch, 0}},
	sort[Area]():         {Unit{"m²", "m2", 1, 0}, Unit{"m²", "m2", 1, 0}, Unit{"ft²", "ft2", metresPerFoot * metresPerFoot, 0}},
	sort[Volume]():       {Unit{"L", "L", 1e-3, 0}, Unit{"L", "L", 1e-3, 0}, Unit{"gal", "gal", litresPerGallon / 1000, 0}},
	sort[Duration]():     {Unit{"min", "min", 60, 0}, Unit{"min", "min", 60, 0}, Unit{"min", "min", 60, 0}},
	sort[Velocity]():     {Unit{"m/s", "ms", 1, 0}, Unit{"m/s", "ms", 1, 0}, Unit{"ft/s", "fts", metresPerFoot, 0}},
	sort[Flow]():         {Unit{"m³/h", "m3h", 1.0 / 3600, 0}, Unit{"m³/h", "m3h", 1.0 / 3600, 0}, Unit{"gpm", "gpm", litresPerGallon / 60000, 0}},
	sort[Pressure]():     {Unit{"bar", "bar", 1e5, 0}, Unit{"bar", "bar", 1e5, 0}, Unit{"psi", "psi", pascalPerPsi, 0}},
	sort[Temperature]():  {Unit{"°C", "C", 1, ZeroCelsius}, Unit{"°C", "C", 1, ZeroCelsius}, Unit{"°F", "F", 5.0 / 9, ZeroCelsius - 32*5.0/9}},
	sort[Power]():        {Unit{"kW", "kW", 1e3, 0}, Unit{"kW", "kW", 1e3, 0}, Unit{"kBtu/h", "kbtuh", 1e3 * wattsPerBtuHour, 0}},
	sort[ShaftPower]():   {Unit{"kW", "kW", 1e3, 0}, Unit{"kW", "kW", 1e3, 0}, Unit{"hp", "hp", wattsPerHorse, 0}},
	sort[Difference]():   {Unit{"K", "K", 1, 0}, Unit{"K", "K", 1, 0}, Unit{"°F", "degF", 5.0 / 9, 0}},
	sort[Kilograms]():    {Unit{"kg", "kg", 1, 0}, Unit{"kg", "kg", 1, 0}, Unit{"lb", "lb", kilogramPerLb, 0}},
	sort[MassFlow]():     {Unit{"kg/h", "kgh", 1.0 / 3600, 0}, Unit{"kg/h", "kgh", 1.0 / 3600, 0}, Unit{"lb/h", "lbh", kilogramPerLb / 3600, 0}},
	sort[Conductance]():  {Unit{"kW/K", "kWK", 1e3, 0}, Unit{"kW/K", "kWK", 1e3, 0}, Unit{"Btu/h·°F", "btuhF", wattsPerBtuHour * 9 / 5, 0}},
	sort[Strength]():     {Unit{"%", "pct", 0.01, 0}, Unit{"%", "pct", 0.01, 0}, Unit{"%", "pct", 0.01, 0}},
	sort[Conductivity](): {Unit{"mS/cm", "mScm", 0.1, 0}, Unit{"mS/cm", "mScm", 0.1, 0}, Unit{"mS/cm", "mScm", 0.1, 0}},
	sort[HeatTransfer](): {Unit{"W/m²K", "Wm2K", 1, 0}, Unit{"W/m²K", "Wm2K", 1, 0}, Unit{"Btu/h·ft²·°F", "btuhft2F", wattsPerBtuHour / (metresPerFoot * metresPerFoot) * 9 / 5, 0}},
	sort[ValveFlow]():    {Unit{"m³/h", "m3h", 1.0 / 3600, 0}, Unit{"Kv m³/h", "m3h", 1.0 / 3600, 0}, Unit{"Cv gpm", "cv", 0.864978 / 3600, 0}},
	sort[Ratio]():        {Unit{"", "", 1, 0}, Unit{"", "", 1, 0}, Unit{"", "", 1, 0}},
	sort[Speed]():        {Unit{"1/min", "rpm", 1.0 / 60, 0}, Unit{"1/min", "rpm", 1.0 / 60, 0}, Unit{"rpm", "rpm", 1.0 / 60, 0}},
}

// alsoRead are further units in which people type quantities.
var alsoRead = map[reflect.Type][]Unit{
	sort[Power]():      {{"Btu/h", "btuh", wattsPerBtuHour, 0}},
	sort[ShaftPower](): {{"W", "W", 1, 0}},
}

func sort[T any]() reflect.Type { return reflect.TypeFor[T]() }

// FileUnit gives the unit in which a quantity of type t stands in the file, and
// whether t is a quantity at all.
func FileUnit(t reflect.Type) (Unit, bool) {
	u, ok := bySort[t]
	return u.file, ok
}

// UnitOf gives the unit in which a quantity of type t is shown under s, and
// whether t is a quantity at all.
func UnitOf(t reflect.Type, s System) (Unit, bool) {
	u, ok := bySort[t]
	if s == US {
		return u.us, ok
	}
	return u.metric, ok
}

// DisplayUnit gives the unit in which quantities of type T are shown under s.
func DisplayUnit[T ~float64](s System) Unit {
	u, ok := UnitOf(sort[T](), s)
	if !ok {
		panic("quantity: not a quantity: " + sort[T]().String())
	}
	return u
}
