package window

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"fyne.io/fyne/v2"

	"rinsewright/canvas/edit"
	"rinsewright/checks"
	"rinsewright/model"
)

// changed brings the window up to date after the document has changed.
func (w *Window) changed(n edit.Notice) {
	if n.Reset {
		w.stepID = ""
		w.drawn = nil
		w.player.at = 0
		w.solving.forget()
		w.result = nil
		w.findings.picked, w.open.picked = "", ""
		w.board.mark(nil)
		w.board.findings = nil
		w.board.told = ""
		w.board.tellHint()
		if steps := w.circuit().Steps(); len(steps) > 0 {
			w.stepID = steps[0].ID
		}
	}
	if n.Circuit && !n.Reset {
		c := w.circuit()
		w.events.tell("edit", map[string]any{"label": strings.TrimPrefix(w.doc.UndoLabel(), "Undo "), "redo": w.doc.CanRedo(),
			"parts": len(c.Parts()), "runs": len(c.Runs()), "steps": len(c.Steps())})
	}
	if n.Circuit {
		w.result = nil
		w.lines = lineUpOf(w.circuit(), w.cat, w.shownStep())
		w.solve(settleFlow)
		w.washChanged(settleWash)
		w.check(settle)
		w.board.repaint()
		w.audit.changed(n.Reset)
		w.steps.refresh()
		w.tools.refresh()
	}
	if n.Selection {
		w.events.tell("selection", map[string]any{"ids": w.doc.Selection()})
		w.board.refreshOverlay()
	}
	if n.Circuit || n.Selection {
		w.upkeep.changed(n.Reset)
		w.heights.looked()
		w.props.refresh()
		w.steps.markPart(w.onlySelected())
	}
	w.saving.touched()
	w.refreshTitle()
	w.refreshMenu()
	w.refreshStatus()
}

// onlySelected gives what is selected if it is one thing.
func (w *Window) onlySelected() model.ID {
	if ids := w.doc.Selection(); len(ids) == 1 {
		return ids[0]
	}
	return ""
}

// all brings everything up to date.
func (w *Window) all() {
	w.changed(edit.Notice{Circuit: true, Selection: true, Saved: true})
}

// check asks for the findings of the present circuit.
func (w *Window) check(wait time.Duration) {
	w.checker.kept.Use(w.lines.plant)
	w.checker.want(w.circuit(), w.profile(), wait)
	w.refreshStatus()
}

// checked takes the findings of the present circuit in.
func (w *Window) checked(c *model.Circuit, r *checks.Result, err error) {
	w.guard("show the findings", func() { w.takeIn(c, r, err) })
}

func (w *Window) takeIn(c *model.Circuit, r *checks.Result, err error) {
	if err != nil {
		w.status.tellState("The checks failed: " + err.Error())
		w.events.tell("checks", map[string]any{"error": err.Error()})
		return
	}
	w.result = r
	w.caution(hotOrChemical(c))
	w.findings.setRegister(c, r)
	w.findings.set(r.Findings)
	w.open.set(r.NotAssessed)
	w.missing.set(r)
	w.tabs.setTitle(0, findingsTitle(r))
	w.tabs.setTitle(1, fmt.Sprintf("Not assessed  %d", len(r.NotAssessed)))
	w.tabs.setTitle(2, fmt.Sprintf("Steps  %d", len(c.Steps())))
	w.board.showFindings(r.Findings)
	w.audit.changed(false)
	w.refreshStatus()
	w.refreshMenu()
	rules := map[string]int{}
	for _, f := range r.Findings {
		rules[f.Rule]++
	}
	w.events.tell("checks", map[string]any{"stop": r.Counts.Stop, "fix": r.Counts.Fix, "note": r.Counts.Note,
		"not_assessed": r.Counts.NotAssessed, "accepted": r.Counts.Accepted, "rules": rules, "took_ms": r.Duration.Milliseconds(), "parts": len(c.Parts()), "runs": len(c.Runs())})
}

