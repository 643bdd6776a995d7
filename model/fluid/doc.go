// Package fluid gives the properties of what a cleaning circuit carries: water
// and steam after IAPWS-IF97, and dilute caustic, acid and disinfectant.
//
// Water and steam follow the releases of the International Association for the
// Properties of Water and Steam: R7-97(2012) regions 1, 2 and 4 (liquid below
// 350 °C, steam below 800 °C, saturation), R12-08 for viscosity and R15-11 for
// thermal conductivity, the last two without the critical enhancement. Pressures
// of water and steam are absolute. Region 3, about the critical point, and
// region 5 are outside this package and are refused.
//
// Solutions are named by a [Liquid]: a medium, its strength as a mass fraction
// and a temperature. What each property rests on, over which range and with
// which standing, is listed by [Sources].
//
// Every function refuses a state outside its range with a [RangeError]; none
// extrapolates. What is not known, such as the conductivity of tap water, is
// left unknown rather than zero.
package fluid
