package window

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"rinsewright/canvas/edit"
	"rinsewright/canvas/scene"
	"rinsewright/model"
	"rinsewright/model/quantity"
)

// actions are all that can be asked for.
type actions struct {
	newFile, openFile, saveFile, saveAs, exportPNG, exportSVG, exportCSV, exportJSON, exportSheets, exportLists, quit *action

	undo, redo, cut, copy, paste, duplicate, delete, selectAll, selectNone, nextPart, lastPart, find *action

	toolSelect, toolRun, toolPan, turnRight, turnLeft, mirror, upset, straighten, join, replaceKind, snap *action
	arrange                                                                                               []*action

	zoomIn, zoomOut, natural, fit, fitSelection, grid, showParts, showProps, foldBottom *action
	marksAll, marksGrave, marksNone                                                     *action
	values                                                                              []*action
	nextValues, lastValues                                                              *action
	lookSystem, lookLight, lookDark, unitsMetric, unitsUS                               *action
	gotoSearch, gotoBoard, gotoProps, gotoFindings, gotoSteps, gotoFlow                 *action
	design                                                                              *action
	play                                                                                playActions
	wash                                                                                washActions
	trends                                                                              []*action
	plots                                                                               []*action

	programmes programmeActions
	deviation  deviationActions
	audit      auditActions
	onBoard    boardActions
	upkeep     upkeepActions
	groups     groupActions
	sizing     sizingActions

	addStep, duplicateStep, deleteStep, stepUp, stepDown, stepBefore, stepAfter, stepNone *action

	recheck, nextFinding, lastFinding, ownLimits *action

	shortcuts, cautions, about *action
}

func (w *Window) makeActions() *actions {
	a := &actions{}
	w.fileActions(a)
	w.editActions(a)
	w.drawActions(a)
	w.viewActions(a)
	w.stepActions(a)
	a.programmes = w.programmeActions()
	a.deviation = w.makeDeviationActions()
	a.audit = w.auditActions()
	a.onBoard = w.boardActions()
	a.upkeep = w.upkeepActions()
	a.groups = w.groupActions()
	a.sizing = w.sizingActions()
	w.helpActions(a)
	w.washActions(a)
	return a
}

func (w *Window) fileActions(a *actions) {
	a.newFile = &action{label: "New circuit", shortcut: ctrl(fyne.KeyN), run: func() {
		w.unlessDirty("They are lost when a new one is begun.", w.NewCircuit)
	}}
	a.openFile = &action{label: "Open…", shortcut: ctrl(fyne.KeyO), run: w.askOpen}
	a.saveFile = &action{label: "Save", shortcut: ctrl(fyne.KeyS), run: func() { w.save(nil) }}
	a.saveAs = &action{label: "Save as…", shortcut: ctrlShift(fyne.KeyS), run: func() { w.saveAs(nil) }}
	drawn := func() bool { return len(w.circuit().Parts())+len(w.circuit().Runs()) > 0 }
	a.exportSheets = &action{label: "Export or print on sheets…", shortcut: ctrl(fyne.KeyP), enabled: drawn, run: func() { w.askExport(contentDrawing) }}
	a.exportLists = &action{label: "Export lists…", shortcut: ctrlShift(fyne.KeyE), enabled: drawn, run: func() { w.askExport(contentAll) }}
	a.exportPNG = &action{label: "Export drawing as PNG…", enabled: drawn, run: func() { w.exportDrawing(".png") }}
	a.exportSVG = &action{label: "Export drawing as SVG…", enabled: drawn, run: func() { w.exportDrawing(".svg") }}
	for i, name := range []string{"pump", "way"} {
		view := func() *plotView { return []*plotView{w.flows.curve, w.flows.along}[i] }
		for _, kind := range []string{".png", ".svg"} {
			label := []string{"Curve of the pump", "Plot along the way"}[i] + " as " + kindName(kind) + "…"
			a.plots = append(a.plots, &action{label: "Export plot: " + label, short: label, enabled: func() bool { return w.flows != nil && view().why == "" },
				run: func() { view().export(name, kind) }})
		}
	}
	checked := func() bool { return w.result != nil }
	a.exportCSV = &action{label: "Export findings as CSV…", enabled: checked, run: func() { w.exportFindings(".csv") }}
	a.exportJSON = &action{label: "Export findings as JSON…", enabled: checked, run: func() { w.exportFindings(".json") }}
	a.quit = &action{label: "Quit", shortcut: ctrl(fyne.KeyQ), run: w.askQuit}
}

