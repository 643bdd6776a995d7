package quantity

// The quantities. Each is in the SI unit named.
type (
	Length       float64 // m
	Bore         float64 // m; a length of the size of a tube, written in mm
	Area         float64 // m²
	Volume       float64 // m³
	Duration     float64 // s
	Velocity     float64 // m/s
	Flow         float64 // m³/s
	Pressure     float64 // Pa, gauge unless the name says otherwise
	Temperature  float64 // K
	Power        float64 // W, of heat
	ShaftPower   float64 // W, mechanical: of a pump's shaft, of a motor
	Difference   float64 // K, between two temperatures
	Kilograms    float64 // kg, a mass
	MassFlow     float64 // kg/s
	Conductance  float64 // W/K, of heat: an overall coefficient times its area
	Strength     float64 // mass fraction, 0 to 1
	Conductivity float64 // S/m
	HeatTransfer float64 // W/(m²·K), an overall coefficient
	ValveFlow    float64 // m³/s at 1 bar; Kv in m³/h
	Ratio        float64 // dimensionless
	Speed        float64 // revolutions a second
)

// ZeroCelsius is 0 °C in kelvin (the definition of the degree Celsius, BIPM SI brochure).
const ZeroCelsius = 273.15

// Celsius gives the temperature of t degrees Celsius.
func Celsius(t float64) Temperature { return Temperature(t + ZeroCelsius) }

// Celsius gives t in degrees Celsius.
func (t Temperature) Celsius() float64 { return float64(t) - ZeroCelsius }

// CubicMetresPerHour gives the flow of q m³/h.
func CubicMetresPerHour(q float64) Flow { return Flow(q / 3600) }

// CubicMetresPerHour gives q in m³/h.
func (q Flow) CubicMetresPerHour() float64 { return float64(q) * 3600 }

// Millimetres gives the bore of d mm.
func Millimetres(d float64) Bore { return Bore(d / 1000) }

// Millimetres gives d in mm.
func (d Bore) Millimetres() float64 { return float64(d) * 1000 }

// Litres gives v in litres.
func (v Volume) Litres() float64 { return float64(v) * 1000 }

// Bar gives the pressure of p bar.
func Bar(p float64) Pressure { return Pressure(p * 1e5) }

// Bar gives p in bar.
func (p Pressure) Bar() float64 { return float64(p) / 1e5 }
