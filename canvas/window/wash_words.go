package window

import (
	"fmt"
	"strings"

	"rinsewright/model"
	"rinsewright/model/quantity"
	"rinsewright/model/wash"
)

// washCaution stands where results of a wash are shown.
const washCaution = "Computed, not measured. Hot caustic, acid and steam injure: follow site rules, verify on site."

// Kilograms in a pound (avoirdupois, exact), joules in a kilowatt hour and in a
// thousand Btu (International Table).
const (
	kilogramPound = 0.45359237
	joulesKWh     = 3.6e6
	joulesKBtu    = 1.05505585262e6
)

func massUnit(s quantity.System) (name string, factor float64) {
	if s == quantity.US {
		return "lb", kilogramPound
	}
	return "kg", 1
}

func heatUnit(s quantity.System) (name string, factor float64) {
	if s == quantity.US {
		return "kBtu", joulesKBtu
	}
	return "kWh", joulesKWh
}

func massText(m wash.Mass, s quantity.System) string {
	name, factor := massUnit(s)
	return quantity.Number(float64(m)/factor) + " " + name
}

func heatText(e wash.Energy, s quantity.System) string {
	name, factor := heatUnit(s)
	return quantity.Number(float64(e)/factor) + " " + name
}

// useColumn is one column of the table of use.
type useColumn struct {
	title string
	key   string // in a CSV file; the unit is that of the metric system
	unit  func(quantity.System) string
	value func(u *wash.Use, t quantity.Duration, s quantity.System) (float64, bool)
}

func volumeColumn(title, key string, of func(*wash.Use) quantity.Volume) useColumn {
	return useColumn{title, key, func(s quantity.System) string { return quantity.DisplayUnit[quantity.Volume](s).Name },
		func(u *wash.Use, _ quantity.Duration, s quantity.System) (float64, bool) {
			return quantity.DisplayUnit[quantity.Volume](s).FromSI(float64(of(u))), true
		}}
}

func massName(s quantity.System) string { n, _ := massUnit(s); return n }
func heatName(s quantity.System) string { n, _ := heatUnit(s); return n }

// useColumns are the columns of the table of use.
var useColumns = []useColumn{
	{"Time", "time_min", func(quantity.System) string { return "min" }, func(_ *wash.Use, t quantity.Duration, _ quantity.System) (float64, bool) {
		return float64(t) / 60, true
	}},
	volumeColumn("Water", "water_L", func(u *wash.Use) quantity.Volume { return u.Water }),
	volumeColumn("Recov.", "recovered_L", func(u *wash.Use) quantity.Volume { return u.Recovered }),
	volumeColumn("Sewer", "sewer_L", func(u *wash.Use) quantity.Volume { return u.Sewer }),
	{"Conc.", "concentrate_kg", massName, func(u *wash.Use, _ quantity.Duration, s quantity.System) (float64, bool) {
		_, f := massUnit(s)
		sum := 0.0
		for _, d := range u.Concentrate {
			sum += float64(d.Mass)
		}
		return sum / f, true
	}},
	{"Heat", "heat_kWh", heatName, func(u *wash.Use, _ quantity.Duration, s quantity.System) (float64, bool) {
		_, f := heatUnit(s)
		return float64(u.Heat) / f, true
	}},
	{"Steam", "steam_kg", massName, func(u *wash.Use, _ quantity.Duration, s quantity.System) (float64, bool) {
		_, f := massUnit(s)
		m, ok := u.Steam.Get()
		return float64(m) / f, ok
	}},
	{"Elec.", "electricity_kWh", func(quantity.System) string { return "kWh" }, func(u *wash.Use, _ quantity.Duration, _ quantity.System) (float64, bool) {
		e, ok := u.Electricity.Get()
		return (float64(e) + float64(u.Electric)) / joulesKWh, ok
	}},
}

// useCells writes the use of a step.
func useCells(u *wash.Use, t quantity.Duration, s quantity.System) []string {
	out := make([]string, len(useColumns))
	for i, c := range useColumns {
		out[i] = "?"
		if v, ok := c.value(u, t, s); ok {
			out[i] = shortNumber(v)
		}
	}
	return out
}

// shortNumber writes a number to about three figures, as a narrow cell has room for.
func shortNumber(x float64) string {
	switch {
	case x == 0:
		return "0"
	case x < 0.005 && x > -0.005:
		return "<0.01"
	case x >= 100 || x <= -100:
		return fmt.Sprintf("%.0f", x)
	case x >= 10 || x <= -10:
		return strings.TrimSuffix(fmt.Sprintf("%.1f", x), ".0")
	}
	return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.2f", x), "0"), ".")
}

