package model

import (
	"crypto/rand"
	"encoding/base32"
	"strings"
)

// ID names a record for its whole life, over all revisions of a circuit. It is
// random rather than counted, so that two people who edit copies of one file
// never give the same one to different things.
type ID string

// HeaderID is the id of the one header of a circuit.
const HeaderID ID = "circuit"

// NewID makes an id that begins with the given letter: "p" for a part, "r" for
// a run, "s" for a step, "d" for a deviation, "m" for a mark, "a" for an answer.
func NewID(letter string) ID {
	var b [5]byte
	rand.Read(b[:]) // never fails: crypto/rand ends the program rather than give weak numbers
	return ID(letter + strings.ToLower(base32.StdEncoding.EncodeToString(b[:])))
}
