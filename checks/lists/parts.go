package lists

import (
	"fmt"
	"maps"
	"slices"

	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/quantity"
)

// parts lists every part of the plant by its tag, then what tube there is of each
// size: its length and its bends.
func parts(s *checks.Snapshot, system quantity.System) *Table {
	t := &Table{Columns: []Column{{"Tag", ""}, {"Kind", ""}, {"Size", ""}, {"Second size", ""}, {"Number", ""},
		in[quantity.Length]("Length", system), in[quantity.Length]("Elevation", system), {"Note", ""}}}
	for _, p := range ofClass[model.Part](s) {
		if p.Class() == model.ClassFrame {
			continue
		}
		m := p.Meta()
		second := ""
		for _, key := range []string{"second_size", "outlet_size", "inlet_size", "service_size"} {
			if second == "" {
				second = sizeOf(p, key)
			}
		}
		t.Rows = append(t.Rows, []Cell{Text(m.Tag), Text(kindTitle(s, p)), Text(sizeOf(p, "size")), Text(second), Number(1), {}, of(m.Elevation, system), Text(m.Note)})
	}
	type tube struct {
		runs, bends, untold, untoldBends int
		length                           quantity.Length
	}
	sizes := map[model.TubeSize]*tube{}
	for _, r := range s.Circuit.Runs() {
		if !carries(s, r) {
			continue
		}
		size := r.Size.Or("")
		if sizes[size] == nil {
			sizes[size] = &tube{}
		}
		x := sizes[size]
		x.runs++
		if l, ok := r.Length().Get(); ok {
			x.length += l
		} else {
			x.untold++
		}
		if n, ok := r.Elbows.Get(); ok {
			x.bends += n
		} else {
			x.untoldBends++
		}
	}
	for _, size := range slices.Sorted(maps.Keys(sizes)) {
		x := sizes[size]
		name := string(size)
		if name == "" {
			name = "size not told"
		}
		note := ""
		if x.untold > 0 {
			note = fmt.Sprintf("length of %d of them not told", x.untold)
		}
		t.Rows = append(t.Rows, []Cell{{}, Text("Tube, runs"), Text(name), {}, Number(float64(x.runs)), of(quantity.Some(x.length), system), {}, Text(note)})
		note = ""
		if x.untoldBends > 0 {
			note = fmt.Sprintf("bends of %d runs not told", x.untoldBends)
		}
		if x.bends > 0 || note != "" {
			t.Rows = append(t.Rows, []Cell{{}, Text("Bend 90°"), Text(name), {}, Number(float64(x.bends)), {}, {}, Text(note)})
		}
	}
	return t
}

// carries says whether a run is a tube: signal lines are none, nor are joints of
// two parts face to face, which have no length.
func carries(s *checks.Snapshot, r *model.Run) bool {
	if l, ok := r.Length().Get(); ok && l == 0 {
		return false
	}
	for _, e := range []model.End{r.From, r.To} {
		if k := s.Kind(s.Circuit.Part(e.Part)); k != nil {
			if port, ok := k.Port(e.Port); ok && port.Service == "signal" {
				return false
			}
		}
	}
	return true
}

// valves lists the valves with what they do in every step: the position that the
// step says, or else the normal one.
func valves(s *checks.Snapshot, system quantity.System) *Table {
	t := &Table{Columns: []Column{{"Tag", ""}, {"Kind", ""}, {"Size", ""}, {"Second size", ""}, {"Moved by", ""}, {"Normal position", ""},
		{"Fails to", ""}, {"Reports its position", ""}, in[quantity.ValveFlow]("Kv", system), in[quantity.Pressure]("Set pressure", system)}}
	if u := quantity.DisplayUnit[quantity.ValveFlow](system).Name; system == quantity.Metric {
		t.Columns[8] = Column{"Kv", "m³/h"}
	} else {
		t.Columns[8] = Column{"Cv", u[len("Cv "):]}
	}
	steps := s.Circuit.Steps()
	for _, step := range steps {
		t.Columns = append(t.Columns, Column{stepName(step), ""})
	}
	for _, v := range ofClass[*model.Valve](s) {
		row := []Cell{Text(v.Tag), Text(kindTitle(s, v)), Text(string(v.Size.Or(""))), Text(string(v.SecondSize.Or(""))), choice(v.Actuation), choice(v.Normal),
			choice(v.FailsTo), yesNo(v.PositionProof), of(v.Kv, system), of(v.SetPressure, system)}
		for _, step := range steps {
			position, told := step.Positions[v.ID]
			if !told {
				position = v.Normal.Or("")
			}
			row = append(row, choice(quantity.Some(position)))
		}
		t.Rows = append(t.Rows, row)
	}
	t.Remarks = append(t.Remarks, "Positions: as the step says, else the normal one; empty where neither is told.")
	return t
}

