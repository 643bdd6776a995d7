package window

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"

	"rinsewright/canvas/plot"
	"rinsewright/checks/listing"
	"rinsewright/model/quantity"
	"rinsewright/model/wash"
)

// useRecords gives the table of use as it is written: metric units, as the keys tell.
func (w *Window) useRecords(r *ranWash) [][]string {
	head := []string{"step", "name", "simulated", "why_not"}
	for _, c := range useColumns {
		head = append(head, c.key)
	}
	out := [][]string{head}
	row := func(number, name, simulated, why string, u *wash.Use, t quantity.Duration) {
		rec := []string{number, name, simulated, why}
		for _, c := range useColumns {
			text := ""
			if v, ok := c.value(u, t, quantity.Metric); ok {
				text = exact(v)
			}
			rec = append(rec, text)
		}
		out = append(out, rec)
	}
	for i := range r.record.Steps {
		s := &r.record.Steps[i]
		simulated := "no"
		if s.Simulated {
			simulated = "yes"
		}
		row(fmt.Sprint(i+1), stepName(s.Step), simulated, s.Why, &s.Use, s.Time)
	}
	row("", "total", "", "", &r.record.Total, r.record.Cycle)
	return out
}

func exact(x float64) string { return strconv.FormatFloat(x, 'g', 6, 64) }

func exactOpt[T ~float64](o quantity.Opt[T]) string {
	x, ok := o.Get()
	if !ok {
		return ""
	}
	return exact(quantity.DisplayUnit[T](quantity.Metric).FromSI(float64(x)))
}

// trendRecords gives the trends as a table: a row a place and time, metric units. A
// cell is empty where nothing is known.
func (w *Window) trendRecords(r *ranWash) [][]string {
	out := [][]string{{"time_s", "step", "place", "flow_m3h", "temperature_C", "conductivity_mScm", "medium", "strength_pct", "level_m", "volume_L"}}
	type timed struct {
		time quantity.Duration
		rec  []string
	}
	var rows []timed
	for _, t := range r.record.Trends {
		for _, x := range t.Points {
			rows = append(rows, timed{x.Time, []string{exact(float64(x.Time)), fmt.Sprint(x.Step + 1), t.What, exact(x.Flow.CubicMetresPerHour()),
				exactOpt(x.Temperature), exactOpt(x.Conductivity), string(x.Medium), exact(100 * float64(x.Strength)), "", ""}})
		}
	}
	for _, t := range r.record.Tanks {
		name := nameOf(w.circuit().Record(t.Vessel), w.cat)
		for _, x := range t.Points {
			rows = append(rows, timed{x.Time, []string{exact(float64(x.Time)), fmt.Sprint(r.play.Step(x.Time) + 1), name, "",
				exactOpt(x.Temperature), "", string(x.Medium), exact(100 * float64(x.Strength)), exactOpt(x.Level), exact(x.Volume.Litres())}})
		}
	}
	slices.SortStableFunc(rows, func(a, b timed) int {
		switch {
		case a.time < b.time:
			return -1
		case a.time > b.time:
			return 1
		}
		return 0
	})
	for _, x := range rows {
		out = append(out, x.rec)
	}
	return out
}

func writeRecords(out io.Writer, records [][]string) error {
	c := csv.NewWriter(out)
	for _, r := range records {
		c.Write(listing.Plain(r)) // an error stays until Flush
	}
	c.Flush()
	if err := c.Error(); err != nil {
		return fmt.Errorf("write the table: %w", err)
	}
	return nil
}

// exportWash writes one of the tables of the wash.
func (w *Window) exportWash(title, suffix string, records func(*ranWash) [][]string) {
	w.washing.with(func() {
		r := w.washing.ran
		if !r.ok() {
			w.tellDialog("Nothing was exported", w.washTrouble())
			return
		}
		w.exportNamed(title, suffix, ".csv", func(out io.Writer) error { return writeRecords(out, records(r)) })
	})
}

