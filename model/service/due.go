package service

import (
	"math"
	"time"

	"rinsewright/model"
	"rinsewright/model/network"
)

// Cause is what makes a service due.
type Cause string

const (
	ByHours      Cause = "running hours"
	BySwitchings Cause = "switchings"
	ByMonths     Cause = "months"
)

// Due is when a part is due for service.
type Due struct {
	Part model.ID
	Last model.Date // empty: nobody told
	Day  model.Date // of the next service; empty: no interval is set, it is not known, or it never comes
	By   Cause      // that makes it due first
	Over bool       // the day has passed

	Set     bool              // an interval is set for its kind
	Assumed bool              // one of the causes is not known: the service may be due earlier
	Missing []network.Missing // what nobody told and would be needed
}

// farAway is the number of days beyond which no date is told: a century.
const farAway = 36525

// Next tells when a part of a circuit is due, by the interval of its kind. Days are
// whole and rounded down: a service is never told later than it is due. A month is
// one of the calendar; where it has no such day, its last.
func Next(c *model.Circuit, w *Wear, today model.Date) Due {
	out := Due{Part: w.Part}
	part := c.Part(w.Part)
	if part == nil {
		return out
	}
	iv, set := interval(c, part.Meta().Kind)
	if out.Last = Last(part); !set {
		return out
	}
	out.Set = true
	begun, ok := out.Last.Time()
	if !ok {
		out.Missing = append(out.Missing, network.Missing{Record: w.Part, Key: "serviced"})
	}
	try := func(day time.Time, by Cause) {
		if d := model.DateOf(day); ok && (out.Day == "" || d < out.Day) {
			out.Day, out.By = d, by
		}
	}
	rated := func(most float64, told bool, week, least float64, known bool, by Cause) {
		switch {
		case !told:
		case !known:
			out.Assumed = true
			out.Missing = append(out.Missing, w.Missing...)
			week = least // it is due by then at the latest
			fallthrough
		default:
			if days := most / week * 7; week > 0 && days < farAway {
				try(begun.AddDate(0, 0, int(math.Floor(days+1e-9))), by)
			}
		}
	}
	hours, told := iv.Hours.Get()
	rated(float64(hours), told, float64(w.Hours.Or(0))/3600, float64(w.Least)/3600, w.Hours.Known(), ByHours)
	times, told := iv.Switchings.Get()
	rated(float64(times), told && w.Switches, w.Switchings.Or(0), w.Fewest, w.Switchings.Known(), BySwitchings)
	if months, told := iv.Months.Get(); told {
		try(addMonths(begun, float64(months)), ByMonths)
	}
	out.Missing = distinct(out.Missing)
	out.Over = out.Day != "" && out.Day < today
	return out
}

// addMonths adds months of the calendar, and for a part of one its share of 365.25/12
// days.
func addMonths(t time.Time, months float64) time.Time {
	whole := math.Floor(months)
	first := time.Date(t.Year(), t.Month()+time.Month(whole), 1, 0, 0, 0, 0, time.UTC)
	last := first.AddDate(0, 1, -1).Day()
	day := first.AddDate(0, 0, min(t.Day(), last)-1)
	return day.AddDate(0, 0, int((months-whole)*365.25/12))
}

// interval gives what is set for a kind; the first counts. Not ok if nothing is.
func interval(c *model.Circuit, kind string) (model.Interval, bool) {
	for _, iv := range c.Header().Service {
		if iv.Kind == kind {
			return iv, iv.Hours.Known() || iv.Switchings.Known() || iv.Months.Known()
		}
	}
	return model.Interval{}, false
}

// Last gives the day of the last service of a part; empty if nobody told it, or if
// its class has none.
func Last(p model.Part) model.Date {
	prop, ok := model.FindProperty(p, "serviced")
	if !ok {
		return ""
	}
	v, known := prop.Value(p)
	if d, isDate := v.(model.Date); known && isDate {
		return d
	}
	return ""
}

func distinct(list []network.Missing) []network.Missing {
	var out []network.Missing
	seen := map[network.Missing]bool{}
	for _, m := range list {
		if !seen[m] {
			seen[m] = true
			out = append(out, m)
		}
	}
	return out
}
