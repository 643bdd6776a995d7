package main

import (
	"rinsewright/model/quantity"
	"rinsewright/model/wash"
)

// Units of energy and mass in a reader's system: kWh or thousands of Btu
// (international table, 1055.05585262 J), kg or lb (0.45359237 kg; both NIST SP 811,
// appendix B.8). Electricity is told in kWh everywhere.
const (
	joulesPerKilowattHour = 3.6e6
	joulesPerKiloBtu      = 1055.05585262e3
	kilogramsPerPound     = 0.45359237
)

func heatUnit(s quantity.System) (name string, joules float64) {
	if s == quantity.US {
		return "kBtu", joulesPerKiloBtu
	}
	return "kWh", joulesPerKilowattHour
}

func massUnit(s quantity.System) (name string, kilograms float64) {
	if s == quantity.US {
		return "lb", kilogramsPerPound
	}
	return "kg", 1
}

func heatNumber(e wash.Energy, s quantity.System) string {
	_, unit := heatUnit(s)
	return quantity.Number(float64(e) / unit)
}

func massNumber(m wash.Mass, s quantity.System) string {
	_, unit := massUnit(s)
	return quantity.Number(float64(m) / unit)
}

func volumeNumber(v quantity.Volume, s quantity.System) string {
	return quantity.Number(quantity.DisplayUnit[quantity.Volume](s).FromSI(float64(v)))
}

func minutes(t quantity.Duration) string { return quantity.Number(float64(t) / 60) }
