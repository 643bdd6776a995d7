package quantity_test

import (
	"math"
	"reflect"
	"testing"

	. "rinsewright/model/quantity"
)

// The expected values were printed by GNU Units 2.22 with twelve figures, each
// with the call that stands beside it.
func TestDisplayUnitsAgainstGNUUnits(t *testing.T) {
	tests := []struct {
		call  string
		sort  reflect.Type
		si    float64
		shown float64
		under System
	}{
		{"units '0.22712470704 m^3/hr' gpm", reflect.TypeFor[Flow](), 0.22712470704 / 3600, 1, US},
		{"units '3 m^3/hr' gpm", reflect.TypeFor[Flow](), 3.0 / 3600, 13.2086026179, US},
		{"units '1 bar' psi", reflect.TypeFor[Pressure](), 1e5, 14.503773773, US},
		{"units '2.5 bar' psi", reflect.TypeFor[Pressure](), 2.5e5, 36.2594344326, US},
		{"units '1 psi' Pa", reflect.TypeFor[Pressure](), 6894.75729317, 1, US},
		{"units 'tempF(180)' tempC", reflect.TypeFor[Temperature](), 273.15 + 82.2222222222, 180, US},
		{"units 'tempC(80)' tempF", reflect.TypeFor[Temperature](), 273.15 + 80, 176, US},
		{"units 'tempF(32)' K", reflect.TypeFor[Temperature](), 273.15, 32, US},
		{"units '1 inch' mm", reflect.TypeFor[Bore](), 0.0254, 1, US},
		{"units '10 ft' m", reflect.TypeFor[Length](), 3.048, 10, US},
		{"units '1 gal' L", reflect.TypeFor[Volume](), 3.785411784e-3, 1, US},
		{"units '1 ft^2' 'm^2'", reflect.TypeFor[Area](), 0.09290304, 1, US},
		{"units '1 ft/s' 'm/s'", reflect.TypeFor[Velocity](), 0.3048, 1, US},
		{"units '1000 btu/hr' W", reflect.TypeFor[Power](), 293.071070172, 1, US},
		{"units '100 kW' '1000 btu/hr'", reflect.TypeFor[Power](), 1e5, 341.214163313, US},
		{"units '1 hp' W", reflect.TypeFor[ShaftPower](), 745.699871582, 1, US},
		{"units '5.5 kW' hp", reflect.TypeFor[ShaftPower](), 5500, 7.37562149277, US},
		{"units '18 tempdiff_F' K", reflect.TypeFor[Difference](), 10, 18, US},
		{"units '1 lb' kg", reflect.TypeFor[Kilograms](), 0.45359237, 1, US},
		{"units '1 lb/hr' kg/hr", reflect.TypeFor[MassFlow](), 0.45359237 / 3600, 1, US},
		{"units '1175 kg/hr' lb/hr", reflect.TypeFor[MassFlow](), 1175.0 / 3600, 2590.43158067, US},
		{"units '1 btu/hr/degF' W/K", reflect.TypeFor[Conductance](), 0.527527926310, 1, US},
		{"units '1 btu/hr/ft^2/degF' 'W/m^2/K'", reflect.TypeFor[HeatTransfer](), 5.67826334111, 1, US},
		{"units '1500 W/m^2/K' 'btu/hr/ft^2/degF'", reflect.TypeFor[HeatTransfer](), 1500, 264.165275523, US},
		{"units '1 mS/cm' 'S/m'", reflect.TypeFor[Conductivity](), 0.1, 1, Metric},
		{"units '2900/min' '1/s'", reflect.TypeFor[Speed](), 48.3333333333, 2900, Metric},
		{"units '15 min' s", reflect.TypeFor[Duration](), 900, 15, Metric},
		{"units '1 gal' L", reflect.TypeFor[Volume](), 3.785411784e-3, 3.785411784, Metric},
		{"units '100 gal/min' 'm^3/hr'", reflect.TypeFor[Flow](), 22.712470704 / 3600, 22.712470704, Metric},
	}
	const figures = 1e-11 // relative
	for _, tt := range tests {
		u, ok := UnitOf(tt.sort, tt.under)
		if !ok {
			t.Fatalf("%s is no quantity", tt.sort)
		}
		if got := u.FromSI(tt.si); math.Abs(got-tt.shown) > figures*math.Abs(tt.shown)*10 {
			t.Errorf("%s: %v SI is shown as %.12g %s, want %.12g", tt.call, tt.si, got, u.Name, tt.shown)
		}
		if got := u.ToSI(tt.shown); math.Abs(got-tt.si) > figures*math.Abs(tt.si) {
			t.Errorf("%s: %v %s is %.12g SI, want %.12g", tt.call, tt.shown, u.Name, got, tt.si)
		}
	}
}

