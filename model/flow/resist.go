package flow

import (
	"fmt"
	"math"
	"slices"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/hydraulic"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

const (
	strainerDrop  Pressure = 0.2e5 // Pa, clean, at strainerSpeed; common practice gives 0.1 to 0.3 bar
	strainerSpeed          = 1.5   // m/s

	// exchangerExponent is that of the pressure drop of a plate or tube exchanger
	// with the flow: friction with Re^-0.2, turbulent. Common practice, no source.
	exchangerExponent = 1.8

	// stoppedPumpLoss is K on the suction bore of a centrifugal pump that stands.
	stoppedPumpLoss = 10.0
)

// resist gives the resistance of an edge.
func (w *work) resist(e int) piece {
	edge := &w.p.Edges[e]
	pc := piece{edge: e}
	d, known := edge.Bore.Get()
	if known {
		pc.bore = float64(d)
	}
	if edge.Part == "" {
		w.resistRun(&pc, edge)
		return pc
	}
	part, kind := w.p.PartOfEdge(e), w.kindOf(e)
	path := kind.Paths[edge.Path]
	w.resistLength(&pc, edge, kind, path)
	switch part := part.(type) {
	case *model.Vessel:
		w.resistNozzle(&pc, edge, kind, path)
	case *model.Pump:
		w.resistPump(&pc, part)
	case *model.Valve:
		w.resistValve(&pc, edge, part, kind, path)
	case *model.Exchanger:
		w.resistExchanger(&pc, part, path)
	case *model.Spray:
		w.resistSpray(&pc, part)
	case *model.Fitting:
		w.resistFitting(&pc, part, kind)
	case *model.Terminal:
		if w.opensToAir(part, edge) {
			w.addExit(&pc, e)
		}
	}
	if w.isOut(edge.To) {
		pc.oneWay = true // no liquid comes back from above a vessel's liquid or from the air
	}
	return pc
}

// isOut says whether a node is the mouth of an inlet or open to the air.
func (w *work) isOut(n int) bool {
	node := w.p.Nodes[n]
	return node.Role == catalogue.RoleAir || node.Role == catalogue.RoleVessel && !isDraw(node)
}

func (pc *piece) need(record model.ID, key string) {
	m := network.Missing{Record: record, Key: key}
	if !slices.Contains(pc.missing, m) {
		pc.missing = append(pc.missing, m)
	}
}

// cannotBe says that a told number leaves no law of the piece.
func (w *work) cannotBe(pc *piece, id model.ID, what string, value any) {
	pc.broken = true
	w.impossible(id, what, value)
}

// impossible says that a told number, which is not missing, cannot be.
func (w *work) impossible(id model.ID, what string, value any) {
	w.fail(model.PlaceOf(id), "the %s of %s cannot be %v: it must be above zero", what, w.name(id), value)
}

func (w *work) resistRun(pc *piece, edge *network.Edge) {
	l, known := edge.Length.Get()
	if !known {
		pc.need(edge.Run, "stretches")
	}
	pc.length = float64(l)
	run := w.p.RunOfEdge(pc.edge)
	elbows, told := run.Elbows.Get()
	stretches := max(1, len(run.Stretches))
	if !told && stretches > 1 {
		elbows = stretches - 1
		w.assume(Assumption{What: "bends of the run", Value: fmt.Sprintf("%d, one between two stretches", elbows), Basis: practice, Record: run.ID, Key: "elbows"})
	}
	// Bends lie between stretches: the first at the beginning of the second one, and
	// so on round: bend i, from 1, is at stretch i mod stretches.
	pc.count = float64(elbows / stretches)
	if at := edge.Stretch; at > 0 && at <= elbows%stretches {
		pc.count++
	}
	if pc.count > 0 {
		pc.fitting, pc.on = hydraulic.Bend90Long, pc.bore
	}
	if pc.bore == 0 && (pc.length > 0 || pc.count > 0 || !known) {
		pc.need(edge.Run, "size")
		pc.count = 0
	}
}

// resistLength takes the length of a path as that of a tube. A few centimetres of a
// valve, tee or pocket may be unknown; the length of what is a piece of line may
// not.
func (w *work) resistLength(pc *piece, edge *network.Edge, kind *catalogue.Kind, path catalogue.Path) {
	if l, known := edge.Length.Get(); known {
		pc.length = float64(l)
	} else if kind.Class == model.ClassObject || kind.Class == model.ClassFitting && !kind.Has(catalogue.TraitTee) && !kind.Has(catalogue.TraitReducer) {
		pc.need(edge.Part, path.Length)
	} else {
		w.assume(Assumption{What: "friction along the part", Value: "none", Basis: "its length is not told; a few centimetres", Record: edge.Part, Key: path.Length})
	}
	if pc.length > 0 && pc.bore == 0 {
		if key := w.boreKey(edge, path); key != "" {
			pc.need(edge.Part, key)
		}
		pc.length = 0
	}
}

// boreKey names the property that would give an edge of a part its bore.
func (w *work) boreKey(edge *network.Edge, path catalogue.Path) string {
	for _, m := range edge.Missing {
		if m.Key != path.Length && m.Key != path.Volume {
			return m.Key
		}
	}
	return ""
}

// kindOf gives the kind of the part that an edge is a path of; nil for a stretch.
func (w *work) kindOf(e int) *catalogue.Kind {
	if w.p.Edges[e].Part == "" {
		return nil
	}
	return w.p.KindOfNode(w.p.Edges[e].From)
}

// boreNear gives the bore of an edge, else the smallest beside it, in m.
func (w *work) boreNear(e int) float64 {
	edge := &w.p.Edges[e]
	if d, known := edge.Bore.Get(); known {
		return float64(d)
	}
	best := 0.0
	for _, n := range [2]int{edge.From, edge.To} {
		if w.isVessel(n) {
			continue
		}
		for _, a := range w.p.Graph().Incident(n) {
			if d, known := w.p.Edges[a.Edge].Bore.Get(); known && (best == 0 || float64(d) < best) {
				best = float64(d)
			}
		}
	}
	return best
}

// lossOn adds a fitting on the bore of the edge or of what stands beside it; key is
// the property to be told where there is none.
func (w *work) lossOn(pc *piece, f hydraulic.Fitting, record model.ID, key string) float64 {
	d := w.boreNear(pc.edge)
	if d == 0 {
		pc.need(record, key)
		return 0
	}
	pc.fitting, pc.count, pc.on = f, 1, d
	k, _ := hydraulic.Hooper(f, d, 1e5)
	return k
}

func (w *work) resistNozzle(pc *piece, edge *network.Edge, kind *catalogue.Kind, path catalogue.Path) {
	name := path.From
	if kind.Inner[0].Name == name {
		name = path.To
	}
	port, _ := kind.Port(name)
	d := w.boreNear(pc.edge)
	if size, ok := port.SizeOf(w.p.PartOfEdge(pc.edge)); ok {
		if tube, known := w.p.Catalogue.Tube(size); known {
			d = float64(tube.Inside())
		}
	}
	switch {
	case d == 0: // nothing but a seam: no loss that could be told
	case port.Role == "out":
		pc.fixed += hydraulic.EntranceLoss * velocityHead(d)
	default:
		pc.exit = hydraulic.ExitLoss * velocityHead(d)
	}
}

// addExit adds the velocity head that an open end spends.
func (w *work) addExit(pc *piece, e int) {
	if d := w.boreNear(e); d > 0 {
		pc.exit = hydraulic.ExitLoss * velocityHead(d)
	}
}

// resistPump is for a pump that stands; a running one has a link of its own.
func (w *work) resistPump(pc *piece, pump *model.Pump) {
	if w.running[pump.ID] {
		pc.pump = true
		return
	}
	d := w.boreNear(pc.edge)
	if d == 0 {
		pc.need(pump.ID, "size")
		return
	}
	pc.fixed = stoppedPumpLoss * velocityHead(d)
	w.assume(Assumption{What: "loss of the pump that stands", Value: fmt.Sprintf("K %.0f on its suction bore, both ways", stoppedPumpLoss), Basis: practice, Record: pump.ID})
}

func (w *work) resistExchanger(pc *piece, x *model.Exchanger, path catalogue.Path) {
	dp, knownDrop := x.PressureDrop.Get()
	q, knownFlow := x.RatedFlow.Get()
	if !knownDrop {
		pc.need(x.ID, "pressure_drop_bar")
	}
	if !knownFlow {
		pc.need(x.ID, "rated_flow_m3h")
	} else if !(q > 0) {
		w.cannotBe(pc, x.ID, "rated flow", q)
	}
	if len(pc.missing) > 0 || pc.broken {
		return
	}
	if path.Bore == "service_size" {
		w.assume(Assumption{What: "pressure drop of the service side", Value: "as that of the liquid side", Basis: practice, Record: x.ID})
	}
	// The drop is told for water-like liquids: taken as that of the step's liquid.
	pc.power = power{gravityHead(dp, w.fluid), float64(q), exchangerExponent}
	w.assume(Assumption{What: "growth of the pressure drop with the flow", Value: fmt.Sprintf("power %.1f", exchangerExponent), Basis: "turbulent friction, " + practice, Record: x.ID})
}

func (w *work) resistSpray(pc *piece, s *model.Spray) {
	pc.spray = true
	q, knownFlow := s.RatedFlow.Get()
	dp, knownDrop := s.RatedPressure.Get()
	if !knownFlow {
		pc.need(s.ID, "rated_flow_m3h")
	} else if !(q > 0) {
		w.cannotBe(pc, s.ID, "rated flow", q)
	}
	if !knownDrop {
		pc.need(s.ID, "rated_pressure_bar")
	} else if !(dp > 0) {
		w.cannotBe(pc, s.ID, "rated pressure", dp)
	}
	if len(pc.missing) > 0 || pc.broken {
		return
	}
	// An orifice: Δp = ρ/ρ0 · Δp0 (Q/Q0)², its figures being of water of 1000 kg/m³.
	pc.fixed += float64(dp) / (waterDensity * hydraulic.StandardGravity) / (float64(q) * float64(q))
}

// waterDensity is that of the water for which makers tell Kv and flows, kg/m³.
const waterDensity = 1000

func (w *work) resistFitting(pc *piece, f *model.Fitting, kind *catalogue.Kind) {
	switch {
	case kind.Has(catalogue.TraitStrainer):
		d := w.boreNear(pc.edge)
		if d == 0 {
			pc.need(f.ID, "size")
			return
		}
		q := strainerSpeed * math.Pi / 4 * d * d
		pc.fixed += float64(strainerDrop) / (waterDensity * hydraulic.StandardGravity) / (q * q)
		w.assume(Assume(Say("%v at %v", strainerDrop, Velocity(strainerSpeed)), Assumption{What: "pressure drop of the clean strainer", Basis: practice, Record: f.ID}))
	case kind.Has(catalogue.TraitReducer):
		w.resistReducer(pc, f)
	}
}

// resistReducer takes the loss of a cone (Crane TP-410), or of a sudden change where
// its length is not told. Its tube is a short piece of the small bore.
func (w *work) resistReducer(pc *piece, f *model.Fitting) {
	large, small := w.p.Catalogue.Bore(f, "size"), w.p.Catalogue.Bore(f, "second_size")
	a, knownA := large.Get()
	b, knownB := small.Get()
	if !knownA {
		pc.need(f.ID, "size")
	}
	if !knownB {
		pc.need(f.ID, "second_size")
	}
	if !knownA || !knownB || a == b {
		return
	}
	big, thin := float64(max(a, b)), float64(min(a, b))
	angle := math.Pi
	if l, known := f.RunLength.Get(); known && l > 0 {
		angle = 2 * math.Atan((big-thin)/2/float64(l))
	} else {
		w.assume(Assumption{What: "shape of the reducer", Value: "a sudden change of bore", Basis: "its length is not told", Record: f.ID, Key: "run_mm"})
	}
	narrow, err1 := hydraulic.Narrowing(big, thin, angle)
	wide, err2 := hydraulic.Widening(thin, big, angle)
	if err1 != nil || err2 != nil {
		return // bores above zero and the angle above make this impossible
	}
	head := velocityHead(thin)
	pc.cone = cone{narrow * head, wide * head, a > b}
}
