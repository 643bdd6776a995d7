// Package thermal gives the heat side of a cleaning circuit: duties, heat
// exchangers, steam, warming up, losses and expansion.
//
// It states what is; whether that is enough is for the checks to say. Pressures
// of steam are absolute. Functions refuse arguments that make no sense, such as
// crossing temperatures, with an error that names the values.
package thermal