// A valve of Cv 1 passes 1 US gallon of water a minute at 1 psi, one of Kv 1
// passes 1 m³/h at 1 bar, and the flow goes with the root of the pressure:
// GNU Units 2.22, units 'sqrt(bar/psi) * 1 gal/min' 'm^3/hr' prints 0.864977655442.
func TestValveFlowInCv(t *testing.T) {
	const kvOfCv1 = 0.864977655442
	us := DisplayUnit[ValveFlow](US)
	if got := us.ToSI(1) * 3600; math.Abs(got-kvOfCv1) > 1e-6 {
		t.Errorf("Cv 1 is Kv %v, want %v", got, kvOfCv1)
	}
	if got := Text(ValveFlow(kvOfCv1*100/3600), US); got != "100 Cv gpm" {
		t.Errorf("Kv 86.4978 is shown as %q", got)
	}
}

// Each file unit is SI times a power of ten or a number of seconds, so that a
// file never holds US units; and each key is its own.
func TestFileUnitsAreTheMetricOnes(t *testing.T) {
	for _, sort := range sorts {
		file, ok := FileUnit(sort)
		metric, ok2 := UnitOf(sort, Metric)
		if !ok || !ok2 || file.Factor != metric.Factor || file.Offset != metric.Offset {
			t.Errorf("%s is %v in the file and %v on the screen", sort, file, metric)
		}
	}
	if _, ok := FileUnit(reflect.TypeFor[float64]()); ok {
		t.Error("a plain number counts as a quantity")
	}
}

var sorts = []reflect.Type{
	reflect.TypeFor[Length](), reflect.TypeFor[Bore](), reflect.TypeFor[Area](), reflect.TypeFor[Volume](),
	reflect.TypeFor[Duration](), reflect.TypeFor[Velocity](), reflect.TypeFor[Flow](), reflect.TypeFor[Pressure](),
	reflect.TypeFor[Temperature](), reflect.TypeFor[Power](), reflect.TypeFor[Strength](), reflect.TypeFor[Conductivity](),
	reflect.TypeFor[HeatTransfer](), reflect.TypeFor[ValveFlow](), reflect.TypeFor[Ratio](), reflect.TypeFor[Speed](),
	reflect.TypeFor[ShaftPower](), reflect.TypeFor[Difference](), reflect.TypeFor[MassFlow](), reflect.TypeFor[Conductance](), reflect.TypeFor[Kilograms](),
}

func TestConversionsThereAndBack(t *testing.T) {
	for _, sort := range sorts {
		for _, system := range []System{Metric, US} {
			u, _ := UnitOf(sort, system)
			for _, x := range []float64{0, 1, -3.5, 1e-6, 12345.678} {
				if got := u.FromSI(u.ToSI(x)); math.Abs(got-x) > 1e-12*math.Max(math.Abs(x), math.Abs(u.Offset/u.Factor)+1) {
					t.Errorf("%s: %v %s comes back as %v", sort, x, u.Name, got)
				}
			}
		}
	}
}

func TestNamedConversions(t *testing.T) {
	tests := []struct {
		what      string
		got, want float64
	}{
		{"85 °C in K", float64(Celsius(85)), 358.15},
		{"358.15 K in °C", Temperature(358.15).Celsius(), 85},
		{"18 m³/h in m³/s", float64(CubicMetresPerHour(18)), 0.005},
		{"0.005 m³/s in m³/h", Flow(0.005).CubicMetresPerHour(), 18},
		{"50 mm in m", float64(Millimetres(50)), 0.05},
		{"0.05 m in mm", Bore(0.05).Millimetres(), 50},
		{"2 m³ in L", Volume(2).Litres(), 2000},
		{"3 bar in Pa", float64(Bar(3)), 3e5},
		{"3e5 Pa in bar", Pressure(3e5).Bar(), 3},
	}
	for _, tt := range tests { // all by the definition of the units
		if math.Abs(tt.got-tt.want) > 1e-12*math.Abs(tt.want) {
			t.Errorf("%s: %v, want %v", tt.what, tt.got, tt.want)
		}
	}
}
