package window

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"rinsewright/canvas/report"
	"rinsewright/checks"
	"rinsewright/model"
	"rinsewright/model/store"
)

const (
	prefChapters = "report-chapters" // those that are left out
	prefForm     = "report-form"
)

// reportForms are what a report can be written as.
var reportForms = []struct{ words, ending string }{
	{"PDF, for paper", ".pdf"},
	{"HTML, for a screen or phone, one file", ".html"},
	{"JSON, for other programs", ".json"},
}

// reportDialog asks what a report holds, and makes it beside the window.
type reportDialog struct {
	on       *Window
	chapters map[report.Chapter]*check
	form     *pickList
	by       *searchEntry
	told     *widget.Label
	bar      *widget.ProgressBar
	down     func()
	onMain   func(func())
}

// askReport opens the dialog once the name of who makes the report is known.
func (w *Window) askReport() { w.named(w.openReport) }

func (w *Window) openReport(name string) {
	d := &reportDialog{on: w, chapters: map[report.Chapter]*check{}, onMain: w.checker.onMain}
	w.audit.report = d
	left := strings.Split(w.app.Preferences().String(prefChapters), ",")
	grid := container.New(layout.NewGridLayout(2))
	for _, c := range report.Chapters() {
		k := newCheck(w, c.Title(), nil)
		k.SetChecked(!slices.Contains(left, string(c)))
		d.chapters[c] = k
		grid.Add(k)
	}
	var forms []string
	for _, f := range reportForms {
		forms = append(forms, f.words)
	}
	d.form = newPickList(w, forms, nil)
	d.form.SetSelectedIndex(0)
	for i, f := range reportForms {
		if f.ending == w.app.Preferences().String(prefForm) {
			d.form.SetSelectedIndex(i)
		}
	}
	d.by = newSearchEntry("Who makes the report")
	d.by.Icon, d.by.onKey = nil, w.function
	d.by.SetText(name)
	d.form.onEscape = func() { d.down() }
	d.by.onEscape = func() { d.down() }
	d.by.OnSubmitted = func(string) { w.guard("report", d.choose) }
	d.told = widget.NewLabel("")
	d.told.Wrapping = fyne.TextWrapWord
	d.told.SizeName = theme.SizeNameCaptionText
	d.tell()
	box := withLayout(columnLayout{}, newFieldRow("Written as", "", d.form).box, newFieldRow("Made by", "", container.NewThemeOverride(d.by, barless{})).box,
		heading("Chapters"), grid, d.told)
	d.down = w.askStaying("Report of the audit", withLayout(atLeast{560, 0}, box), "Write…", d.choose)
	w.focus(d.by)
}

// tell says what the report is about, and what must be known before it is used.
func (d *reportDialog) tell() {
	w := d.on
	if w.result == nil {
		d.told.SetText("The checks are still running; the report waits for them.")
		return
	}
	n := w.result.Counts
	text := fmt.Sprintf("%d stop, %d fix, %d note, %d accepted, %d not assessed, %d questions open, limits %s.", n.Stop, n.Fix, n.Note, n.Accepted, n.NotAssessed, w.audit.asked.open, w.limitsTitle(w.result.Profile))
	if w.lacksLimits() {
		text += fmt.Sprintf(" The limits %q that the circuit asks for are not at hand; the report says so.", w.circuit().Header().Profile)
	}
	d.told.SetText(text + "\n" + cautionShort)
}

// choose asks for the file and begins.
func (d *reportDialog) choose() {
	w := d.on
	var chosen []report.Chapter
	var left []string
	for _, c := range report.Chapters() {
		if d.chapters[c].Checked {
			chosen = append(chosen, c)
		} else {
			left = append(left, string(c))
		}
	}
	if w.result == nil {
		d.told.SetText("The checks are still running. Try again in a moment.")
		return
	}
	if len(chosen) == 0 {
		d.told.SetText("Choose at least one chapter.")
		return
	}
	form := reportForms[max(d.form.SelectedIndex(), 0)]
	by := strings.TrimSpace(d.by.Text)
	w.app.Preferences().SetString(prefChapters, strings.Join(left, ","))
	w.app.Preferences().SetString(prefForm, form.ending)
	d.down()
	start := filepath.Join(w.folder(), fileName(w.circuit().Header().Name+" report")+form.ending)
	w.chooseFile(choice{title: "Write the report", confirm: "Write", start: start, ending: form.ending, save: true}, func(path string) {
		put := func() { d.write(path, form.ending, report.Options{Chapters: chosen, By: by}) }
		if seen, err := store.Fingerprint(path); err == nil && seen != "" {
			w.ask("Write over the file?", filepath.Base(path)+" is there already.", answer{"Write over", put}, answer{"Cancel", nil})
			return
		}
		put()
	})
}

// write makes the report beside the window and shows how far it is.
func (d *reportDialog) write(path, ending string, opt report.Options) {
	w := d.on
	c, result, profile := w.circuit(), w.result, w.profile()
	if result == nil {
		w.tellDialog("Nothing was written", "The circuit has changed meanwhile and is being checked. Ask for the report again in a moment.")
		return
	}
	own, _ := profile.With(c.Header().Limits)
	day := model.DateOf(time.Now())
	opt.System, opt.Day, opt.Version = w.system, day, "Rinsewright "+w.app.Metadata().Version
	if w.file.path != "" {
		opt.File = filepath.Base(w.file.path)
	}
	src := report.Source{Snapshot: &checks.Snapshot{Circuit: c, Catalogue: w.cat, Profile: own, Day: day}, Result: result, Rules: w.checker.rules, Profile: profile}
	ctx, cancel := context.WithCancel(context.Background())
	d.bar = widget.NewProgressBar()
	what := quiet("")
	what.Truncation = fyne.TextTruncateEllipsis
	down := w.askWith("Writing the report", withLayout(columnLayout{}, d.bar, what), fyne.NewSize(380, 0), answer{"Cancel", cancel})
	last := time.Time{}
	opt.Progress = func(done, total int, now string) {
		if time.Since(last) < 60*time.Millisecond && done < total {
			return // the window need not be told of each
		}
		last = time.Now()
		d.onMain(func() {
			d.bar.SetValue(float64(done) / float64(max(total, 1)))
			what.SetText(sentence(now))
		})
	}
	go func() {
		data, err := reportBytes(ctx, src, opt, ending)
		d.onMain(func() {
			if ctx.Err() == nil {
				down()
			}
			cancel()
			switch {
			case errors.Is(err, context.Canceled):
				w.tellHint("The report was not written.")
				return
			case err == nil:
				err = store.Replace(path, data)
			}
			if err != nil {
				w.tellDialog("Nothing was written", sentence(err.Error()))
				return
			}
			w.tellHint("Written: " + filepath.Base(path))
			w.events.tell("report", map[string]any{"path": path, "bytes": len(data)})
		})
	}()
}

// reportBytes makes a report as the content of a file. A fault in it is an error:
// it runs beside the window.
func reportBytes(ctx context.Context, src report.Source, opt report.Options, ending string) (data []byte, err error) {
	defer func() {
		if x := recover(); x != nil {
			err = fmt.Errorf("the report failed inside the program: %v", x)
		}
	}()
	r, err := report.Make(ctx, src, opt)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	switch ending {
	case ".pdf":
		err = r.WritePDF(ctx, &b)
	case ".html":
		err = r.WriteHTML(ctx, &b)
	default:
		err = r.WriteJSON(&b)
	}
	return b.Bytes(), err
}
