package window

import (
	"fmt"
	"strings"

	"rinsewright/model/programme"
	"rinsewright/model/quantity"
)

// phaseLines tells a step of a ready programme: what it is, and each of its figures
// with its range and how well it is known.
func phaseLines(i int, p *programme.Phase, units quantity.System) (head string, lines []string) {
	head = fmt.Sprintf("%d  %s", i+1, p.Name)
	what := plainWords(string(p.Medium))
	if p.Agent != "" {
		what += " (" + p.Agent + ")"
	}
	if p.Or != "" {
		what += ", or " + plainWords(string(p.Or)) + " where there is none"
	}
	switch p.To {
	case programme.ToSource:
		what += "; round and back to its tank"
	case programme.ToSewer:
		what += "; to sewer"
	case programme.ToRecovered:
		what += "; recovered, or to sewer where no tank takes it"
	case programme.ToTank:
		what += "; into the tank"
		if p.Into != "" {
			what += " for " + plainWords(string(p.Into))
		}
	}
	lines = append(lines, sentence(what)+".")
	if p.Optional != "" {
		lines = append(lines, "Only at times: "+p.Optional+".")
	}
	figure := func(label string, f *programme.Figure, text func(float64) string) {
		if f == nil {
			return
		}
		line := label + " " + text(f.Value)
		if f.Least != nil && f.Most != nil {
			line += ", usually " + text(*f.Least) + " to " + text(*f.Most)
		}
		lines = append(lines, line+". "+sentence(f.Cites())+".")
	}
	figure("Strength", p.Strength, func(x float64) string { return quantity.Text(quantity.Strength(x/100), units) })
	figure("Temperature", p.Temperature, func(x float64) string { return quantity.Text(quantity.Celsius(x), units) })
	minutes := func(x float64) string { return quantity.Text(quantity.Duration(x*60), units) }
	conductivity := func(x float64) string { return quantity.Text(quantity.Conductivity(x/10), units) } // mS/cm in S/m
	figure("Time", p.Time, minutes)
	if f := p.TimerFrom; f != nil {
		lines = append(lines, "Timer from "+plainWords(string(f.Value))+". "+sentence((&programme.Figure{Source: f.Source, Clause: f.Clause, Standing: f.Standing}).Cites())+".")
	}
	figure("Ends at a return conductivity of", p.Conductive, conductivity)
	figure("Ends at a return conductivity above that of the water by", p.AboveWater, conductivity)
	figure("At the longest", p.Longest, minutes)
	if p.EndsOn != "" {
		lines = append(lines, "Ends on: "+strings.TrimSuffix(p.EndsOn, ".")+".")
	}
	return head, lines
}
