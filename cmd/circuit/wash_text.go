package main

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"rinsewright/model"
	"rinsewright/model/network"
	"rinsewright/model/quantity"
	"rinsewright/model/wash"
)

// washColumns are the figures of a step, with their units in a reader's system. They
// head the table and the rows of --csv; new ones are added at the end.
func washColumns(s quantity.System) []string {
	v, t := quantity.DisplayUnit[quantity.Volume](s).Name, quantity.DisplayUnit[quantity.Duration](s).Name
	heat, _ := heatUnit(s)
	mass, _ := massUnit(s)
	return []string{"time " + t, "drawn " + v, "fresh water " + v, "back to its tank " + v, "recovered " + v, "sewer " + v, "concentrate " + v,
		"heat " + heat, "steam " + mass, "lost to air " + heat, "electricity kWh"}
}

// figures are the numbers under washColumns; "unknown" where something is missing.
func figures(time quantity.Duration, u *wash.Use, s quantity.System) []string {
	dosed := quantity.Volume(0)
	for _, d := range u.Concentrate {
		dosed += d.Volume
	}
	steam, electricity := "unknown", "unknown"
	if x, ok := u.Steam.Get(); ok {
		steam = massNumber(x, s)
	}
	if x, ok := u.Electricity.Get(); ok {
		electricity = quantity.Number((x + u.Electric).KilowattHours())
	}
	return []string{minutes(time), volumeNumber(u.Drawn, s), volumeNumber(u.Fresh, s), volumeNumber(u.Returned, s), volumeNumber(u.Recovered, s),
		volumeNumber(u.Sewer, s), volumeNumber(dosed, s), heatNumber(u.Heat, s), steam, heatNumber(u.Lost, s), electricity}
}

func (w *washed) runText() {
	w.table()
	for i := range w.record.Steps {
		w.stepText(&w.record.Steps[i])
	}
	w.savedText()
	w.balanceText()
	w.missingText(w.record.Total.Missing)
	if len(w.record.Assumptions) > 0 {
		fmt.Fprintln(w.text, "    assumed:")
	}
	for _, a := range w.record.Assumptions {
		fmt.Fprintf(w.text, "      %s: %s (%s)\n", a.What, a.Told(w.opt.system), a.Basis)
	}
	w.cautionText()
}

func (w *washed) table() {
	tab := tabwriter.NewWriter(w.text, 0, 0, 2, ' ', tabwriter.AlignRight)
	heads, units := []string{}, []string{}
	for _, c := range washColumns(w.opt.system) {
		i := strings.LastIndexByte(c, ' ')
		heads, units = append(heads, c[:i]), append(units, c[i+1:])
	}
	row := func(name string, cells []string) { fmt.Fprintf(tab, "    %s\t%s\t\n", name, strings.Join(cells, "\t")) }
	row("", heads)
	row("", units)
	for i := range w.record.Steps {
		s := &w.record.Steps[i]
		if !s.Simulated {
			fmt.Fprintf(tab, "    %s\tnot simulated\t\n", s.Step.Name)
			continue
		}
		row(s.Step.Name, figures(s.Time, &s.Use, w.opt.system))
	}
	row("in all", figures(w.record.Cycle, &w.record.Total, w.opt.system))
	tab.Flush()
}

// stepText tells what happened at the return.
func (w *washed) stepText(s *wash.Step) {
	if s.Step.Purpose == quantity.Some(model.Prepare) && s.Simulated {
		w.preparedText(s)
		return
	}
	var say []string
	at := func(what string, x quantity.Opt[quantity.Duration]) {
		if t, ok := x.Get(); ok {
			say = append(say, fmt.Sprintf("%s after %s min", what, minutes(t)))
		}
	}
	at("at strength", s.ReachedStrength)
	at("warm", s.ReachedHeat)
	if t, ok := s.Hold.Get(); ok && t > 0 {
		say = append(say, fmt.Sprintf("timer from %s min", minutes(t)))
	}
	for _, e := range s.Endings {
		if t, ok := e.Met.Get(); ok && e.Key != "time_min" {
			text := fmt.Sprintf("%s from %s min", endingNames[e.Key], minutes(t))
			if e.Place.Element != "" {
				text += " at " + w.Name(e.Place.Element)
			}
			say = append(say, text)
		}
	}
	if v, ok := s.Interface.Volume.Get(); ok {
		from, to := s.Interface.From.Or(0), s.Interface.To.Or(0)
		say = append(say, fmt.Sprintf("mixed phase %s of %s, %s to %s min", quantity.Text(v, w.opt.system), s.Interface.Of, minutes(from), minutes(to)))
	}
	if end := w.endText(s); end != "" {
		say = append(say, end)
	}
	if len(say) > 0 {
		where := ""
		if s.Return.Element != "" {
			where = ", return at " + w.Name(s.Return.Element)
		}
		fmt.Fprintf(w.text, "    %s%s: %s\n", s.Step.Name, where, strings.Join(say, "; "))
	}
	w.restText(s)
}

// preparedText tells what the tank of a preparing step holds at its end.
func (w *washed) preparedText(s *wash.Step) {
	for _, t := range w.record.Tanks {
		if t.Vessel != s.Step.Destination {
			continue
		}
		var last wash.TankSample
		for _, x := range t.Points {
			if x.Time <= s.Start+s.Time+1e-6 {
				last = x
			}
		}
		text := quantity.Text(last.Volume, w.opt.system)
		if last.Strength > 0 {
			text += ", " + quantity.Text(last.Strength, w.opt.system)
		}
		if k, ok := last.Temperature.Get(); ok {
			text += ", " + quantity.Text(k, w.opt.system)
		}
		fmt.Fprintf(w.text, "    %s: %s then holds %s\n", s.Step.Name, w.Name(t.Vessel), text)
	}
	w.restText(s)
}

