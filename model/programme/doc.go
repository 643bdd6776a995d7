// Package programme holds ready wash programmes as data and makes the steps of a
// circuit from them.
//
// A [Template] says for a sort of soil what is sent in which order, how strong, how
// warm and how long, each number with its range and its source. [Make] puts it on a
// circuit: it takes the tanks that hold the media, finds the line-ups, opens steam
// where a step is warm, and tells in notes what could not be had.
//
// The numbers are a start. What holds are the supplier's data, the makers of seals
// and the plant's own trials.
package programme