// command makes an action of one of the editor's own. While a gesture is under
// way there are none: they would pull the circuit away under it.
func (w *Window) command(name string, shortcut fyne.Shortcut) *action {
	c, ok := edit.ActionNamed(name)
	if !ok {
		panic("window: the editor has no action " + name)
	}
	a := &action{label: c.Label, shortcut: shortcut}
	a.labelNow = func() string { return c.Title(w.doc) }
	a.enabled = func() bool { return !w.board.ed.Busy() && c.Enabled(w.doc) }
	a.run = func() {
		w.tellIf(c.Run(w.doc))
	}
	return a
}

func (w *Window) editActions(a *actions) {
	a.undo = w.command("undo", &fyne.ShortcutUndo{})
	a.redo = w.command("redo", &fyne.ShortcutRedo{})
	a.cut = w.command("cut", &fyne.ShortcutCut{})
	a.copy = w.command("copy", &fyne.ShortcutCopy{})
	a.paste = w.command("paste", &fyne.ShortcutPaste{})
	a.duplicate = w.command("duplicate", ctrl(fyne.KeyD))
	a.delete = w.command("delete", &desktop.CustomShortcut{KeyName: fyne.KeyDelete})
	a.selectAll = w.command("select-all", &fyne.ShortcutSelectAll{})
	a.selectNone = w.command("select-none", &desktop.CustomShortcut{KeyName: fyne.KeyEscape})
	for _, x := range []*action{a.undo, a.redo, a.cut, a.copy, a.paste, a.selectAll} {
		x.forEntry = true
	}
	a.nextPart = &action{label: "Select the next part", key: "N", run: func() { w.selectNext(1, false) }}
	a.lastPart = &action{label: "Select the part before", key: "B", run: func() { w.selectNext(-1, false) }}
	a.find = &action{label: "Find on the drawing…", shortcut: ctrl(fyne.KeyF), run: w.askFind}
}

func (w *Window) drawActions(a *actions) {
	a.toolSelect = &action{label: "Select and move", key: "V", run: func() { w.board.ed.UseSelect(); w.toolChanged() }}
	a.toolRun = &action{label: "Draw a run", key: "P", run: func() { w.board.ed.UseRun(); w.toolChanged() }}
	a.toolPan = &action{label: "Pull the drawing", key: "H", run: func() { w.board.ed.UsePan(); w.toolChanged() }}
	a.turnRight = w.command("turn-right", nil)
	a.turnRight.key = "R"
	a.turnLeft = w.command("turn-left", nil)
	a.turnLeft.key = "Shift+R"
	a.mirror = w.command("mirror", nil)
	a.mirror.key = "M"
	a.straighten = w.command("straighten", nil)
	a.join = &action{label: "Join the two selected parts", shortcut: ctrl(fyne.KeyJ), enabled: w.twoPartsSelected, run: w.joinSelected}
	a.replaceKind = &action{label: "Replace by another kind…", run: w.askReplace, enabled: func() bool { return len(w.selectedParts()) > 0 }}
	for _, name := range []string{"align-left", "align-centre", "align-right", "align-top", "align-middle", "align-bottom", "", "distribute-level", "distribute-upright"} {
		var x *action // a line
		if name != "" {
			x = w.command(name, nil)
		}
		a.arrange = append(a.arrange, x)
	}
	a.upset = w.command("upset", nil)
	a.upset.key = "Shift+M"
	a.snap = &action{label: "Keep to the grid", key: "G", checked: func() bool { return w.board.ed.SnapToGrid }, run: func() {
		w.board.ed.SnapToGrid = !w.board.ed.SnapToGrid
		w.app.Preferences().SetBool(prefNoSnap, !w.board.ed.SnapToGrid)
		w.tools.refresh()
		w.refreshMenu()
	}}
}

func (w *Window) toolChanged() {
	w.parts.mark("")
	w.tools.refresh()
	w.board.repaint()
	w.board.tellHint()
	w.focusBoard()
}