// hotOrChemical says whether a step sends something that can hurt.
func hotOrChemical(c *model.Circuit) bool {
	for _, s := range c.Steps() {
		switch m, _ := s.Medium.Get(); m {
		case model.Alkali, model.Acid, model.Disinfect, model.Steam:
			return true
		}
		if t, ok := s.Temperature.Get(); ok && t.Celsius() >= 45 {
			return true
		}
	}
	return false
}

// tellIf says why something that was asked for could not be done.
func (w *Window) tellIf(err error) {
	if err != nil {
		w.tellHint(sentence(err.Error()))
		w.status.flash()
	}
}

// refreshStatus tells the state of the checks and of the file.
func (w *Window) refreshStatus() {
	if w.status == nil {
		return
	}
	switch {
	case w.result == nil:
		w.status.tellState("Checking…")
	default:
		n := w.result.Counts
		text := fmt.Sprintf("%d stop, %d fix, %d note, %d not assessed", n.Stop, n.Fix, n.Note, n.NotAssessed)
		if n.Accepted > 0 {
			text += fmt.Sprintf(", %d accepted", n.Accepted)
		}
		if w.lacksLimits() {
			text += fmt.Sprintf("; limits %q not at hand", w.circuit().Header().Profile)
		}
		if k := len(w.result.Errors); k > 0 {
			text += ", " + plural(k, "rule") + " failed"
		}
		w.status.tellState(text)
	}
	w.status.tellFile(w.fileState())
	w.status.tellZoom(w.board.view.scale())
}

// findingPicked leads to the place of a finding and marks it.
func (w *Window) findingPicked(f *checks.Finding) {
	w.board.mark(f)
	if f == nil {
		return
	}
	if len(f.Steps) > 0 && w.circuit().Step(f.Steps[0]) != nil {
		w.showStep(f.Steps[0])
	}
	w.events.tell("finding", map[string]any{"id": f.ID, "rule": f.Rule})
}

// applyRemedy makes the edit of a remedy, which was made for the circuit that
// was checked.
func (w *Window) applyRemedy(x checks.Remedy) {
	w.guard("apply the remedy", func() {
		p := w.findings
		at := slices.IndexFunc(p.shown, func(f checks.Finding) bool { return f.ID == p.picked })
		if err := w.apply(x.Edit); err != nil {
			w.tellIf(err)
			return
		}
		p.resume = at
		var touched []model.ID
		for _, c := range x.Edit.Changes {
			if c.After != nil && (c.Before == nil || len(edit.Added(x.Edit)) == 0) {
				touched = append(touched, c.After.RecordID())
			}
		}
		w.board.flash(touched...)
		w.tellHint(sentence("done: " + x.Text(w.units())))
	})
}

// caution shows or hides the caution where steps are hot or chemical.
func (w *Window) caution(shown bool) {
	if shown != w.cautioned.Visible() {
		if shown {
			w.cautioned.Show()
		} else {
			w.cautioned.Hide()
		}
		w.tabs.header.Refresh()
	}
}

// later does something after a while.
func (w *Window) later(wait time.Duration, do func()) {
	time.AfterFunc(wait, func() { fyne.Do(do) })
}

// gotoPlace shows a place on the drawing and selects what it is on.
func (w *Window) gotoPlace(at model.Place) {
	if w.circuit().Record(at.Element) == nil {
		return
	}
	w.doc.Select(at.Element)
	w.board.lookAt(w.board.placeBounds(w.drawing(), at))
	w.board.flash(at.Element)
	w.events.tell("place", map[string]any{"id": string(at.Element), "port": at.Port})
}

// selectAndShow selects a record and brings it into view.
func (w *Window) selectAndShow(id model.ID) {
	w.doc.Select(id)
	w.board.bringIntoView(w.drawing().Bounds(id))
}
