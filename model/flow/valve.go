package flow

import (
	"fmt"

	"rinsewright/model"
	"rinsewright/model/catalogue"
	"rinsewright/model/hydraulic"
	"rinsewright/model/network"
)

// usual is the fitting that an open valve of a kind is taken for while its Kv is not
// told (Hooper's table). There is no open table for mix-proof, divert and hygienic
// seat valves; an angle or Y pattern gives them K 2 to 4, which is common practice.
var usual = map[string]hydraulic.Fitting{
	"butterfly-valve":     hydraulic.Butterfly,
	"ball-valve":          hydraulic.BallValve,
	"gate-valve":          hydraulic.BallValve,
	"plug-valve":          hydraulic.BallValve,
	"diaphragm-valve":     hydraulic.Diaphragm,
	"globe-valve":         hydraulic.SeatValve,
	"regulating-valve":    hydraulic.SeatValve,
	"steam-control-valve": hydraulic.SeatValve,
	"check-valve":         hydraulic.SwingCheck,
	"swing-bend":          hydraulic.Bend180Long,
}

func fittingOf(kind *catalogue.Kind) hydraulic.Fitting {
	if f, ok := usual[kind.Name]; ok {
		return f
	}
	if kind.Has(catalogue.TraitCheck) {
		return hydraulic.SwingCheck
	}
	return hydraulic.AngleValve
}

// resistValve gives the loss of a valve to the path that its seat shuts: the one
// open in some positions only, or the whole of a check valve.
func (w *work) resistValve(pc *piece, edge *network.Edge, v *model.Valve, kind *catalogue.Kind, path catalogue.Path) {
	check := kind.Has(catalogue.TraitCheck)
	pc.oneWay = check && path.OneWay
	if !check && len(path.OpenIn) == 0 {
		return
	}
	kv, known := v.Kv.Get()
	if known && kv <= 0 {
		w.fail(model.PlaceOf(v.ID), "%s has a Kv of 0: nothing passes it open", w.name(v.ID))
		pc.broken = true
		return
	}
	if known {
		// Δp = 1 bar · (ρ/ρ0) (Q/Kv)², IEC 60534
		pc.fixed += 1e5 / (waterDensity * hydraulic.StandardGravity) / (float64(kv) * float64(kv))
		return
	}
	f := fittingOf(kind)
	k := w.lossOn(pc, f, v.ID, "size")
	w.assume(Assumption{What: "loss of the open valve", Value: fmt.Sprintf("as %s: K %.2f", f, k), Basis: "W. B. Hooper, Chem. Eng. 88 (1981) 96, for the class", Record: v.ID, Key: "kv_m3h"})
}