// restText tells what was dosed, what is remarkable, and what was not done.
func (w *washed) restText(s *wash.Step) {
	for _, d := range s.Use.Concentrate {
		from := "by hand"
		if d.Supply != "" {
			from = "from " + w.Name(d.Supply)
		}
		fmt.Fprintf(w.text, "    %s: dosed %s of %s %s %s\n", s.Step.Name, quantity.Text(d.Volume, w.opt.system), quantity.Text(d.Strength, w.opt.system), d.Medium, from)
	}
	for _, n := range s.ToldNotes(w.opt.system) {
		fmt.Fprintf(w.text, "    %s: %s\n", s.Step.Name, n)
	}
	if why := s.Told(w.opt.system); why != "" {
		word := "not simulated"
		if s.Simulated {
			word = "not to its end"
		}
		fmt.Fprintf(w.text, "    %s: %s: %s\n", s.Step.Name, word, why)
	}
	w.missingText(s.Missing)
}

// endingNames say what a step waited for, beside its time.
var endingNames = map[string]string{
	"end_conductivity_mScm": "conductivity as wanted",
	"end_temperature_C":     "temperature as wanted",
	"end_volume_L":          "volume sent",
}

func (w *washed) endText(s *wash.Step) string {
	var end []string
	if t, ok := s.ReturnTemperature.Get(); ok {
		end = append(end, quantity.Text(t, w.opt.system))
	}
	if x, ok := s.ReturnStrength.Get(); ok && x > 1e-6 {
		end = append(end, quantity.Text(x, w.opt.system))
	}
	if k, ok := s.ReturnAt25.Get(); ok {
		end = append(end, quantity.Text(k, w.opt.system)+" at "+quantity.Text(quantity.Celsius(25), w.opt.system))
	}
	if len(end) == 0 {
		return ""
	}
	return "at the end " + strings.Join(end, ", ")
}

// savedText tells what came back to tanks and would else have been let go.
func (w *washed) savedText() {
	tell := func(what string, b *wash.Back) {
		if b.Volume <= 0 {
			fmt.Fprintf(w.text, "      %s: nothing\n", what)
			return
		}
		unit, _ := heatUnit(w.opt.system)
		mass, _ := massUnit(w.opt.system)
		fmt.Fprintf(w.text, "      %s: %s", what, quantity.Text(b.Volume, w.opt.system))
		for _, k := range b.Chemical {
			fmt.Fprintf(w.text, ", %s %s pure %s", massNumber(k.Mass, w.opt.system), mass, k.Medium)
		}
		fmt.Fprintf(w.text, ", %s %s above fresh water\n", heatNumber(b.Heat, w.opt.system), unit)
	}
	fmt.Fprintln(w.text, "    saved against letting it go:")
	tell("by recovery into other tanks", &w.record.Saved.Recovered)
	tell("by going round", &w.record.Saved.Circulated)
}

// balanceText tells only what does not add up to a thousandth.
func (w *washed) balanceText() {
	b := w.record.Balance
	for _, x := range []struct {
		what string
		of   wash.Account
	}{{"volume", b.Volume}, {"mass", b.Mass}, {"heat", b.Heat}, {"chemicals", b.Solute}} {
		if x.of.Error > 1e-3 || x.of.Error < -1e-3 {
			fmt.Fprintf(w.text, "    the balance of %s is off by %.2g %%: please tell the makers\n", x.what, 100*x.of.Error)
		}
	}
}

func (w *washed) missingText(list []network.Missing) {
	for _, m := range list {
		fmt.Fprintf(w.text, "    missing: %s of %s\n", w.PropertyLabel(m.Record, m.Key), w.Name(m.Record))
	}
}

// scalds, in °C, is the temperature above which liquid burns skin within seconds.
// Common practice, no source.
const scalds = 60

// cautions are the usual ones for what a programme sends.
func cautions(steps []*model.Step) []string {
	sends := func(m model.Medium) bool {
		return slices.ContainsFunc(steps, func(s *model.Step) bool { return s.Medium == quantity.Some(m) })
	}
	hot := slices.ContainsFunc(steps, func(s *model.Step) bool {
		t, ok := s.Temperature.Get()
		return ok && t.Celsius() >= scalds
	})
	var out []string
	if sends(model.Alkali) {
		out = append(out, "Caustic burns skin and eyes, hot caustic at once and deep. Dose concentrate into cold water, never water into concentrate.")
	}
	if sends(model.Acid) {
		out = append(out, "Acid burns skin and eyes; with hypochlorite it gives chlorine, with caustic it boils up. Rinse between them.")
	}
	if sends(model.Disinfect) {
		out = append(out, "Disinfectants irritate eyes and lungs; keep them from acid and from caustic.")
	}
	if hot {
		out = append(out, "Hot liquid and steam scald; a vessel that is rinsed cold after a hot wash needs an open vent.")
	}
	return append(out, "An aid for qualified people. Verify on site; site rules, local codes, supplier data and licensed practice come first.")
}

func (w *washed) cautionText() { sayCautions(w.text, w.steps) }

func sayCautions(out io.Writer, steps []*model.Step) {
	fmt.Fprintln(out, "    CAUTION:")
	for _, c := range cautions(steps) {
		fmt.Fprintln(out, "      "+c)
	}
}
