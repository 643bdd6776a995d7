package main

import (
	"bytes"
	"strconv"

	"rinsewright/model/coverage"
	"rinsewright/model/lineup"
	"rinsewright/model/quantity"
)

// header writes the headings of the rows of --csv.
func (o *washOptions) header(b *bytes.Buffer) {
	switch o.show {
	case showRun:
		writeRow(b, append([]string{"file", "programme", "step"}, append(washColumns(o.system), "simulated", "why")...))
	case showTrends:
		flow, hot := quantity.DisplayUnit[quantity.Flow](o.system).Name, quantity.DisplayUnit[quantity.Temperature](o.system).Name
		volume, level := quantity.DisplayUnit[quantity.Volume](o.system).Name, quantity.DisplayUnit[quantity.Length](o.system).Name
		writeRow(b, []string{"file", "programme", "time min", "step", "at", "medium", "flow " + flow, "temperature " + hot,
			"strength %", "conductivity mS/cm", "conductivity at 25 °C mS/cm", "holds " + volume, "level " + level})
	case showCoverage:
		writeRow(b, []string{"file", "programme", "what", "place", "washed for", "medium", "state", "velocity " + quantity.DisplayUnit[quantity.Velocity](o.system).Name, "in step"})
	case showSwitching:
		writeRow(b, append([]string{"file"}, lineup.Columns...))
	}
}

func (w *washed) stepRows() {
	for i := range w.record.Steps {
		s := &w.record.Steps[i]
		cells := make([]string, len(washColumns(w.opt.system)))
		if s.Simulated {
			cells = figures(s.Time, &s.Use, w.opt.system)
		}
		writeRow(w.text, append(append([]string{w.file, w.name, s.Step.Name}, cells...), yesNo(s.Simulated), s.Told(w.opt.system)))
	}
	writeRow(w.text, append(append([]string{w.file, w.name, "in all"}, figures(w.record.Cycle, &w.record.Total, w.opt.system)...), "", ""))
}

// trendRows writes what passes the instruments, then what the tanks hold.
func (w *washed) trendRows() {
	s := w.opt.system
	for _, t := range w.record.Trends {
		at := w.Name(t.Place.Element)
		if t.What == "supply" || t.What == "return" {
			at = t.What + ", " + at
		}
		for _, x := range t.Points {
			flow := quantity.Some(x.Flow)
			strength := quantity.Some(x.Strength)
			writeRow(w.text, []string{w.file, w.name, exact(quantity.Some(x.Time), s), w.steps[x.Step].Name, at, string(x.Medium), exact(flow, s), exact(x.Temperature, s),
				exact(strength, s), exact(x.Conductivity, s), exact(x.At25, s), "", ""})
		}
	}
	for _, t := range w.record.Tanks {
		for _, x := range t.Points {
			volume, strength := quantity.Some(x.Volume), quantity.Some(x.Strength)
			writeRow(w.text, []string{w.file, w.name, exact(quantity.Some(x.Time), s), "", w.Name(t.Vessel), string(x.Medium), "", exact(x.Temperature, s), exact(strength, s), "", "",
				exact(volume, s), exact(x.Level, s)})
		}
	}
}

// exact gives an optional number in the reader's units to six digits, which points of a
// trend need; empty while unknown.
func exact[T ~float64](o quantity.Opt[T], s quantity.System) string {
	x, ok := o.Get()
	if !ok {
		return ""
	}
	v := quantity.DisplayUnit[T](s).FromSI(float64(x))
	if v < 1e-9 && v > -1e-9 {
		v = 0
	}
	return strconv.FormatFloat(v, 'g', 6, 64)
}

// coverageRows writes one row a thing and medium.
func (w *washed) coverageRows(t *coverage.Table) {
	for _, c := range w.covered(t) {
		writeRow(w.text, []string{w.file, w.name, string(c.Sort), c.Place, c.For, string(c.Medium), c.State, shown(c.Velocity, w.opt.system), c.Step})
	}
}