func (w *Window) viewActions(a *actions) {
	a.zoomIn = &action{label: "Zoom in", shortcut: ctrl(fyne.KeyEqual), run: func() { w.board.zoomBy(1.25) }}
	a.zoomOut = &action{label: "Zoom out", shortcut: ctrl(fyne.KeyMinus), run: func() { w.board.zoomBy(0.8) }}
	a.natural = &action{label: "Natural size, 100 %", shortcut: ctrl(fyne.Key0), run: w.boardNatural}
	a.fit = &action{label: "Fit the drawing", key: "F", run: func() { w.board.fit() }}
	a.fitSelection = &action{label: "Fit what is selected", enabled: func() bool { return len(w.doc.Selection()) > 0 }, run: func() {
		w.board.setView(fitted(w.drawing().Bounds(w.doc.Selection()...).Grown(8), w.board.Size()))
	}}
	a.grid = &action{label: "Grid dots", checked: func() bool { return w.board.grid }, run: func() {
		w.board.grid = !w.board.grid
		w.app.Preferences().SetBool(prefNoGrid, !w.board.grid)
		w.board.repaint()
		w.refreshMenu()
	}}
	marks := func(label string, m marking) *action {
		return &action{label: label, checked: func() bool { return w.board.marking == m }, run: func() {
			w.board.marking = m
			w.app.Preferences().SetString(prefMarks, string(m))
			w.board.refreshOverlay()
			w.refreshMenu()
		}}
	}
	a.marksAll = marks("Of all findings", markAll)
	a.marksGrave = marks("Of stops and fixes", markGrave)
	a.marksNone = marks("None", markNone)
	for _, v := range append([]scene.Value{scene.NoValue}, scene.ValueNames()...) {
		a.values = append(a.values, &action{label: v.Title() + " beside runs", short: v.Title(), checked: func() bool { return w.values == v },
			run: func() { w.chooseValues(v) }})
	}
	a.nextValues = &action{label: "Next values beside runs", short: "Next", key: "W", run: func() { w.turnValues(1) }}
	a.lastValues = &action{label: "Values beside runs before", short: "Before", key: "Shift+W", run: func() { w.turnValues(-1) }}
	pane := func(label string, i int) *action {
		return &action{label: label, checked: func() bool { return !w.panes.hidden[i] }, run: func() {
			w.panes.show(i, w.panes.hidden[i])
			w.keepPlace()
			w.refreshMenu()
		}}
	}
	a.showParts = pane("Store of parts", paneLeft)
	a.showProps = pane("Properties", paneRight)
	a.foldBottom = pane("Findings and steps", paneBottom)
	look := func(label string, l Look) *action {
		return &action{label: label, checked: func() bool { return w.look() == l }, run: func() { w.setLook(l) }}
	}
	a.lookSystem = look("As the system", LookSystem)
	a.lookLight = look("Light", LookLight)
	a.lookDark = look("Dark", LookDark)
	units := func(label string, s quantity.System) *action {
		return &action{label: label, checked: func() bool { return w.system == s }, run: func() { w.setUnits(s) }}
	}
	a.unitsMetric = units("Metric (m, bar, °C)", quantity.Metric)
	a.unitsUS = units("US (ft, psi, °F)", quantity.US)
	a.gotoSearch = &action{label: "Go to the search for parts", short: "Search for parts", shortcut: ctrl(fyne.KeyK), run: func() {
		if w.panes.hidden[paneLeft] {
			w.panes.show(paneLeft, true)
		}
		w.focus(w.parts.search)
		w.parts.search.TypedShortcut(&fyne.ShortcutSelectAll{})
	}}
	a.gotoBoard = &action{label: "Go to the board", short: "Board", shortcut: ctrl(fyne.KeyB), run: w.focusBoard}
	a.gotoProps = &action{label: "Go to the properties", short: "Properties", shortcut: ctrl(fyne.KeyE), run: w.focusProperties}
	a.gotoFindings = &action{label: "Go to the findings", short: "Findings", shortcut: ctrl(fyne.KeyL), run: func() { w.tabs.pick(0); w.focus(w.findings.list) }}
	a.gotoFlow = &action{label: "Go to the flow", short: "Flow", shortcut: ctrl(fyne.KeyU), run: func() { w.tabs.pick(3); w.focus(w.flows.list) }}
	a.gotoSteps = &action{label: "Go to the steps", short: "Steps", shortcut: ctrl(fyne.KeyT), run: func() { w.tabs.pick(2); w.focus(w.steps.table) }}
}

func (w *Window) boardNatural() { w.board.natural() }

