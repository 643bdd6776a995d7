package model

import . "rinsewright/model/quantity"

// Run is a pipe run between two ports.
//
// Its stretches, from From to To, tell its way in the plant; their rises add up
// to the height difference of its ends. A run without stretches is one straight
// stretch of unknown length between its ports. A run with one stretch of length
// zero joins two parts face to face.
type Run struct {
	ID         ID            `json:"id"`
	Tag        string        `json:"tag,omitempty"`
	From       End           `json:"from"`
	To         End           `json:"to"`
	Size       Opt[TubeSize] `json:"size,omitzero"`
	Stretches  []Stretch     `json:"stretches,omitempty"`
	Elbows     Opt[int]      `json:"elbows,omitzero"`        // 90° bends of the tube
	Insulation Opt[Bore]     `json:"insulation_mm,omitzero"` // thickness; zero: bare
	Bends      []Point       `json:"bends_mm,omitempty"`
	Label      *Point        `json:"label_mm,omitempty"` // middle of its label from the middle of its line, on the drawing; nil: where there is room
	Carries    Opt[Medium]   `json:"carries,omitzero"`   // for its colour when no step says
	Note       string        `json:"note,omitempty"`
}

// End is one end of a run: a port of a part, or, while Part is empty, a loose
// end at a place on the drawing.
type End struct {
	Part ID     `json:"part,omitempty"`
	Port string `json:"port,omitempty"`
	At   *Point `json:"at_mm,omitempty"` // of a loose end only
}

// Loose says whether the end hangs free.
func (e End) Loose() bool { return e.Part == "" }

// Stretch is a straight piece of a run.
type Stretch struct {
	Length Opt[Length] `json:"length_m,omitzero"`
	Rise   Opt[Length] `json:"rise_m,omitzero"` // of its far end above its near end; negative falls
}

func (r *Run) RecordID() ID { return r.ID }
func (r *Run) record()      {}

// Length adds up the stretches; unknown if there are none or one is unknown.
func (r *Run) Length() Opt[Length] {
	if len(r.Stretches) == 0 {
		return Opt[Length]{}
	}
	var sum Length
	for _, s := range r.Stretches {
		l, ok := s.Length.Get()
		if !ok {
			return Opt[Length]{}
		}
		sum += l
	}
	return Some(sum)
}

// Rise adds up the rises; unknown if there are no stretches or one is unknown.
func (r *Run) Rise() Opt[Length] {
	if len(r.Stretches) == 0 {
		return Opt[Length]{}
	}
	var sum Length
	for _, s := range r.Stretches {
		h, ok := s.Rise.Get()
		if !ok {
			return Opt[Length]{}
		}
		sum += h
	}
	return Some(sum)
}
