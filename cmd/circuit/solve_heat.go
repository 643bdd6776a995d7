package main

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"rinsewright/model"
	"rinsewright/model/heat"
	"rinsewright/model/quantity"
)

// heatCaution stands where what is told of heat is used.
const heatCaution = "Computed, not measured. Steam, hot liquid and hot tube burn, heating shut-in liquid bursts pipes: verify on site; site rules, local codes and suppliers' data come first."

// tellsHeat says whether there is anything to tell of the heat of a step.
func tellsHeat(h *heat.State) bool {
	return len(h.Losses) > 0 || len(h.Missing) > 0 || len(h.Failures) > 0 || working(h)
}

// working says whether an exchanger on the way has something to do, or may have.
func working(h *heat.State) bool {
	for i := range h.Exchangers {
		if !h.Exchangers[i].Idle {
			return true
		}
	}
	return false
}

// heatText tells the heat side of the step and says whether there was any.
func (t *told) heatText(w io.Writer) bool {
	h, s := t.heat, t.system
	if !tellsHeat(h) {
		return false
	}
	fmt.Fprintf(w, "    heat: %s asked", orUnknown(h.Asked, s))
	if working(h) {
		fmt.Fprintf(w, ", %s at the start", orUnknown(h.Start, s))
	}
	if len(h.Losses) > 0 {
		fmt.Fprintf(w, "; while it runs %s leaves, %s comes to the end, %s lost on the way", orUnknown(h.Supplied, s), orUnknown(h.Back, s), t.lostText())
	}
	fmt.Fprintln(w)
	for i := range h.Exchangers {
		t.exchangerText(w, &h.Exchangers[i])
	}
	if u := h.WarmUp; u != nil {
		fmt.Fprintf(w, "      %s\n", t.warmUpText(u))
	}
	t.vesselLosses(w)
	for _, f := range h.Failures {
		fmt.Fprintf(w, "      not computed: %s\n", strings.TrimPrefix(f.Told(s), "thermal: "))
	}
	for _, m := range h.Missing {
		fmt.Fprintf(w, "      missing for %s: %s of %s\n", m.For, t.PropertyLabel(m.Record, m.Key), t.Name(m.Record))
	}
	if len(h.Assumptions) > 0 {
		fmt.Fprintln(w, "      assumed of heat:")
	}
	for _, a := range h.Assumptions {
		fmt.Fprintf(w, "        %s%s: %s (%s)\n", a.What, t.ofRecord(a.Record), a.Told(s), a.Basis)
	}
	return true
}

func (t *told) ofRecord(id model.ID) string {
	if id == "" {
		return ""
	}
	return " of " + t.Name(id)
}

// lostText tells what is lost in all, or at least.
func (t *told) lostText() string {
	if p, ok := t.heat.Lost.Get(); ok {
		return quantity.Text(p, t.system)
	}
	return "more than " + quantity.Text(t.heat.KnownLost, t.system)
}

func (t *told) exchangerText(w io.Writer, x *heat.Exchanger) {
	s := t.system
	does := "heat"
	if x.Cools {
		does = "cool"
	}
	fmt.Fprintf(w, "      %s: ", t.Name(x.Exchanger))
	if x.Idle {
		fmt.Fprintf(w, "has nothing to %s, the liquid comes at %s\n", does, orUnknown(x.Inlet, s))
		return
	}
	fmt.Fprintf(w, "to %s %s from %s to %s in one pass takes %s; it gives %s and reaches %s", does, orUnknown(x.Flow, s), orUnknown(x.Inlet, s), orUnknown(x.Asked, s),
		orUnknown(x.Needed, s), orUnknown(x.Gives, s), orUnknown(x.Reaches, s))
	if q, ok := x.OnceThrough.Get(); ok {
		fmt.Fprintf(w, "; %s at most in one pass", quantity.Text(q, s))
	}
	fmt.Fprintln(w)
	fmt.Fprintf(w, "        has: duty %s", orUnknown(x.Duty, s))
	if !x.Electric {
		fmt.Fprintf(w, ", area %s, coefficient %s", orUnknown(x.Area, s), orUnknown(x.Coefficient, s))
	}
	fmt.Fprintln(w)
	if x.MeanDifference.Known() {
		fmt.Fprintf(w, "        needs: mean difference %s, conductance %s, area %s; transfer units %s, effectiveness %s\n", orUnknown(x.MeanDifference, s), orUnknown(x.Conductance, s),
			orUnknown(x.NeededArea, s), orUnknown(x.TransferUnits, s), orUnknown(x.Effectiveness, s))
	}
	if m := x.Steam; m != nil {
		fmt.Fprintf(w, "        steam: %s gauge, %s absolute, condenses at %s; %s, as much condensate", orUnknown(m.Gauge, s), orUnknown(m.Absolute, s), orUnknown(m.Saturation, s), orUnknown(m.Flow, s))
		if hold, ok := m.Hold.Get(); ok {
			fmt.Fprintf(w, "; %s while it runs", quantity.Text(hold, s))
		}
		fmt.Fprintln(w)
	}
	if c := x.Cooling; c != nil {
		fmt.Fprintf(w, "        cooling water: %s at %s, leaves at %s\n", orUnknown(c.Flow, s), orUnknown(c.Inlet, s), orUnknown(c.Outlet, s))
	}
	if p, ok := x.Holds.Get(); ok && t.heat.Round {
		fmt.Fprintf(w, "        while it runs: %s\n", quantity.Text(p, s))
	}
}

