package fluid

// Properties of matter, each in the SI unit named.
type (
	Density      float64 // kg/m³
	Viscosity    float64 // Pa·s, dynamic
	HeatCapacity float64 // J/(kg·K), at constant pressure
	Enthalpy     float64 // J/kg; zero for liquid water at its triple point, about
	Entropy      float64 // J/(kg·K); zero for liquid water at its triple point
	Conductance  float64 // W/(m·K), thermal conductivity
)
