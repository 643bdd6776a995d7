package wash

import . "rinsewright/model/quantity"

// spill lets what a full tank cannot hold run over: as it is mixed, out of the circuit.
// A tank whose shape is not told is never full.
func (s *sim) spill(r *Step, t *tank) {
	over := t.holds[volume] - t.total()
	if !t.shaped || over <= 0 {
		return
	}
	a := t.holds.take(over)
	s.left.add(&a)
	r.Use.Elsewhere += Volume(over)
	t.spilled += over
}

// tellSpills notes which tanks ran over in a step, and by how much.
func (s *sim) tellSpills(r *Step) {
	for _, t := range s.order {
		if t.spilled > 0 {
			r.note(Say("%s runs over: %v more comes than its %v hold", s.name(t.id), Volume(t.spilled), Volume(t.total())))
			t.spilled = 0
		}
	}
}