func (t *told) warmUpText(u *heat.WarmUp) string {
	s := t.system
	content := fmt.Sprintf("%s (%s, %s in the circuit, %s of steel) from %s to %s", t.Name(u.Tank), orUnknown(u.Liquid, s), quantity.Text(u.Held, s), quantity.Text(u.Steel, s), quantity.Text(u.From, s), quantity.Text(u.To, s))
	switch time, known := u.Time.Get(); {
	case u.Never:
		return content + ": never, it comes to " + orUnknown(u.Tends, s)
	case !known:
		return content + ": time unknown"
	case u.AtLeast:
		content += ": at least " + quantity.Text(time, s)
	default:
		content += ": " + quantity.Text(time, s)
	}
	if hot, ok := u.Outlet.Get(); ok && hot > u.To+heat.SteadyShort {
		content += " with up to " + quantity.Text(hot, s) + " at the heater's outlet"
		if steady, ok := u.Steady.Get(); ok {
			content += "; held at " + quantity.Text(u.To, s) + " it takes " + quantity.Text(steady, s)
		}
	}
	return content
}

// vesselLosses tells what vessels lose; runs tell it in their table.
func (t *told) vesselLosses(w io.Writer) {
	for _, l := range t.heat.Losses {
		if l.Length.Known() || t.Circuit.Run(l.Record) != nil {
			continue
		}
		bare := "bare"
		if thick := l.Insulation.Or(0); thick > 0 {
			bare = quantity.Text(thick, t.system) + " of insulation"
		}
		fmt.Fprintf(w, "      %s, %s, loses %s\n", t.Name(l.Record), bare, orUnknown(l.Power, t.system))
	}
}

// exchangerColumns are the headings of the rows of solve --csv --table heat. New ones
// are added at the end.
func exchangerColumns(s quantity.System) []string {
	t, p, q, a := quantity.DisplayUnit[quantity.Temperature](s).Name, quantity.DisplayUnit[quantity.Power](s).Name, quantity.DisplayUnit[quantity.Flow](s).Name, quantity.DisplayUnit[quantity.Area](s).Name
	m, k := quantity.DisplayUnit[quantity.MassFlow](s).Name, quantity.DisplayUnit[quantity.Pressure](s).Name
	return []string{"file", "step", "exchanger", "flow " + q, "inlet " + t, "asked " + t, "needed " + p, "duty " + p, "gives " + p, "reaches " + t, "once through " + q,
		"mean difference " + quantity.DisplayUnit[quantity.Difference](s).Name, "conductance " + quantity.DisplayUnit[quantity.Conductance](s).Name, "transfer units", "effectiveness", "area " + a, "area needed " + a,
		"steam gauge " + k, "steam absolute " + k, "saturation " + t, "steam " + m, "condensate " + m, "gives while running " + p, "hot after min", "at least", "supplied " + t, "comes back " + t, "lost " + p}
}

func (t *told) exchangerRows(w *bytes.Buffer) {
	h, s := t.heat, t.system
	for i := range h.Exchangers {
		x := &h.Exchangers[i]
		steam := heat.Steam{}
		if x.Steam != nil {
			steam = *x.Steam
		}
		hot, least := "", ""
		if u := h.WarmUp; u != nil {
			hot, least = shown(u.Time, s), yesNo(u.AtLeast)
		}
		writeRow(w, []string{t.file, t.stepName(), t.Name(x.Exchanger), shown(x.Flow, s), shown(x.Inlet, s), shown(x.Asked, s), shown(x.Needed, s), shown(x.Duty, s), shown(x.Gives, s), shown(x.Reaches, s), shown(x.OnceThrough, s),
			shown(x.MeanDifference, s), shown(x.Conductance, s), shown(x.TransferUnits, s), shown(x.Effectiveness, s), shown(x.Area, s), shown(x.NeededArea, s),
			shown(steam.Gauge, s), shown(steam.Absolute, s), shown(steam.Saturation, s), shown(steam.Flow, s), shown(steam.Condensate, s), shown(x.Holds, s), hot, least, shown(h.Supplied, s), shown(h.Back, s), shown(h.Lost, s)})
	}
}