// useWords tells all of the use of a step in a sentence.
func (w *Window) useWords(u *wash.Use, t quantity.Duration) string {
	s := w.system
	out := []string{clockWords(t) + " min"}
	volume := func(name string, v quantity.Volume) {
		if v > 1e-9 {
			out = append(out, name+" "+quantity.Text(v, s))
		}
	}
	volume("drawn from the source", u.Drawn)
	volume("fresh water", u.Fresh)
	volume("back to its tank", u.Returned)
	volume("to another tank", u.Recovered)
	volume("filled", u.Filled)
	volume("to the sewer", u.Sewer)
	volume("elsewhere", u.Elsewhere)
	for _, d := range u.Concentrate {
		from := "dosed by hand"
		if d.Supply != "" {
			from = "from " + nameOf(w.circuit().Record(d.Supply), w.cat)
		}
		out = append(out, plainWords(string(d.Medium))+" concentrate "+massText(d.Mass, s)+" "+from)
	}
	if u.Heat > 0 {
		out = append(out, "heat "+heatText(u.Heat, s)+", of which "+heatText(u.Lost, s)+" went to the air")
	}
	if m, ok := u.Steam.Get(); ok && m > 0 {
		out = append(out, "steam "+massText(m, s))
	}
	if e, ok := u.Electricity.Get(); ok && e > 0 {
		out = append(out, "pumps "+quantity.Number(e.KilowattHours())+" kWh")
	}
	for _, m := range u.Missing {
		out = append(out, "not known without "+strings.ToLower(w.names().PropertyLabel(m.Record, m.Key))+" of "+w.names().Name(m.Record))
	}
	return strings.Join(out, "; ")
}

// backWords tells what came back.
func backWords(b wash.Back, s quantity.System) string {
	var out []string
	if b.Volume > 1e-9 {
		out = append(out, quantity.Text(b.Volume, s))
	}
	for _, k := range b.Chemical {
		if k.Mass > 1e-6 {
			out = append(out, massText(k.Mass, s)+" of pure "+plainWords(string(k.Medium)))
		}
	}
	if b.Heat > 1e3 {
		out = append(out, heatText(b.Heat, s)+" of heat")
	}
	if len(out) == 0 {
		return "nothing"
	}
	return strings.Join(out, ", ")
}

// interfaceWords tells the mixed phase of a step.
func interfaceWords(x wash.Interface, s quantity.System) string {
	if x.Of == "" {
		return ""
	}
	v, ok := x.Volume.Get()
	if !ok {
		if x.Why == "" {
			return "mixed phase with " + x.Of + " is not known"
		}
		return "mixed phase with " + x.Of + " is not known: " + x.Why
	}
	text := quantity.Text(v, s) + " mixed with " + x.Of
	from, okFrom := x.From.Get()
	to, okTo := x.To.Get()
	if okFrom && okTo {
		text += ", between " + clockWords(from) + " and " + clockWords(to) + " of the step"
	}
	return text
}

// returnWords tells how the return of a step came to what it asks.
func (w *Window) returnWords(x *wash.Step) string {
	var out []string
	if t, ok := x.ReachedHeat.Get(); ok {
		out = append(out, "warm after "+clockWords(t))
	}
	if t, ok := x.ReachedStrength.Get(); ok {
		out = append(out, "strong after "+clockWords(t))
	}
	if t, ok := x.Hold.Get(); ok && t > 0 {
		out = append(out, "timer from "+clockWords(t))
	}
	for _, e := range x.Endings {
		label := strings.ToLower(w.names().PropertyLabel(x.Step.ID, e.Key))
		switch t, ok := e.Met.Get(); {
		case e.Key == "time_min":
		case ok:
			out = append(out, label+" met after "+clockWords(t))
		default:
			out = append(out, label+" not met")
		}
	}
	if t, ok := x.ReturnTemperature.Get(); ok {
		out = append(out, quantity.Text(t, w.system)+" at the end")
	}
	if c, ok := x.ReturnStrength.Get(); ok && c > 0.00005 {
		out = append(out, quantity.Text(c, w.system)+" at the end")
	}
	return strings.Join(out, ", ")
}

// stepNumber numbers and names a step within its programme: "2  Alkali wash".
func stepNumber(i int, s *model.Step) string { return fmt.Sprintf("%d  %s", i+1, stepName(s)) }