func (w *Window) stepActions(a *actions) {
	some := func() bool { return w.shownStep() != nil }
	a.addStep = &action{label: "Add step", run: func() {
		programme, at := "", 1<<20
		if s := w.shownStep(); s != nil {
			programme = s.Programme
			at = slices.Index(w.drawing().StepsOf(programme), s) + 1
		} else if all := w.circuit().Steps(); len(all) > 0 {
			programme = all[len(all)-1].Programme
		}
		e, err := w.drawing().AddStep(programme, fmt.Sprintf("Step %d", len(w.circuit().Steps())+1), at)
		w.stepMade(func() { w.try(e, err) })
	}}
	a.duplicateStep = &action{label: "Duplicate step", enabled: some, run: func() {
		e, err := w.drawing().DuplicateStep(w.stepID)
		w.stepMade(func() { w.try(e, err) })
	}}
	a.deleteStep = &action{label: "Delete step", enabled: some, run: func() {
		all := w.circuit().Steps()
		at := slices.Index(all, w.shownStep())
		w.try(w.drawing().DeleteStep(w.stepID))
		if all = w.circuit().Steps(); len(all) > 0 {
			w.showStep(all[min(at, len(all)-1)].ID)
		} else {
			w.showStep("")
		}
	}}
	move := func(label string, by int) *action {
		can := func() bool {
			s := w.shownStep()
			if s == nil {
				return false
			}
			list := w.drawing().StepsOf(s.Programme)
			at := slices.Index(list, s) + by
			return at >= 0 && at < len(list)
		}
		return &action{label: label, enabled: can, run: func() {
			s := w.shownStep()
			at := slices.Index(w.drawing().StepsOf(s.Programme), s)
			if at+by >= 0 {
				w.try(w.drawing().MoveStep(s.ID, at+by))
			}
		}}
	}
	a.stepUp = move("Move step earlier", -1)
	a.stepDown = move("Move step later", 1)
	show := func(label string, key fyne.KeyName, by int) *action {
		return &action{label: label, shortcut: ctrl(key), run: func() {
			all := w.circuit().Steps()
			at := slices.IndexFunc(all, func(s *model.Step) bool { return s.ID == w.stepID }) + by
			switch {
			case at < -1 || at >= len(all):
			case at == -1:
				w.showStep("")
			default:
				w.showStep(all[at].ID)
			}
		}}
	}
	a.stepBefore = show("Show the step before", fyne.KeyPageUp, -1)
	a.stepAfter = show("Show the step after", fyne.KeyPageDown, 1)
	a.stepNone = &action{label: "Show the circuit at rest", run: func() { w.showStep("") }}
}

// stepMade shows the step that an edit adds.
func (w *Window) stepMade(do func()) {
	before := map[string]bool{}
	for _, s := range w.circuit().Steps() {
		before[string(s.ID)] = true
	}
	do()
	for _, s := range w.circuit().Steps() {
		if !before[string(s.ID)] {
			w.tabs.pick(2)
			w.showStep(s.ID)
			return
		}
	}
}

func (w *Window) helpActions(a *actions) {
	a.recheck = &action{label: "Check again", shortcut: &desktop.CustomShortcut{KeyName: fyne.KeyF5}, run: func() {
		w.result = nil
		w.check(0)
	}}
	a.ownLimits = &action{label: "Limits from file…", run: w.askLimits}
	a.design = &action{label: "What would be needed…", enabled: func() bool { return w.solution != nil && w.lines.found() }, run: func() { w.flows.design.open() }}
	a.nextFinding = &action{label: "Next finding", shortcut: &desktop.CustomShortcut{KeyName: fyne.KeyF8}, run: func() { w.stepFinding(1) }}
	a.lastFinding = &action{label: "Previous finding", shortcut: &desktop.CustomShortcut{KeyName: fyne.KeyF8, Modifier: fyne.KeyModifierShift}, run: func() { w.stepFinding(-1) }}
	a.shortcuts = &action{label: "Keys and gestures", shortcut: &desktop.CustomShortcut{KeyName: fyne.KeyF1}, run: w.tellShortcuts}
	a.cautions = &action{label: "Cautions", run: func() { w.tellLong("Cautions", cautionLong) }}
	a.about = &action{label: "About Rinsewright", run: w.tellAbout}
}

// stepFinding brings the findings to the front and picks the next or the previous
// one.
func (w *Window) stepFinding(by int) {
	if w.tabs.at != 0 || w.panes.hidden[paneBottom] {
		w.tabs.pick(0)
	}
	w.findings.step(by)
}
