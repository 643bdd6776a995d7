package sizing

import (
	"strings"

	"rinsewright/model/quantity"
)

// Sheet is a calculation sheet.
type Sheet struct {
	Lines    []Line
	Cautions []string
	Proposal Proposal
}

// Line is one result.
type Line struct {
	Section string
	Key     string // "flow"
	Of      string // object that it is of; empty: the station
	Label   string
	Value   Value
	Formula string // in words
	Inputs  []Input
	Missing []string // what is not known, where the value is not
	Why     string   // why there is no value though all is known, or what to look out for
	Basis   Basis    // of the formula
}

// Input is something that went into a line.
type Input struct {
	Label string
	Value Value
	Basis Basis // of an assumption
}

// InputWords writes the inputs: "diameter 2 m; wetting 31 L/min·m".
func (l Line) InputWords(s quantity.System) string {
	var words []string
	for _, in := range l.Inputs {
		words = append(words, in.Label+" "+in.Value.Text(s))
	}
	return strings.Join(words, "; ")
}

// Told writes the value, or what is missing for it.
func (l Line) Told(s quantity.System) string {
	if l.Value.Known() {
		return l.Value.Text(s)
	}
	if len(l.Missing) > 0 {
		return NotKnown + ": " + strings.Join(l.Missing, ", ")
	}
	if l.Why != "" {
		return NotKnown + ": " + l.Why
	}
	return NotKnown
}

// SourceWords writes the sources of the formula and of the assumptions that went in.
func (l Line) SourceWords() string {
	words := []string{l.Basis.String()}
	seen := map[string]bool{words[0]: true}
	for _, in := range l.Inputs {
		if w := in.Basis.String(); w != "" && !seen[w] {
			seen[w] = true
			words = append(words, w)
		}
	}
	return strings.Join(words, "; ")
}

// Line gives the line of a key and an object; false if there is none.
func (s *Sheet) Line(key, of string) (Line, bool) {
	for _, l := range s.Lines {
		if l.Key == key && l.Of == of {
			return l, true
		}
	}
	return Line{}, false
}
