package flow

import (
	"fmt"
	"slices"
	"strings"

	"rinsewright/model"
	"rinsewright/model/fluid"
	"rinsewright/model/hydraulic"
	"rinsewright/model/network"
	. "rinsewright/model/quantity"
)

// LiquidOf gives the liquid that a step sends through the circuit, and what of it
// was never told. Alkali is taken as caustic soda, acid as nitric acid, disinfectant
// as peracetic acid where the step names no chemical, recovered water as water. The
// error says that a medium, or the chemical named, is no liquid that is known here: it
// is not taken as another one.
func LiquidOf(step *model.Step) (fluid.Liquid, []network.Missing, error) {
	var l fluid.Liquid
	var missing []network.Missing
	need := func(key string) { missing = append(missing, network.Missing{Record: step.ID, Key: key}) }
	medium, known := step.Medium.Get()
	switch {
	case !known:
		need("medium")
	case medium == model.Water:
		l.Medium = fluid.PureWater
	case medium == model.Recovered:
		l.Medium = fluid.RecoveredWater
	case medium == model.Alkali:
		l.Medium = fluid.Caustic
	case medium == model.Acid:
		l.Medium = fluid.NitricAcid
	case medium == model.Disinfect:
		l.Medium = fluid.PeraceticAcid
	default:
		return l, nil, fmt.Errorf("the flow of %s is not computed: its density and viscosity are not known", medium)
	}
	chemical := known && medium != model.Water && medium != model.Recovered
	if c, told := step.Chemical.Get(); told && chemical {
		if !Computes(c) {
			return l, nil, noData(c)
		}
		l.Medium = fluid.Medium(c)
	}
	var ok bool
	if l.Temperature, ok = step.Temperature.Get(); !ok {
		need("temperature_C")
	}
	if chemical {
		if l.Strength, ok = step.Strength.Get(); !ok {
			need("strength_pct")
		}
	}
	return l, missing, nil
}

// Computes says whether density and viscosity of the solution of a chemical are known
// here, so that its flow is computed.
func Computes(c model.Chemical) bool { return slices.Contains(fluid.Media(), fluid.Medium(c)) }

func noData(c model.Chemical) error {
	return fmt.Errorf("the flow of %s is not computed: its density and viscosity are not known", strings.ReplaceAll(string(c), "-", " "))
}

// chemical gives the chemical that a step draws: that it names, else that of the tank or
// supply it draws the same medium from.
func (w *work) chemical() (model.Chemical, bool) {
	if c, told := w.step.Chemical.Get(); told {
		return c, true
	}
	medium, known := w.step.Medium.Get()
	switch part := w.p.Circuit.Part(w.step.Source).(type) {
	case *model.Vessel:
		if known && part.Holds == Some(medium) {
			return part.Chemical.Get()
		}
	case *model.Terminal:
		if known && part.Medium == Some(medium) {
			return part.Chemical.Get()
		}
	}
	return "", false
}

// fill sets the liquid of the step and says whether it is known.
func (w *work) fill() bool {
	l, missing, err := LiquidOf(w.step)
	if c, told := w.chemical(); err == nil && told && l.Medium != fluid.PureWater && l.Medium != fluid.RecoveredWater && !Computes(c) {
		err = noData(c)
	}
	if err != nil {
		w.fail(model.PlaceOf(w.step.ID), "%v", err)
		return false
	}
	w.sol.Missing = append(w.sol.Missing, missing...)
	if len(missing) > 0 {
		return false
	}
	w.sol.Liquid = l
	p, err := l.Properties()
	if err != nil {
		w.fail(model.PlaceOf(w.step.ID), "the liquid of the step: %v", err)
		return false
	}
	w.sol.Properties = Some(p)
	w.vapour = p.VapourPressure
	w.fluid = hydraulic.Fluid{Density: float64(p.Density), Viscosity: float64(p.Viscosity)}
	if w.step.Chemical.Known() && l.Medium != fluid.RecoveredWater {
		return true
	}
	switch l.Medium {
	case fluid.Caustic:
		w.assume(Assumption{What: "chemical of the alkali", Value: "sodium hydroxide", Basis: practice, Record: w.step.ID, Key: "chemical"})
	case fluid.NitricAcid:
		w.assume(Assumption{What: "chemical of the acid", Value: "nitric acid", Basis: practice, Record: w.step.ID, Key: "chemical"})
	case fluid.PeraceticAcid:
		w.assume(Assumption{What: "chemical of the disinfectant", Value: "peracetic acid", Basis: practice, Record: w.step.ID, Key: "chemical"})
	case fluid.RecoveredWater:
		w.assume(Assumption{What: "properties of recovered water", Value: "those of water", Basis: practice, Record: w.step.ID, Key: "medium"})
	}
	return true
}