func instruments(s *checks.Snapshot, system quantity.System) *Table {
	t := &Table{Columns: []Column{{"Tag", ""}, {"Kind", ""}, {"Letters", ""}, {"Size", ""}, in[quantity.Bore]("Stub", system), in[quantity.Bore]("Pocket bore", system),
		{"Set at", ""}, {"Stands at", ""}, in[quantity.Length]("Elevation", system), {"Note", ""}}}
	for _, p := range ofClass[*model.Instrument](s) {
		letters := p.Letters.Or("")
		if k := s.Kind(p); letters == "" && k != nil {
			letters = k.Prefix
		}
		t.Rows = append(t.Rows, []Cell{Text(p.Tag), Text(kindTitle(s, p)), Text(letters), Text(string(p.Size.Or(""))), of(p.Stub, system), of(p.Pocket, system),
			Text(p.SetAt.Or("")), Text(neighbours(s, p)), of(p.Elevation, system), Text(p.Note)})
	}
	return t
}

// neighbours names the parts that runs join to a part, in order.
func neighbours(s *checks.Snapshot, p model.Part) string {
	var names []string
	for _, r := range s.Circuit.RunsAt(p.RecordID()) {
		for _, e := range []model.End{r.From, r.To} {
			if e.Loose() || e.Part == p.RecordID() {
				continue
			}
			if name := s.Name(e.Part); !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	slices.SortFunc(names, byTag)
	switch len(names) {
	case 0:
		return ""
	case 1:
		return names[0]
	}
	out := names[0]
	for i, n := range names[1:] {
		if i == len(names)-2 {
			out += " and " + n
		} else {
			out += ", " + n
		}
	}
	return out
}

// nozzles lists the ports of vessels.
func nozzles(s *checks.Snapshot, system quantity.System) *Table {
	t := &Table{Columns: []Column{{"Vessel", ""}, {"Nozzle", ""}, {"Service", ""}, {"Way", ""}, {"Size", ""}, in[quantity.Length]("Height above the outlet", system),
		in[quantity.Length]("Elevation", system), {"Joined to", ""}, {"Line", ""}}}
	for _, v := range ofClass[*model.Vessel](s) {
		k := s.Kind(v)
		if k == nil {
			t.Rows = append(t.Rows, []Cell{Text(v.Tag), Text("not known: no kind " + v.Kind), {}, {}, {}, {}, {}, {}, {}})
			continue
		}
		for _, port := range k.Ports {
			title := port.Title
			if title == "" {
				title = port.Name
			}
			size, _ := port.SizeOf(v)
			above := port.Height.Of(v)
			elevation := quantity.Opt[quantity.Length]{}
			if h, ok := above.Get(); ok {
				if e, ok := v.Elevation.Get(); ok {
					elevation = quantity.Some(h + e)
				}
			}
			to, line := joinedTo(s, v.ID, port.Name)
			t.Rows = append(t.Rows, []Cell{Text(v.Tag), Text(title), Text(port.Service), Text(port.Role), Text(string(size)), of(above, system), of(elevation, system), Text(to), Text(line)})
		}
	}
	return t
}

// joinedTo names what a port is joined to and the run between.
func joinedTo(s *checks.Snapshot, part model.ID, port string) (to, line string) {
	for _, r := range s.Circuit.RunsAt(part) {
		for _, ends := range [2][2]model.End{{r.From, r.To}, {r.To, r.From}} {
			if ends[0].Part != part || ends[0].Port != port {
				continue
			}
			other := "open end"
			if !ends[1].Loose() {
				other = s.Name(ends[1].Part)
			}
			to, line = comma(to, other), comma(line, r.Tag)
		}
	}
	return to, line
}

func comma(a, b string) string {
	switch {
	case a == "":
		return b
	case b == "":
		return a
	}
	return a + ", " + b
}