// washActions are what can be asked of the wash and its coverage.
type washActions struct {
	goWash, goCover, copyUse, copyCover, again, hot *action
	useCSV, trendCSV, coverCSV                      *action
	coverShow                                       *action
	exports                                         []*action
	shown                                           []*action // trends
}

func (w *Window) washActions(a *actions) {
	some := func() bool { return len(w.circuit().Steps()) > 0 }
	a.play = w.playActions()
	x := &a.wash
	x.goWash = &action{label: "Go to the wash", short: "Wash in time", shortcut: ctrl("R"), run: func() { w.tabs.pick(w.washTab); w.focus(w.washPanel.bar.slider) }}
	x.goCover = &action{label: "Go to the coverage", short: "Coverage", shortcut: ctrl("G"), run: func() { w.tabs.pick(w.coverTab); w.focus(w.coverPanel.list) }}
	x.copyUse = &action{label: "Copy the table of use", enabled: some, run: func() {
		w.washing.with(func() {
			if r := w.washing.ran; r.ok() {
				w.app.Clipboard().SetContent(tabbed(w.useRecords(r)))
				w.tellHint("Copied the table of use: " + plural(len(r.record.Steps), "step"))
			}
		})
	}}
	x.copyCover = &action{label: "Copy the table of coverage", enabled: some, run: func() {
		w.washing.with(func() {
			if r := w.washing.ran; r.ok() {
				w.app.Clipboard().SetContent(tabbed(w.coverRecords(r)))
				w.tellHint("Copied the table of coverage: " + plural(len(r.cover.Rows), "row"))
			}
		})
	}}
	x.hot = &action{label: "Tanks stand hot before the programme", enabled: some, checked: func() bool { return w.washing != nil && w.washing.hot }, run: func() {
		w.washing.hot = !w.washing.hot
		w.washChanged(0)
	}}
	x.useCSV = &action{label: "Export the table of use as CSV…", short: "Table of use as CSV…", enabled: some, run: func() { w.exportWash("Export the table of use", " use", w.useRecords) }}
	x.trendCSV = &action{label: "Export the trends as CSV…", short: "Trends as CSV…", enabled: some, run: func() { w.exportWash("Export the trends", " trends", w.trendRecords) }}
	trendPNG := &action{label: "Export the trends as PNG…", short: "Trends as PNG…", enabled: some, run: func() { w.exportTrends(".png") }}
	trendSVG := &action{label: "Export the trends as SVG…", short: "Trends as SVG…", enabled: some, run: func() { w.exportTrends(".svg") }}
	x.coverCSV = &action{label: "Export the table of coverage as CSV…", short: "Table of coverage as CSV…", enabled: some, run: func() { w.exportWash("Export the table of coverage", " coverage", w.coverRecords) }}
	coverPNG := &action{label: "Export the drawing of coverage as PNG…", short: "Drawing of coverage as PNG…", enabled: some, run: func() { w.exportCover(".png") }}
	coverSVG := &action{label: "Export the drawing of coverage as SVG…", short: "Drawing of coverage as SVG…", enabled: some, run: func() { w.exportCover(".svg") }}
	x.coverShow = &action{label: "Coverage on the drawing", enabled: some, checked: func() bool { return w.covering != nil && w.covering.shown }, run: func() { w.covering.turn() }}
	a.trends = []*action{trendPNG, trendSVG, x.trendCSV}
	x.exports = []*action{x.useCSV, x.trendCSV, trendPNG, trendSVG, nil, x.coverCSV, coverPNG, coverSVG}
	for _, of := range plot.Trends() {
		x.shown = append(x.shown, &action{label: "Trend: " + of.Title(), short: of.Title(), checked: func() bool { return w.washPanel != nil && w.washPanel.trends.lit(of) }, run: func() { w.washPanel.trends.turn(of) }})
	}
}

// tabbed writes records for a spreadsheet's clipboard.
func tabbed(records [][]string) string {
	out := ""
	for _, r := range records {
		for i, c := range r {
			if i > 0 {
				out += "\t"
			}
			out += c
		}
		out += "\n"
	}
	return out
}
