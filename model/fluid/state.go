package fluid

import (
	"rinsewright/model/quantity"
)

// Constants of R7-97, section 2.
const (
	gasConstant         = 461.526      // J/(kg·K), specific gas constant of water
	criticalTemperature = 647.096      // K
	criticalPressure    = 22.064e6     // Pa
	criticalDensity     = 322.0        // kg/m³
	lowestTemperature   = 273.15       // K
	highestLiquid       = 623.15       // K, end of region 1
	highestSteam        = 1073.15      // K, end of region 2
	highestPressure     = 100e6        // Pa
	saturationAt350C    = 16.5291643e6 // Pa, saturation pressure at 623.15 K; start of region 3
)

// Region is one of the regions of IF97.
type Region int

const (
	Liquid1     Region = 1 // liquid, to 350 °C
	Steam2      Region = 2 // steam, to 800 °C
	Saturation4 Region = 4 // boiling: liquid and steam together
)

// State is water or steam at one temperature and pressure.
type State struct {
	Region       Region
	Temperature  quantity.Temperature
	Pressure     quantity.Pressure // absolute
	Volume       float64           // m³/kg
	Energy       Enthalpy          // J/kg, internal energy
	Enthalpy     Enthalpy
	Entropy      Entropy
	HeatCapacity HeatCapacity
}

// Density is the reciprocal of the specific volume.
func (s State) Density() Density { return Density(1 / s.Volume) }

// Viscosity is that of water or steam in this state; see [WaterViscosity].
func (s State) Viscosity() Viscosity {
	return viscosityOf(float64(s.Density()), float64(s.Temperature))
}

// Conductance is the thermal conductivity in this state; see [WaterConductance].
func (s State) Conductance() Conductance {
	return conductanceOf(float64(s.Density()), float64(s.Temperature))
}

// At gives water or steam at a temperature of 273.15 to 1073.15 K and an
// absolute pressure above zero to 100 MPa, by the basic equations of regions 1
// and 2. Exactly at saturation it gives the liquid. A state in region 3 is a
// [RangeError].
func At(t quantity.Temperature, abs quantity.Pressure) (State, error) {
	const of = "water or steam"
	T, p := float64(t), float64(abs)
	if err := within(of, "absolute pressure", p, smallestPressure, highestPressure, "Pa"); err != nil {
		return State{}, err
	}
	if err := within(of, "temperature", T, lowestTemperature, highestSteam, "K"); err != nil {
		return State{}, err
	}
	if T <= highestLiquid {
		if p >= saturationPressure(T) {
			return region1(T, p), nil
		}
		return region2(T, p), nil
	}
	if p > boundary23Pressure(T) {
		return State{}, within(of+" (region 3 is not covered)", "absolute pressure", p, smallestPressure, boundary23Pressure(T), "Pa")
	}
	return region2(T, p), nil
}

// smallestPressure is not a limit of the release, which says only that the
// pressure is above zero; below 1 Pa there is no use for it here.
const smallestPressure = 1.0

// assemble makes a state of the dimensionless Gibbs energy g and its
// derivatives by the reduced pressure (gp) and the inverse reduced temperature
// (gt, gtt); R7-97, tables 3 and 12.
func assemble(r Region, T, p, pi, tau, g, gp, gt, gtt float64) State {
	const R = gasConstant
	return State{
		Region:       r,
		Temperature:  quantity.Temperature(T),
		Pressure:     quantity.Pressure(p),
		Volume:       pi * gp * R * T / p,
		Energy:       Enthalpy(R * T * (tau*gt - pi*gp)),
		Enthalpy:     Enthalpy(R * T * tau * gt),
		Entropy:      Entropy(R * (tau*gt - g)),
		HeatCapacity: HeatCapacity(-R * tau * tau * gtt),
	}
}
