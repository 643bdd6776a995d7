package window

import (
	"fyne.io/fyne/v2"

	"rinsewright/model"
)

// upkeepActions are what can be asked of the tabs of upkeep.
type upkeepActions struct {
	goTrace, goIsolate, goWhatIf, goService             *action
	traceHere, traceTo, traceShow, traceCopy            *action
	isolate, pin, forbid, plain, isolateShow, nextPlan  *action
	planSheet, planCSV, planCopy, fail, failNone        *action
	often, serviced, serviceCSV, serviceXLSX, sparesCSV *action
}

func (w *Window) upkeepActions() upkeepActions {
	var x upkeepActions
	selected := func() bool { return len(w.doc.Selection()) > 0 }
	drawn := func() bool { return len(w.circuit().Parts()) > 0 }
	show := func(title string, focus func() fyne.Focusable) func() {
		return func() {
			w.tabs.pick(w.upkeep.tab[title])
			w.focus(focus())
		}
	}
	x.goTrace = &action{label: "Go to the trace", short: "Trace", shortcut: ctrlShift(fyne.KeyT), run: show(traceTitle, func() fyne.Focusable { return w.upkeep.trace.list })}
	x.goIsolate = &action{label: "Go to the isolation", short: "Isolate", shortcut: ctrlShift(fyne.KeyI), run: show(isolateTitle, func() fyne.Focusable { return w.upkeep.isolate.list })}
	x.goWhatIf = &action{label: "Go to what if a part fails", short: "What if", shortcut: ctrlShift(fyne.KeyF), run: show(whatIfTitle, func() fyne.Focusable { return w.upkeep.whatIf.list })}
	x.goService = &action{label: "Go to the service", short: "Service", shortcut: ctrlShift(fyne.KeyD), run: show(serviceTitle, func() fyne.Focusable { return w.upkeep.service.list })}

	x.traceHere = &action{label: "Trace from what is selected", enabled: selected, run: func() {
		w.upkeep.trace.start(w.doc.Selection())
		x.goTrace.run()
	}}
	x.traceTo = &action{label: "All ways to another part…", enabled: func() bool { return drawn() && w.upkeep != nil && w.upkeep.trace.from != "" }, run: func() { w.upkeep.trace.askTo() }}
	x.traceShow = &action{label: "Trace on the drawing", enabled: func() bool { return w.upkeep != nil && w.upkeep.trace.ready() }, checked: func() bool { return w.upkeep != nil && w.lensOf(traceTitle) },
		run: func() { w.upkeep.trace.turn() }}
	x.traceCopy = &action{label: "Copy the trace", enabled: x.traceShow.enabled, run: func() { w.upkeep.trace.copy() }}

	x.isolate = &action{label: "Plan the isolation of what is selected", enabled: selected, run: func() {
		w.upkeep.isolate.setWork(w.doc.Selection())
		x.goIsolate.run()
	}}
	valves := func() bool { return w.upkeep != nil && len(w.selectedValves()) > 0 }
	x.pin = &action{label: "Selected valves must be shut in any case", short: "Selected valves must be shut", enabled: valves, run: func() { w.upkeep.isolate.mark(w.selectedValves(), true, false) }}
	x.forbid = &action{label: "Selected valves must not be relied on", enabled: valves, run: func() { w.upkeep.isolate.mark(w.selectedValves(), false, true) }}
	x.plain = &action{label: "Selected valves may be used or not", enabled: valves, run: func() { w.upkeep.isolate.mark(w.selectedValves(), false, false) }}
	found := func() bool { return w.upkeep != nil && w.upkeep.isolate.plan() != nil }
	x.isolateShow = &action{label: "Isolation on the drawing", enabled: found, checked: func() bool { return w.upkeep != nil && w.lensOf(isolateTitle) }, run: func() { w.upkeep.isolate.turn() }}
	x.nextPlan = &action{label: "Next plan of isolation", shortcut: ctrlShift(fyne.KeyX), enabled: func() bool { return found() && len(w.upkeep.isolate.plans) > 1 }, run: func() { w.upkeep.isolate.next() }}
	some := func() bool { return found() && w.upkeep.isolate.plan().Found }
	x.planSheet = &action{label: "Plan sheet as PDF…", shortcut: ctrlShift(fyne.KeyO), enabled: some, run: func() { w.exportPlanSheet() }}
	x.planCSV = &action{label: "Order of work as CSV…", enabled: some, run: func() { w.exportPlanCSV() }}
	x.planCopy = &action{label: "Copy the plan as text", enabled: found, run: func() { w.upkeep.isolate.copy() }}

	x.fail = &action{label: "What if the selected part fails…", enabled: func() bool { return w.upkeep != nil && len(w.failing()) > 0 }, run: func() {
		x.goWhatIf.run()
		w.upkeep.whatIf.ask(w.failing())
	}}
	x.failNone = &action{label: "Clear the failures", enabled: func() bool { return w.upkeep != nil && len(w.upkeep.whatIf.failures) > 0 }, run: func() { w.upkeep.whatIf.clear() }}

	x.often = &action{label: "How often it runs…", enabled: func() bool { _, ok := w.chosenProgramme(); return ok }, run: func() {
		if name, ok := w.chosenProgramme(); ok {
			w.askPerWeek(name)
		}
	}}
	x.serviced = &action{label: "Selected parts were serviced today", enabled: func() bool { return w.upkeep != nil && len(w.serviceable()) > 0 }, run: w.servicedToday}
	x.serviceCSV = &action{label: "Export the service list as CSV…", enabled: drawn, run: func() { w.exportService(".csv", false) }}
	x.serviceXLSX = &action{label: "Export service and spares as XLSX…", enabled: drawn, run: func() { w.exportService(".xlsx", false) }}
	x.sparesCSV = &action{label: "Export the list of spares as CSV…", enabled: drawn, run: func() { w.exportService(".csv", true) }}
	return x
}

// menu lists them for the menu of the window; nil stands for a line.
func (x *upkeepActions) menu() []*action {
	return []*action{x.goTrace, x.traceHere, x.traceTo, x.traceShow, x.traceCopy, nil,
		x.goIsolate, x.isolate, x.pin, x.forbid, x.plain, x.nextPlan, x.isolateShow, x.planSheet, x.planCSV, x.planCopy, nil,
		x.goWhatIf, x.fail, x.failNone, nil,
		x.goService, x.often, x.serviced, x.serviceCSV, x.serviceXLSX, x.sparesCSV}
}

// selectedValves gives the valves and other parts with positions that are selected.
func (w *Window) selectedValves() []model.ID {
	var out []model.ID
	for _, id := range w.doc.Selection() {
		if _, ok := w.circuit().Part(id).(*model.Valve); ok {
			out = append(out, id)
		}
	}
	return out
}
