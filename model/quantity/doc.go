// Package quantity holds the physical quantities of a cleaning circuit as
// distinct types, so that a pressure cannot be passed where a flow is meant.
//
// Every value is in SI base units inside the program (m, m³/s, Pa, K, s, W,
// kg/s ...). A value is converted to another unit in two places only: in the
// circuit file, whose keys carry the unit ("flow_m3h"), and on the screen or in
// a report, where the reader chooses metric or US units (see [System]).
//
// An unknown value is not zero: optional values are held as [Opt].
package quantity
